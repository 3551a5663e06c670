"""Standard shapes and pipe sizes as the data lists them, and how they are asked for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from upstand.edition.model import Edition
from upstand.sections import (
    FIELDS,
    UnknownDesignation,
    build,
    find_designation,
    find_pipe_size,
)
from upstand.sections.names import read_designation

W8X31 = {"depth": 8.0, "flange_width": 8.0, "web_thickness": 0.285, "flange_thickness": 0.435}
C6X8 = {"depth": 6.0, "flange_width": 1.92, "web_thickness": 0.2, "flange_thickness": 0.343}


def test_each_kind_of_section_is_told_in_the_data(edition: Edition) -> None:
    for kind, fields in FIELDS.items():
        record = edition.record(f"sections/{kind}")
        known = {"points"} if kind == "polygon" else {*fields.needs, *fields.may}
        assert set(record.get("inputs")) - {"nps"} == known
        assert set(record.get("optional", ())) == set(fields.may)


def test_every_listed_shape_can_be_built(edition: Edition) -> None:
    walls = edition.record("sections/tube").value("corner_radius_in_walls").magnitude("1")
    names = [row[0] for _, row in listed(edition, "designation")]
    assert len(set(names)) == len(names) > 1700
    for name in names:
        shape = find_designation(edition, name)
        assert shape.designation == name
        assert shape.grade == "memory" or shape.source.startswith("sources/")
        assert build(shape.kind, shape.dimensions, radius_in_walls=walls).drawn_girth_in > 0


def listed(edition: Edition, first: str) -> Iterator[tuple[dict[str, Any], list[Any]]]:
    for record in edition.kind("sections").values():
        for table in record.get("tables", {}).values():
            if table["columns"][0] == first:
                for row in table["rows"]:
                    yield table, row


@pytest.mark.parametrize("family", ["L", "HSS"])
def test_sizes_are_those_that_the_designation_states(edition: Edition, family: str) -> None:
    """L6X4X1/2 has legs of 6 and 4 and is 1/2 thick; HSS6X4X1/4 is 6 by 4, its wall thinner."""
    for table, row in listed(edition, "designation"):
        key = read_designation(row[0])
        if key is None or key.family != family or len(key.numbers) != 3:
            continue
        stated = [float(number) for number in key.numbers]
        found = dict(zip(table["columns"][1:], row[1:], strict=True))
        if family == "L":
            assert [found["leg_a"], found["leg_b"], found["thickness"]] == stated
        else:
            assert [found["depth"], found["width"]] == stated[:2]
            assert 0.92 < found["thickness"] / stated[2] < 0.94  # the design wall is 0.93 of it


def test_rigid_conduit_has_the_diameters_of_pipe(edition: Edition) -> None:
    """Both are threaded alike; conduit stands from memory, pipe as AISC lists it."""
    for size in ("1/2", "3/4", "1", "1-1/4", "1-1/2", "2", "2-1/2", "3", "3-1/2", "4", "5", "6"):
        rigid = find_designation(edition, f"RMC {size}").dimensions["od"]
        assert rigid == find_pipe_size(edition, size).dimensions["od"]


@pytest.mark.parametrize(
    ("text", "families"),
    [("UB203x133x30", "EMT, HP, HSS"), ("3x3x1/4", "lumber such as 2X4"), ('2"x4"', "RMC")],
)
def test_an_unknown_family_hears_which_are_listed(
    edition: Edition, text: str, families: str
) -> None:
    with pytest.raises(UnknownDesignation, match=families):
        find_designation(edition, text)


@pytest.mark.parametrize(
    ("text", "nearest"),
    [
        ("HSS4x6x1/4", "HSS6X4X1/4"),
        ("L4x6x1/2", "L6X4X1/2"),
        ("L3x3x.26", "L3X3X1/4"),
        ("2x5", "2X4"),
        ("W9x31", "W8X31"),
        ("EMT 5", "EMT4"),
        ("pipe 7 std", "PIPE6STD"),
    ],
)
def test_the_nearest_is_of_the_same_family(edition: Edition, text: str, nearest: str) -> None:
    with pytest.raises(UnknownDesignation) as unknown:
        find_designation(edition, text)
    heads = {name[0] for name in unknown.value.nearest}
    assert nearest in unknown.value.nearest and len(heads) == 1


@pytest.mark.parametrize(
    ("text", "designation", "kind", "dimensions"),
    [
        ("L3x3x1/4", "L3X3X1/4", "angle", {"leg_a": 3, "leg_b": 3, "thickness": 0.25}),
        ("l 3 X 3 x .25", "L3X3X1/4", "angle", {"leg_a": 3, "leg_b": 3, "thickness": 0.25}),
        ("L6x4x1/2", "L6X4X1/2", "angle", {"leg_a": 6, "leg_b": 4, "thickness": 0.5}),
        (
            "L2 1/2 x 2 x 1/4",
            "L2-1/2X2X1/4",
            "angle",
            {"leg_a": 2.5, "leg_b": 2, "thickness": 0.25},
        ),
        ("w8x31", "W8X31", "i-section", W8X31),
        ("C6×8.2", "C6X8.2", "channel", C6X8),
        ("HSS6x4x1/4", "HSS6X4X1/4", "tube", {"width": 4, "depth": 6, "thickness": 0.233}),
        ("HSS4x0.250", "HSS4.000X0.250", "pipe", {"od": 4, "thickness": 0.233}),
        ("hss 4 x 3/16", "HSS4.000X0.188", "pipe", {"od": 4, "thickness": 0.174}),
        ("Pipe 4 STD", "PIPE4STD", "pipe", {"od": 4.5, "thickness": 0.237}),
        ("pipe 1-1/2 xs", "PIPE1-1/2XS", "pipe", {"od": 1.9, "thickness": 0.2}),
        ("NPS 24 XS", "PIPE24XS", "pipe", {"od": 24, "thickness": 0.5}),
        ('4" sch 40 pipe', "PIPE4SCH40", "pipe", {"od": 4.5, "thickness": 0.237}),
        ("pipe 4", "NPS 4", "pipe", {"od": 4.5}),
        ("EMT 1-1/4", "EMT1-1/4", "pipe", {"od": 1.51, "thickness": 0.065}),
        ("1 in rigid conduit", "RMC1", "pipe", {"od": 1.315, "thickness": 0.126}),
        ("2x4", "2X4", "bar", {"width": 1.5, "depth": 3.5}),
        ("6 x 6 lumber", "6X6", "bar", {"width": 5.5, "depth": 5.5}),
        ("angle 3 x 3 × 1/4", "L3X3X1/4", "angle", {"leg_a": 3, "leg_b": 3, "thickness": 0.25}),
    ],
)
def test_designations(
    edition: Edition, text: str, designation: str, kind: str, dimensions: dict[str, float]
) -> None:
    found = find_designation(edition, text)
    assert (found.designation, found.kind) == (designation, kind)
    assert dict(found.dimensions) == pytest.approx(dimensions)


def test_a_dimension_knows_where_it_comes_from(edition: Edition) -> None:
    traced = find_designation(edition, "L3x3x1/4").traced("leg_a")
    assert (traced.value, traced.unit) == (3.0, "in")
    assert traced.origin.where == "sections/angle-sizes: tables.sizes, L3X3X1/4"
    assert (traced.origin.kind, traced.origin.grade) == ("edition", "secondary")


def test_an_unlisted_designation_gets_the_nearest(edition: Edition) -> None:
    with pytest.raises(UnknownDesignation, match="is not on the lists") as unknown:
        find_designation(edition, "W8x30")
    assert "W8X31" in unknown.value.nearest


@pytest.mark.parametrize(
    "text",
    ["", "L", "4", "L3x3x1/0", "L3x3x", "W" * 5000, "L3x3x¼", "L²x3x1", "STD", "2x4x", "W8x31 STD"],
)
def test_what_is_no_designation(edition: Edition, text: str) -> None:
    with pytest.raises(UnknownDesignation) as unknown:
        find_designation(edition, text)
    assert len(str(unknown.value)) < 260


@pytest.mark.parametrize(
    ("text", "od"),
    [("4", 4.5), ("4 in", 4.5), ("NPS 4", 4.5), ('1-1/2"', 1.9), ("1.5", 1.9), ("10", 10.75)],
)
def test_nominal_pipe_sizes(edition: Edition, text: str, od: float) -> None:
    found = find_pipe_size(edition, text)
    assert (found.kind, found.dimensions["od"]) == ("pipe", od)


@pytest.mark.parametrize("text", ["7", "4.5", "", "four", "4 mm"])
def test_unlisted_pipe_sizes(edition: Edition, text: str) -> None:
    with pytest.raises(UnknownDesignation, match="or give od, the measured outside diameter"):
        find_pipe_size(edition, text)
