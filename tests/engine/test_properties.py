"""What holds of every answer: more is never less, and how it is asked changes nothing."""

from __future__ import annotations

import copy
from collections.abc import Callable
from math import cos, radians, sin
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from upstand.answer import Answer
from upstand.document.requirements import write
from upstand.quantity.units import convert
from upstand.query import QueryFaults
from upstand.stages.times import WorkingTime

Ask = Callable[..., Answer]
STEADY = settings(
    max_examples=40,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.filter_too_much],
)


def eighths(low: float, high: float) -> st.SearchStrategy[float]:
    """Lengths in eighths of an inch: every sum of them is exact."""
    return st.integers(round(low * 8), round(high * 8)).map(lambda n: n / 8)


def inch(value: float) -> str:
    return f"{value} in"


SECTIONS = st.one_of(
    st.tuples(eighths(1, 8), eighths(1, 8)).map(
        lambda s: {"section": "bar", "width": inch(s[0]), "depth": inch(s[1])}
    ),
    st.tuples(eighths(2, 8), eighths(2, 8), st.sampled_from([0.25, 0.5])).map(
        lambda s: {
            "section": "angle", "leg_a": inch(s[0]), "leg_b": inch(s[1]), "thickness": inch(s[2]),
        }
    ),
    eighths(1, 12).map(lambda s: {"section": "pipe", "od": inch(s)}),
    st.sampled_from(["W8x31", "W6x15", "C6x8.2", "L4x3x1/4", "HSS4x4x1/4", "WT4x9"]).map(
        lambda s: {"designation": s}
    ),
)  # fmt: skip
MEMBER = st.tuples(
    SECTIONS, eighths(-20, 20), eighths(-20, 20), st.sampled_from(["carbon-steel", "aluminum"])
).map(lambda m: {**m[0], "at": [m[1], m[2]], "substrate": m[3]})
PLATE = st.tuples(eighths(2, 4), eighths(2, 4), eighths(-25, 25), eighths(-25, 25)).map(
    lambda p: {"width": inch(p[0]), "length": inch(p[1]), "at": [p[2], p[3]]}
)
MEMBERS = st.lists(MEMBER, min_size=1, max_size=4)
PLATES = st.lists(PLATE, max_size=3)
DEGREES = st.integers(-60, 200)


def moved(things: list[dict[str, Any]], x: float = 0.0, y: float = 0.0) -> list[dict[str, Any]]:
    """The things of a request at their places, each moved by as much."""
    return [{**t, "at": [inch(t["at"][0] + x), inch(t["at"][1] + y)]} for t in things]


def answered(ask: Ask, **changed: Any) -> Answer:
    """An answer; a drawing that is refused (a plate over a member) is no example."""
    try:
        return ask(**changed)
    except QueryFaults as faults:
        assert all("overlaps member" in fault.detail for fault in faults.faults), faults
        assume(False)
        raise


def figures(answer: Answer, by_surface: bool = True) -> dict[str, Any]:
    """Every quantity of a layout and its take-off; pieces and rectangles in no order."""
    layout, takeoff = answer.layout, answer.takeoff
    assert layout.fleece is not None and layout.masking is not None and layout.coated is not None
    found: dict[str, Any] = {
        name: getattr(layout.fleece, name).value
        for name in ("zone", "net", "cut", "lap_area", "extra")
    }
    found["coated"] = layout.coated.value
    found["tape"] = layout.masking.tape.value
    found["corners"] = layout.masking.corners.value
    found |= {f"coat {c.id}": c.volume.value for c in takeoff.coats}
    found |= {f"need {m.record.id}": m.one.need.value for m in takeoff.materials if m.one.need}
    flat = sorted((w.value, h.value) for w, h in layout.masking.flat)
    for number, row in enumerate(flat):
        found |= {f"mask {number} width": row[0], f"mask {number} length": row[1]}
    pieces = sorted(
        (p.kind, p.count, round(p.width.value, 6), round(p.length.value, 6), p.net.value)
        for p in layout.fleece.pieces
    )
    for number, piece in enumerate(pieces):
        found |= {f"piece {number} {part}": part_of for part, part_of in zip(
            ("count", "width", "length", "net"), piece[1:], strict=True)}  # fmt: skip
        found[f"piece {number} kind {piece[0]}"] = 1.0
    if by_surface:
        found |= {s.id: s.area.value for s in layout.surfaces if s.area is not None}
    return found


def near(figures: dict[str, Any]) -> Any:
    return pytest.approx(figures, rel=1e-6, abs=1e-6)


@STEADY
@given(members=MEMBERS, plates=PLATES)
def test_every_layout_is_proved(ask: Ask, members: Any, plates: Any) -> None:
    answer = answered(ask, members=moved(members), plates=moved(plates))
    assert answer.layout.unproved == ()
    assert write(answer)["verdict"]["state"] in ("go", "ask")


@STEADY
@given(
    members=MEMBERS,
    plates=PLATES,
    low=eighths(1, 30),
    more=st.floats(0, 20).map(lambda f: round(f, 3)),
)
def test_higher_never_needs_less(
    ask: Ask, members: Any, plates: Any, low: float, more: float
) -> None:
    common = {"members": moved(members), "plates": moved(plates)}
    lower = answered(ask, **common, height=inch(low))
    higher = answered(ask, **common, height=f"{low + more:.4f} in")
    a, b = figures(lower), figures(higher)
    for name in a:
        if not name.startswith("piece"):
            assert b[name] >= a[name] - 1e-9, name


@STEADY
@given(members=MEMBERS, plates=PLATES, low=eighths(2, 6), more=eighths(0, 6))
def test_a_wider_flange_never_covers_less(
    ask: Ask, members: Any, plates: Any, low: float, more: float
) -> None:
    common = {"members": moved(members), "plates": moved(plates)}
    narrow = figures(answered(ask, **common, flange=inch(low)))
    wide = figures(answered(ask, **common, flange=inch(low + more)))
    assert wide["coated"] >= narrow["coated"] - 1e-9
    assert wide["zone"] >= narrow["zone"] - 1e-9


def judged(answer: Answer) -> Any:
    """What was decided and why; a gap is told to four thousandths of an inch, not to the last."""
    verdict = answer.verdict
    reasons = [(r.id, r.state, r.whom) for r in verdict.reasons]
    return verdict.state, reasons, [c.id for c in verdict.confirm], verdict.whom


@STEADY
@given(members=MEMBERS, plates=PLATES, x=eighths(-999, 999), y=eighths(-999, 999))
def test_moving_the_whole_detail_changes_nothing(
    ask: Ask, members: Any, plates: Any, x: float, y: float
) -> None:
    here = answered(ask, members=moved(members), plates=moved(plates))
    there = answered(ask, members=moved(members, x, y), plates=moved(plates, x, y))
    assert figures(there) == near(figures(here))
    assert judged(there) == judged(here)


@STEADY
@given(members=MEMBERS, turn=st.sampled_from([30, 45, 90, 123, 180, -70]))
def test_turning_the_whole_detail_changes_nothing(ask: Ask, members: Any, turn: int) -> None:
    """The mask turns with the members' common turn, so members may be turned where they stand."""
    c, s = cos(radians(turn)), sin(radians(turn))
    # nothing just touches: turned places are rounded, and would or would not
    members = [
        {**m, "at": [m["at"][0] + 0.0137 * n, m["at"][1] + 0.0091 * n]}
        for n, m in enumerate(members)
    ]
    turned = [
        {
            **m,
            "at": [f"{m['at'][0] * c - m['at'][1] * s:.7f} in",
                   f"{m['at'][0] * s + m['at'][1] * c:.7f} in"],
            "turn": f"{turn} deg",
        }
        for m in members
    ]  # fmt: skip
    here = figures(answered(ask, members=moved(members), plates=[]))
    there = figures(answered(ask, members=turned, plates=[]))
    for name in ("coated", "zone", "tape", "corners"):
        assert there[name] == pytest.approx(here[name], abs=1e-2), name


@STEADY
@given(members=MEMBERS, plates=PLATES, data=st.data())
def test_the_order_of_members_and_plates_does_not_matter(
    ask: Ask, members: Any, plates: Any, data: Any
) -> None:
    members, plates = moved(members), moved(plates)
    shuffled = data.draw(st.permutations(members)), data.draw(st.permutations(plates))
    here = answered(ask, members=members, plates=plates)
    there = answered(ask, members=shuffled[0], plates=shuffled[1])
    assert figures(there, by_surface=False) == near(figures(here, by_surface=False))
    assert there.verdict.state == here.verdict.state


QUANTITY = {"value", "unit", "text"}


def compared(us: Any, si: Any, place: str = "") -> int:
    """Walk two documents side by side; returns how many quantities were compared."""
    if isinstance(us, dict) and set(us) == QUANTITY:
        assert set(si) == QUANTITY, place
        same = convert(us["value"], us["unit"], si["unit"])
        assert si["value"] == pytest.approx(same, rel=1e-9, abs=1e-9), place
        return 1
    if isinstance(us, dict):
        assert isinstance(si, dict) and set(us) == set(si), place
        return sum(compared(us[k], si[k], f"{place}/{k}") for k in us)
    if isinstance(us, list):
        assert isinstance(si, list) and len(us) == len(si), place
        return sum(
            compared(a, b, f"{place}/{n}") for n, (a, b) in enumerate(zip(us, si, strict=True))
        )
    if isinstance(us, float | int) and not isinstance(us, bool):
        assert us == si, place
    return 0


@STEADY
@given(members=MEMBERS, plates=PLATES, height=eighths(4, 20), air=st.integers(30, 100))
def test_us_and_si_agree(ask: Ask, members: Any, plates: Any, height: float, air: int) -> None:
    now = {"air": f"{air} F", "surface": f"{air + 3} F", "humidity": "60 %", "material": "70 F"}
    common = {
        "members": moved(members), "plates": moved(plates), "height": inch(height), "now": now,
    }  # fmt: skip
    us = write(answered(ask, **common, units="us"))
    si = write(answered(ask, **common, units="si"))
    shared = {k: v for k, v in us.items() if k not in ("units", "workings", "sources")}
    assert compared(shared, {k: si[k] for k in shared}) > 40
    assert us["verdict"]["state"] == si["verdict"]["state"]


def metric(text: str) -> str:
    """The same size in millimetres, °C or km/h, to as many digits as are read."""
    if text.endswith(" in"):
        return f"{float(text[:-3]) * 25.4:.8f}"[:11] + " mm"
    if text.endswith(" F"):
        return f"{(float(text[:-2]) - 32) / 1.8:.7f} C"
    return text


@STEADY
@given(size=st.tuples(eighths(1, 8), eighths(1, 8)), height=eighths(4, 20), at=eighths(3, 20))
def test_asked_in_millimetres_the_answer_is_the_same(
    ask: Ask, size: tuple[float, float], height: float, at: float
) -> None:
    member = {"section": "bar", "width": inch(size[0]), "depth": inch(size[1])}
    plate = {"width": "3 in", "length": "3 in", "at": [inch(at + 5), "0 in"]}
    body = {"members": [{**member, "substrate": "carbon-steel"}], "plates": [plate],
            "height": inch(height), "flange": "4 in", "reveal": "0.5 in",
            "now": {"air": "68 F", "surface": "77 F", "humidity": "55 %", "material": "70 F"},
            }  # fmt: skip
    same = copy.deepcopy(body)
    for node in (same, same["members"][0], same["plates"][0], same["now"]):
        for name, value in node.items():
            if isinstance(value, str):
                node[name] = metric(value)
    same["plates"][0]["at"] = [metric(one) for one in plate["at"]]
    assert figures(answered(ask, **same)) == pytest.approx(figures(answered(ask, **body)), rel=1e-5)


@STEADY
@given(members=MEMBERS, count=st.integers(1, 300))
def test_count_scales_totals_alone(ask: Ask, members: Any, count: int) -> None:
    one = answered(ask, members=moved(members), plates=[])
    many = answered(ask, members=moved(members), plates=[], count=count)
    assert figures(many) == near(figures(one))
    for name, total in many.takeoff.totals.items():
        assert total.value == pytest.approx(count * one.takeoff.totals[name].value)
    for a, b in zip(one.takeoff.materials, many.takeoff.materials, strict=True):
        assert a.one.packs == b.one.packs
        assert a.one.need is not None and b.all.need is not None
        assert b.all.need.value == pytest.approx(count * a.one.need.value)
        assert b.all.with_allowance is not None and b.all.leftover is not None
        assert b.all.with_allowance.value == pytest.approx(1.1 * count * a.one.need.value)
        assert b.all.leftover.value > -1e-6, "what is opened is enough"


def found(ask: Ask, id: str, **now: str) -> WorkingTime:
    time = ask(now={"air": "70 F", "humidity": "5 %", "material": "70 F", **now}).timing.find(id)
    assert time is not None
    return time


@STEADY
@given(cold=st.integers(40, 90), warm=st.integers(40, 90))
def test_windows_never_grow_in_the_cold_and_waits_never_shrink_in_heat(
    ask: Ask, cold: int, warm: int
) -> None:
    cold, warm = sorted((cold, warm))
    for id, stated in (
        ("cure/pu-2k", 240.0),
        ("watertight/pu-2k", 240.0),
        ("cure/metal-wood", 240.0),
    ):
        waits = [found(ask, id, surface=f"{t} F").high for t in (cold, warm)]
        assert waits[0] is not None and waits[1] is not None
        assert waits[0].value >= waits[1].value >= stated - 1e-9
    windows = [found(ask, "cover-within/metal-wood", surface=f"{t} F").high for t in (cold, warm)]
    assert windows[0] is not None and windows[1] is not None
    assert 24 * 60 + 1e-9 >= windows[0].value >= windows[1].value


@STEADY
@given(cold=DEGREES, warm=DEGREES)
def test_pot_life_never_grows(ask: Ask, cold: int, warm: int) -> None:
    cold, warm = sorted((cold, warm))
    for id, stated in (("pot-life/pu-2k", 30.0), ("pot-life/metal-wood", 13.0)):
        lives = [found(ask, id, surface="70 F", material=f"{t} F").high for t in (cold, warm)]
        assert lives[0] is not None and lives[1] is not None
        assert stated + 1e-9 >= lives[0].value >= lives[1].value > 0


WEATHER = st.fixed_dictionaries(
    {},
    optional={
        "air": DEGREES.map(lambda t: f"{t} F"),
        "surface": DEGREES.map(lambda t: f"{t} F"),
        "material": DEGREES.map(lambda t: f"{t} F"),
        "humidity": st.integers(0, 100).map(lambda h: f"{h} %"),
        "rain_chance": st.integers(0, 100).map(lambda h: f"{h} %"),
        "wind": st.integers(0, 100).map(lambda w: f"{w} mph"),
        "wet": st.booleans(),
    },
)


@settings(STEADY, max_examples=120)
@given(
    now=WEATHER,
    height=eighths(1, 12),
    resin=st.sampled_from(["pu-2k", "pmma", "pu-1k", "stpe-1k"]),
    roof=st.sampled_from(["tpo", "epdm", "sbs-cap"]),
)
def test_hold_beats_ask_beats_go(ask: Ask, now: Any, height: float, resin: str, roof: str) -> None:
    answer = ask(now=now, height=inch(height), resin=resin, roof=roof)
    states = [r.state for r in answer.verdict.reasons]
    wanted = "hold" if "hold" in states else "ask" if states else "go" if now else "plan"
    assert answer.verdict.state == wanted
    document = write(answer)
    assert (document["verdict"]["ask"] is not None) == any(r.whom for r in answer.verdict.reasons)
    if wanted == "go":
        assert {"air", "surface", "humidity"} <= set(now), "never go on what is not known"
        assert height >= 8 and not now.get("wet")
    for reason in document["verdict"]["reasons"]:
        assert reason["text"] and reason["clears"]
        if reason["state"] == "ask":
            assert reason["whom"] and len(reason["facts"]) >= 2
    resin_need = document["materials"][0]["need"]
    assert resin_need is not None, "quantities are whole whatever the weather"


@STEADY
@given(now=WEATHER, lang=st.sampled_from(["en", "es"]))
def test_an_answer_is_a_function_of_its_question(ask: Ask, now: Any, lang: str) -> None:
    assert write(ask(now=now, lang=lang)) == write(ask(now=now, lang=lang))
