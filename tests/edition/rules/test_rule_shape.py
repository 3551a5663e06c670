"""Unknown, missing and misshapen fields are named, with what would be accepted."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "primers/metal-wood.yaml: parts: is not 1 or 2 (found 3) [shape] -> write one of them",
    "primers/metal-wood.yaml: cure.by: is missing [shape] -> write material, "
    "lowest-surface or warmest-surface",
    "primers/metal-wood.yaml: keeps_open: is not true or false (found no) [shape] -> "
    "write true or false",
    "resins/pu-2k.yaml: stops.0.whom: is not whom to ask (product-maker, sheet-maker, "
    "roof-designer, licensed-trade, testing-laboratory, site-safety or crew-lead) (found "
    "product-makers) [shape] -> write one of them; nearest: product-maker",
    "resins/pu-2k.yaml: stops.0.facts: lists 1, at least 2 are needed [shape] -> add: "
    'prose in both languages: {en: "...", es: "..."}',
    "fleeces/polyester.yaml: thicknes: is not a field here [shape] -> use one of: thickness",
    "fleeces/polyester.yaml: thickness: is missing [shape] -> write a value (film): "
    "{value, basis, checked_on}",
    "fleeces/polyester.yaml: areal_mass.unit: is not a field of this value [shape] -> a "
    "value has only: value, also, basis, checked_on, note",
    "fleeces/polyester.yaml: areal_mass.basis: is missing [shape] -> write {grade: ..., "
    "source?: sources/ID, locator?: ...}",
    'tools/grinder.yaml: name: is not prose in both languages: {en: "...", es: "..."} '
    '(found Grinder) [shape] -> write prose in both languages: {en: "...", es: "..."}',
    "sections/standard-shapes.yaml: tables.angle.rows.1: does not fit the columns (found "
    "['L4X4X1/4']) [shape] -> a cell for each column",
    "terms/list.yaml: is not {name, note?, means, said, not_said?, of?} (found "
    "['one']) [shape] -> write {name, note?, means, said, not_said?, of?}",
]


def test_shape(told: Callable[..., list[str]]) -> None:
    assert told("shape") == EXPECTED
