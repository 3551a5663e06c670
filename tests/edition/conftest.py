"""A small valid tree of spec data, and broken ones made from it."""

from __future__ import annotations

import importlib.util
import shutil
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
import yaml

from upstand.edition.check import check

GONE = "(gone)"


def both(text: str) -> dict[str, str]:
    return {"en": text, "es": f"(es) {text}"}


def said(**measure: Any) -> dict[str, Any]:
    return {**measure, "basis": {"grade": "practice"}, "checked_on": "2026-11-24"}


def at_70(low: str | None, high: str, by: str, keep: str, scales: str = "halves") -> dict[str, Any]:
    ends = {"low": low, "high": high} if low else {"high": high}
    return said(at="70 degF", **ends, by=by, scales=scales, keep=keep)


STEPS = (
    "setup",
    "degrease",
    "grind",
    "abrade",
    "clean",
    "mask",
    "dry-fit",
    "prime-metal",
    "mix",
    "base-coat",
    "fleece",
    "top-coat",
    "unmask",
)


PREPARING = ("degrease", "grind", "abrade", "clean")


def nodes() -> dict[str, Any]:
    """Return kind/id -> node of a tree that every rule accepts."""
    made: dict[str, Any] = {
        "substrates/carbon-steel": {
            "family": "metal",
            "used_as": ["member", "plate"],
            "primer": "primers/metal-wood",
            "preparation": "preparations/carbon-steel",
            "roughness": said(value="0 mil"),
            "sound": both("Bright metal."),
            "tests": [both("Scratch it.")],
            "traps": [both("Mill scale.")],
            "dry_before_primer": both("Dry to the touch."),
            "hazards": ["sparks"],
            "confirm": [],
            "rusts": True,
        },
        "preparations/carbon-steel": {
            "steps": [
                {
                    "activity": "activities/grind",
                    "do": both("Grind it bright."),
                    "tools": ["tools/grinder"],
                    "grit": said(low=24, high=36),
                    "target": both("Bright all over."),
                    "hazards": ["sparks"],
                },
                {
                    "activity": "activities/clean",
                    "do": both("Wipe it."),
                    "tools": [],
                    "target": both("The rag stays white."),
                },
            ],
            "again_after_night": both("Wipe again."),
            "never": [both("A wire brush alone.")],
        },
        "primers/metal-wood": {
            "family": both("Metal and wood"),
            "parts": 2,
            "cure_kind": "reaction",
            "activity": "activities/prime-metal",
            "method": both("Brush it on."),
            "mixing": said(value="2 min"),
            "pot_life": at_70("8 min", "13 min", "material", "shorter"),
            "cure": at_70("2 h", "4 h", "lowest-surface", "longer"),
            "cover_within": at_70(None, "24 h", "warmest-surface", "shorter"),
            "coverage": said(value="150 ft^2/gal"),
            "coats": said(value=1),
            "application": said(low="40 degF", high="90 degF"),
            "storage": said(low="60 degF", high="80 degF"),
            "hazards": ["solvent"],
            "neighbours": [],
            "keeps_open": False,
        },
        "resins/pu-2k": {
            "parts": 2,
            "cure_kind": "reaction",
            "pot_life": at_70("25 min", "30 min", "material", "shorter"),
            "cure": at_70("2 h", "4 h", "lowest-surface", "longer"),
            "watertight": at_70("2 h", "4 h", "lowest-surface", "longer"),
            "application": said(low="40 degF", high="90 degF"),
            "storage": said(low="60 degF", high="80 degF"),
            "whole_packs": True,
            "layers": {
                "base": said(value="40 mil"),
                "top": said(value="25 mil"),
                "bed": said(value="20 mil"),
                "top_band": said(low="20 mil", high="30 mil"),
            },
            "film": said(low="90 mil", high="110 mil"),
            "fleece": "fleeces/polyester",
            "hazards": ["solvent"],
            "neighbours": [],
            "notes": [],
            "stops": [
                {
                    "id": "wet-lid",
                    "state": "ask",
                    "because": both("A lid was left off."),
                    "clears": both("A fresh pack."),
                    "whom": "product-maker",
                    "facts": [both("Batch."), both("Hours open.")],
                }
            ],
        },
        "fleeces/polyester": {
            "thickness": said(value="36 mil"),
            "areal_mass": said(value="165 g/m^2"),
            "fibre_density": said(value="1380 kg/m^3"),
        },
        "packs/resin-1-gal": {
            "of": "resins/pu-2k",
            "size": said(value="1 gal"),
            "pre_proportioned": True,
        },
        "packs/primer-1-qt": {
            "of": "primers/metal-wood",
            "size": said(value="0.25 gal"),
            "pre_proportioned": True,
        },
        "packs/fleece-10-in": {
            "of": "fleeces/polyester",
            "width": said(value="10 in"),
            "length": said(value="50 ft"),
        },
        "details/post": {
            "what": both("A post."),
            "right_when": [both("It stands.")],
            "wrong_when": [both("It moves.")],
            "family": "upright",
            "sections": ["angle"],
            "activities": [f"activities/{id}" for id in STEPS],
            "checks": ["checks/wet-film"],
            "confirm": [],
            "hazards": ["solvent"],
            "failures": [{"sign": both("White shows."), "repair": both("Feed it.")}],
        },
        "inputs/height": {
            "reads": "length",
            "order": 10,
            "limit": "limits/height",
            "how": both("From the roof up."),
            "example": "8 in",
            "taken": [{"details": ["post"], "default": said(value="8 in")}],
        },
        "limits/wind": {
            "of": "wind",
            "order": 20,
            "governs": ["lay"],
            "at_most": said(value="25 mph"),
            "else": "hold",
            "missing": "confirm",
            "because": both("The wind is {found}, over {limit}."),
            "clears": both("Wait for {limit} or less."),
            "by": "before-pail",
            "confirm": both("The wind is {limit} or less."),
        },
        "limits/height": {
            "of": "height",
            "order": 10,
            "at_least": said(value="8 in"),
            "else": "ask",
            "missing": "skip",
            "because": both("The height is {found}, under {limit}."),
            "clears": both("Make it {limit}."),
            "whom": "roof-designer",
            "facts": [both("The height."), both("The slope.")],
        },
        "parameters/fleece-lap": {"value": said(value="2 in")},
        "limits/surface": {
            "of": "surface",
            "order": 30,
            "governs": ["lay"],
            "at_least": {"take": "product.application.low"},
            "at_most": {"take": "product.application.high"},
            "else": "hold",
            "missing": "ask",
            "because": both("The surface is {found}."),
            "clears": both("Wait."),
            "unknown": both("The surface is not known."),
            "whom": "crew-lead",
            "facts": [both("Coldest."), both("Warmest.")],
        },
        "checks/wet-film": {
            "stage": "hold",
            "method": both("Gauge it."),
            "acceptance": both("Wet to the next tooth."),
        },
        "tools/grinder": {"sort": "tool", "use": both("To grind.")},
        "sections/angle": {
            "inputs": {"leg_a": {"reads": "length", "name": both("One leg")}},
            "outline": both("Sharp."),
        },
        "sections/standard-shapes": {
            "outline": both("Listed."),
            "tables": {
                "angle": {
                    "section": "sections/angle",
                    "unit": "in",
                    "columns": ["designation", "leg_a"],
                    "rows": [["L3X3X1/4", 3], ["L4X4X1/4", 4]],
                    "basis": {
                        "grade": "secondary",
                        "source": "sources/handbook",
                        "locator": "table 1",
                    },
                    "checked_on": "2026-11-24",
                }
            },
        },
        "terms/post": {
            "means": both("A post."),
            "said": {"en": ["leg"], "es": ["pata"]},
            "of": "details/post",
        },
        "sources/handbook": {
            "title": "A handbook",
            "issuer": "An institute",
            "year": 2020,
            "read": both("Table 1, in November 2026."),
            "sort": "handbook",
        },
    }
    for hazard in ("sparks", "solvent"):
        made[f"cautions/{hazard}"] = {
            "hazard": hazard,
            "when": [[f"hazard/{hazard}"]],
            "severity": "danger",
            "say": both("It burns."),
            "measure": both("Keep it apart."),
            "rules": [],
            "defers": both("The safety data sheet."),
        }
    for number, id in enumerate((*STEPS, "paint")):
        made[f"activities/{id}"] = {
            "say": both(f"Do {id}."),
            "needs": "preparation" if id in PREPARING else "always",
            "stage": "prime" if id.startswith("prime") else "lay",
            "order": number,
        }
    for path, node in made.items():
        made[path] = {"name": both(path.partition("/")[2]), **node}
    return made


@pytest.fixture(scope="session")
def completeness() -> ModuleType:
    """The script that asks about every detail, as a module."""
    spec = importlib.util.spec_from_file_location(
        "completeness", Path(__file__).with_name("completeness.py")
    )
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["completeness"] = module
    spec.loader.exec_module(module)
    return module


def patched(patch: Mapping[str, Any]) -> dict[str, Any]:
    """Return the small tree with a patch on it: kind/id -> dotted path -> what stands there.

    What is `(gone)` is taken out; a record that the tree lacks is one of the patch's own.
    """
    made = nodes()
    for path, changes in patch.items():
        if not isinstance(changes, dict):
            made[path] = changes
            continue
        node = made.setdefault(path, {})
        for place, value in changes.items():
            *above, last = (int(key) if key.isdigit() else key for key in place.split("."))
            held = node
            for key in above:
                held = held[key]
            if value == GONE:
                del held[last]
            elif isinstance(held, list) and last == len(held):
                held.append(value)
            else:
                held[last] = value
    return made


def write_tree(made: Mapping[str, Any], root: Path) -> None:
    """Write nodes as the data of `next`."""
    for path, node in made.items():
        file = root / "next" / f"{path}.yaml"
        file.parent.mkdir(parents=True, exist_ok=True)
        text = yaml.safe_dump(node, allow_unicode=True, sort_keys=False)
        file.write_text(text, encoding="utf-8")


@pytest.fixture(scope="session")
def whole(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Return the small tree, which no test may change."""
    root = tmp_path_factory.mktemp("specdata")
    write_tree(nodes(), root)
    return root


@pytest.fixture
def small(whole: Path, tmp_path: Path) -> Path:
    """Return a copy of the small tree, for a test to change."""
    root = tmp_path / "specdata"
    shutil.copytree(whole, root)
    return root


@pytest.fixture
def broken(tmp_path: Path) -> Callable[[Mapping[str, Any]], Path]:
    """Return a maker of the small tree with a patch on it."""

    def make(patch: Mapping[str, Any]) -> Path:
        write_tree(patched(patch), tmp_path)
        return tmp_path

    return make


@pytest.fixture
def checked() -> Callable[..., list[str]]:
    """Return a reader of everything that a check says of a root."""

    def tell(root: Path, **more: Any) -> list[str]:
        return [str(fault) for fault in check(root, **more).faults]

    return tell
