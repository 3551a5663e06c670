"""A hazard that is named calls up a caution."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "primers/metal-wood.yaml: hazards.0: is a hazard that no caution warns of (found "
    "solvent) [hazards] -> write a caution with `hazard: solvent` and `when: "
    "[[hazard/solvent]]`",
    "resins/pu-2k.yaml: hazards.0: is a hazard that no caution warns of (found solvent) "
    "[hazards] -> write a caution with `hazard: solvent` and `when: [[hazard/solvent]]`",
    "details/post.yaml: hazards.0: is a hazard that no caution warns of (found solvent) "
    "[hazards] -> write a caution with `hazard: solvent` and `when: [[hazard/solvent]]`",
    "tools/grinder.yaml: hazards.0: is a hazard that no caution warns of (found silica) "
    "[hazards] -> write a caution with `hazard: silica` and `when: [[hazard/silica]]`",
]


def test_hazards(told: Callable[..., list[str]]) -> None:
    assert told("hazards") == EXPECTED
