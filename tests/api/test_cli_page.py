"""The page: wrapping, tables, colour, and terminals that have few signs."""

from __future__ import annotations

import io

import pytest

from upstand_api.cli.paper import NARROWEST, WIDEST, Paper, Screen


class Terminal(io.StringIO):
    def isatty(self) -> bool:
        return True


def page(width: int = 60, **screen: object) -> Paper:
    return Paper(Screen(width, **screen))  # type: ignore[arg-type]


def test_paragraphs_hang_under_the_end_of_their_lead() -> None:
    paper = page(30)
    paper.para("clean, dry and sound all the way round", 2, "Until: ")
    assert paper.text() == "  Until: clean, dry and sound\n         all the way round\n"


def test_a_number_stays_with_its_unit() -> None:
    paper = page(12)
    paper.para("the lap is 2\u00a0in wide")
    assert paper.text() == "the lap is\n2 in wide\n"


def test_a_table_wraps_its_last_column() -> None:
    paper = page(40)
    paper.table(("Surface", "Primer"), [("TPO sheet", "Thermoplastic sheet primer, one-part")])
    assert paper.text() == (
        "  Surface    Primer\n  TPO sheet  Thermoplastic sheet primer,\n             one-part\n"
    )


def test_a_table_that_does_not_fit_becomes_paragraphs() -> None:
    paper = page(40)
    paper.table(("Coat", "Area", "Volume"), [("a" * 30, "1.8 sq ft", "0.0449 gal (5.8 fl oz)")])
    text = paper.text()
    assert "Coat:\n" in text and "Volume: 0.0449 gal" in text
    assert max(len(line) for line in text.splitlines()) <= 40


def test_colour_is_for_terminals_only(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    assert Screen.here(Terminal()).colour
    assert not Screen.here(io.StringIO()).colour
    monkeypatch.setenv("NO_COLOR", "1")
    assert not Screen.here(Terminal()).colour
    monkeypatch.delenv("NO_COLOR")
    monkeypatch.setenv("TERM", "dumb")
    assert not Screen.here(Terminal()).colour


def test_colour_leaves_the_words_as_they_are() -> None:
    plain, coloured = page(), page(colour=True)
    for paper in (plain, coloured):
        paper.para("do not start", 0, "HOLD: ", bold=True, fg="red")
    assert plain.text() == "HOLD: do not start\n"
    assert coloured.text() == "\x1b[31m\x1b[1mHOLD: \x1b[0mdo not start\n"


@pytest.mark.parametrize(("columns", "width"), [("200", WIDEST), ("60", 60), ("10", NARROWEST)])
def test_the_width_is_the_terminal_s_within_bounds(
    columns: str, width: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    assert Screen.here(io.StringIO()).width == width


def test_a_terminal_with_few_signs_gets_plain_ones() -> None:
    paper = page(encoding="ascii")
    paper.para("16\u00a0in × 12\u00a0in at 72\u00a0°F, 2–4\u00a0h")
    assert paper.text() == "16 in x 12 in at 72 deg F, 2-4 h\n"
