"""Products are sold in packs, packs say what they hold."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "primers/metal-wood.yaml: is in no pack (found primers/metal-wood) [packs] -> write "
    "packs/ID with of: primers/metal-wood",
    "packs/primer-1-qt.yaml: size: is missing: a pack of resins has it [packs] -> write "
    "it with its unit",
    "packs/resin-1-gal.yaml: pre_proportioned: is not true, and resins/pu-2k is mixed in "
    "whole packs only [packs] -> write pre_proportioned: true",
    "packs/tape.yaml: holds no measure [packs] -> write size, or width and length",
]


def test_packs(told: Callable[..., list[str]]) -> None:
    assert told("packs") == EXPECTED
