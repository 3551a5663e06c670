"""Where a caution is told in full: at the first step that brings its hazard."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from upstand.edition import Edition, Record
from upstand.procedure.cautions import Caution
from upstand_site.examples import Example

LAYING = "lay"
"""The stage of the activities that handle the resin."""


def cautions_by_step(example: Example) -> Mapping[int, list[Caution]]:
    """Return number of a step -> the cautions told there; what holds for the job, at the first."""
    steps = example.document["steps"]
    found: dict[int, list[Caution]] = {}
    for caution in example.answer.cautions if steps else ():
        number = next((s["n"] for s in steps if _brings(example, s, caution)), steps[0]["n"])
        found.setdefault(number, []).append(caution)
    return found


def _brings(example: Example, step: Mapping[str, Any], caution: Caution) -> bool:
    """Tell whether a step is the one that a caution waits for."""
    detail = example.answer.settled.detail
    if "always" in caution.because or caution.record.get("hazard") in detail.get("hazards", ()):
        return True
    if f"activity/{step['activity']}" in caution.because:
        return True
    carriers = _carriers(example, step)
    return any(caution.record.get("hazard") in each.get("hazards", ()) for each in carriers)


def _carriers(example: Example, step: Mapping[str, Any]) -> Iterator[Any]:
    """Yield what a step works with and may do harm: itself, its surfaces, primer and resin."""
    edition: Edition = example.answer.edition
    activity = edition.record(f"activities/{step['activity']}")
    yield activity
    if step["primer"]:
        yield edition.record(f"primers/{step['primer']}")
    if activity.get("stage") == LAYING:
        yield example.answer.settled.resin
    for substrate in {s["substrate"] for s in example.document["surfaces"] if s["substrate"]}:
        path = str(edition.record(f"substrates/{substrate}").get("preparation"))
        prepared: Record | None = edition.record(path) if edition.has(path) else None
        for each in prepared.get("steps") if prepared else ():
            if str(each["activity"]) == activity.path:
                yield each
