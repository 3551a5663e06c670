"""What holds of the needs of every measured detail: more is never less, and how it is asked is one.

By needs are meant resin, each primer, fleece and tape, as an answer gives them.
"""

from __future__ import annotations

import math
import re
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from upstand.answer import Answer, answer
from upstand.document.requirements import write
from upstand.edition import Edition
from upstand.quantity.units import convert
from upstand.query import QueryFaults, read_requirements

STEADY = settings(
    max_examples=25,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
PIPE = [{"section": "pipe", "od": "4 in", "substrate": "galvanized-steel"}]
TUBE = {"section": "tube", "width": "4 in", "depth": "4 in", "thickness": "1/4 in"}
STEEL = {**TUBE, "substrate": "carbon-steel"}
#: Every measured detail; the sizes that may grow, with the least and the most they begin at.
DETAILS: dict[str, tuple[dict[str, Any], dict[str, tuple[float, float]]]] = {
    "post": ({"members": [STEEL]}, {"height": (8, 30)}),
    "pipe": ({"members": PIPE}, {"height": (8, 30)}),
    "cable": ({"members": PIPE}, {"height": (8, 30)}),
    "hot-pipe": ({"members": PIPE}, {"height": (8, 30)}),
    "cluster": (
        {"members": [*PIPE, {**PIPE[0], "at": ["7 in", "1 in"]}]},
        {"height": (8, 30)},
    ),
    "support": (
        {"members": [STEEL], "plates": [{"width": "9 in", "length": "9 in"}]},
        {"height": (8, 30)},
    ),
    "wall-base": ({"length": "20 ft"}, {"height": (8, 30), "length": (12, 600)}),
    "threshold": (
        {"length": "36 in", "riser": "4 in", "sill": "5 in"},
        {"height": (8, 20), "length": (24, 90), "sill": (2, 10), "returns": (2, 8)},
    ),
    "corner": (
        {"corner": "outside", "length": "60 in"},
        {"height": (8, 30), "length": (14, 200)},
    ),
    "curb": (
        {"width": "30 in", "length": "36 in"},
        {"height": (8, 30), "length": (6, 200), "width": (6, 90)},
    ),
    "drain": ({"bowl": "16 in", "seat": "9 in"}, {"bowl": (14, 20)}),
    "scupper": (
        {"opening": {"width": "8 in", "height": "4 in"}, "depth": "8 in"},
        {"height": (8, 20), "depth": (4, 14)},
    ),
    "crack": ({"length": "10 ft"}, {"length": (6, 600), "gap": (0, 0.5)}),
    "metal-joint": ({"length": "9 in"}, {"length": (4, 60), "gap": (0, 0.5)}),
    "tie-in": ({"length": "10 ft"}, {"length": (6, 600)}),
    "patch": ({"width": "6 in", "length": "3 in"}, {"length": (1, 30), "width": (1, 30)}),
}  # fmt: skip


def eighths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 8), round(high * 8)).map(lambda n: n / 8)


def inch(value: float) -> str:
    return f"{value} in"


def asked(edition: Edition, detail: str, **changed: Any) -> Answer:
    body = {"detail": detail, "roof": "tpo", "resin": "pu-2k", **DETAILS[detail][0], **changed}
    if "surfaces" not in body and "members" not in body:
        body["surfaces"] = [{"substrate": "concrete"}]
    if detail in ("drain", "patch"):
        body.pop("surfaces")
    return answer(read_requirements(body, edition), edition)


def needs(one: Answer) -> dict[str, float]:
    """Return what an answer takes of each product [gal, in²], and the tape [in]."""
    assert one.layout.masking is not None and one.layout.fleece is not None
    found = {m.record.path: m.one.need.value for m in one.takeoff.materials if m.one.need}
    assert len(found) >= 3, found
    return found | {"tape": one.layout.masking.tape.value, "net": one.layout.fleece.net.value}


def grows(edition: Edition, detail: str, size: str, low: float, more: float) -> None:
    few = needs(asked(edition, detail, **{size: inch(low)}))
    much = needs(asked(edition, detail, **{size: inch(low + more)}))
    assert set(few) == set(much)
    for name in few:
        assert much[name] >= few[name] - 1e-9, (detail, size, name, few[name], much[name])


@STEADY
@given(data=st.data())
def test_more_height_or_length_never_needs_less(edition: Edition, data: st.DataObject) -> None:
    detail = data.draw(st.sampled_from(sorted(DETAILS)))
    size = data.draw(st.sampled_from(sorted(DETAILS[detail][1])))
    low = data.draw(eighths(*DETAILS[detail][1][size]))
    more = data.draw(eighths(0, 0.5 if size in ("gap", "bowl") else 12))
    grows(edition, detail, size, low, more)


@STEADY
@given(detail=st.sampled_from(sorted(DETAILS)), narrow=eighths(2, 8), more=eighths(0, 5))
def test_more_flange_never_needs_less(
    edition: Edition, detail: str, narrow: float, more: float
) -> None:
    grows(edition, detail, "flange", narrow, more)


#: Details whose needs are so much to begin with, and so much an inch.
STEADILY = ("wall-base", "threshold", "corner", "crack", "metal-joint", "tie-in")


@STEADY
@given(detail=st.sampled_from(STEADILY), long=eighths(24, 500), step=eighths(1, 200))
def test_on_runs_each_length_more_takes_as_much_more(
    edition: Edition, detail: str, long: float, step: float
) -> None:
    """Coats and primer by area, and tape, grow in proportion; fleece adds its joints."""
    steps = [asked(edition, detail, length=inch(long + n * step)) for n in range(3)]
    amounts = [
        {
            **{f"coat {coat.id}": coat.volume.value for coat in one.takeoff.coats},
            **{name: amount for name, amount in needs(one).items() if "primer" in name},
            "tape": needs(one)["tape"],
        }
        for one in steps
    ]
    for name in amounts[0]:
        if name != "coat extra":
            first, second, third = (each[name] for each in amounts)
            assert third - second == pytest.approx(second - first, rel=1e-9, abs=1e-9), name
            # past the end of a metal edge the sheet takes the same, however long the metal is
            assert third > first or (detail == "metal-joint" and "primer" in name), name


@STEADY
@given(detail=st.sampled_from(["wall-base", "crack", "tie-in"]), long=eighths(12, 118))
def test_between_two_neighbors_twice_the_length_takes_twice(
    edition: Edition, detail: str, long: float
) -> None:
    """With both ends joined nothing is left over: coats and primer are so much an inch."""
    once, twice = (needs(asked(edition, detail, length=inch(n * long), joined=2)) for n in (1, 2))
    for name in once:
        if "primer" in name or name == "tape":
            assert twice[name] == pytest.approx(2 * once[name]), name


@STEADY
@given(
    corner=st.sampled_from(["inside", "outside"]),
    arm=eighths(8, 60),
    beyond=eighths(4, 50),
    h=eighths(8, 30),
    w=eighths(2, 6),
)
def test_joined_runs_take_what_one_bent_wall_takes(
    edition: Edition, corner: str, arm: float, beyond: float, h: float, w: float
) -> None:
    """Two walls and the corner between them, and the corner with arms as long as all of it.

    Fleece is cut in three instead of one: at both joints it laps 2 in, over the strip on the roof
    (w + 1/4) and the one on the wall (h + 2).
    """
    sizes = {"height": inch(h), "flange": inch(w)}
    wall = needs(asked(edition, "wall-base", length=inch(beyond), joined=1, **sizes))
    bend = needs(asked(edition, "corner", corner=corner, length=inch(arm), joined=2, **sizes))
    whole = needs(asked(edition, "corner", corner=corner, length=inch(arm + beyond), **sizes))
    for name in whole:
        together = 2 * wall[name] + bend[name]
        if "primer" in name or name == "tape":
            assert together == pytest.approx(whole[name]), name
    if arm + beyond <= 100.0:  # one piece each way: no joints of its own
        laps = 2 * 2 * (w + 0.25 + h + 2)
        assert 2 * wall["net"] + bend["net"] == pytest.approx(whole["net"] + laps)


QUANTITY = {"value", "unit", "text"}


def quantities(node: Any, place: str = "") -> dict[str, tuple[float, str]]:
    """Return every quantity in a document by where it stands."""
    found: dict[str, tuple[float, str]] = {}
    if isinstance(node, dict):
        if set(node) >= QUANTITY:
            return {place: (node["value"], node["unit"])}
        for key, value in node.items():
            found |= quantities(value, f"{place}/{key}")
    elif isinstance(node, list):
        for number, value in enumerate(node):
            found |= quantities(value, f"{place}/{number}")
    return found


def metric(node: Any) -> Any:
    """Write every length of a question in millimetres."""
    if isinstance(node, dict):
        return {key: metric(value) for key, value in node.items()}
    if isinstance(node, list):
        return [metric(value) for value in node]
    if isinstance(node, str) and re.fullmatch(r"[\d.]+ (in|ft)", node):
        number, unit = node.split()
        return f"{float(number) * (25.4 if unit == 'in' else 304.8):.6f}"[:11] + " mm"
    return node


@pytest.mark.parametrize("detail", sorted(DETAILS))
def test_inches_and_millimetres_give_one_answer(detail: str, edition: Edition) -> None:
    """Asked in either and answered in either, every quantity is the same."""
    sizes = {name: inch(round(low + 1.375, 3)) for name, (low, _) in DETAILS[detail][1].items()}
    body = {"detail": detail, "roof": "tpo", **DETAILS[detail][0], **sizes}
    us = quantities(write(answer(read_requirements(body, edition), edition)))
    asked_si = {**metric(body), "units": "si"}
    si = quantities(write(answer(read_requirements(asked_si, edition), edition)))
    assert set(us) == set(si) and len(us) > 40
    for place, (value, unit) in us.items():
        there, its_unit = si[place]
        wanted = convert(value, unit, its_unit)
        assert there == pytest.approx(wanted, rel=1e-6, abs=1e-6), place


@STEADY
@given(
    detail=st.sampled_from(["curb", "drain", "patch"]),
    x=eighths(30, 60),
    y=eighths(-20, 20),
    sizes=st.tuples(eighths(2, 5), eighths(2, 5)),
)
def test_mirrored_or_turned_round_it_takes_the_same(
    edition: Edition, detail: str, x: float, y: float, sizes: tuple[float, float]
) -> None:
    """A plate right, left, above or below; a curb or patch as long as it was wide."""
    own = {k: v for k, v in DETAILS[detail][0].items() if k in ("width", "length")}
    other = {"width": own["length"], "length": own["width"]} if own else {}
    wide, long = map(inch, sizes)
    right = {"width": wide, "length": long, "at": [inch(x), inch(y)]}
    ways = [
        asked(edition, detail, plates=[right]),
        asked(edition, detail, plates=[{**right, "at": [inch(-x), inch(y)]}]),
        asked(edition, detail, plates=[{**right, "at": [inch(x), inch(-y)]}]),
        asked(
            edition,
            detail,
            plates=[{"width": long, "length": wide, "at": [inch(y), inch(x)]}],
            **other,
        ),
    ]
    first, *rest = map(needs, ways)
    for each in rest:
        assert each == pytest.approx(first)


@STEADY
@given(
    detail=st.sampled_from(["wall-base", "threshold", "scupper"]),
    along=eighths(5, 200),
    by=eighths(-200, 200),
    out=eighths(2, 30),
)
def test_along_a_run_a_plate_may_lie_anywhere(
    edition: Edition, detail: str, along: float, by: float, out: float
) -> None:
    plate = {"width": "3 in", "length": "3 in"}
    here, there = (
        asked(edition, detail, plates=[{**plate, "at": [inch(x), inch(out)]}])
        for x in (along, along + by)
    )
    assert needs(here) == pytest.approx(needs(there))


def test_what_grows_is_told_apart(edition: Edition) -> None:
    """The measure itself: a wall of twice the height needs more, of the same not."""
    low, high = (needs(asked(edition, "wall-base", height=h)) for h in ("8 in", "16 in"))
    resin = next(name for name in low if name.startswith("resins/"))
    assert high[resin] > low[resin] * 1.3
    assert math.isclose(low["tape"], high["tape"] - 16.0)  # 8 in more at each free end


def test_every_measured_detail_is_among_them(edition: Edition) -> None:
    unmeasured = {"expansion-joint"}
    assert set(DETAILS) == set(edition.kind("details")) - unmeasured
    with pytest.raises(QueryFaults):
        asked(edition, "drain", height="9 in")
