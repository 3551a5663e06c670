"""Numbers that know where they come from: asked, assumed, read in an edition, or computed.

A stage computes with `reckon(formula, name=traced, ...)`; the result remembers its formula and its
inputs, so that an answer can show the working of every quantity.

>>> area, film = asked(14400.0, "in^2", "/area"), assumed(40.0, "mil", "/film")
>>> resin = reckon(REGISTER["film_volume"], area=area, thickness=film)
>>> round(resin.value, 4), resin.unit, resin.origin.where
(2.4935, 'gal', 'film_volume')
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Final, Literal, NamedTuple

from upstand.formulas import BY_FUNCTION, REGISTER, Formula
from upstand.formulas.language.units_of import ANY
from upstand.quantity.units import UnitFault

Kind = Literal["asked", "assumed", "edition", "overlay", "computed", "constant"]

NOISE: Final = 1e-9
"""Two readings that differ by less than this are the same reading."""

TOTAL: Final = "total"
"""What `Working.formula` says for a sum of parts; no formula has this name."""


class Origin(NamedTuple):
    """Where a number comes from.

    `where` is a JSON pointer into the question, a place in the edition
    (``resins/pu-2k: layers.base``) or the name of a formula or total; `grade` and `source` are
    those of the edition's value.
    """

    kind: Kind
    where: str
    grade: str = ""
    source: str = ""


class Working(NamedTuple):
    """The formula a number was computed by, and what went in, by parameter name."""

    formula: str
    inputs: tuple[tuple[str, Traced], ...]


class Traced(NamedTuple):
    """A plain float with its unit, its origin and, where it was computed, its working.

    `also` is how its source, or whoever asked, says it in the other system: (number, unit).
    """

    value: float
    unit: str
    origin: Origin
    working: Working | None = None
    also: tuple[float, str] | None = None


_COMPUTED: Final[dict[str, Origin]] = {name: Origin("computed", name) for name in REGISTER}


def asked(value: float, unit: str, pointer: str, also: tuple[float, str] | None = None) -> Traced:
    """Trace a number from the question; `pointer` is its JSON pointer, e.g. ``/height``."""
    return Traced(value, unit, Origin("asked", pointer), also=also)


def assumed(value: float, unit: str, pointer: str, grade: str = "", source: str = "") -> Traced:
    """Trace a number the question left out; `pointer` is where it would have stood."""
    return Traced(value, unit, Origin("assumed", pointer, grade, source))


def reaches(found: Traced, least: Traced) -> bool:
    """Whether a number is at least another: as both were said in the same system of units.

    >>> least = Traced(8.0, "in", Origin("edition", "limits/upright-height"), also=(200.0, "mm"))
    >>> found = Traced(7.874, "in", Origin("asked", "/height"), also=(200.0, "mm"))
    >>> reaches(found, least), reaches(asked(7.99, "in", "/height"), least)
    (True, False)
    """
    if found.also is not None and least.also is not None and found.also[1] == least.also[1]:
        return found.also[0] >= least.also[0] - NOISE
    return found.value >= least.value - NOISE


def constant(value: float, unit: str, where: str) -> Traced:
    """Trace a number that is fixed by the software, such as one joint to a wrap."""
    return Traced(value, unit, Origin("constant", where))


def measured(value: float, unit: str, what: str) -> Traced:
    """Trace a number taken off a drawn shape, where no formula counts it; `what` names it."""
    return Traced(value, unit, Origin("computed", what))


def reckon(formula: Formula | Callable[..., float], /, **inputs: Traced) -> Traced:
    """Compute a formula from traced inputs, converting nothing.

    Parameters: `formula` one of `REGISTER` (or its function); `inputs` by the formula's parameter
    names, each in exactly the unit the formula declares.
    Raises UnitFault naming the parameter whose unit differs, TypeError where inputs are missing,
    not the formula's, or the function is no formula; what the arithmetic itself raises
    (ZeroDivisionError, ValueError) goes through.
    """
    known = formula if formula.__class__ is Formula else _formula(formula)
    if known.names != tuple(inputs):
        inputs = _in_order(known, inputs)
    parts = inputs.values()
    units = tuple([part.unit for part in parts])
    common = known.unit if units == known.units else _common_unit(known, inputs)
    value = float(known.function(*[part.value for part in parts]))
    name = known.name
    origin = _COMPUTED.get(name) or Origin("computed", name)
    return Traced(value, common, origin, Working(name, tuple(inputs.items())))


def _in_order(formula: Formula, inputs: dict[str, Traced]) -> dict[str, Traced]:
    """Put the inputs in the formula's order, whatever the call's."""
    if len(inputs) != len(formula.names) or not all(name in inputs for name in formula.names):
        wanted = ", ".join(formula.names)
        given = ", ".join(inputs) or "nothing"
        raise TypeError(f"{formula.name} takes {wanted}; it was given {given}")
    return {name: inputs[name] for name in formula.names}


def _common_unit(formula: Formula, inputs: dict[str, Traced]) -> str:
    """Return the result's unit where some amounts may be of any: the first says which."""
    common = formula.unit
    for (name, part), unit in zip(inputs.items(), formula.units, strict=True):
        if unit == ANY:
            common = part.unit if common == ANY else common
            unit = common
        if part.unit != unit:
            raise UnitFault(f"{formula.name}: {name} is in {part.unit}, it must be in {unit}")
    return common


def _formula(function: Callable[..., float]) -> Formula:
    try:
        return BY_FUNCTION[function]
    except (KeyError, TypeError):
        raise TypeError(
            f"{getattr(function, '__name__', function)!r} is not a registered formula"
        ) from None


def total(name: str, parts: Sequence[Traced]) -> Traced:
    """Add parts of one unit, from left to right; the result's origin is called `name`.

    Raises UnitFault where the units differ, ValueError where there is no part.

    >>> total("need", [asked(1.5, "gal", "/a"), asked(0.25, "gal", "/b")]).value
    1.75
    """
    if not parts:
        raise ValueError(f"{name}: there is nothing to add up")
    unit = parts[0].unit
    value = 0.0
    inputs = []
    for number, part in enumerate(parts, start=1):
        if part.unit != unit:
            raise UnitFault(f"{name}: part {number} is in {part.unit}, the first is in {unit}")
        value += part.value
        inputs.append((f"part_{number}", part))
    return Traced(value, unit, Origin("computed", name), Working(TOTAL, tuple(inputs)))


def bare(amount: Traced) -> Traced:
    """Return a number without its working: a list of hundreds of details keeps none."""
    return amount._replace(working=None)


def trail(traced: Traced) -> Iterator[Traced]:
    """Walk all computed numbers behind this one, itself last, each once."""
    seen: set[int] = set()

    def walk(each: Traced) -> Iterator[Traced]:
        if each.working is None or id(each) in seen:
            return
        seen.add(id(each))
        for _, part in each.working.inputs:
            yield from walk(part)
        yield each

    return walk(traced)
