"""Overlays that come with the data lie on their edition, or are told in words."""

from __future__ import annotations

import shutil
from pathlib import Path

from upstand.edition.rules import RULES
from upstand.edition.source import Source

BROKEN = Path(__file__).resolve().parents[2] / "broken" / "overlays"

EXPECTED = [
    "overlays/dimension.yaml: set.0: resins/pu-2k: layers.base.value: measures length, "
    "not film (found 1 in) [units] -> write it in mil or um",
    "overlays/dimension.yaml: set.1: resins/pu-2k: application: has low above high "
    "(found 95 degF to 90 degF) [ranges] -> change them round",
    "overlays/dimension.yaml: set.2: substrates/carbon-steel: primer: does not exist "
    "(found primers/metal-wod) [references] -> nearest: primers/metal-wood",
    "overlays/expects.yaml: set.0.expects: resins/pu-2k: layers.base: stands at 40 mil, "
    "and 45 mil was expected: the edition has changed, or the overlay was written "
    "against another (found 45 mil) [overlay] -> look at the new value, then write it "
    "under expects",
    "overlays/expects.yaml: set.1.path: resins/pu2k: layers.base: no such record (found "
    "resins/pu2k) [overlay] -> nearest: resins/pu-2k",
    "overlays/expects.yaml: set.2.path: resins/pu-2k: layer.base: no such field (found "
    "layer.base) [overlay] -> nearest: layers.base, layers.bed, layers",
    "overlays/form.yaml: sets: is not a field here [overlay] -> use one of: extends, "
    "set, name, note",
    "overlays/form.yaml: set.0.expect: is not a field here [overlay] -> nearest: expects",
    "overlays/form.yaml: set.0.expects: is missing [overlay] -> write what stands there "
    "now (null: nothing), so that a new edition is noticed",
    "overlays/form.yaml: set.0.basis: is missing [overlay] -> write {grade: product, "
    "source, locator}",
    "overlays/loosening.yaml: set.0.reason: limits/wind: at_most: raises it (25 mph to "
    "30 mph), and gives no reason [overlay] -> write reason: {en, es}; every answer will "
    "show it",
    "overlays/loosening.yaml: set.1.reason: resins/pu-2k: application.high: raises its "
    "high end (90 degF to 95 degF), and gives no reason [overlay] -> write reason: {en, "
    "es}; every answer will show it",
    "overlays/loosening.yaml: set.2.reason: cautions/sparks: drops a caution (sparks to "
    "nothing), and gives no reason [overlay] -> write reason: {en, es}; every answer "
    "will show it",
    "overlays/nothing-below: extends: is 2026.10, no edition and no overlay [overlay] -> use: next",
    "overlays/ring-b: extends: goes in a circle: ring-a -> ring-b -> ring-a [overlay] -> "
    "extend an edition at the end",
    "overlays/ring-a: extends: goes in a circle: ring-b -> ring-a -> ring-b [overlay] -> "
    "extend an edition at the end",
]


def test_overlays(small: Path) -> None:
    shutil.copytree(BROKEN, small / "overlays")
    assert [str(fault) for fault in RULES["overlays"](Source.read(small))] == EXPECTED


NEAREST = """
extends: next
set:
  - path: "limits/wind: at_most"
    expects: 25 mph
    value: 20 mph
    basis: {grade: product, source: "Invented sheet A", locator: "table 1"}
  - path: "resins/pu-2k: application.high"
    expects: 90 degF
    value: 95 degF
    basis: {grade: product, source: "Invented sheet A", locator: "table 1"}
    reason: {en: "Its sheet says so.", es: "Lo dice su hoja."}
"""


def test_the_nearest_overlay_is_accepted(small: Path) -> None:
    """What tightens needs no reason; what loosens gives one."""
    (small / "overlays").mkdir()
    (small / "overlays/sheet-a.yaml").write_text(NEAREST, encoding="utf-8")
    assert [str(fault) for fault in RULES["overlays"](Source.read(small))] == []
