"""The theater's forty details taken off: three by hand, the sums by another program, the cuts."""

from __future__ import annotations

import csv
import json
from collections import Counter
from io import StringIO
from math import asin, ceil, pi, sqrt
from typing import Any

import pytest

from upstand.document.takeoff import write
from upstand.document.takeoff_table import write_details, write_order
from upstand.edition import Edition
from upstand.query import QueryFaults
from upstand.query.takeoff import read_take_off
from upstand.scene import scene
from upstand.takeoff import TakeOff, take_off_all

Document = dict[str, Any]

#: Fleece 36 mil thick of 165 g/m2 polyester at 1380 kg/m3: what of it is void takes up resin [in].
DRINK = 0.036 * (1 - 0.165 / (1380 * 36 * 25.4e-6))
BASE, TOP, BED = 0.040, 0.025, 0.020
GALLON = 231.0  # in^3
NOISE = 1e-6


def theater() -> Document:
    held = scene()
    rows = [{"id": id, "count": d["count"], **d["ask"]} for id, d in held["details"].items()]
    return {**held["shared"], "details": rows}


def taken(body: Document, edition: Edition) -> TakeOff:
    return take_off_all(read_take_off(body, edition), edition)


@pytest.fixture(scope="module")
def found(edition: Edition) -> TakeOff:
    return taken(theater(), edition)


@pytest.fixture(scope="module")
def document(found: TakeOff) -> Document:
    written: Document = json.loads(json.dumps(write(found)))
    return written


def share(document: Document, id: str) -> Document:
    return next(row for row in document["details"] if row["id"] == id)


def need(row: Document, id: str) -> float:
    return next(float(m["need"]["value"]) for m in row["materials"] if m["id"] == id)


def gallons(zone: float, coated: float, extra: float, rough: float = 0.0) -> float:
    """Add up a system's coats; areas in square inches, the fill of rough faces in cubic inches."""
    layers = zone * (BASE + DRINK) + coated * TOP + extra * (DRINK + BED) + rough
    return layers / GALLON


def test_forty_details_stand_in_the_scene(document: Document) -> None:
    assert document["count"] == 40
    assert sum(row["count"] for row in document["details"]) == 40


def test_the_stanchion_by_hand(document: Document) -> None:
    """Tube 4 x 4 x 1/4, corners of two walls; 8 in up, 4 in out, 1/2 in to the tape; eight."""
    girth = 4 * 3 + pi * 1.0  # four flats of 3 in, and a circle of 1/2 in
    outline = 16 - (4 - pi) * 0.25
    coated = (13 * 13 - outline) + girth * 8.5
    zone = (12 * 12 - outline) + girth * 8
    base, wrap, patches = 2 * 12 * 7, 10 * (girth + 2), 4 * 16
    # out of the base: the outline 1/4 in smaller, and its band of 2 in once more under the lap
    opening = 3.5 * 3.5 - (4 - pi) * 0.0625 + 2 * 3.5
    extra = base - opening + wrap + patches - zone
    row = share(document, "screen-post")
    assert row["count"] == 8
    assert row["area"]["value"] == pytest.approx(coated / 144)
    assert row["zone"]["value"] == pytest.approx(zone / 144)
    assert need(row, "pu-2k") == pytest.approx(8 * gallons(zone, coated, extra))
    assert need(row, "polyester-165") == pytest.approx(8 * (base + wrap + patches) / 144)
    assert need(row, "masking-tape") == pytest.approx(8 * (4 * 13 + girth + 4 * 2))


def test_the_stage_door_by_hand(document: Document) -> None:
    """40 in between jambs, riser 4, sill 5, returns 4, 8 in over the roof; concrete, cmu walls."""
    roof, riser, sill = 49 * 4.5, 40 * 4, 40 * 5.5
    jambs, walls = 2 * 5.5 * 4.5, (8 + 1) * 8.5
    coated = roof + riser + sill + jambs + walls
    zone = 48 * 4 + 40 * (4 + 5) + 2 * 5 * 4 + 2 * 4 * 8
    # base, two patches, sill with its foot and 2 in up each jamb, walls, jambs
    net = 4.25 * 48 + 2 * 16 + 11 * 44 + 2 * 6 * 10 + 2 * 5 * 4
    rough = (riser + sill + jambs) * 0.004 + walls * 0.015
    row = share(document, "stage-door")
    assert row["area"]["value"] == pytest.approx(coated / 144)
    assert need(row, "pu-2k") == pytest.approx(gallons(zone, coated, net - zone, rough))
    assert need(row, "polyester-165") == pytest.approx(net / 144)
    tape = 49 + 2 * (4 + 8 + 1) + 8 + 1 + 2 * 5.5 + 2 * 4.5 + 40
    assert need(row, "masking-tape") == pytest.approx(tape + 12)


def test_the_east_parapet_by_hand(document: Document) -> None:
    """32 ft of cmu, joined at one end: no margin and no tape there, fleece runs 1 in past."""
    masked, fleece = 384.5, 385
    coated = masked * 4.5 + masked * 8.5
    zone = 384 * (4 + 8)
    # four pieces of at most 10 ft with laps of 2 in: three laps more than the run
    net = 4.25 * (fleece + 3 * 2) + 10 * (fleece + 3 * 2)
    rough = masked * 8.5 * 0.015
    row = share(document, "parapet-east")
    assert row["area"]["value"] == pytest.approx(coated / 144)
    assert need(row, "pu-2k") == pytest.approx(gallons(zone, coated, net - zone, rough))
    assert need(row, "polyester-165") == pytest.approx(net / 144)
    assert need(row, "masking-tape") == pytest.approx(2 * masked + (4 + 8 + 1) + 4)


def test_every_default_is_told_once_with_the_lines_it_was_taken_for(document: Document) -> None:
    told = {row["pointer"]: row for row in document["assumed"] if row["pointer"] != "/height"}
    everywhere = [row["id"] for row in document["details"]]
    assert told["/crew"]["details"] == everywhere and "/count" not in told
    [height] = [row for row in document["assumed"] if row["pointer"] == "/height"]
    # the end of the screen wall and the antenna's sleeve are 10 in by the list itself
    assert {"screen-post", "parapet-east"} < set(height["details"])
    assert not {"screen-post-end", "antenna-cable"} & set(height["details"])


def test_what_is_asked_or_held_is_never_in_the_total(document: Document) -> None:
    apart = [row["id"] for row in document["details"] if not row["in_total"]]
    assert apart == document["apart"]["details"] == ["boiler-flue", "house-joint"]
    resin = next(m for m in document["totals"]["materials"] if m["id"] == "pu-2k")
    summed = sum(need(row, "pu-2k") for row in document["details"] if row["in_total"])
    assert resin["need"]["value"] == pytest.approx(summed)
    assert all(share(document, id)["reasons"] for id in apart)


def test_pythons_csv_sums_the_columns_to_the_totals(found: TakeOff, document: Document) -> None:
    content = write_details(found)
    assert content.startswith(b"\xef\xbb\xbf")
    assert content.count(b"\n") == content.count(b"\r\n")
    rows = list(csv.DictReader(StringIO(content.decode("utf-8-sig"), newline="")))
    assert len(rows) == len(document["details"])
    for material in document["totals"]["materials"]:
        unit = material["need"]["unit"].replace("^2", "²")
        column = f"{material['name']} [{unit}]"
        summed = sum(float(row[column] or 0) for row in rows)
        assert summed == pytest.approx(material["need"]["value"], abs=1e-5), column
    held = next(row for row in rows if row["id"] == "boiler-flue")
    assert held["Two-part polyurethane flashing resin [gal]"] == ""
    assert float(held["Two-part polyurethane flashing resin, not in the total [gal]"]) > 0
    assert "sleeve" in held["why it is not in the total"]


def test_the_order_as_a_table_buys_what_stock_lacks(edition: Edition) -> None:
    body = {**theater(), "stock": [{"pack": "pu-2k-1-qt", "count": 4}]}
    content = write_order(taken(body, edition), "es", "si")
    rows = list(csv.DictReader(StringIO(content.decode("utf-8-sig"), newline="")))
    resin = rows[0]
    assert int(resin["en existencia"]) == 4
    assert int(resin["por comprar"]) == int(resin["envases"]) - 4
    # with the allowance of a tenth, in liters
    assert float(resin["con margen [L]"]) == pytest.approx(1.1 * float(resin["necesario [L]"]))


def test_no_text_runs_as_a_formula() -> None:
    from upstand.document.takeoff_table import _csv

    texts = ["=1+1", "+1", "-1", "@a", "\t=1", "plain", "a=1"]
    (row,) = csv.reader(StringIO(_csv([texts]).decode("utf-8-sig"), newline=""))
    assert row == ["'=1+1", "'+1", "'-1", "'@a", "'\t=1", "plain", "a=1"]
    (row,) = csv.reader(StringIO(_csv([[-1.5, 3, None]]).decode("utf-8-sig")))
    assert row == ["-1.5", "3", ""]


def test_two_halves_joined_take_what_the_whole_takes(edition: Edition) -> None:
    """No margin and no tape stands where they join, and neither is counted twice."""
    run = {"detail": "wall-base", "roof": "tpo", "surfaces": [{"part": "wall", "substrate": "cmu"}]}
    half = {**run, "length": "10 ft", "joined": 1}
    whole = write(taken({"details": [{**run, "id": "one", "length": "20 ft"}]}, edition))
    halves = write(taken({"details": [{**half, "id": "a"}, {**half, "id": "b"}]}, edition))
    area = [sum(row["area"]["value"] for row in d["details"]) for d in (whole, halves)]
    assert area[0] == pytest.approx(area[1])
    for id in ("masonry", "thermoplastic", "masking-tape"):
        amounts = [
            next(m["need"]["value"] for m in d["totals"]["materials"] if m["id"] == id)
            for d in (whole, halves)
        ]
        assert amounts[0] == pytest.approx(amounts[1]), id


def _can_be_cut(placed: list[Document]) -> bool:
    """Whether straight cuts from edge to edge part the pieces."""
    if len(placed) < 2:
        return True
    for low, size in (("x", "width"), ("y", "length")):
        ordered = sorted(placed, key=lambda p: float(p[low]["value"]))
        reach = ordered[0][low]["value"] + ordered[0][size]["value"]
        for n, piece in enumerate(ordered[1:], start=1):
            if piece[low]["value"] >= reach - NOISE:
                return _can_be_cut(ordered[:n]) and _can_be_cut(ordered[n:])
            reach = max(reach, piece[low]["value"] + piece[size]["value"])
    return False


def test_the_cutting_plan_read_from_its_json_makes_every_piece(document: Document) -> None:
    def quarter(value: float) -> float:
        return ceil(value * 4 - NOISE) / 4

    wanted: Counter[tuple[str, float, float]] = Counter()
    for row in document["details"]:
        for piece in row["pieces"] if row["in_total"] else ():
            sides = sorted(quarter(piece[side]["value"]) for side in ("width", "length"))
            wanted[row["id"], sides[0], sides[1]] += piece["count"]
    made: Counter[tuple[str, float, float]] = Counter()
    for roll in document["cutting"]["rolls"]:
        assert roll["length_used"]["value"] <= 600 + NOISE
        for p in roll["placed"]:
            assert -NOISE <= p["x"]["value"] <= roll["width"]["value"] - p["width"]["value"] + NOISE
            assert p["y"]["value"] >= -NOISE
            assert p["y"]["value"] + p["length"]["value"] <= roll["length_used"]["value"] + NOISE
            sides = sorted(p[side]["value"] for side in ("width", "length"))
            made[p["id"].split(" ")[0], sides[0], sides[1]] += 1
        assert _can_be_cut(roll["placed"])
    assert made == wanted
    rolls = next(m for m in document["totals"]["materials"] if m["id"] == "polyester-165")
    assert sum(pack["count"] for pack in rolls["packs"]) == len(document["cutting"]["rolls"])


def test_like_details_are_answered_once(edition: Edition) -> None:
    post = scene()["details"]["screen-post"]["ask"]
    rows = [{"id": f"p{n}", "roof": "epdm", **post} for n in range(6)]
    found = taken({"details": rows}, edition)
    assert len({id(share.one) for share in found.shares}) == 1
    assert len(found.shares) == 6


POST = {
    "id": "a",
    "detail": "post",
    "roof": "tpo",
    "members": [{"section": "rod", "diameter": "1 in", "substrate": "carbon-steel"}],
}


@pytest.mark.parametrize(
    ("body", "pointer", "said"),
    [
        ([], "", "is not an object"),
        ({}, "/details", "no list"),
        ({"details": []}, "/details", "no list"),
        ({"details": [POST] * 501}, "/details", "the most is 500"),
        ({"details": [POST, POST]}, "/details/1/id", "stands twice"),
        ({"details": [{**POST, "id": "=a"}]}, "/details/0/id", "is not a name"),
        ({"details": [{**POST, "count": 0}]}, "/details/0/count", "is no count"),
        ({"details": [{**POST, "count": 1_000_000}]}, "/details/0/count", "is no count"),
        ({"details": [{**POST, "height": "0 in"}]}, "/details/0/height", "can't be used"),
        ({"details": [{**POST, "height": "-8 in"}]}, "/details/0/height", "negative"),
        ({"details": [{**POST, "height": "8,5 in"}]}, "/details/0/height", "with a point"),
        ({"details": [POST], "fourty": 1}, "/fourty", "is not a field"),
        ({"details": [POST, 3]}, "/details/1", "is not a detail"),
        ({"details": [POST], "stock": [{"pack": "gum"}]}, "/stock/0/pack", "not a known pack"),
        (
            {"details": [POST], "stock": [{"pack": "pu-2k-1-qt", "count": -1}]},
            "/stock/0/count",
            "is no count",
        ),
    ],
)
def test_a_list_that_cant_be_used_says_why(
    body: Any, pointer: str, said: str, edition: Edition
) -> None:
    with pytest.raises(QueryFaults) as caught:
        read_take_off(body, edition)
    (fault,) = caught.value.faults
    assert fault.pointer == pointer
    assert said in fault.detail


def test_days_on_the_roof_are_the_minutes_of_the_work(document: Document) -> None:
    """A working day from 7:00 to 17:30, 15 min each to set up and to clean up: 600 min of work."""
    spent = sum(row["minutes"]["value"] for row in document["totals"]["minutes"])
    assert document["totals"]["visits"]["at_least"] == ceil(spent / 600)


def test_waits_stand_apart_from_the_work(document: Document) -> None:
    """With no weather the stated hours at 70 °F: the two-part primer, and the resin until tight."""
    waits = {wait["id"]: wait for wait in share(document, "screen-post")["waits"]}
    assert {"cure/metal-wood", "watertight/pu-2k"} <= set(waits)
    assert (
        waits["watertight/pu-2k"]["low"]["value"],
        waits["watertight/pu-2k"]["high"]["value"],
    ) == (
        120.0,
        240.0,
    )


def test_nothing_ordered_is_no_day_on_the_roof(edition: Edition) -> None:
    held = {"id": "gap", "detail": "expansion-joint", "roof": "tpo", "resin": "pu-2k"}
    written = write(taken({"details": [held]}, edition))
    assert written["totals"]["visits"] == {
        "at_least": None,
        "text": "No days are counted: nothing is ordered, or no minutes are on file.",
    }


def _post(width: float, depth: float, height: float, more: float = 0, cover: float = 0) -> float:
    """A tube with corners of 1/2 in, 4 in of flange; `more` on the roof under a plate's cover."""
    outline, girth = width * depth - (4 - pi) * 0.25, 2 * (width + depth) - (8 - 2 * pi) * 0.5
    target, masked = (width + 8) * (depth + 8 + more), (width + 9) * (depth + 9 + more)
    short, across = min((width + 8, width), (depth + 8 + more, depth))
    opening = (width - 0.5) * (depth - 0.5) - (4 - pi) * 0.0625 + 2 * (across - 0.5)
    zone = target - outline + girth * height
    net = target + 2 * short - opening + cover + (height + 2) * (girth + 2) + 4 * 16
    return gallons(zone, masked - outline + girth * (height + 0.5), net - zone)


def _pipes(od: float, height: float, count: int = 1, run: float = 0) -> float:
    """Pipes in a row over `run`; the openings are smaller than the lap, so each is lost twice."""
    outline, girth = count * pi / 4 * od**2, count * pi * od
    target, masked = (od + 8 + run) * (od + 8), (od + 9 + run) * (od + 9)
    zone = target - outline + girth * height
    openings = 2 * count * pi * (od / 2 - 0.25) ** 2
    net = target + 2 * (od + 8 + run) - openings + (height + 2) * (girth + count * 2)
    return gallons(zone, masked - outline + girth * (height + 0.5), net - zone)


def _parapet(length: float, laps: int) -> float:
    """Block joined at one end: half an inch past the length to the tape, 1 in of fleece past it."""
    coated, zone = (length + 0.5) * (4.5 + 8.5), length * (4 + 8)
    net = (4.25 + 10) * (length + 1 + 2 * laps)
    return gallons(zone, coated, net - zone, (length + 0.5) * 8.5 * 0.015)


#: One of each that is ordered, by the areas of each detail's definition; rough faces fill 15 mil on
#: block, 8 on brick, 4 on concrete, 3 on lumber.
RESIN = {
    "screen-post": _post(4, 4, 8),
    "screen-post-end": _post(6, 4, 10),
    # the plate's cover, 6 x 6, reaches 2 in beyond the flange
    "screen-post-plate": _post(4, 4, 8, more=2, cover=36),
    # 5.99 x 5.99, web 0.23, flanges 0.26: shrunk by 1/4 in it is gone, so slits; two joints
    "sign-leg": gallons(
        zone := 13.99**2 - (o := 2 * 5.99 * 0.26 + 5.47 * 0.23) + 35.48 * 8,
        14.99**2 - o + 35.48 * 8.5,
        13.99 * 15.99 + 10 * (35.48 + 4) + 4 * 16 - zone,
    ),
    "soil-vent": gallons(
        zone := 12.5**2 - pi * 2.25**2 + pi * 4.5 * 8,
        13.5**2 - pi * 2.25**2 + pi * 4.5 * 8.5,
        12.5 * 14.5 - pi * 4 - 2 * (sqrt(3) + 4 * asin(0.5)) + 10 * (pi * 4.5 + 2) - zone,
    ),
    "gas-free-riser": _pipes(2.375, 8),
    "unit-conduits": _pipes(1.3125, 8, count=3, run=8),
    "antenna-cable": _pipes(2.375, 10),
    "stage-door": gallons(
        zone := 48 * 4 + 40 * 9 + 2 * 5 * 4 + 2 * 4 * 8,
        49 * 4.5 + 40 * 4 + 40 * 5.5 + 2 * 5.5 * 4.5 + 9 * 8.5,
        4.25 * 48 + 2 * 16 + 11 * 44 + 2 * 6 * 10 + 2 * 5 * 4 - zone,
        (40 * 4 + 40 * 5.5 + 2 * 5.5 * 4.5) * 0.004 + 9 * 8.5 * 0.015,
    ),
    "parapet-east": _parapet(384, 3),
    "parapet-north": _parapet(216, 1),
    "parapet-corner": gallons(
        272, 4.5 * 19.5 + 24 * 8.5, 4.25 * 24.25 + 2 * 16 + 10 * 28 - 272, 24 * 8.5 * 0.015
    ),
    "fly-tower-corner": gallons(
        304, 4.5 * 29.5 + 25 * 8.5, 4.25 * 30 + 2 * 16 + 10 * 26 - 304, 25 * 8.5 * 0.008
    ),
    "unit-curb": gallons(
        zone := 38 * 44 - 1080 + 132 * 8,
        39 * 45 - 1080 + 132 * 8.5,
        4.25 * 156 + 4 * 16 + 10 * 140 - zone,
        132 * 8.5 * 0.003,
    ),
    "drain": gallons(
        zone := 26**2 - pi * 25,
        27**2 - pi * 49 + pi / 4 * (14**2 - 9**2),
        pi * (81 - 25) + 26 * 28 - pi * 49 - 2 * (sqrt(48) + 49 * asin(1 / 7)) - zone,
    ),
    "scupper": gallons(
        zone := 18 * 12 - 40 + 28 * 7.5,
        19 * 4.5 + (19 * 8.5 - 40) + 80 + 18 * 8,
        11.5 * 14 + 4.25 * 18 + 12 * 9.5 + 9.5 * 14 + 4 * 16 + 180 - 40 - zone,
        (19 * 8.5 - 40) * 0.015,
    ),
    "edge-joint": gallons(130, 154, 0),
    "deck-crack": gallons(1780, 179 * 11, 1800 - 1780, (179 * 11 - 170 * 2) * 0.004),
    "puncture": gallons(130 - (4 - pi), 14 * 11, 9 * 6),
    "unit-leg": gallons(
        zone := 16**2 - (o := 9 - (4 - pi) * 0.25) + (p := 12 - (8 - 2 * pi) * 0.5) * 8,
        17**2 - o + p * 8.5,
        64 + 144 - o + 16 * 18 - 6.25 + (4 - pi) * 0.0625 - 5 + 10 * (p + 2) + 64 - zone,
    ),
    "old-film": gallons(576, 73 * 9, 0),
}


def test_the_resin_of_the_whole_theater_by_hand(document: Document) -> None:
    rows = {row["id"]: row for row in document["details"] if row["in_total"]}
    assert set(rows) == set(RESIN)
    for id, one in RESIN.items():
        assert need(rows[id], "pu-2k") == pytest.approx(one * rows[id]["count"]), id
    summed = sum(one * rows[id]["count"] for id, one in RESIN.items())
    resin = next(m for m in document["totals"]["materials"] if m["id"] == "pu-2k")
    assert resin["need"]["value"] == pytest.approx(summed)
