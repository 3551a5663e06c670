"""The table of inputs as data for forms: what to ask for a detail, in one language."""

from __future__ import annotations

from typing import Any

from upstand.edition import Edition, Value
from upstand.edition.applies import Taken, inputs_of
from upstand.quantity.shown import Speech
from upstand.words.figures import fill_figures

__all__ = ["input_forms"]


def input_forms(edition: Edition, detail: str, lang: str) -> list[dict[str, Any]]:
    """Return a field for each input that a detail takes, in order, as plain JSON values.

    An input that depends on others comes once for each case, with `when`.
    """
    return [
        _form(edition, name, row, lang)
        for name, rows in inputs_of(edition, detail).items()
        for row in rows
    ]


def _form(edition: Edition, name: str, row: Taken, lang: str) -> dict[str, Any]:
    record = row.input
    return {
        "name": name,
        "at": str(record.get("at", name)),
        "reads": record.get("reads"),
        "label": record.text(row.path("name"), lang),
        "how": record.text(row.path("how"), lang),
        "example": record.get("example"),
        "part": record.get("part"),
        "required": row.measured,
        "when": dict(row.when),
        "choices": {id: said[lang] for id, said in record.get("choices", {}).items()},
        "default": _default(edition, row),
        "worked_out": _worked_out(edition, row, lang),
    }


def _worked_out(edition: Edition, row: Taken, lang: str) -> str | None:
    text = row.get("worked_out", {}).get(lang)
    return None if text is None else fill_figures(text, edition, Speech("us"))


def _default(edition: Edition, row: Taken) -> Any:
    """Return the value or the id taken where nothing is said, as it is written; None: none."""
    if row.get("parameter"):
        parameter = edition.record(row.get("parameter"))
        if parameter.has("choice"):
            return str(parameter.get("choice")).partition("/")[2]
        return _written(parameter.value("value"))
    value = row.get("default")
    return row.get("choice") if value is None else _written(value)


def _written(value: Value) -> Any:
    if value.flag is not None:
        return value.flag
    if value.unit in (None, "1"):
        return value.value
    return f"{value.value:g} {value.unit}"
