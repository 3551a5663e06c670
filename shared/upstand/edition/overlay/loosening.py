"""Which way a change is: does it loosen a limit, or drop something that warns or stops?

A table says for each field which way is looser. A change that cannot be shown to tighten counts as
loosening, in a field of the table or in none: the contractor gives a reason, and every answer says
so. Free besides is what only names things, and what answers where nothing stood.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from upstand.edition.amounts import amount, amount_in
from upstand.edition.build import is_value

__all__ = ["loosens"]

# Looser when smaller, when greater, when an item goes, when anything changes, and when what is
# there changes (adding it where there was nothing is free: a sheet answers what was open).
LESS, MORE, GONE, ANY, CHANGED = "less", "more", "gone", "any", "changed"

_PRODUCT: dict[str, str] = {
    "parts": ANY,
    "cure_kind": ANY,
    "mixing": LESS,
    "pot_life": MORE,
    "skin_time": MORE,
    "flash_off": LESS,
    "cure": LESS,
    "watertight": LESS,
    "cover_within": MORE,
    "recoat_within": MORE,
    "times_at": CHANGED,
    "coats": LESS,
    "layers.base": LESS,
    "layers.top": LESS,
    "layers.bed": LESS,
    "max_pass": MORE,
    "dose": CHANGED,
    "coverage": MORE,
    "volume_solids": MORE,
    "stops": GONE,
    "confirm": GONE,
    "hazards": GONE,
    "never": GONE,
}
_STOP = {
    "stops": GONE,
    "stops.state": ANY,
    "stops.facts": GONE,
    "stops.unless": ANY,
    "stops.confirmed": ANY,
}

TABLE: Mapping[str, Mapping[str, str]] = {
    "resins": {**_PRODUCT, **_STOP},
    "primers": _PRODUCT,
    "substrates": {
        **_STOP,
        "primer_coats": LESS,
        "hazards": GONE,
        "confirm": GONE,
        "tests": GONE,
    },
    "preparations": {"steps": GONE, "steps.hazards": GONE, "never": GONE, "steps.wait": GONE},
    "details": {
        **_STOP,
        "wrong_when": GONE,
        "activities": ANY,
        "checks": GONE,
        "confirm": GONE,
        "limits": ANY,
        "hazards": GONE,
        "dimensions": GONE,
        "work": GONE,
    },
    "activities": {
        "needs": ANY,
        "per": ANY,
        "stage": ANY,
        "common": ANY,
        "holds": GONE,
        "hazards": GONE,
        "holds.per": ANY,
    },
    "limits": {
        "of": ANY,
        "at_least": LESS,
        "at_most": MORE,
        "under": MORE,
        "is": ANY,
        "details": ANY,
        "except": ANY,
        "takes": ANY,
        "unless": ANY,
        "governs": GONE,
        "facts": GONE,
    },
    "parameters": {"stricter": ANY},
    "inputs": {"limit": ANY, "least": LESS, "taken": ANY},
    "cautions": {
        "hazard": ANY,
        "when": GONE,
        "short": ANY,
        "say": ANY,
        "measure": ANY,
        "defers": ANY,
        "rules": GONE,
    },
    "checks": {"stage": ANY, "by": ANY, "when": GONE},
}
"""kind -> field -> which way is looser."""

RANGES: Mapping[str, tuple[str, ...]] = {
    "resins": ("application", "storage", "humidity", "film", "layers.top_band"),
    "primers": ("application", "storage"),
}
"""Ranges to work within: looser when either end moves outward or goes."""

LADDERS: Mapping[tuple[str, str], tuple[Any, ...]] = {
    ("limits", "else"): ("confirm", "ask", "hold", "refuse"),
    ("limits", "missing"): ("skip", "confirm", "ask"),
    ("cautions", "severity"): ("care", "warning", "danger"),
    ("resins", "whole_packs"): (False, True),
    ("packs", "pre_proportioned"): (False, True),
    ("primers", "keeps_open"): (True, False),
    ("substrates", "rusts"): (False, True),
}
"""Fields with steps, loosest first; what is missing counts as the loosest."""

HALVING_STEP_DEGF = 18.0

FREE: Mapping[str, tuple[str, ...]] = {
    "terms": ("name", "means", "said", "of"),
    "inputs": ("example",),
    "sources": ("name", "title", "issuer", "year", "read", "sort", "note"),
}
"""What may change freely: words to look things up by, and the register of sources."""

_UNKNOWN = "changes what cannot be shown to be stricter"


def loosens(kind: str, path: str, old: Any, new: Any, record: Mapping[str, Any]) -> str | None:
    """Return in words how a change loosens, or None where it does not.

    ``path`` is the dotted path in the record, ``old`` and ``new`` the nodes there (None: nothing),
    ``record`` the whole record before the change.
    """
    field = ".".join(step for step in path.split(".") if not step.isdecimal())
    ladder = LADDERS.get((kind, field))
    if ladder is not None:
        place = {step: number for number, step in enumerate(ladder)}
        if place.get(new, 0) < place.get(old, 0):
            return "weakens it"
        return None
    if kind == "substrates" and field in ("primer", "preparation"):
        return _surface(field, old, new)
    if field in RANGES.get(kind, ()):
        return _range(old, new)
    sense = TABLE.get(kind, {}).get(field)
    neither = False
    if kind == "parameters" and field == "value":
        stricter = str(record.get("stricter"))
        sense, neither = {"less": MORE, "neither": None}.get(stricter, LESS), stricter == "neither"
    if sense is None:
        free = field == "name" or field in FREE.get(kind, ()) or old is None
        return None if free or neither else _UNKNOWN
    if sense == ANY or (sense == CHANGED and old is not None):
        return _UNKNOWN
    if sense == CHANGED:
        return None
    if sense == GONE:
        return _gone(old, new)
    return _number(old, new, sense)


def _surface(field: str, old: Any, new: Any) -> str | None:
    if new == "none" and old != "none":
        return f"takes the {field} away"
    if old == "ask":
        return "answers what was to be asked"
    # to ask is stricter than any answer; that another primer or work is as good is not known
    return None if new == "ask" else _UNKNOWN


def _gone(old: Any, new: Any) -> str | None:
    if isinstance(old, list):
        kept = new if isinstance(new, list) else []
        lost = [item for item in old if item not in kept]
        return f"drops or changes {len(lost)} of {len(old)}" if lost else None
    if old is None:
        return None
    return "drops it" if new is None else _UNKNOWN


def _range(old: Any, new: Any) -> str | None:
    if not is_value(old):
        return None
    if not is_value(new):
        return "drops it"
    for end, sense in (("low", LESS), ("high", MORE)):
        if old.get(end) is None:
            continue
        if new.get(end) is None:
            return f"drops its {end} end"
        found = _compare(old[end], new[end])
        if (sense == LESS and found < 0) or (sense == MORE and found > 0):
            return f"{'lowers' if found < 0 else 'raises'} its {end} end"
    return None


def _number(old: Any, new: Any, sense: str) -> str | None:
    """A single value, a time, or for limits a list of bounds or a path that is taken."""
    if old is None:
        return None
    if new is None:
        return "drops it"
    if not is_value(old) or not is_value(new):
        return _UNKNOWN
    if "value" in old and "value" in new:
        found = _compare(old["value"], new["value"])
        if (sense == LESS and found < 0) or (sense == MORE and found > 0):
            return "lowers it" if found < 0 else "raises it"
        return None
    return _time(old, new, sense)


def _time(old: Mapping[str, Any], new: Mapping[str, Any], sense: str) -> str | None:
    if any(old.get(name) != new.get(name) for name in ("by", "scales", "keep")):
        return _UNKNOWN
    if "points" in old and "points" in new:
        return _rows(old["points"], new["points"], sense)
    if "at" not in old or "at" not in new:
        return _UNKNOWN
    factor = _factor(old, new)
    if factor is None:
        return _UNKNOWN
    return _times(old, new, sense, factor)


def _factor(old: Mapping[str, Any], new: Mapping[str, Any]) -> float | None:
    """What to multiply new times by to compare them at the old temperature; None: cannot be."""
    warmer = amount_in(new["at"], "degF") - amount_in(old["at"], "degF")
    if warmer == 0:
        return 1.0
    if old.get("scales") == "halves":
        return float(2.0 ** (warmer / HALVING_STEP_DEGF))
    return 1.0 if warmer > 0 else None  # stated from a warmer point on: less is claimed


def _rows(old: Sequence[Any], new: Sequence[Any], sense: str) -> str | None:
    if len(old) != len(new):
        return "changes the table's temperatures"
    for one, other in zip(old, new, strict=True):
        if _compare(one["at"], other["at"]) != 0:
            return "changes the table's temperatures"
        found = _times(one, other, sense, 1.0)
        if found:
            return found
    return None


def _times(old: Mapping[str, Any], new: Mapping[str, Any], sense: str, factor: float) -> str | None:
    for end in ("low", "high"):
        if (end in old) != (end in new):
            return f"adds or drops its {end} end"
        if end not in old:
            continue
        found = _compare(old[end], new[end], factor)
        if (sense == LESS and found < 0) or (sense == MORE and found > 0):
            return f"{'shortens' if found < 0 else 'lengthens'} it"
    return None


def _compare(old: Any, new: Any, factor: float = 1.0) -> int:
    """Return -1, 0 or 1: is the new amount (times factor) less, the same or more?"""
    number, unit = amount(old)
    other = amount_in(new, unit) * factor
    if abs(other - number) <= 1e-9 * max(abs(number), 1.0):
        return 0
    return -1 if other < number else 1
