"""What a layout leaves to be asked or ticked, and what its proof found, as reasons."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Edition
from upstand.layout import Ask, Layout
from upstand.query.defaults import Settled
from upstand.verdict.model import Confirmation, Reason
from upstand.words.model import Sentence, Slot, TradeText

FACTS = (Sentence("fact-sketch"), Sentence("fact-photo"))


def geometry_reasons(
    settled: Settled, layout: Layout, edition: Edition
) -> Iterator[Reason | Confirmation]:
    """Yield what is asked about sizes and parts, what is confirmed, and what is unproved."""
    detail = settled.detail.path
    for number, ask in enumerate(layout.asks):
        slots = _slots(ask, settled, edition)
        if ask.state == "confirm":
            yield Confirmation(
                f"{detail}: {ask.id}",
                Sentence(f"ask-{ask.id}", slots),
                TradeText(settled.detail, "name"),
                by="days-ahead",
            )
            continue
        how = _how(ask, edition)
        yield Reason(
            f"{detail}: {ask.id}" + (f" {ask.name}" if ask.name else f" {number + 1}"),
            "ask",
            Sentence(f"ask-{ask.id}", slots),
            Sentence(f"ask-{ask.id}-clears", slots),
            ask.whom,
            FACTS if how is None else (how, Sentence("fact-photo")),
        )
    for fault in layout.unproved:
        yield Reason(
            "layout",
            "ask",
            Sentence(f"unproved-{fault.id}", {"face": fault.face}),
            Sentence("clear-layout"),
            "roof-designer",
            FACTS,
        )


def _input(ask: Ask) -> str:
    """Name the record of the input that is asked for: a size, or what a part is made of."""
    name = ask.name.replace("_", "-")
    return f"inputs/{name}-material" if ask.id == "surface-not-given" else f"inputs/{name}"


def _slots(ask: Ask, settled: Settled, edition: Edition) -> dict[str, Slot]:
    found: dict[str, Slot] = {}
    if ask.found is not None:
        found["found"] = ask.found
    if ask.least is not None:
        found["least"] = ask.least
    if ask.name:
        record = edition.record(_input(ask))
        found["name"] = record
        for number, row in enumerate(record.get("taken", ())):
            if settled.detail.id in row["details"] and "name" in row:
                found["name"] = TradeText(record, f"taken.{number}.name")
    return found


def _how(ask: Ask, edition: Edition) -> TradeText | None:
    """Say how what is asked for is measured, where its record does."""
    if not ask.name:
        return None
    record = edition.record(_input(ask))
    return TradeText(record, "how") if record.has("how") else None
