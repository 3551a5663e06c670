"""Forms that work with no signal: what the engine traced, written out for the browser."""

from __future__ import annotations

import json
from contextlib import suppress
from functools import lru_cache
from pathlib import Path
from typing import Any

from upstand.edition import Edition
from upstand.edition.lacking import LACKING
from upstand.formulas import REGISTER
from upstand.formulas.language.export import export as export_formula
from upstand_site.forms.amounts import AMOUNTS
from upstand_site.forms.details import DETAILS
from upstand_site.forms.model import Form
from upstand_site.forms.tree import export
from upstand_site.forms.weather import WEATHER

__all__ = ["AMOUNTS", "DETAILS", "FORMS", "WEATHER", "exported", "write_forms"]

FORMS: tuple[Form, ...] = (*WEATHER, *AMOUNTS, *DETAILS)


@lru_cache(maxsize=2)
def exported(edition: Edition) -> dict[str, Any]:
    """Return every form, and the formulas that they compute by. Kept: not to be changed.

    A form that reads what an older edition does not hold is left out.
    """
    forms = {}
    for form in FORMS:
        with suppress(*LACKING):
            forms[form.id] = export(form, edition)
    used = sorted({name for form in forms.values() for name in form.pop("formulas")})
    return {
        "formulas": {name: export_formula(REGISTER[name]) for name in used},
        "forms": forms,
    }


def write_forms(out: Path, edition: Edition) -> Path:
    """Write the forms as a script, into the assets of a handbook."""
    path = out / "assets" / "forms.js"
    path.parent.mkdir(parents=True, exist_ok=True)
    text = json.dumps(exported(edition), ensure_ascii=False, separators=(",", ":"))
    path.write_text(f"window.upstandForms={text};\n", encoding="utf-8")
    return path
