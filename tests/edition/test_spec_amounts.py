"""Amounts as data writes them."""

from __future__ import annotations

import pytest

from upstand.edition.amounts import AmountFault, amount, amount_in, write


@pytest.mark.parametrize(
    ("text", "number", "unit"),
    [
        ("8 in", 8.0, "in"),
        ("8 1/2 in", 8.5, "in"),
        ("1/4 in", 0.25, "in"),
        ("0.25 gal", 0.25, "gal"),
        ("-5 degF", -5.0, "degF"),
        ("5.4 delta_degF", 5.4, "delta_degF"),
        ("150 ft^2/gal", 150.0, "ft^2/gal"),
        ("165 g/m^2", 165.0, "g/m^2"),
        ("30 percent", 30.0, "percent"),
        (24, 24.0, "1"),
        (0.5, 0.5, "1"),
    ],
)
def test_reads(text: object, number: float, unit: str) -> None:
    assert amount(text) == (number, unit)


@pytest.mark.parametrize(
    "text",
    [
        "8",
        "8in",
        "8  in",
        "8 in ",
        "8 inches",
        "8 1/0 in",
        "1/2/3 in",
        "1e3 in",
        "72 F",
        "40 %",
        "٨ in",
        "",
        "in",
        "8 1/2",
        "9999999999999 in",
        True,
        None,
        ["8 in"],
    ],
)
def test_refuses(text: object) -> None:
    with pytest.raises(AmountFault):
        amount(text)


def test_converts() -> None:
    assert amount_in("1 ft", "in") == 12.0
    assert amount_in("1 gal", "in^3") == 231.0  # exact by definition
    assert amount_in("4 degC", "degF") == pytest.approx(39.2, abs=1e-9)  # 4 * 1.8 + 32
    with pytest.raises(ValueError, match=r"gal|volume"):
        amount_in("1 gal", "in")


@pytest.mark.parametrize("text", ["8 in", "0.25 gal", "5.4 delta_degF", "-5 degF"])
def test_writes_what_it_reads(text: str) -> None:
    assert write(*amount(text)) == text
