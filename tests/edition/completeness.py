"""Ask about every detail × substrate × roof × resin and says what became of each question.

    python tests/edition/completeness.py            each substrate, roof and resin once a detail
    python tests/edition/completeness.py --whole    the whole matrix

Every question must end in an answer that misses nothing, or in a refusal by a named rule. No
quantity may be missing but where a size that is named was not given, or a hazard stops the work;
each detail is also asked about without its sizes.
"""

from __future__ import annotations

import argparse
import itertools
import re
import sys
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from upstand.answer import answer
from upstand.document.requirements import write
from upstand.edition import Edition, load
from upstand.edition.applies import inputs_of
from upstand.query import QueryFaults, read_requirements

WEATHER = {
    "air": "72 F",
    "surface": "78 F",
    "humidity": "55 %",
    "material": "70 F",
    "wet": False,
    "wind": "5 mph",
    "rain_chance": "5 %",
}
MEMBER = {"section": "angle", "leg_a": "3 in", "leg_b": "3 in", "thickness": "1/4 in"}
PIPE = {"section": "pipe", "od": "4 in"}
QUOTED = re.compile("“[^”]*”")
Cell = tuple[str, str, str, str]


@dataclass
class Report:
    """What became of the questions."""

    states: Counter[str] = field(default_factory=Counter)
    refused: Counter[str] = field(default_factory=Counter)
    reasons: Counter[str] = field(default_factory=Counter)
    missing: list[str] = field(default_factory=list)
    quantities: Counter[str] = field(default_factory=Counter)
    preparations: set[str] = field(default_factory=set)
    orders: set[tuple[str, ...]] = field(default_factory=set)
    cautions: set[tuple[str, ...]] = field(default_factory=set)

    @property
    def size(self) -> int:
        return self.states.total() + self.refused.total()

    def lines(self) -> Iterator[str]:
        yield f"questions: {self.size}"
        for state, count in sorted(self.states.items()):
            yield f"  answered, verdict {state}: {count}"
        for rule, count in sorted(self.refused.items()):
            yield f"  refused, {rule}: {count}"
        yield "quantities:"
        for what, count in self.quantities.most_common():
            yield f"  {what}: {count}"
        yield "reasons given:"
        for reason, count in self.reasons.most_common():
            yield f"  {reason}: {count}"
        yield f"distinct preparations of a surface: {len(self.preparations)}"
        yield f"distinct orders of work: {len(self.orders)}"
        yield f"distinct sets of cautions: {len(self.cautions)}"
        yield f"left unexplained: {len(self.missing)}"
        yield from (f"  {line}" for line in self.missing[:50])


#: Materials that are measured; of the others nobody has a rate.
MEASURED = ("resin", "primer", "fleece", "tape")
#: What a detail is asked with besides its measured sizes.
CHOSEN = {"corner": "inside"}


def sizes_of(edition: Edition, detail: str) -> dict[str, Any]:
    """Give each size that must be measured the example that stands in its record."""
    found: dict[str, Any] = {}
    for name, rows in inputs_of(edition, detail).items():
        measured = any(row.get("measured", False) for row in rows)
        if name in CHOSEN:
            found[name] = CHOSEN[name]
        elif measured and rows[0].input.get("reads") == "length":
            size = rows[0].input.get("example")
            part, _, side = name.partition("_")
            if side:
                found.setdefault(part, {})[side] = size
            else:
                found[name] = size
    return found


def request(
    edition: Edition, cell: Cell, units: str = "us", lang: str = "en", sized: bool = True
) -> dict[str, Any]:
    """Describe a cell of the matrix as a question; not `sized`, nothing was measured."""
    detail, substrate, roof, resin = cell
    inputs = inputs_of(edition, detail)
    body: dict[str, Any] = {
        "detail": detail,
        "roof": roof,
        "resin": resin,
        "units": units,
        "lang": lang,
        "now": WEATHER,
    }
    if "members" in inputs:
        taken = edition.record(f"details/{detail}").get("sections", ())
        member = MEMBER if "angle" in taken else PIPE
        body["members"] = [{**member, "substrate": substrate}]
    if any(rows[0].input.get("part") for rows in inputs.values()):
        body["surfaces"] = [{"substrate": substrate}]
    elif "members" not in inputs and "plates" in inputs:
        plate = {"width": "3 in", "length": "3 in", "substrate": substrate}
        body["plates"] = [{**plate, "at": ["20 in", "0 in"]}]
    if sized:
        body |= sizes_of(edition, detail)
    return body


def cells(edition: Edition, whole: bool) -> Iterator[Cell]:
    """List the matrix: whole, or each substrate, roof and resin once with each detail."""
    details = list(edition.kind("details"))
    substrates = list(edition.kind("substrates"))
    roofs = [i for i in substrates if "roof" in edition.record(f"substrates/{i}").get("used_as")]
    resins = list(edition.kind("resins"))
    if whole:
        yield from itertools.product(details, substrates, roofs, resins)
        return
    for detail in details:
        yield from ((detail, s, "tpo", "pu-2k") for s in substrates)
        yield from ((detail, "carbon-steel", r, "pu-2k") for r in roofs if r != "tpo")
        yield from ((detail, "carbon-steel", "tpo", x) for x in resins if x != "pu-2k")


def _gaps(document: dict[str, Any]) -> Iterator[str]:
    """What an answer misses."""
    for surface in document["surfaces"]:
        if not surface["primer"] and not surface["primer_why"]:
            yield f"{surface['id']}: neither a primer nor why there is none"
        if surface["area"] is None and not surface["area_why"]:
            yield f"{surface['id']}: no area and no reason"
        if not surface["preparation"] and not document["verdict"]["reasons"]:
            yield f"{surface['id']}: no preparation and no reason"
    for material in document["materials"]:
        if material["need"] is None and not material["why"]:
            yield f"{material['id']}: no quantity and no reason"
    for time in document["times"]:
        if not time["text"] or (time["low"] is None and not time["why"]):
            yield f"{time['id']}: no time and no reason"
    verdict = document["verdict"]
    if verdict["state"] == "ask" and (not verdict["ask"] or len(verdict["ask"]["facts"]) < 2):
        yield "an ask without whom or with fewer than two facts"
    for reason in verdict["reasons"]:
        if not reason["text"] or not reason["clears"]:
            yield f"{reason['id']}: without its reason or what clears it"
    if document["masking"] is None and verdict["state"] == "go":
        yield "go, without quantities"
    if not document["cautions"] or not document["confirm"]:
        yield "no caution, or nothing to confirm"
    for step in document["steps"]:
        texts = [step["text"], step["here"] or "x", *(h["text"] for h in step["holds"])]
        if any(not text.strip() or "{" in text for text in texts):
            yield f"step {step['n']}: an empty text or an open slot"


def _unmeasured(document: dict[str, Any]) -> list[str]:
    """Name the quantities that an answer leaves open."""
    open_ = [s["id"] for s in document["surfaces"] if s["area"] is None]
    open_ += [m["id"] for m in document["materials"] if m["kind"] in MEASURED and m["need"] is None]
    open_ += [name for name in ("fleece", "masking") if document[name] is None]
    return open_ + ([] if document["coats"] else ["coats"])


def _why_open(edition: Edition, cell: Cell, document: dict[str, Any], sized: bool) -> str | None:
    """Say what a missing quantity hangs on: a hazard, named sizes, or a detail never measured."""
    ids = [reason["id"] for reason in document["verdict"]["reasons"]]
    if document["verdict"]["state"] == "hold" and not document["steps"]:
        named = {f"substrates/{part}" for part in (cell[1], cell[2])}
        return "a hazard stops the work" if named & {i.partition(":")[0] for i in ids} else None
    missing = {i.rpartition(" ")[2] for i in ids if "size-missing" in i}
    wanted = {
        name
        for name, rows in inputs_of(edition, cell[0]).items()
        if any(row.get("measured", False) for row in rows)
    }
    if not sized and missing and missing <= wanted:
        return "a size is not given, and named"
    if cell[0] == "expansion-joint" and "details/expansion-joint: quantities" in ids:
        return "an expansion joint is always asked about"
    return None


def _uncautioned(edition: Edition, done: Any, document: dict[str, Any]) -> Iterator[str]:
    """Hazards of the surfaces and products in an answer that no caution speaks of."""
    named = {c.record.get("hazard") for c in done.cautions}
    records = [edition.record(f"substrates/{s['substrate']}") for s in document["surfaces"]]
    if done.procedure.steps:
        # where nobody may touch a surface there is no work, and so none of its dangers
        records += [m.record for m in done.takeoff.materials]
        records.append(done.settled.detail)
    for record in records:
        for hazard in record.get("hazards", ()):
            if hazard not in named:
                yield f"{record.path}: no caution for {hazard}"


def ask_all(edition: Edition, questions: Iterator[Cell], variants: bool = False) -> Report:
    """Ask every question; with `variants`, in Spanish and in metric units too."""
    report = Report()
    for cell in questions:
        try:
            done = answer(read_requirements(request(edition, cell), edition), edition)
        except QueryFaults as refusal:
            for fault in refusal.faults:
                rule = QUOTED.sub("", fault.detail.partition(":")[0]).strip()
                report.refused[f"{fault.pointer} {rule}"] += 1
            continue
        documents = [write(done)]
        bare = answer(read_requirements(request(edition, cell, sized=False), edition), edition)
        for one, sized in ((documents[0], True), (write(bare), False)):
            open_ = _unmeasured(one)
            why = _why_open(edition, cell, one, sized) if open_ else "all are given"
            report.quantities[
                f"{why or 'UNEXPLAINED'}{'' if sized else ', asked without sizes'}"
            ] += 1
            if why is None:
                report.missing.append(f"{'/'.join(cell)}: no quantity and no cause: {open_}")
        if variants:
            for units, lang in (("si", "en"), ("us", "es")):
                body = request(edition, cell, units, lang)
                documents.append(write(answer(read_requirements(body, edition), edition)))
        document = documents[0]
        report.states[document["verdict"]["state"]] += 1
        report.reasons.update(r["id"] for r in document["verdict"]["reasons"])
        for written in documents:
            report.missing += [f"{'/'.join(cell)}: {gap}" for gap in _gaps(written)]
        report.missing += [f"{'/'.join(cell)}: {g}" for g in _uncautioned(edition, done, document)]
        for surface in document["surfaces"]:
            report.preparations.add(repr([p["text"] for p in surface["preparation"]]))
        report.orders.add(
            tuple(f"{s['activity']}|{s['here']}|{s['primer']}" for s in document["steps"])
        )
        report.cautions.add(tuple(c["id"] for c in document["cautions"]))
    return report


def main() -> int:
    """Run from the command line; exit status 1 where anything is left unexplained."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--whole", action="store_true", help="the whole matrix")
    parser.add_argument("--edition", default="next", help="which edition to ask (next)")
    given = parser.parse_args()
    edition = load(id=given.edition)
    report = ask_all(edition, cells(edition, given.whole), variants=not given.whole)
    print(f"edition {edition.id}", *report.lines(), sep="\n")
    return 1 if report.missing else 0


if __name__ == "__main__":
    sys.exit(main())
