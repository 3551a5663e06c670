"""Parts that the documents of several doors share: head, reasons, what was confirmed or assumed."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from upstand.document.notices import list_notices
from upstand.document.question import write_question
from upstand.edition import Edition, Record
from upstand.quantity.traced import Traced
from upstand.query.defaults import Assumption
from upstand.verdict.model import Confirmation, Reason, Verdict
from upstand.words.fill import Words

__all__ = ["write_amount", "write_assumed", "write_confirm", "write_head", "write_reason",
           "write_record", "write_verdict", "write_whom"]  # fmt: skip


def write_head(edition: Edition, software: str, words: Words, query: object) -> dict[str, Any]:
    """Write what every answer begins with: what it was computed from, its notices, its question."""
    return {
        "edition": edition.id,
        "digest": edition.base or edition.digest,
        "overlay": edition.overlay,
        "overlay_digest": edition.overlay_digest,
        "software": software,
        "notices": list_notices(edition, words),
        "question": write_question(query, edition, words.speech),
    }


def write_amount(amount: Traced | None, words: Words) -> dict[str, Any] | None:
    """Write an amount; what comes off a roll by length is said in feet and inches."""
    return words.speech.json(amount, "run" if amount is not None and amount.unit == "in" else None)


def write_record(record: Record, words: Words) -> dict[str, str]:
    """Write which record is meant."""
    return {"id": record.id, "name": words.name(record)}


def write_whom(whom: str | None, words: Words) -> str | None:
    """Name whom to ask."""
    return None if whom is None else words.say(f"whom-{whom}")


def write_reason(reason: Reason, words: Words) -> dict[str, Any]:
    """Write a reason: what, what clears it, whom to ask with which facts."""
    return {
        "id": reason.id,
        "state": reason.state,
        "text": words.said(reason.text),
        "clears": words.said(reason.clears),
        "whom": write_whom(reason.whom, words),
        "facts": [words.said(fact) for fact in reason.facts],
    }


def write_verdict(verdict: Verdict, words: Words) -> dict[str, Any]:
    """Write the state, every reason, and whom to ask for all of them together."""
    ask = None
    if verdict.whom:
        ask = {
            "whom": words.list([words.say(f"whom-{whom}") for whom in verdict.whom]),
            "facts": list(dict.fromkeys(words.said(fact) for fact in verdict.facts)),
        }
    return {
        "state": verdict.state,
        "reasons": [write_reason(reason, words) for reason in verdict.reasons],
        "ask": ask,
    }


def write_confirm(confirmation: Confirmation, words: Words) -> dict[str, Any]:
    """Write what a person ticks on the roof; a check's own record is written by the shelf."""
    acceptance = confirmation.acceptance
    return {
        "id": confirmation.id,
        "name": words.said(confirmation.name),
        "text": words.said(confirmation.text),
        "acceptance": "" if acceptance is None else words.said(acceptance),
        "whom": write_whom(confirmation.whom, words),
        "by": confirmation.by,
        "standard": None,
    }


def write_assumed(assumptions: Iterable[Assumption], words: Words) -> list[dict[str, Any]]:
    """Write each default that was filled in."""
    return [{"pointer": a.pointer, "text": words.said(a.text)} for a in assumptions]
