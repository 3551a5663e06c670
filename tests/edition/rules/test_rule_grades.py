"""Each value says how sure it is and where from."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "fleeces/polyester.yaml: thickness.basis.grade: is not a grade (found standart) "
    "[grades] -> write one of: standard",
    "fleeces/polyester.yaml: areal_mass.basis.source: is missing; a value of grade "
    "standard says where it was read [grades] -> name it (sources/ID; table, clause or "
    "page), or grade it memory",
    "fleeces/polyester.yaml: areal_mass.basis.locator: is missing; a value of grade "
    "standard says where it was read [grades] -> name it (sources/ID; table, clause or "
    "page), or grade it memory",
    "fleeces/polyester.yaml: fibre_density.basis.source: is named for a value of grade "
    "assumed, which has none (found sources/handbook) [grades] -> grade it for what the "
    "source gives, or take the source out",
    "packs/primer-1-qt.yaml: size.basis.grade: stands for a product's sheet, which an "
    "edition does not hold (found product) [grades] -> lay it over with an overlay, or "
    "grade it for what it is",
    "packs/resin-1-gal.yaml: size.basis.source: is not in the register of sources (found "
    "sources/handbok) [grades] -> nearest: sources/handbook",
]


def test_grades(told: Callable[..., list[str]]) -> None:
    assert told("grades") == EXPECTED
