"""Weather, film and cutting plan in brief: rows of label and text, the answer first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from upstand.document.brief import Row, contracted, first_clauses
from upstand.words.fill import fill, lower_first
from upstand.words.store import label

__all__ = ["write_conditions_brief", "write_cutting_brief", "write_film_brief"]

#: The work of one verdict, in the order in which it is said.
WORK: Final = ("go", "ask", "hold")
#: Ticks that are named in full; of more it is said how many.
MOST_TICKS: Final = 6


class _Says:
    def __init__(self, document: Mapping[str, Any]) -> None:
        self.document, self.lang = document, str(document["lang"])

    def say(self, id: str, /, **slots: str) -> str:
        said = fill(label(f"brief-{id}", self.lang), slots)
        return contracted(said) if self.lang == "es" else said

    def row(self, id: str, text: str) -> Row:
        return Row(id, self.say(f"label-{id}"), text)

    def state(self, state: str, sentence: str) -> Row:
        return Row(f"verdict-{state}", label(f"state-{state}", self.lang).upper(), sentence)

    def reasons(self, reasons: Sequence[Mapping[str, Any]]) -> Iterator[Row]:
        for number, reason in enumerate(reasons, 1):
            state = label(f"state-{reason['state']}", self.lang).upper()
            text, clears = reason["text"], reason["clears"]
            if len(reasons) > 1:
                text, clears = first_clauses(text, clears)
            kind = "clears-ask" if reason["whom"] else "clears"
            said = self.say(kind, text=text, clears=clears, whom=reason["whom"] or "")
            yield Row("reason", f"{number}. {state}", said)

    def ticks(self, names: Sequence[str]) -> Iterator[Row]:
        more = [self.say("more", n=str(len(names) - MOST_TICKS))] if names[MOST_TICKS:] else []
        if names:
            yield self.row("ticks", "; ".join([*names[:MOST_TICKS], *more]))

    def assumed(self) -> Iterator[Row]:
        said = [each["text"] for each in self.document["assumed"] if each["pointer"] != "/units"]
        if said:
            yield self.row("assumed", " ".join(said))


def write_conditions_brief(document: Mapping[str, Any], names: Mapping[str, str]) -> Iterator[Row]:
    """Write what the weather allows: verdict, reasons, dew point, the work of each verdict, ticks.

    `names` are those of the activities.
    """
    says = _Says(document)
    state = document["verdict"]
    yield says.state(
        state, says.say(f"weather-{state}", resin=lower_first(document["resin"]["name"]))
    )
    yield from says.reasons([*document["reasons"], *document["other_reasons"]])
    if document["dew_point"] is None:
        yield says.row("dew", says.say("dew-unknown"))
    else:
        kind = says.say("frost" if document["kind"] == "frost" else "dew-name")
        point, margin = document["dew_point"]["text"], document["margin"]
        if margin is None:
            yield says.row("dew", says.say("dew-plain", kind=kind, point=point))
        else:
            said = says.say("dew-margin", kind=kind, point=point, margin=margin["text"])
            yield says.row("dew", said)
    for which in WORK:
        work = [names.get(id, id) for id, each in document["activities"].items() if each == which]
        if work:
            yield says.row(f"work-{which}", "; ".join(work))
    yield from says.ticks([point["name"] for point in document["confirm"]])
    yield from says.assumed()


def write_film_brief(document: Mapping[str, Any], names: Mapping[str, str]) -> Iterator[Row]:
    """Write whether a layer is thick enough, what was found, and what is laid besides.

    `names` are those of the packs.
    """
    says = _Says(document)
    state = document["verdict"]
    yield says.state(state, says.say(f"film-{state}", layer=says.say(f"layer-{document['layer']}")))
    for number, note in enumerate(document["notes"], 1):
        yield Row("reason", f"{number}", note["text"])
    shown = ("least", "lowest", "mean", "short_by", "net", "least_volume")
    found = [
        says.say(f"found-{name.replace('_', '-')}", text=document[name]["text"])
        for name in shown
        if document[name] is not None
    ]
    if document["area"] is not None:
        found.append(says.say("found-area", text=document["area"]["text"]))
    if document["readings_needed"] is not None:
        found.append(says.say("found-needed", text=str(document["readings_needed"])))
    if found:
        yield says.row("found", "; ".join(found))
    top_up = document["top_up"]
    if top_up is not None:
        packs = " + ".join(f"{p['count']} × {names.get(p['pack'], p['pack'])}"
                           for p in top_up["packs"])  # fmt: skip
        volume = (top_up["with_allowance"] or top_up["volume"])["text"]
        told = says.say("top-up", volume=volume, packs=packs, how=top_up["text"])
        yield says.row("top-up", told)
    for point in document["confirm"]:
        yield says.row("ticks", point["text"])
    yield from says.assumed()


def write_cutting_brief(document: Mapping[str, Any]) -> Iterator[Row]:
    """Write what a cutting plan uses, then its cuts in their order."""
    says = _Says(document)
    rolls = len(document["rolls"])
    said = says.say(
        "cutting-one" if rolls == 1 else "cutting-many",
        rolls=str(rolls),
        length=document["length_used"]["text"],
        bound=document["lower_bound"]["text"],
        waste=document["waste"]["text"],
    )
    yield says.row("cutting", said)
    for number, line in enumerate(document["order"], 1):
        yield Row("cut", f"{number}", line)
    yield from says.assumed()
