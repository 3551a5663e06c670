"""A limit can be judged."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "limits/empty.yaml: of: is neither a fact nor an input (found gap) [limits] -> write one of "
    "air, bonded, clearance, humidity, margin, material, rain_chance, surface, surface_warmest, "
    "wet, wind, or the name of an input",
    "limits/empty.yaml: has nothing to hold the fact to [limits] -> write one of: "
    "at_least, at_most, under, is",
    "limits/height.yaml: has its lower bound above its upper one: nothing can hold it "
    "[limits] -> change them round",
    "limits/surface.yaml: at_least.take: is not a value of a resin or primer (found "
    "resin.aplication.low) [limits] -> write resin.FIELD, primer.FIELD or product.FIELD "
    "(both have it); .low or .high",
    "limits/surface.yaml: at_most.take: is not a value of a resin or primer (found "
    "resin.application) [limits] -> write resin.FIELD, primer.FIELD or product.FIELD "
    "(both have it); .low or .high",
    "limits/wind.yaml: clears: is missing: a limit of a fact has it [limits] -> write "
    "it; see another limit",
    "limits/wind.yaml: confirm: is missing, and the verdict is confirm where the fact is "
    "not known [limits] -> say what is not known: {en, es}",
    "limits/wind.yaml: at_most.value: is length, and the fact is speed (found 25 in) "
    "[limits] -> write it in a unit of the fact",
    "parameters/fleece-lap.yaml: value: is missing: a parameter is a figure that stages read "
    "[limits] -> write {value, basis, checked_on}",
    "inputs/height.yaml: taken.0.default: does not hold to limits/height (found 7 in) [limits] "
    "-> take one that does",
]


def test_limits(told: Callable[..., list[str]]) -> None:
    assert told("limits") == EXPECTED
