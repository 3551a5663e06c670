"""A table of details as a spreadsheet saves it: what is read, and each bad cell by its place."""

from __future__ import annotations

import csv
from io import StringIO

import pytest

from upstand.edition import Edition
from upstand.query.detail_columns import template
from upstand.query.detail_table import TableFaults, read_take_off_table
from upstand.query.takeoff import TakeOffQuery

HEAD = "id,count,detail,roof,member,height\r\n"
POST = "post-1,2,post,tpo,tube 4x4x1/4 in in carbon-steel,8 in\r\n"


def read(text: str | bytes, edition: Edition) -> TakeOffQuery:
    content = text if isinstance(text, bytes) else text.encode("utf-8")
    return read_take_off_table(content, {}, edition)


def faults(text: str | bytes, edition: Edition) -> list[tuple[int, str, str]]:
    with pytest.raises(TableFaults) as caught:
        read(text, edition)
    return [(fault.row, fault.column, fault.detail) for fault in caught.value.faults]


def test_a_row_is_a_detail(edition: Edition) -> None:
    (one,) = read(HEAD + POST, edition).details
    assert (one.id, one.count, one.query.detail) == ("post-1", 2, "post")
    assert one.query.sizes["height"].value == 8.0
    (member,) = one.query.members
    assert (member.section, member.substrate) == ("tube", "carbon-steel")
    assert member.dimensions["thickness"].value == 0.25


def test_a_byte_order_mark_semicolons_tabs_and_empty_rows_change_nothing(edition: Edition) -> None:
    plain = HEAD + POST
    for text in ("\ufeff" + plain, plain.replace(",", ";"), plain.replace(",", "\t"),
                 "\r\n" + plain + ",,,,,\r\n", plain.replace("\r\n", "\n")):  # fmt: skip
        assert read(text, edition).details == read(plain, edition).details


def test_designation_and_substrate_are_a_member(edition: Edition) -> None:
    table = "id,detail,roof,designation,substrate\nleg,post,tpo,W6x15,carbon-steel\n"
    (one,) = read(table, edition).details
    assert one.query.members[0].designation == "W6X15"


def test_riser_and_sill_are_sizes_or_materials(edition: Edition) -> None:
    """In a column of both names a size begins with a number."""
    table = (
        "id,detail,roof,length,riser,sill,riser material,Sill_Material,jamb,wall\n"
        "door,threshold,tpo,40 in,4 in,5 in,concrete,concrete,concrete,cmu\n"
    )
    (one,) = read(table, edition).details
    assert (one.query.sizes["riser"].value, one.query.sizes["sill"].value) == (4.0, 5.0)
    assert {(s.part, s.substrate) for s in one.query.surfaces} == {
        ("riser", "concrete"), ("sill", "concrete"), ("jamb", "concrete"), ("wall", "cmu"),
    }  # fmt: skip


def test_every_kind_of_detail_has_a_template_that_is_read(edition: Edition) -> None:
    for detail in edition.kind("details"):
        held = StringIO()
        csv.writer(held).writerows(template(detail, edition))
        (one,) = read(held.getvalue(), edition).details
        assert one.query.detail == detail


@pytest.mark.parametrize(
    ("cell", "column", "said"),
    [
        ('"8,5 in"', "height", "a decimal is written with a point"),
        ("8", "height", "inches or millimeters?"),
        ("0 in", "height", "can't be used"),
        ("-8 in", "height", "can't be negative"),
        ("=8", "height", "does not start with a number"),
    ],
)
def test_a_bad_size_is_named_by_row_and_column(
    cell: str, column: str, said: str, edition: Edition
) -> None:
    row = f"post-2,1,post,tpo,rod 1 in in carbon-steel,{cell}\r\n"
    (found,) = faults(HEAD + POST + row, edition)
    assert found[:2] == (3, column)
    assert said in found[2]


def test_every_bad_cell_is_told_at_once(edition: Edition) -> None:
    rows = (
        HEAD + POST + "post-1,x,post,tpo,tub 4x4,8 in\r\n"
        "b,1,pst,tpo,tube 4x4x1/4 in in tin,8 in\r\n"
        "c,1,post,tpo,tube 4x4x1/4 in in carbon-steel,8 in,9 in\r\n"
    )
    places = {(row, column) for row, column, _ in faults(rows, edition)}
    assert {(3, "id"), (3, "count"), (3, "member"), (4, "detail"), (5, "column 7")} <= places
    assert not any(row in (0, 1, 2) for row, _ in places)


def test_a_name_that_stands_twice_tells_where_the_other_is(edition: Edition) -> None:
    assert faults(HEAD + POST + "\r\n" + POST, edition) == [
        (4, "id", "stands twice: row 2 has it too")
    ]


@pytest.mark.parametrize(
    ("content", "row", "said"),
    [
        (b"", 0, "is empty"),
        (b"id,detail\r\n", 0, "holds no detail"),
        ((HEAD + POST).encode("utf-16"), 0, "UTF-16"),
        (HEAD.encode() + "puerta-ñ,1,post".encode("cp1252"), 2, "0xf1 is no UTF-8"),
        (b"id,detail,hieght\r\na,post,8 in\r\n", 1, "did you mean height?"),
        (b"id,detail,height,Height\r\na,post,8 in,\r\n", 1, "stands twice"),
        (b"id,roof\r\na,tpo\r\n", 1, "every table has id and detail"),
        (b"id,detail\r\na,po\0st\r\n", 2, "NUL"),
        (b'id,detail\r\n"a,post\r\n', 0, "can't be read as a table"),
        (b"x" * 1_100_000, 0, "is over 1,024 KB"),
        ((HEAD + "".join(f"p{n}{POST[6:]}" for n in range(501))).encode(), 0, "the most is 500"),
    ],
)
def test_a_table_that_cant_be_read_says_why(
    content: bytes, row: int, said: str, edition: Edition
) -> None:
    (found,) = faults(content, edition)
    assert found[0] == row
    assert said in found[2]
