"""Numbers printed in the built handbook are the engine's, to the last digit."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from upstand.answer import answer
from upstand.document.requirements import write
from upstand.edition import Edition
from upstand.edition.source import Source
from upstand.query import read_requirements
from upstand.scene import question
from upstand_site.context import Context
from upstand_site.examples import example_of, load_samples, sizes_of
from upstand_site.labels import load_labels
from upstand_site.markdown import join_units
from upstand_site.pages.grades import count_grades

Read = Callable[[str], Any]
FOLDERS = {"en": "", "es": "es/"}


def plain(text: str) -> str:
    return text.replace("\u00a0", " ").replace("\u2060", "").strip()


def put(body: dict[str, Any], lang: str, edition: Edition) -> dict[str, Any]:
    asked = {**body, "lang": lang}
    return write(answer(read_requirements(asked, edition), edition))


def tables(page: Any, first: str) -> list[list[Any]]:
    """Rows of tables whose first column has a name."""
    return [row for row in page.rows if row and row[0].label == first]


@pytest.mark.parametrize("lang", FOLDERS)
def test_quantities_are_what_the_engine_answers_to_each_size(
    lang: str, edition: Edition, pages: dict[str, str], read: Read
) -> None:
    """Every size of every detail, put to the engine here again: amounts, packs, tape, pieces."""
    label, checked = load_labels(lang), 0
    context = Context(edition, lang, label, load_samples())
    for id, detail in edition.kind("details").items():
        page = read(pages[f"{FOLDERS[lang]}details/{id}.html"])
        shown = [row for row in page.rows if len(row) == 2 and row[1].label == label("head.need")]
        sizes = [each for each in sizes_of(context, detail) if each.example.document["fleece"]]
        for size in sizes:
            document = put(dict(size.example.body), lang, edition)
            name = plain(join_units(size.name[lang]))
            rows = [r for r in shown if plain(r[0].label) == name]
            cells = {plain(row[0].text): plain(row[1].text) for row in rows}
            for material in document["materials"]:
                if material["with_allowance"] is None:
                    continue
                kind, text = material["kind"], material["with_allowance"]["text"]
                known = kind in ("resin", "fleece", "tape")
                title = label(f"head.{kind}") if known else material["name"].partition(",")[0]
                small = re.search(r"([\d.,]+ fl oz)", text)
                amount, _, packs = cells[plain(title)].partition("; ")
                assert amount in (text, small and small[1]), (id, name)
                wanted = [
                    f"{pack['count']} × {pack['name'].partition(', ')[2] or pack['name']}"
                    for pack in material["packs"]
                ]
                assert packs == ", ".join(wanted), (id, name)
            shown_pieces = cells[plain(label("head.pieces-cut"))].split("\n")
            for piece in document["fleece"]["pieces"]:
                what = f"{piece['label']}, {piece['width']['text']} × {piece['length']['text']}"
                line = next(each for each in shown_pieces if each.endswith(f" × {what}"))
                letters, count = line.removesuffix(f" × {what}").rsplit(" ", 1)
                alike = [
                    p
                    for p in document["fleece"]["pieces"]
                    if (p["label"], p["width"], p["length"])
                    == (piece["label"], piece["width"], piece["length"])
                ]
                assert int(count) == sum(p["count"] for p in alike), (id, name)
                named = [p["letter"] for p in alike]
                assert letters in (", ".join(named), f"{named[0]}–{named[-1]}"), (id, name)
            tape = [
                f"{m['width']['text']} × {m['length']['text']}" for m in document["masking"]["flat"]
            ]
            assert cells[label("head.mask")] == ", ".join(tape), (id, name)
            checked += 1
    assert checked >= 60


@pytest.mark.parametrize("lang", FOLDERS)
def test_steps_are_the_engines_own(
    lang: str, edition: Edition, pages: dict[str, str], read: Read
) -> None:
    """Each step's sentence and each hold point, as answered to the worked example, in order."""
    body = question("screen-post")
    text = plain(read(pages[f"{FOLDERS[lang]}details/post.html"]).text)
    text = " ".join(text.split())
    at = 0
    steps = put(body, lang, edition)["steps"]
    assert len(steps) > 15
    for step in steps:
        for sentence in (step["text"], *(hold["text"] for hold in step["holds"])):
            wanted = " ".join(plain(sentence).split())
            if step["primer"] and sentence is not step["text"]:  # its name begins the step
                wanted = wanted.partition(": ")[2]
                wanted = wanted[:1].upper() + wanted[1:]
            # pieces stand with the sizes: the step says so in place of their list
            for part in re.split(r"(?:[A-Z]\d[^.;]*; )+[A-Z]\d[^.;]*", wanted):
                at = text.find(part, at)
                assert at >= 0, part


@pytest.mark.parametrize("lang", FOLDERS)
def test_every_caution_is_told_in_full(
    lang: str, edition: Edition, pages: dict[str, str], read: Read
) -> None:
    """In few words at the head, and what is done about it in full at a step, never a click off."""
    context, told = Context(edition, lang, load_labels(lang), load_samples()), 0
    for id, detail in edition.kind("details").items():
        text = " ".join(plain(read(pages[f"{FOLDERS[lang]}details/{id}.html"]).text).split())
        for caution in example_of(context, detail).answer.cautions:
            measure = " ".join(plain(join_units(caution.record.text("measure", lang))).split())
            assert text.count(measure) == 1, (id, caution.record.id)
            told += 1
    assert told > 150


def test_times_by_temperature_are_the_engines(
    edition: Edition, pages: dict[str, str], read: Read
) -> None:
    """pu-2k is 25 to 30 min at 70 °F; 18 °F warmer halves it, colder never lengthens it."""
    rows = {
        plain(row[0].text): {cell.label: plain(cell.text) for cell in row}
        for row in tables(read(pages["resins/pu-2k.html"]), "Temperature")
    }
    assert set(rows) == {f"{t} °F" for t in (40, 50, 60, 70, 80, 90)}
    pot_life = next(name for name in rows["70 °F"] if "ot life" in name)
    assert rows["70 °F"][pot_life] == rows["50 °F"][pot_life] == "25–30 min"
    # 25 / 2 ** (20 / 18) = 11.57, 30 / 2 ** (20 / 18) = 13.89, rounded down
    assert rows["90 °F"][pot_life] == "11–13 min"
    watertight = next(name for name in rows["70 °F"] if "atertight" in name)
    # a wait never shrinks below what is stated, and grows in the cold: 2 h * 2 ** (30 / 18)
    # is 6 h 20.9 min, twice that 12 h 41.9 min: up to the next half hour
    assert rows["90 °F"][watertight] == rows["70 °F"][watertight] == "2–4 h"
    assert rows["40 °F"][watertight] == "6 h 30 min – 13 h"


def test_dew_points_are_what_a_general_library_gives(pages: dict[str, str], read: Read) -> None:
    """psychrolib gives dew points above freezing; the page may be 0.1 °F up for its rounding."""
    psychrolib = pytest.importorskip("psychrolib")
    psychrolib.SetUnitSystem(psychrolib.IP)
    seen = 0
    for row in tables(read(pages["weather.html"]), "Air"):
        air = float(plain(row[0].text).split()[0])
        for cell in row[1:]:
            humidity = float(plain(cell.label).split()[0]) / 100.0
            shown = plain(cell.text)
            if "frost" in shown:
                continue
            expected = psychrolib.GetTDewPointFromRelHum(air, humidity)
            assert float(shown.split()[0]) == pytest.approx(expected, abs=0.17)
            seen += 1
    assert seen > 25


def test_a_gallon_at_40_mil_covers_40_square_feet(pages: dict[str, str], read: Read) -> None:
    """231 in³ / 0.040 in / 144 = 40.10 ft²; 25 mil: 64.17 ft²."""
    text = plain(read(pages["resins/pu-2k.html"]).text)
    assert "40.1 sq ft/gal" in text
    assert "64.2 sq ft/gal" in text


def test_counts_by_grade_are_the_data_checks_own(
    edition: Edition, frozen_root: Path, pages: dict[str, str], read: Read
) -> None:
    counted = count_grades(edition)
    checked = Source.read(frozen_root).counts()
    for kind, row in counted.items():
        assert row == {grade: checked[kind][grade] for grade in row}, kind
    total = sum(sum(row.values()) for row in counted.values())
    text = plain(read(pages["grades.html"]).text)
    assert f"{total:,} values and rules" in text
    rows = tables(read(pages["grades.html"]), "Kind")
    assert plain(rows[-1][-1].text) == str(total)
    for row in rows:
        numbers = [int(plain(cell.text)) for cell in row[1:]]
        assert sum(numbers[:-1]) == numbers[-1]
