"""Forms that work with no signal: the engine's own formulas, exported as trees, and their limits.

The browser evaluates the same trees as the engine's test does; a test holds both answers together.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from upstand.edition import Edition, Record
from upstand.formulas import REGISTER
from upstand.formulas.language.export import export
from upstand.stages.dew_point import FREEZING_DEGF

FORMULAS = (
    "dew_point",
    "frost_point",
    "surface_margin",
    "halved_time",
    "shorter",
    "pot_life_kept",
    "film_volume",
    "with_allowance",
    "film_from_volume",
)


@dataclass(frozen=True, slots=True)
class Input:
    """One field: its name, the unit it is typed in, and what it may lie between."""

    name: str
    unit: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Form:
    """One question with its fields; `choice` names the kind of thing that is picked first."""

    id: str
    inputs: tuple[Input, ...]
    choice: str | None = None


DEGREES = (-60.0, 200.0)

FORMS = (
    Form(
        "dew",
        (
            Input("air", "°F", *DEGREES),
            Input("humidity", "%", 0.0, 100.0),
            Input("surface", "°F", *DEGREES),
        ),
    ),
    Form("pot-life", (Input("material", "°F", 32.0, 120.0),), choice="resin"),
    Form("volume", (Input("area", "ft²", 0.0, 100_000.0), Input("thickness", "mil", 0.0, 500.0))),
    Form("film", (Input("used", "gal", 0.0, 10_000.0), Input("area", "ft²", 0.0, 100_000.0))),
)


def halving_resins(edition: Edition) -> list[Record]:
    """Return the resins whose pot life goes by the halving rule."""
    return [
        record
        for record in edition.kind("resins").values()
        if record.has("pot_life") and record.value("pot_life").scales == "halves"
    ]


def resin_of(edition: Edition) -> Record:
    """Return the resin that is taken where none is named."""
    return edition.record(str(edition.record("parameters/default-resin").get("choice")))


def numbers_of(edition: Edition) -> Mapping[str, Any]:
    """Return the edition's numbers that the forms use, in the formulas' units."""
    margins = edition.record("limits/dew-point-margin").get("at_least")
    values = margins if isinstance(margins, tuple) else (margins,)
    return {
        "freezing": FREEZING_DEGF,
        "margin": max(value.magnitude("delta_degF") for value in values),
        "applied": [
            resin_of(edition).value("application").magnitude_low("degF"),
            resin_of(edition).value("application").magnitude_high("degF"),
        ],
        "step": edition.record("parameters/halving-step").value("value").magnitude("delta_degF"),
        "kept": edition.record("parameters/pot-life-margin").value("value").magnitude("percent"),
        "allowance": edition.record("parameters/allowance").value("value").magnitude("percent"),
        "resins": {
            record.id: {
                "low": record.value("pot_life").magnitude_low("min"),
                "at": record.value("pot_life").magnitude_at("degF"),
                "store": [
                    record.value("storage").magnitude_low("degF"),
                    record.value("storage").magnitude_high("degF"),
                ],
            }
            for record in halving_resins(edition)
        },
    }


def write_forms(out: Path, edition: Edition) -> Path:
    """Write formulas, forms and numbers as a script, into the assets of a handbook."""
    held = {
        "formulas": {name: export(REGISTER[name]) for name in FORMULAS},
        "numbers": numbers_of(edition),
        "ranges": {
            form.id: {each.name: [each.low, each.high, each.unit] for each in form.inputs}
            for form in FORMS
        },
    }
    path = out / "assets" / "forms.js"
    path.parent.mkdir(parents=True, exist_ok=True)
    text = json.dumps(held, ensure_ascii=False, separators=(",", ":"))
    path.write_text(f"window.upstandForms={text};\n", encoding="utf-8")
    return path
