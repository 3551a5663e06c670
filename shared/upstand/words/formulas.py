"""Print a formula for people, from its exported tree: ``girth × (height + reveal)``.

Constants are printed with their units. Those that only turn one unit into another are equal to one
(1,000 mil in an inch), so they can be left out: what remains holds in any units.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import Final

from upstand import LANGUAGES
from upstand.formulas.language.constants import CONSTANT_UNITS
from upstand.formulas.language.export import ConstantSlot, Tree, export
from upstand.formulas.language.register import Formula
from upstand.words.store import label, texts

CONVERSIONS: Final = frozenset(
    {
        "MIL_PER_INCH",
        "CUBIC_INCHES_PER_GALLON",
        "SQUARE_INCHES_PER_SQUARE_FOOT",
        "MICROMETRES_PER_MIL",
        "MICROMETRES_PER_METRE",
        "GRAMS_PER_KILOGRAM",
        "ALL_OF_IT",
        "FAHRENHEIT_PER_CELSIUS",
    }
)
"""Constants that are one: both sides of each are the same amount."""

_NBSP: Final = "\u00a0"
_SIGNS: Final = {
    "+": "+",
    "-": "\N{MINUS SIGN}",
    "*": "×",
    "/": "÷",
    "<": "<",
    "<=": "≤",
    ">": ">",
    ">=": "≥",
    "==": "=",
    "!=": "≠",
}
_RANKS: Final = {"if": 0, "+": 2, "-": 2, "*": 3, "/": 3, "neg": 4}
_COMPARISON, _ATOM = 1, 9
_UNIT_SIGNS: Final = (
    ("delta_", ""),
    ("degF", "°F"),
    ("degC", "°C"),
    ("percent", "%"),
    ("um", "µm"),
    ("^2", "²"),
    ("^3", "³"),
)


def _language(lang: str) -> str:
    if lang not in LANGUAGES:
        raise ValueError(f'languages are "en" and "es", not {str(lang)[:20]!r}')
    return lang


@lru_cache(4096)
def name_words(name: str, lang: str) -> str:
    """Call a name of the formulas by its words; ``part_3`` is the third part of a total.

    >>> name_words("corner_radius", "en"), name_words("part_3", "es")
    ('corner radius', 'parte 3')

    Raises ValueError for another language.
    """
    _language(lang)
    head, _, number = name.rpartition("_")
    if head == "part" and number.isdigit():
        return label("formula-part", lang).format(number=number)
    return _name(name, lang)


def _name(name: str, lang: str) -> str:
    id = f"name-{name}"
    return label(id, lang) if id in texts() else name.replace("_", " ")


def sum_words(lang: str) -> str:
    """Say that a number is the sum of its parts."""
    return label("formula-sum", _language(lang))


def unit_sign(unit: str) -> str:
    """Write a constant's unit as people do.

    >>> unit_sign("in^3/gal"), unit_sign("1")
    ('in³/gal', '')
    """
    if unit == "1":
        return ""
    for code, sign in _UNIT_SIGNS:
        unit = unit.replace(code, sign)
    return unit


def _number(value: float) -> str:
    text = f"{value:,}"
    return text[:-2] if text.endswith(".0") else text


def _without_conversions(tree: Tree) -> Tree:
    if not isinstance(tree, list):
        return tree
    sign, *rest = tree
    parts = [_without_conversions(each) for each in rest]
    if sign in ("*", "/") and isinstance(parts[1], str) and parts[1] in CONVERSIONS:
        return parts[0]
    if sign == "*" and isinstance(parts[0], str) and parts[0] in CONVERSIONS:
        return parts[1]
    return [sign, *parts]


class _Printer:
    def __init__(self, lang: str, constants: dict[str, ConstantSlot]) -> None:
        self.lang = lang
        self.constants = constants
        self.same: dict[str, str] = {}

    def word(self, name: str) -> str:
        return label(f"formula-{name}", self.lang)

    def name(self, name: str) -> str:
        name = self.same.get(name, name)
        if name == "pi":
            return "π"
        if name in CONSTANT_UNITS:
            slot = self.constants[name]
            sign = unit_sign(slot["unit"])
            number = _number(slot["value"])
            return f"{number}{_NBSP}{sign}" if sign else number
        return _name(name, self.lang)

    def wrapped(self, tree: Tree, rank: int) -> str:
        text, own = self.write(tree)
        return f"({text})" if own < rank else text

    def write(self, tree: Tree) -> tuple[str, int]:
        """Text of a tree and how tightly it binds."""
        if isinstance(tree, str):
            return self.name(tree), _ATOM
        if isinstance(tree, int | float):
            return _number(tree), _ATOM
        sign, *rest = tree
        operation = str(sign)
        if operation in ("-", "+") and rest[1] == "HAIR":  # what a float forgets is not said
            return self.write(rest[0])
        if operation in ("+", "-", "*", "/"):
            rank = _RANKS[operation]
            left, right = self.wrapped(rest[0], rank), self.wrapped(rest[1], rank + 1)
            return f"{left} {_SIGNS[operation]} {right}", rank
        if operation == "neg":
            return f"{_SIGNS['-']}{self.wrapped(rest[0], _RANKS['neg'] + 1)}", _RANKS["neg"]
        if operation == "if":
            test, then, otherwise = (self.wrapped(each, 1) for each in rest)
            return f"{then} {self.word('if')} {test}, {self.word('else')} {otherwise}", 0
        if operation in _SIGNS:
            left, right = self.wrapped(rest[0], 2), self.wrapped(rest[1], 2)
            return f"{left} {_SIGNS[operation]} {right}", _COMPARISON
        inner = ", ".join(self.write(each)[0] for each in rest)
        if operation in ("floor", "ceil"):
            return f"({inner}) {self.word(operation)}", _COMPARISON
        gap = " " if operation in ("min", "max", "sqrt") else ""
        return f"{self.word(operation)}{gap}({inner})", _ATOM


@cache
def formula_words(formula: Formula, lang: str, factors: bool = True) -> str:
    """Print a formula in words and signs.

    Parameters: `lang` "en" or "es"; `factors` False leaves out constants that only turn one unit
    into another.
    Raises ValueError for another language, FormulaFault for a function that can't be exported.

    >>> from upstand.formulas import REGISTER
    >>> formula_words(REGISTER["film_volume"], "en").replace(chr(0xA0), " ")
    'area × thickness ÷ 1,000 mil/in ÷ 231 in³/gal'
    >>> formula_words(REGISTER["with_allowance"], "es", factors=False)
    'necesidad × (1 + margen de compra)'
    """
    exported = export(formula)
    printer = _Printer(_language(lang), exported["constants"])
    aside = []
    for name, tree in exported["let"]:
        shown = tree if factors else _without_conversions(tree)
        if isinstance(shown, str):
            printer.same[str(name)] = printer.same.get(shown, shown)
        else:
            aside.append(f"{printer.name(str(name))} = {printer.write(shown)[0]}")
    result = exported["result"] if factors else _without_conversions(exported["result"])
    text = printer.write(result)[0]
    return f"{text}, {printer.word('where')} {'; '.join(aside)}" if aside else text
