"""Exported trees: equal to the native functions, closed language, words for people."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest

from upstand.formulas import REGISTER, FormulaFault
from upstand.formulas.language.constants import CONSTANT_UNITS
from upstand.formulas.language.evaluate import evaluate, value_of
from upstand.formulas.language.export import (
    OPERATIONS,
    Tree,
    _check_globals,
    export,
    export_all,
    read_source,
)
from upstand.formulas.language.register import Formula, register
from upstand.formulas.language.units_of import Inches
from upstand.words.formulas import _Printer, formula_words, name_words, unit_sign
from upstand.words.store import texts

# Values a roof can have, by unit; two stated temperatures of a table are kept apart below.
RANGES = {
    "degF": (-40.0, 140.0),
    "degC": (-40.0, 60.0),
    "percent": (1.0, 100.0),
    "delta_degF": (9.0, 30.0),
    "g/m^2": (80.0, 400.0),
    "kg/m^3": (900.0, 2600.0),
}


def draw(formula: Formula, dice: random.Random) -> dict[str, float]:
    return {
        name: dice.uniform(*RANGES.get(unit, (0.05, 500.0))) for name, unit in formula.parameters
    }


@pytest.mark.parametrize("formula", REGISTER.values(), ids=list(REGISTER))
def test_tree_equals_native(formula: Formula) -> None:
    exported = json.loads(json.dumps(export(formula)))
    dice = random.Random(f"tree {formula.name}")
    for _ in range(200):
        inputs = draw(formula, dice)
        native, tree = float(formula(**inputs)), evaluate(exported, inputs)
        if exported["exact"]:
            assert native == tree
        else:
            assert native == pytest.approx(tree, rel=1e-12, abs=1e-12)


def operations(tree: Tree) -> set[str]:
    if not isinstance(tree, list):
        return set()
    found = {str(tree[0])}
    for each in tree[1:]:
        found |= operations(each)
    return found


def test_trees_use_only_listed_operations() -> None:
    used: set[str] = set()
    inexact: set[str] = set()
    for name, each in export_all(REGISTER.values()).items():
        here = operations(each["result"])
        for _, tree in each["let"]:
            here |= operations(tree)
        used |= here
        if not each["exact"]:
            inexact.add(name)
        assert each["exact"] == (not here & {"exp", "log", "sqrt", "asin"})
    assert used <= OPERATIONS
    assert inexact == {
        "halved_time",
        "warmth_rate",
        "log_linear",
        "saturation_over_water",
        "saturation_over_ice",
        "dew_point",
        "frost_point",
        "disc_part",
        "rounded_part",
    }


def test_shape_of_an_export() -> None:
    assert export(REGISTER["primer_volume"]) == {
        "name": "primer_volume",
        "says": "Primer for an area.",
        "parameters": [
            {"name": "area", "unit": "in^2"},
            {"name": "coverage", "unit": "ft^2/gal"},
            {"name": "coats", "unit": "1"},
        ],
        "constants": {"SQUARE_INCHES_PER_SQUARE_FOOT": {"value": 144.0, "unit": "in^2/ft^2"}},
        "let": [],
        "result": [
            "*",
            ["/", ["/", "area", "SQUARE_INCHES_PER_SQUARE_FOOT"], "coverage"],
            "coats",
        ],
        "unit": "gal",
        "exact": True,
    }


def written(lines: str, parameters: str = "a, b") -> str:
    body = "\n".join(f"    {line}" for line in lines.splitlines())
    return f'def trial({parameters}):\n    """Try."""\n{body}\n'


@pytest.mark.parametrize(
    ("lines", "a", "b", "expected"),
    [
        ("return a + b", 2.0, 3.0, 5.0),
        ("return a - b", 2.0, 3.0, -1.0),
        ("return a * b", 2.0, 3.0, 6.0),
        ("return a / b", 3.0, 2.0, 1.5),
        ("return -a", 2.0, 0.0, -2.0),
        ("return a if a < b else b", 1.0, 2.0, 1.0),
        ("return a if a < b else b", 2.0, 2.0, 2.0),
        ("return 1 if a <= b else 0", 2.0, 2.0, 1.0),
        ("return 1 if a > b else 0", 2.0, 2.0, 0.0),
        ("return 1 if a >= b else 0", 2.0, 2.0, 1.0),
        ("return 1 if a == b else 0", 2.0, 2.0, 1.0),
        ("return 1 if a != b else 0", 2.0, 2.0, 0.0),
        ("return min(a, b)", 2.0, 3.0, 2.0),
        ("return max(a, b, 4)", 2.0, 3.0, 4.0),
        ("return floor(a)", -2.5, 0.0, -3.0),
        ("return ceil(a)", -2.5, 0.0, -2.0),
        ("return sqrt(a)", 9.0, 0.0, 3.0),
        ("return asin(a) * 6 / pi", 0.5, 0.0, 1.0),
        ("return exp(log(a))", 7.0, 0.0, 7.0),
        ("c = a + 1\nd = c * b\nreturn d - c", 1.0, 5.0, 8.0),
    ],
)
def test_language(lines: str, a: float, b: float, expected: float) -> None:
    let, result, reader = read_source(written(lines))
    names: dict[str, float] = {"a": a, "b": b, "pi": 3.141592653589793}
    for name, tree in let:
        names[str(name)] = value_of(tree, names)
    assert value_of(result, names) == pytest.approx(expected)
    assert reader.functions <= OPERATIONS


REFUSED = [
    ("return a ** b", "uses Pow"),
    ("return a // b", "uses FloorDiv"),
    ("return a % b", "uses Mod"),
    ("return +a", "is not arithmetic"),
    ("return a and b", "is not arithmetic"),
    ("return a < b", "is not arithmetic"),
    ("return a if 0 < a < b else b", "is not one comparison"),
    ("return a if a else b", "is not one comparison"),
    ("return a if a is b else b", "is not one comparison"),
    ("return a if a < b and b < 3 else b", "is not one comparison"),
    ("return round(a)", "'round' is not a function"),
    ("return math.exp(a)", "'math.exp' is not a function"),
    ("return a.real", "is not arithmetic"),
    ("return [a][0]", "is not arithmetic"),
    ("return (lambda: a)()", "is not a function"),
    ("return min(a)", "min has 1 arguments"),
    ("return min(a, b, key=abs)", "min takes plain arguments only"),
    ("return max(*[a, b])", "max takes plain arguments only"),
    ("return exp(a, b)", "exp has 2 arguments"),
    ("return True", "True is not a number"),
    ("return '3'", "'3' is not a number"),
    ("return 2j", "2j is not a number"),
    ("return 1e400", "too large"),
    ("return 9007199254740993", "too large"),
    ("return c", "'c' is not a parameter, an earlier name or a listed constant"),
    ("a = b\nreturn a", "'a' already has a meaning"),
    ("c = a\nc = b\nreturn c", "'c' already has a meaning"),
    ("pi = 3\nreturn pi", "'pi' already has a meaning"),
    ("MIL_PER_INCH = 3\nreturn a", "'MIL_PER_INCH' already has a meaning"),
    ("c = c + 1\nreturn c", "'c' is not a parameter"),
    ("c, d = a, b\nreturn c", "is not an assignment to a new name"),
    ("c = d = a\nreturn c", "is not an assignment to a new name"),
    ("c: float = a\nreturn c", "is not an assignment to a new name"),
    ("if a < b:\n    return a\nreturn b", "is not an assignment to a new name"),
    ("for c in a:\n    pass\nreturn a", "is not an assignment to a new name"),
    ("print(a)\nreturn a", "is not an assignment to a new name"),
    ("c = a", "the last line doesn't return a value"),
    ("return", "the last line doesn't return a value"),
]


@pytest.mark.parametrize(("lines", "message"), REFUSED)
def test_refuses(lines: str, message: str) -> None:
    with pytest.raises(FormulaFault) as caught:
        read_source(written(lines))
    text = str(caught.value)
    assert message in text
    assert text.startswith("trial, line ")
    assert "a formula may use parameters, assignment to a new name, + - * /" in text


@pytest.mark.parametrize(
    ("source", "message"),
    [
        ("def trial(a):\n    return a\n", "there is no docstring"),
        ('def trial(a):\n    """Try."""\n', "the last line doesn't return a value"),
        ("trial = 3\n", "one plain function"),
        ("def trial(a:\n", "not Python"),
        ('@cache\ndef trial(a):\n    """Try."""\n    return a\n', "a decorator"),
        (written("return a", "a, b=2"), "without defaults or stars"),
        (written("return a", "a, *b"), "without defaults or stars"),
        (written("return a", "a, *, b"), "without defaults or stars"),
        (written("return a", "a, /, b"), "without defaults or stars"),
        (written("return a", "a, **b"), "without defaults or stars"),
        (written("return a", "a, pi"), "parameter 'pi' already has a meaning"),
        (written("return a", "a, min"), "parameter 'min' already has a meaning"),
    ],
)
def test_refuses_definitions(source: str, message: str) -> None:
    with pytest.raises(FormulaFault, match=message):
        read_source(source)


def test_refusal_names_the_line() -> None:
    with pytest.raises(FormulaFault, match=r"^trial, line 4: 'c \*\* 2' uses Pow"):
        read_source(written("c = a + b\nreturn c ** 2"))


def test_refuses_names_that_mean_something_else_in_their_module() -> None:
    reader = read_source(written("return min(a, b) * MIL_PER_INCH"))[2]
    _check_globals(reader, {"MIL_PER_INCH": 1000.0})
    with pytest.raises(FormulaFault, match="min is not Python's own min"):
        _check_globals(reader, {"MIL_PER_INCH": 1000.0, "min": max})
    with pytest.raises(FormulaFault, match="MIL_PER_INCH is not the listed constant"):
        _check_globals(reader, {"MIL_PER_INCH": 1001.0})


def test_export_of_a_function_outside_the_language() -> None:
    def cubed(side: Inches) -> Inches:
        """Cube."""
        return side**3

    with pytest.raises(FormulaFault, match="cubed, line 3"):
        export(register(cubed))


@pytest.mark.parametrize(
    "inputs", [{"girth": 12.0}, {"girth": 1.0, "joints": 1.0, "lap": 2.0, "foot": 2.0}]
)
def test_evaluator_wants_the_formula_s_inputs(inputs: dict[str, float]) -> None:
    with pytest.raises(FormulaFault, match="wrap_length takes girth, joints, lap"):
        evaluate(export(REGISTER["wrap_length"]), inputs)


@pytest.mark.parametrize("tree", [["pow", 1, 2], [["+", 1, 2], 3], "nobody"])
def test_evaluator_refuses_what_it_doesn_t_know(tree: Any) -> None:
    with pytest.raises(FormulaFault):
        value_of(tree, {})


def test_every_name_has_words_in_both_languages() -> None:
    used: set[str] = set()
    for each in export_all(REGISTER.values()).values():
        used |= {slot["name"] for slot in each["parameters"]}
        used |= {str(name) for name, _ in each["let"]}
    assert {id.removeprefix("name-") for id in texts() if id.startswith("name-")} == used


def plain(formula: str, lang: str, factors: bool = True) -> str:
    return formula_words(REGISTER[formula], lang, factors).replace("\u00a0", " ")


@pytest.mark.parametrize(
    ("name", "lang", "factors", "expected"),
    [
        ("film_volume", "en", True, "area × thickness ÷ 1,000 mil/in ÷ 231 in³/gal"),
        ("film_volume", "es", False, "área × espesor"),
        ("upright_area", "en", True, "girth × (height + reveal)"),
        ("flat_area", "en", True, "mask area − outline area"),
        ("wet_film", "en", True, "cured film ÷ (volume solids ÷ 100 %)"),
        ("wet_film", "en", False, "cured film ÷ volume solids"),
        ("pot_life_kept", "en", False, "pot life × (1 − margin)"),
        ("round_area", "en", True, "π × diameter × diameter ÷ 4"),
        ("shorter", "en", True, "the smaller of (one time, other time)"),
        ("shorter", "es", True, "el menor de (un tiempo, otro tiempo)"),
        (
            "saturation_over_ice",
            "en",
            True,
            "6.112 hPa × exp(22.46 × air above freezing ÷ (272.62 °C + air above freezing)), "
            "where air above freezing = temperature − 0 °C",
        ),
        (
            "void_fraction",
            "en",
            False,
            "1 − areal mass ÷ (fiber density × thickness)",
        ),
        (
            "channel_area",
            "en",
            True,
            "depth × web thickness + 2 × (flange width − web thickness) × flange thickness",
        ),
    ],
)
def test_words(name: str, lang: str, factors: bool, expected: str) -> None:
    assert plain(name, lang, factors) == expected


def words_of(lines: str) -> str:
    """Words of a trial formula, through the printer that prints the real ones."""
    _, result, reader = read_source(written(lines))
    slots = {name: {"value": 1.0, "unit": CONSTANT_UNITS[name]} for name in reader.constants}
    return _Printer("en", slots).write(result)[0]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("lines", "expected"),
    [
        ("return a - (b - 1)", "A − (B − 1)"),
        ("return a - b - 1", "A − B − 1"),
        ("return a / (b * 2)", "A ÷ (B × 2)"),
        ("return -(a + b)", "−(A + B)"),
        ("return -a * b", "−A × B"),
        ("return a if a <= b else 2 * b", "A if A ≤ B, else 2 × B"),
        ("return 1 + (a if a > b else b)", "1 + (A if A > B, else B)"),
        ("return floor(a + 0.5) / 8", "((A + 0.5) rounded down) ÷ 8"),
        ("return sqrt(a + b)", "square root of (A + B)"),
    ],
)
def test_brackets(lines: str, expected: str) -> None:
    text = words_of(lines).replace("one time", "A").replace("other time", "B")
    assert text == expected


def test_names_and_units_in_words() -> None:
    assert name_words("part_12", "en") == "part 12"
    assert name_words("part_12", "es") == "parte 12"
    assert name_words("leg_a", "en") == "leg a"
    assert name_words("not_listed", "en") == "not listed"
    assert unit_sign("delta_degF/delta_degC") == "°F/°C"
    assert unit_sign("um/mil") == "µm/mil"
    with pytest.raises(ValueError, match='languages are "en" and "es"'):
        name_words("leg_a", "fr")
    with pytest.raises(ValueError, match='languages are "en" and "es"'):
        formula_words(REGISTER["film_volume"], "fr")


def test_export_is_json_and_small() -> None:
    text = json.dumps(export_all(REGISTER.values()))
    assert json.loads(text) == export_all(REGISTER.values())
    assert len(text) < 40_000


def test_export_is_kept() -> None:
    assert export(REGISTER["film_volume"]) is export(REGISTER["film_volume"])
