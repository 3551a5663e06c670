"""What holds of every detail: joined runs add up, more never needs less, nonsense is refused."""

from __future__ import annotations

import math
import time
from typing import Any

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from upstand.edition import Edition
from upstand.layout import Layout, LayoutRefusal, lay_out
from upstand.query import QueryFaults, read_requirements
from upstand.query.defaults import settle

STEADY = settings(
    max_examples=25,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.filter_too_much],
)


def eighths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 8), round(high * 8)).map(lambda n: n / 8)


def inch(value: float) -> str:
    return f"{value} in"


def laid(edition: Edition, body: dict[str, Any]) -> Layout:
    return lay_out(settle(read_requirements(body, edition), edition), edition)


def figures(layout: Layout) -> dict[str, float]:
    assert layout.fleece is not None and layout.masking is not None and layout.coated is not None
    names = ("zone", "net", "cut", "extra")
    found = {name: getattr(layout.fleece, name).value for name in names}
    found |= {"coated": layout.coated.value, "tape": layout.masking.tape.value}
    return found


#: Every detail that is measured, by its sizes alone; random sizes replace some of them.
DETAILS: dict[str, dict[str, Any]] = {
    "wall-base": {"length": "20 ft"},
    "threshold": {"length": "36 in", "riser": "4 in", "sill": "5 in"},
    "corner": {"corner": "inside", "length": "60 in"},
    "curb": {"width": "30 in", "length": "36 in"},
    "drain": {"bowl": "16 in", "seat": "9 in"},
    "scupper": {"opening": {"width": "8 in", "height": "4 in"}, "depth": "8 in"},
    "crack": {"length": "10 ft"},
    "metal-joint": {"length": "9 in"},
    "tie-in": {"length": "10 ft"},
    "patch": {"width": "6 in", "length": "3 in"},
}
HIGH = ("wall-base", "threshold", "corner", "curb", "scupper")
LONG = ("wall-base", "corner", "crack", "metal-joint", "tie-in", "curb", "patch", "threshold")


def body(detail: str, **sizes: Any) -> dict[str, Any]:
    return {"detail": detail, "roof": "tpo", **DETAILS[detail], **sizes}


@pytest.mark.parametrize("corner", ["inside", "outside"])
def test_two_walls_and_a_corner_sum_to_the_wall_bent_round_it(
    corner: str, edition: Edition
) -> None:
    """Arms of 12 in and 24 in of wall beyond both: the same as arms of 36 in.

    At each of the two joints the neighbors run 1 in past: one lap of 2 in over the strip on the
    roof, 4 1/4 in wide, and that on the wall, 10 in wide.
    """
    parts = [
        laid(edition, body("wall-base", length="24 in", joined=1)),
        laid(edition, body("corner", corner=corner, length="12 in", joined=2)),
        laid(edition, body("wall-base", length="24 in", joined=1)),
    ]
    one = figures(laid(edition, body("corner", corner=corner, length="36 in")))
    together = {name: math.fsum(figures(part)[name] for part in parts) for name in one}
    assert all(part.unproved == () for part in parts)
    for name in ("zone", "coated", "tape"):
        assert together[name] == pytest.approx(one[name]), name
    laps = 2 * 2 * (4.25 + 10)
    for name in ("net", "cut", "extra"):
        assert together[name] == pytest.approx(one[name] + laps), name
    corners = sum(part.masking.corners.value for part in parts if part.masking)
    # the point of the corner on the roof, and roof and wall at both free ends
    assert corners == 2 * (1 + 4)


@pytest.mark.parametrize("detail", LONG)
def test_joined_ends_take_off_what_is_theirs(detail: str, edition: Edition) -> None:
    if detail in ("curb", "patch"):
        with pytest.raises(QueryFaults):
            laid(edition, body(detail, joined=1))
        return
    more = {"joint": "sheet"} if detail == "metal-joint" else {}
    free, once, both = (figures(laid(edition, body(detail, joined=n, **more))) for n in (0, 1, 2))
    assert free["tape"] > once["tape"] > both["tape"]
    assert free["coated"] > once["coated"] > both["coated"]
    assert free["tape"] - once["tape"] == pytest.approx(once["tape"] - both["tape"])


@STEADY
@given(detail=st.sampled_from(HIGH), low=eighths(8, 30), more=eighths(0, 30))
def test_higher_never_needs_less(edition: Edition, detail: str, low: float, more: float) -> None:
    a = figures(laid(edition, body(detail, height=inch(low))))
    b = figures(laid(edition, body(detail, height=inch(low + more))))
    assert all(b[name] >= a[name] - 1e-9 for name in a), (a, b)


@STEADY
@given(detail=st.sampled_from(LONG), long=eighths(8, 400), more=eighths(0, 400))
def test_longer_never_needs_less(edition: Edition, detail: str, long: float, more: float) -> None:
    a = figures(laid(edition, body(detail, length=inch(long))))
    b = figures(laid(edition, body(detail, length=inch(long + more))))
    assert all(b[name] >= a[name] - 1e-9 for name in a), (a, b)


@STEADY
@given(detail=st.sampled_from(sorted(DETAILS)), narrow=eighths(2, 8), more=eighths(0, 6))
def test_a_wider_flange_never_covers_less(
    edition: Edition, detail: str, narrow: float, more: float
) -> None:
    a = figures(laid(edition, body(detail, flange=inch(narrow))))
    b = figures(laid(edition, body(detail, flange=inch(narrow + more))))
    assert all(b[name] >= a[name] - 1e-9 for name in ("zone", "coated", "net")), (a, b)


RUNS = ("wall-base", "crack", "tie-in")


@STEADY
@given(detail=st.sampled_from(RUNS), long=eighths(12, 600), times=st.integers(2, 5))
def test_on_runs_need_grows_with_the_length(
    edition: Edition, detail: str, long: float, times: int
) -> None:
    """Zone and area between joined ends are so many times as much; nothing is left over."""
    one = figures(laid(edition, body(detail, length=inch(long), joined=2)))
    many = figures(laid(edition, body(detail, length=inch(long * times), joined=2)))
    for name in ("zone", "coated", "tape"):
        assert many[name] == pytest.approx(one[name] * times), name
    # fleece saves the laps between the parts, and adds those of its own joints
    assert many["net"] <= one["net"] * times + 1e-9


@STEADY
@given(
    detail=st.sampled_from(sorted(DETAILS)),
    w=eighths(2, 9),
    h=eighths(8, 50),
    long=eighths(12, 900),
    r=st.sampled_from(["1/4 in", "3/8 in", "1/2 in"]),
)
def test_every_layout_is_proved(
    edition: Edition, detail: str, w: float, h: float, long: float, r: str
) -> None:
    sizes: dict[str, Any] = {"flange": inch(w), "reveal": r}
    if detail in HIGH:
        sizes["height"] = inch(h)
    if detail in LONG:
        sizes["length"] = inch(long)
    try:
        layout = laid(edition, body(detail, **sizes))
    except LayoutRefusal as refusal:
        assert detail == "corner", refusal.reasons
        return
    assume(layout.built)
    assert layout.unproved == (), [str(fault) for fault in layout.unproved]


@STEADY
@given(
    detail=st.sampled_from(
        [d for d in sorted(DETAILS) if d not in ("crack", "metal-joint", "tie-in")]
    ),
    wide=eighths(2, 6),
    x=eighths(-40, 40),
    out=eighths(3, 40),
)
def test_with_a_plate_every_layout_is_proved(
    edition: Edition, detail: str, wide: float, x: float, out: float
) -> None:
    plate = {"width": inch(wide), "length": inch(wide), "at": [inch(x), inch(out)]}
    try:
        layout = laid(edition, body(detail, plates=[plate]))
    except LayoutRefusal as refusal:
        assert all("lies in" in say or "arm of a corner" in say for _, say in refusal.reasons)
        return
    assert layout.built
    assert layout.unproved == (), [str(fault) for fault in layout.unproved]
    assert any(s.id == "plate-1" for s in layout.surfaces)


REFUSED: list[tuple[str, dict[str, Any], str, str]] = [
    ("drain", {"seat": "16 in"}, "/seat", "under 16 in"),
    ("drain", {"sump": "12 in"}, "/sump", "at least 16 in"),
    ("scupper", {"reach": "8 in"}, "/reach", "at most 7.5 in"),
    ("scupper", {"height": "7 in"}, "/height", "at least 8 in"),
    ("threshold", {"riser": "9 in", "height": "10 in"}, "/height", "at least 11 in"),
    ("threshold", {"back": "5 in"}, "/back", "at most 4 in"),
    ("corner", {"length": "5 in"}, "/length", "at least 6 in"),
    ("wall-base", {"plates": [{"width": "3 in", "length": "3 in", "at": ["9 in", "1 in"]}]},
     "/plates/0/at", "at least half its length, 1.5 in"),
    ("curb", {"plates": [{"width": "3 in", "length": "3 in"}]}, "/plates/0/at", "lies in the curb"),
    ("drain", {"plates": [{"width": "3 in", "length": "3 in"}]}, "/plates/0/at", "in the bowl"),
]  # fmt: skip


@pytest.mark.parametrize(("detail", "sizes", "where", "says"), REFUSED)
def test_sizes_that_contradict_are_refused_by_name(
    detail: str, sizes: dict[str, Any], where: str, says: str, edition: Edition
) -> None:
    with pytest.raises(LayoutRefusal) as refused:
        laid(edition, body(detail, **sizes))
    found = dict(refused.value.reasons)
    assert where in found and says in found[where], found


@pytest.mark.parametrize("detail", sorted(DETAILS))
@pytest.mark.parametrize("size", ["5280 ft", "NaN", "0 in", "-3 in", "1e9 in"])
def test_nonsense_lengths_are_one_clear_fault(detail: str, size: str, edition: Edition) -> None:
    name = next(name for name in DETAILS[detail] if name not in ("corner", "opening"))
    with pytest.raises(QueryFaults) as faults:
        laid(edition, body(detail, **{name: size}))
    assert [fault.pointer for fault in faults.value.faults] == [f"/{name}"]


ASKED: list[tuple[str, dict[str, Any], str, bool]] = [
    ("threshold", {"sill": "1 in"}, "sill-too-shallow", False),
    ("threshold", {}, "sill-low", True),
    ("drain", {"seat": "12 in"}, "bowl-narrow", True),
    ("drain", {"seat": "15 in"}, "bowl-too-narrow", False),
    ("drain", {"flange": "4 in"}, "drain-flange-short", True),
    ("drain", {"sump": "18 in"}, "sump-too-small", False),
    ("scupper", {"depth": "2 in"}, "reach-too-short", False),
    ("scupper", {"opening": {"width": "1 in", "height": "4 in"}}, "opening-small", True),
    ("crack", {"gap": "2 in"}, "gap-too-wide", False),
    ("crack", {"flange": "20 in"}, "strip-too-wide", False),
    ("tie-in", {"flange": "21 in"}, "strip-too-wide", False),
]


@pytest.mark.parametrize(("detail", "sizes", "id", "built"), ASKED)
def test_what_is_asked_about(
    detail: str, sizes: dict[str, Any], id: str, built: bool, edition: Edition
) -> None:
    layout = laid(edition, body(detail, **sizes))
    assert layout.built is built
    assert id in {ask.id for ask in layout.asks}


def test_a_missing_size_is_asked_for_by_name(edition: Edition) -> None:
    layout = laid(edition, {"detail": "drain", "roof": "tpo"})
    assert not layout.built
    assert [(ask.id, ask.name) for ask in layout.asks] == [
        ("size-missing", "bowl"),
        ("size-missing", "seat"),
    ]


def test_the_sump_sets_the_flange(edition: Edition) -> None:
    """24 in of sump less 16 of bowl leave 4 in on each side: T 24, M 25."""
    layout = laid(edition, body("drain", sump="24 in"))
    assert layout.masking is not None
    assert [(w.value, h.value) for w, h in layout.masking.flat] == [(25.0, 25.0)]


def test_a_plate_far_out_is_an_island(edition: Edition) -> None:
    """Plate 3 x 3, 40 in out: its cover 7 x 7, its mask 8 x 8, its tape 32 in, four corners."""
    plate = {"width": "3 in", "length": "3 in", "at": ["60 in", "40 in"]}
    plain = laid(edition, body("wall-base"))
    layout = laid(edition, body("wall-base", plates=[plate]))
    a, b = figures(plain), figures(layout)
    assert b["zone"] - a["zone"] == pytest.approx(49)
    assert b["tape"] - a["tape"] == pytest.approx(32)
    assert b["coated"] - a["coated"] == pytest.approx(64)
    assert layout.masking is not None
    assert [(w.value, h.value) for w, h in layout.masking.flat] == [(241.0, 4.5), (8.0, 8.0)]


def test_a_plate_at_the_wall_widens_the_run(edition: Edition) -> None:
    """Plate 3 x 3 against the wall: its cover ends at 1.5 + 1.5 + 2 = 5 in, and so the fleece.

    Of its cover, 7 x 7, two inches would lie in the wall: 14 in² come out of what is laid.
    """
    plate = {"width": "3 in", "length": "3 in"}
    layout = laid(edition, body("wall-base", plates=[plate]))
    assert layout.masking is not None and layout.fleece is not None
    assert [(w.value, h.value) for w, h in layout.masking.flat] == [(241.0, 5.5)]
    cover = layout.fleece.pieces[0]
    assert (cover.kind, cover.width.value, cover.length.value, cover.net.value) == (
        "cover", 7.0, 7.0, 35.0,
    )  # fmt: skip


def test_a_long_wall_is_answered_and_a_longer_one_is_refused(edition: Edition) -> None:
    start = time.perf_counter()
    layout = laid(edition, body("wall-base", length="1000 ft"))
    assert layout.unproved == ()
    assert time.perf_counter() - start < 5.0
    with pytest.raises(LayoutRefusal) as refused:
        laid(edition, body("wall-base", length="1000 ft", height="1000 ft"))
    assert "2,000 pieces" in str(refused.value)
