"""Formulas that both the engine and the offline handbook compute: one definition, three uses.

Each is a small function of plain floats in named units, written in a restricted Python:
parameters, assignment to a new name, ``+ - * /``, one comparison at a time in an if-expression,
min, max, floor, ceil, exp, log, sqrt, asin and pi. The engine calls it natively (`traced.reckon`),
`export` turns it into a JSON tree that a browser evaluates, `words` prints it for people.

>>> REGISTER["film_volume"].parameters
(('area', 'in^2'), ('thickness', 'mil'))
>>> round(REGISTER["film_volume"](14400.0, 40.0), 4)
2.4935
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from inspect import isfunction
from types import MappingProxyType, ModuleType

from upstand.formulas import (
    areas,
    closed_sections,
    film,
    open_sections,
    pieces,
    placing,
    resin,
    runs,
    section_parts,
    supply,
    times,
    weather,
)
from upstand.formulas.language.register import Formula, FormulaFault, register

__all__ = ["BY_FUNCTION", "REGISTER", "Formula", "FormulaFault"]

_MODULES: tuple[ModuleType, ...] = (
    open_sections,
    closed_sections,
    areas,
    pieces,
    section_parts,
    runs,
    resin,
    placing,
    supply,
    times,
    weather,
    film,
)


def _collect() -> dict[str, Formula]:
    found: dict[str, Formula] = {}
    for module in _MODULES:
        for name, each in vars(module).items():
            if not isfunction(each) or each.__module__ != module.__name__ or name[0] == "_":
                continue
            if name in found:
                raise FormulaFault(f"two formulas are called {name}; a name has one meaning")
            found[name] = register(each)
    return found


REGISTER: Mapping[str, Formula] = MappingProxyType(_collect())
"""Every formula by its name, in the order they are written."""

BY_FUNCTION: Mapping[Callable[..., float], Formula] = MappingProxyType(
    {each.function: each for each in REGISTER.values()}
)
"""The same by their functions, so that a stage may hand over the function itself."""
