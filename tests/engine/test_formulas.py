"""Each formula against numbers from outside or hand arithmetic; each docstring complete."""

from __future__ import annotations

import doctest
import importlib
import math
import pkgutil
from collections.abc import Callable, Iterator, Sequence
from inspect import getdoc

import pytest
from shapely.geometry import Polygon, box

import upstand.formulas
import upstand.quantity.traced
from upstand.formulas import BY_FUNCTION, REGISTER, FormulaFault
from upstand.formulas.language.constants import CONSTANT_UNITS
from upstand.formulas.language.evaluate import evaluate
from upstand.formulas.language.export import Exported, Tree, export
from upstand.formulas.language.register import Formula, register
from upstand.formulas.language.units_of import ANY, Inches
from upstand.quantity.units import UNITS

# name, inputs in the formula's order, expected, where the expected number comes from
CASES: list[tuple[str, tuple[float, ...], float, str]] = [
    ("angle_girth", (3.0, 3.0, 0.25), 12.0, "AISC, whole perimeter of L3x3x1/4"),
    ("angle_girth", (4.0, 3.0, 0.25), 14.0, "4 + 3 + 0.25 + 2.75 + 3.75 + 0.25"),
    ("angle_area", (4.0, 3.0, 0.25), 1.6875, "4 x 0.25 + 2.75 x 0.25"),
    ("channel_girth", (6.0, 1.92, 0.2, 0.343), 19.28, "C6x8.2, sharp outline"),
    ("channel_area", (6.0, 2.0, 0.25, 0.5), 3.25, "web 6 x 0.25 and two outstands 1.75 x 0.5"),
    ("i_section_girth", (8.0, 8.0, 0.285, 0.435), 47.43, "W8x31, sharp outline"),
    ("i_section_area", (8.0, 8.0, 0.25, 0.5), 9.75, "two flanges 8 x 0.5 and a web 7 x 0.25"),
    ("i_section_girth", (10.0, 6.0, 0.25, 0.5), 43.5, "2 x 10 + 4 x 6 - 2 x 0.25"),
    ("i_section_area", (10.0, 6.0, 0.25, 0.5), 8.25, "two flanges 6 x 0.5 and a web 9 x 0.25"),
    ("tee_girth", (4.0, 6.0, 0.25, 0.5), 20.0, "6 + 2 x 0.5 + 5.75 + 2 x 3.5 + 0.25"),
    ("tee_area", (4.0, 6.0, 0.25, 0.5), 3.875, "flange 6 x 0.5 and a stem 3.5 x 0.25"),
    ("corner_radius", (0.233, 2.0), 0.466, "twice the design wall of HSS4x4x1/4"),
    ("tube_girth", (4.0, 4.0, 0.466), 15.2, "HSS4x4x1/4 with round corners, to 0.01"),
    ("tube_girth", (6.0, 4.0, 0.5), 16.0 + 3.141592653589793, "2 x 5 + 2 x 3 and a full circle"),
    ("tube_area", (6.0, 4.0, 0.5), 23.0 + 0.7853981633974483, "24 less 4 squares, plus a circle"),
    ("round_girth", (4.5,), 14.137, "4 in standard pipe, to 0.001"),
    ("round_area", (4.5,), 15.904312808798327, "3.14159... x 2.25 x 2.25"),
    ("bar_girth", (4.0, 0.5), 9.0, "4 + 0.5 + 4 + 0.5"),
    ("bar_area", (4.0, 0.5), 2.0, "4 x 0.5"),
    ("rectangle_area", (12.0, 11.0), 132.0, "12 x 11"),
    ("rectangle_perimeter", (12.0, 11.0), 46.0, "12 + 11 + 12 + 11"),
    ("flat_area", (144.0, 1.4375), 142.5625, "144 - 1.4375"),
    ("upright_area", (12.0, 8.0, 0.5), 102.0, "12 x 8.5"),
    ("zone_area", (121.0, 1.4375, 12.0, 8.0), 215.5625, "119.5625 + 96"),
    ("tape_length", (48.0, 12.0), 60.0, "48 + 12"),
    ("grown_side", (3.0, 4.0), 11.0, "4 + 3 + 4"),
    ("line_height", (8.0, 0.5), 8.5, "8 + 0.5"),
    ("difference", (260.0, 215.5), 44.5, "260 - 215.5"),
    ("edge_before", (6.0, 3.0, 2.0), 2.5, "6 less 1.5 less 2"),
    ("edge_after", (6.0, 3.0, 2.0), 9.5, "6 and 1.5 and 2"),
    ("span", (-5.5, 9.5), 15.0, "5.5 + 9.5"),
    ("joint_area", (10.0, 240.0, 1.0, 3.0, 2.0), 40.0, "two joints of 2 x 10"),
    ("joint_area", (60.0, 240.0, 2.0, 3.0, 2.0), 712.0, "2 x 240 + 2 (2 x 60) less two of 2 x 2"),
    ("joint_area", (30.0, 100.0, 3.0, 2.0, 1.0), 228.0, "2 x 100 + 30 less two of 1 x 1"),
    ("parts_needed", (240.0, 120.0, 2.0), 3.0, "238 / 118 is a little over 2"),
    ("parts_needed", (238.0, 120.0, 2.0), 2.0, "120 + 120 less a lap"),
    ("parts_needed", (1.0, 120.0, 2.0), 1.0, "one, however short"),
    ("even_part", (240.0, 3.0, 2.0), 244.0 / 3, "240 and two laps, in three"),
    ("split_area", (10.0, 240.0, 1.0, 3.0, 2.0), 2440.0, "10 x 244"),
    ("split_area", (30.0, 100.0, 3.0, 2.0, 1.0), 3232.0, "32 x 101, laps and all"),
    ("split_area", (30.0, 100.0, 3.0, 2.0, 2.0), 3468.0, "34 x 102"),
    ("piece_before", (-5.5, 0.0, 2.0), 6.5, "5.5 + 1"),
    ("piece_after", (0.0, 9.5, 2.0), 10.5, "9.5 + 1"),
    ("piece_after", (1.0, 9.5, 2.0), 9.5, "8.5 + 1"),
    ("shrunk", (4.0, 0.25), 3.5, "4 less two quarters"),
    ("shrunk", (0.25, 0.25), 0.0, "nothing is left"),
    ("less", (0.5, 0.25), 0.25, "0.5 less a quarter"),
    ("free_ends", (1.0,), 1.0, "2 - 1"),
    ("masked_run", (240.0, 2.0, 0.5), 241.0, "240 and a half inch at both ends"),
    ("fleece_run", (240.0, 1.0, 2.0), 241.0, "240 and half a lap"),
    ("behind_wall", (-2.0, 7.0), 14.0, "2 x 7"),
    ("behind_wall", (1.0, 7.0), 0.0, "none of it is in the wall"),
    ("default_line", (8.0, 4.0, 2.0), 8.0, "8 is over 4 + 2"),
    ("default_line", (8.0, 7.0, 2.0), 9.0, "7 + 2 is over 8"),
    ("drain_flange", (6.0, 24.0, 16.0), 4.0, "half of 24 - 16"),
    ("drain_flange", (6.0, 48.0, 16.0), 6.0, "the usual, half of 32 is farther"),
    ("ring_area", (16.0, 11.0), math.pi * 33.75, "pi / 4 (256 - 121)"),
    ("round_corners", (1.0,), 4 - math.pi, "4 squares of 1 less a disc of 1"),
    ("round_corners", (2.0,), 16 - 4 * math.pi, "4 squares of 2 less a disc of 2"),
    ("bonded_metal", (16.0, 11.0, 0.5), 2.0, "2.5 - 0.5"),
    ("ring_tape", (11.0,), 11 * math.pi, "pi 11"),
    ("disc_part", (2.0, 0.0), 2 * math.pi, "half of 4 pi"),
    ("disc_part", (2.0, 5.0), 4 * math.pi, "all of it"),
    ("disc_part", (2.0, -5.0), 0.0, "none of it"),
    (
        "disc_part",
        (3.0, -1.0),
        4.5 * math.pi - math.sqrt(8.0) - 9 * math.asin(1 / 3),
        "half less it",
    ),
    (
        "disc_part",
        (0.5, 0.25),
        math.pi / 6 + math.sqrt(3.0) / 16,
        "a small one: 30 degrees past half",
    ),
    ("disc_part", (2.0, 1.0), 8 * math.pi / 3 + math.sqrt(3.0), "4 pi less a 120 degree segment"),
    (
        "disc_part",
        (3.0, 1.0),
        4.5 * math.pi + math.sqrt(8.0) + 9 * math.asin(1 / 3),
        "half, a strip",
    ),
    ("rounded_part", (4.0, 6.0, 0.0, 1.0), 16.0, "4 x 4"),
    ("rounded_part", (4.0, 4.0, 2.0, 1.0), 8 * math.pi / 3 + math.sqrt(3.0), "a disc again"),
    (
        "rounded_part",
        (8.0, 12.0, 2.0, 5.0),
        76.0 + math.sqrt(3.0) + 8 * math.pi / 3,
        "half of 96 - 4 (4 - pi), 8 x 4, and from 4 to 5: 4 + 2 int_0^1 sqrt(4 - t2)",
    ),
    ("rounded_part", (4.0, 6.0, 0.5, 9.0), 23.0 + math.pi / 4, "all of it: 24 less 4 corners"),
    ("rounded_part", (8.0, 12.0, 2.0, 3.0), 64.0 + 2 * math.pi, "half of 96 - 4 (4 - pi), 8 x 3"),
    ("stepped_part", (10.0, 6.0, 0.5, 1.0, 2.0, -4.5), 3.0, "6 x 0.5"),
    ("stepped_part", (10.0, 6.0, 0.5, 1.0, 2.0, 2.0), 9.0, "6 x 1 + 0.5 x 6"),
    ("stepped_part", (10.0, 6.0, 0.5, 1.0, 2.0, 4.0), 15.5, "6 x 2 + 0.5 x 7"),
    ("stepped_part", (8.0, 8.0, 0.25, 0.5, 0.5, 0.0), 4.875, "8 x 0.5 + 0.25 x 3.5"),
    ("stepped_part", (8.0, 8.0, 0.25, 0.5, 0.5, 4.0), 9.75, "two of 4 and 7 x 0.25"),
    ("stepped_part", (3.0, 3.0, 0.25, 0.25, 0.0, -1.0), 0.8125, "3 x 0.25 + 0.25 x 0.25"),
    ("crossed_part", (8.0, 8.0, 1.0, 0.25, 0.0), 4.875, "1 x 3.875 + 8 x 0.125"),
    ("crossed_part", (8.0, 8.0, 1.0, 0.25, 4.0), 9.75, "8 x 0.25 + 1 x 7.75"),
    ("crossed_part", (10.0, 6.0, 1.0, 0.5, 2.0), 9.5, "6 x 0.5 + 1 x 6.5"),
    ("crossed_part", (10.0, 6.0, 1.0, 0.5, -6.0), 0.0, "not so far"),
    ("wrap_length", (47.5, 2.0, 3.0), 53.5, "47.5 + 3 + 3"),
    ("wrap_length", (47.5, 2.0, 2.0), 51.5, "47.5 + 2 + 2"),
    ("wrap_width", (8.0, 2.0), 10.0, "8 + 2"),
    ("wrap_part", (51.5, 2.0), 25.75, "half of 51.5"),
    ("lap_area", (2.0, 8.0), 16.0, "2 x 8"),
    ("void_fraction", (165.0, 1380.0, 36.0), 0.8692419, "1 - 0.165 / (1380 x 0.0009144 m)"),
    ("drink_thickness", (0.875, 36.0), 31.5, "7/8 of 36"),
    ("film_volume", (14400.0, 40.0), 2.49351, "100 ft2 at 40 mil: 4 in3 a ft2 x 1.44 / 231"),
    ("film_volume", (3600.0, 100.0), 1.55844, "25 ft2 at 100 mil: 360 / 231"),
    ("film_volume", (1800.0, 60.0), 0.46753, "12.5 ft2 at 60 mil: 108 / 231"),
    ("film_volume", (1051.2, 80.0), 0.36405, "7.3 ft2 at 80 mil: 84.096 / 231"),
    ("film_volume", (231000.0, 1.0), 1.0, "a gallon at 1 mil covers 231 / 0.001 in2"),
    ("extra_thickness", (31.0, 20.0), 51.0, "31 + 20"),
    ("system_film", (40.0, 36.0, 25.0), 101.0, "40 + 36 + 25"),
    ("wet_film", (40.0, 80.0), 50.0, "40 mil dry at 80 % is 50 wet"),
    ("wet_film", (25.0, 80.0), 31.25, "25 over 4/5"),
    ("scaled", (0.25, 6.0), 1.5, "a quart six times"),
    ("primer_volume", (14400.0, 100.0, 2.0), 2.0, "100 ft2 at 100 ft2/gal, twice"),
    ("primer_volume", (3600.0, 150.0, 1.0), 0.1666667, "25 / 150"),
    ("with_allowance", (2.0, 10.0), 2.2, "2 + 0.2"),
    ("leftover", (1.0, 0.75), 0.25, "1 - 0.75"),
    ("surface_over_air", (72.0, -4.0), 68.0, "in the shade"),
    ("days_of_work", (5160.0, 1.0, 630.0, 30.0), 9, "5160 min / 600 = 8.6, up"),
    ("days_of_work", (5160.0, 2.0, 630.0, 30.0), 5, "two workers: 4.3, up"),
    ("days_of_work", (1200.0, 2.0, 630.0, 30.0), 1, "just a day: 1200 / 1200"),
    ("days_of_work", (1201.0, 2.0, 630.0, 30.0), 2, "a minute more than a day of two"),
    ("minutes_by_area", (8.0, 360.0, 360.0, 1.0), 8.0, "just up to the area"),
    ("minutes_by_area", (8.0, 100.0, 360.0, 1.0), 8.0, "smaller: no less"),
    ("minutes_by_area", (4.0, 3133.0, 360.0, 0.4), 14.0, "8.7028 x 4 x 0.4 = 13.92, up"),
    ("minutes_by_area", (6.0, 3133.0, 360.0, 0.4), 21.0, "8.7028 x 6 x 0.4 = 20.89, up"),
    ("minutes_by_area", (4.0, 100.0, 360.0, 0.4), 2.0, "1.6, up"),
    ("minutes_shared", (8.0, 1.0, 2.0), 4.0, "8 by two"),
    ("minutes_shared", (4.0, 3.0, 1.0), 2.0, "a third of 4, up"),
    ("minutes_to_lay", (20.0, 2.0), 18.0, "a fifth off 25 min, and 2 of mixing"),
    ("minutes_to_lay", (13.608, 2.0), 11.0, "80 F: 25 x 0.6804 x 0.8 - 2 = 11.6, down"),
    ("minutes_to_lay", (1.5, 2.0), 0.0, "gone before it is mixed"),
    ("laid_in_time", (6.0, 3.0), 2.0, "two posts of 3 min in 6"),
    ("laid_in_time", (18.0, 18.0), 1.0, "one post of 18 min in 18"),
    ("laid_in_time", (18.0, 19.0), 0.0, "none"),
    ("mixes_for", (12.0, 1.0, 2.0), 6.0, "twelve, two a mix"),
    ("mixes_for", (5.0, 1.0, 2.0), 3.0, "five, two a mix: the last serves one"),
    ("mixes_for", (3.0, 4.0, 1.0), 12.0, "three in four parts"),
    ("warmth_rate", (88.0, 70.0, 18.0), 2.0, "one step warmer: twice as fast"),
    ("warmth_rate", (40.0, 70.0, 18.0), 1.0, "cold never lengthens"),
    ("in_one_mix", (3.0, 12.0), 0.25, "3 / 12"),
    ("halved_time", (20.0, 68.0, 50.0, 18.0), 40.0, "one step colder: double"),
    ("halved_time", (20.0, 68.0, 104.0, 18.0), 5.0, "two steps warmer: a quarter"),
    ("halved_time", (25.0, 70.0, 88.0, 18.0), 12.5, "one step warmer: half"),
    ("shorter", (25.0, 12.5), 12.5, "12.5 is under 25"),
    ("shorter", (12.5, 25.0), 12.5, "12.5 is under 25"),
    ("longer", (25.0, 12.5), 25.0, "25 is over 12.5"),
    ("longer", (12.5, 25.0), 25.0, "25 is over 12.5"),
    ("pot_life_kept", (20.0, 25.0), 15.0, "three quarters of 20"),
    ("log_linear", (60.0, 50.0, 40.0, 70.0, 10.0), 20.0, "halfway: root of 40 x 10"),
    ("log_linear", (55.0, 50.0, 16.0, 70.0, 1.0), 8.0, "a quarter of the way down four halvings"),
    ("log_linear", (50.0, 50.0, 40.0, 70.0, 10.0), 40.0, "the first point itself"),
    ("log_linear", (70.0, 50.0, 40.0, 70.0, 10.0), 10.0, "the second point itself"),
    ("saturation_over_water", (0.0,), 6.112, "the ice point"),
    ("saturation_over_ice", (0.0,), 6.112, "the ice point"),
    ("saturation_over_water", (20.0,), 23.348, "metpy 1.7.1, 2334.75 Pa, to 0.1 %"),
    ("saturation_over_ice", (-10.0,), 2.597, "Goff-Gratch over ice, to 0.1 %"),
    ("dew_point", (30.0, 40.0), 8.56, "Magnus by an independent program, to 0.01"),
    ("dew_point", (70.0, 0.5), -35.215, "1 % is the driest read: -3.19741 x 243.12 / 20.81741 C"),
    ("dew_point", (90.0, 40.0), 62.435, "1.145733 x 243.12 / 16.474267 C"),
    ("dew_point", (70.0, 100.0), 70.0, "saturated air is at its dew point"),
    ("frost_point", (20.0, 10.0), -22.384, "-2.799371 x 272.62 / 25.259371 C"),
    ("frost_point", (20.0, 0.5), -58.836, "as 1 %: -5.101956 x 272.62 / 27.561956 C"),
    ("frost_point", (32.0, 100.0), 32.0, "over ice and over water agree at the ice point"),
    ("frost_point", (30.0, 40.0), 11.138, "Goff-Gratch over water and over ice, to 0.03"),
    ("surface_margin", (78.0, 55.0), 23.0, "78 - 55"),
    ("least_surface", (55.0, 5.4), 60.4, "55 + 5.4"),
    ("without_allowance", (1.1, 10.0), 1.0, "1.1 over 1.10"),
    ("short_of", (40.0, 38.0), 2.0, "40 - 38"),
    ("short_of", (40.0, 42.0), 0.0, "nothing is short"),
    ("mean_film", (114.0, 3.0), 38.0, "36 + 38 + 40 over three"),
    ("film_from_volume", (1.0, 14400.0), 16.0417, "a gallon on 100 ft2, to 0.0001"),
]

# What the expected number's own rounding allows; 1e-9 where it is exact.
ROUNDED = {
    "tube_girth": 1e-3,
    "round_girth": 5e-5,
    "void_fraction": 1e-7,
    "film_volume": 1e-5,
    "primer_volume": 1e-6,
    "saturation_over_water": 1e-3,
    "saturation_over_ice": 1e-3,
    "dew_point": 1e-3,
    "frost_point": 3e-3,
    "film_from_volume": 1e-5,
}


@pytest.mark.parametrize(("name", "inputs", "expected", "source"), CASES)
def test_value(name: str, inputs: tuple[float, ...], expected: float, source: str) -> None:
    tolerance = ROUNDED.get(name, 1e-9)
    assert REGISTER[name](*inputs) == pytest.approx(expected, rel=tolerance, abs=1e-12), source


def test_every_formula_has_a_case() -> None:
    assert {name for name, *_ in CASES} == set(REGISTER)


#: What a sign is changed for, to see whether a case notices.
OTHER = {
    "+": "-", "-": "+", "*": "/", "/": "*", "min": "max", "max": "min", "floor": "ceil",
    "ceil": "floor", "<": ">=", "<=": ">", ">": "<=", ">=": "<", "==": "!=", "!=": "==",
    "exp": "sqrt", "log": "sqrt", "sqrt": "exp", "asin": "sqrt",
}  # fmt: skip
#: Changes that change no number: times or by one minute, by nothing, or less an ice point of zero.
SAME_NUMBER = {
    "minutes_by_area": 2,
    "minutes_shared": 2,
    "minutes_to_lay": 2,
    "disc_part": 2,
    "rounded_part": 1,
    "saturation_over_water": 3,
    "saturation_over_ice": 3,
}


def changed(tree: Tree, names: Sequence[str]) -> Iterator[Tree]:
    """Change one place of a formula's tree: a sign, a number, a name, the two ways of an if."""
    if isinstance(tree, str):
        yield from (name for name in names if name != tree)
    elif isinstance(tree, int | float):
        yield tree + 1
    else:
        sign, *parts = tree
        if sign in OTHER:
            yield [OTHER[str(sign)], *parts]
        if sign == "neg":
            yield parts[0]
        if sign == "if":
            yield ["if", parts[0], parts[2], parts[1]]
        for place, part in enumerate(parts):
            for other in changed(part, names):
                yield [sign, *parts[:place], other, *parts[place + 1 :]]


def mutants(formula: Exported) -> Iterator[Exported]:
    names = [parameter["name"] for parameter in formula["parameters"]]
    lines = formula["let"]
    for place, (name, tree) in enumerate(lines):
        for other in changed(tree, names):
            yield {**formula, "let": [*lines[:place], [name, other], *lines[place + 1 :]]}
    names += [str(name) for name, _ in lines]
    for other in changed(formula["result"], names):
        yield {**formula, "result": other}


@pytest.mark.parametrize("name", REGISTER)
def test_a_case_notices_each_change_of_a_formula(name: str) -> None:
    """Mutation: whatever is changed in a formula, a number from outside is missed."""
    formula = export(REGISTER[name])
    names = [parameter["name"] for parameter in formula["parameters"]]
    cases = [(dict(zip(names, given, strict=True)), n) for of, given, n, _ in CASES if of == name]

    def noticed(mutant: Exported) -> bool:
        for given, expected in cases:
            try:
                found = evaluate(mutant, given)
            except (ArithmeticError, ValueError):
                return True
            if found != pytest.approx(expected, rel=ROUNDED.get(name, 1e-9), abs=1e-12):
                return True
        return False

    alive = [m for m in mutants(formula) if not noticed(m)]
    assert len(alive) == SAME_NUMBER.get(name, 0), [(m["let"], m["result"]) for m in alive]


def channel(d: float, bf: float, tw: float, tf: float) -> Polygon:
    return box(0, 0, bf, d).difference(box(tw, tf, bf, d - tf))


def i_section(d: float, bf: float, tw: float, tf: float) -> Polygon:
    half = (bf - tw) / 2
    left, right = box(0, tf, half, d - tf), box(bf - half, tf, bf, d - tf)
    return box(0, 0, bf, d).difference(left).difference(right)


def tee(d: float, bf: float, tw: float, tf: float) -> Polygon:
    half = (bf - tw) / 2
    return box(0, d - tf, bf, d).union(box(half, 0, half + tw, d))


def angle(a: float, b: float, t: float) -> Polygon:
    return box(0, 0, a, b).difference(box(t, t, a, b))


SHAPES: dict[str, Callable[..., Polygon]] = {
    "angle": angle,
    "channel": channel,
    "i_section": i_section,
    "tee": tee,
}
SIZES: dict[str, list[tuple[float, ...]]] = {
    "angle": [(3, 3, 0.25), (6, 4, 0.5), (2.5, 5, 0.375)],
    "channel": [(6, 1.92, 0.2, 0.343), (10, 3, 0.5, 0.4)],
    "i_section": [(8, 8, 0.285, 0.435), (12, 4, 0.25, 0.5)],
    "tee": [(4, 6, 0.25, 0.5), (7, 5, 0.4, 0.3)],
}


@pytest.mark.parametrize("section", SHAPES)
def test_sections_agree_with_polygons(section: str) -> None:
    for size in SIZES[section]:
        shape = SHAPES[section](*size)
        assert REGISTER[f"{section}_girth"](*size) == pytest.approx(shape.exterior.length)
        assert REGISTER[f"{section}_area"](*size) == pytest.approx(shape.area)


@pytest.mark.parametrize("size", [(4.0, 4.0, 0.466), (6.0, 3.0, 1.5), (5.0, 2.0, 0.25)])
def test_tubes_agree_with_polygons(size: tuple[float, float, float]) -> None:
    width, depth, radius = size
    core = box(radius, radius, width - radius, depth - radius)
    shape = core.buffer(radius, quad_segs=256)
    assert REGISTER["tube_girth"](*size) == pytest.approx(shape.exterior.length, rel=1e-5)
    assert REGISTER["tube_area"](*size) == pytest.approx(shape.area, rel=1e-5)


def test_dew_point_never_passes_the_air_and_dry_air_has_one() -> None:
    dew = REGISTER["dew_point"]
    for air in range(-40, 141):
        assert dew(float(air), 100.0) <= air
        assert dew(float(air), 100.0) == pytest.approx(air, abs=1e-9)
    assert dew(70.0, 0.0) == dew(70.0, 1.0) < dew(70.0, 2.0)
    assert math.isfinite(REGISTER["frost_point"](70.0, 0.0))


@pytest.mark.parametrize("formula", REGISTER.values(), ids=list(REGISTER))
def test_docstring_says_what_and_shows_how(formula: Formula) -> None:
    """Units stand in the annotations; the words are one sentence and an example that runs."""
    text = getdoc(formula.function) or ""
    assert formula.says.endswith(".")
    assert f">>> {formula.name}(" in text or f"({formula.name}(" in text


def test_examples_run() -> None:
    modules = [upstand.quantity.traced, upstand.formulas]
    for each in pkgutil.iter_modules(upstand.formulas.__path__):
        modules.append(importlib.import_module(f"upstand.formulas.{each.name}"))
    outcome = [doctest.testmod(module) for module in modules]
    assert sum(each.failed for each in outcome) == 0
    assert sum(each.attempted for each in outcome) > len(REGISTER)


def test_units_are_those_of_the_closed_list() -> None:
    used = {unit for each in REGISTER.values() for _, unit in each.parameters}
    used |= {each.unit for each in REGISTER.values()}
    used -= {ANY}
    # vapour pressure is an inner quantity: no answer carries it
    assert used - set(UNITS) == {"hPa"}
    assert set(CONSTANT_UNITS) >= {"MIL_PER_INCH", "ICE_POINT_F", "DRIEST"}


def test_one_name_one_unit_family() -> None:
    """A parameter name keeps its dimension in every formula, so that its word fits everywhere."""
    kinds: dict[str, set[str]] = {}
    for each in REGISTER.values():
        for name, unit in each.parameters:
            kinds.setdefault(name, set()).add(UNITS.get(unit, unit))
    mixed = {name for name, found in kinds.items() if len(found) > 1}
    # steel and film have a thickness, lengths and shares a margin
    assert mixed == {"thickness", "margin"}


def test_register_by_name_and_by_function() -> None:
    assert all(BY_FUNCTION[each.function] is each for each in REGISTER.values())
    assert "total" not in REGISTER


def test_register_refuses_what_has_no_unit() -> None:
    def bare(side: float) -> Inches:
        return side

    def unnamed(side: Inches) -> float:
        return side

    def optional(side: Inches, margin: Inches = 2) -> Inches:
        return side + margin

    with pytest.raises(FormulaFault, match="bare: side has no unit; annotate it"):
        register(bare)
    with pytest.raises(FormulaFault, match="unnamed: the result has no unit"):
        register(unnamed)
    with pytest.raises(FormulaFault, match="optional: margin must be a plain parameter"):
        register(optional)
