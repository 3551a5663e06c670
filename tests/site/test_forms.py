"""Forms that work offline say what the engine says."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from upstand.answer import answer
from upstand.edition import Edition, load
from upstand.formulas import REGISTER
from upstand.formulas.language.export import export as export_formula
from upstand.quantity.exported import Nodes
from upstand.quantity.shown import Speech
from upstand.quantity.traced import Traced, measured, trail
from upstand.query import read_requirements
from upstand_site.forms import DETAILS, FORMS, exported
from upstand_site.forms.details import with_sizes
from upstand_site.forms.model import Answered, Field, Form, Line
from upstand_site.forms.tree import FormFault, ask, export, probes

BY_ID = {form.id: form for form in FORMS}
#: Other draws than those that a form was written from.
SEED = 20

#: What the browser answers: [kind, [[sentence, {slot: [number, text]}]]] for each draw.
ANSWERED = """([form, pick, drawn]) => {
    const { answer, text } = upstandReckon;
    const each = (held, what) => Object.fromEntries(
        Object.entries(held).map(([name, slot]) => [name, what(slot)]));
    const both = (slot) => (Array.isArray(slot) ? [slot[0], text(slot)] : [null, slot]);
    return drawn.map((typed) => answer(form, pick, typed)).map((found) => found && [
        found[0],
        found[1].map(([says, slots]) => [says, each(slots, both)])]);
}"""


def test_numbers_are_the_editions(edition: Edition) -> None:
    dew = export(BY_ID["dew"], edition)["nodes"]
    assert 5.4 in dew  # 3 °C, stricter than 5 °F
    life = export(BY_ID["pot-life"], edition)
    assert {25.0, 70.0, 18.0, 20.0, 60.0, 80.0} <= set(filter(_is_number, life["nodes"]))
    assert "pmma" not in life["trees"], "its pot life goes by the dose, not by halving"
    assert 10.0 in export(BY_ID["volume"], edition)["nodes"]


def _is_number(node: object) -> bool:
    return isinstance(node, float)


@pytest.fixture(scope="module")
def forms(browser: Any, folder: Path) -> Any:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto((folder / "reckon.html").as_uri())
    yield page
    page.close()


@pytest.mark.browser
@pytest.mark.parametrize("id", BY_ID)
def test_browser_and_engine_answer_alike(forms: Any, edition: Edition, id: str) -> None:
    """Bit-equal without exp and log, else within 1e-12; kind, sentences and texts are the same."""
    form, write = BY_ID[id], Speech("us", no_break=True)
    for pick in form.picks(edition):
        drawn = list(probes(form, 300, SEED))
        theirs = forms.evaluate(
            ANSWERED,
            [id, pick, drawn],
        )
        answered = 0
        for typed, found in zip(drawn, theirs, strict=True):
            ours = ask(form, edition, typed, pick)
            if not ours.lines:
                assert found is None, typed
                continue
            answered += 1
            kind, lines = found
            assert (kind, [says for says, _ in lines]) == (ours.kind, [o.says for o in ours.lines])
            for (says, slots), line in zip(lines, ours.lines, strict=True):
                assert set(slots) == set(line.slots)
                for name, (value, text) in slots.items():
                    slot = line.slots[name]
                    if isinstance(slot, str):
                        assert text == slot
                        continue
                    traced, style = slot
                    same = (
                        traced.value if _exact(traced) else pytest.approx(traced.value, rel=1e-12)
                    )
                    assert value == same, (typed, says, name)
                    assert text == write.text(traced, style), (typed, says, name)
        assert answered > 150


@pytest.mark.parametrize("form", DETAILS, ids=lambda form: form.id)
def test_a_detail_of_any_size_is_the_whole_answers(edition: Edition, form: Form) -> None:
    """In a form's spans nothing is asked or held, and the numbers are those of the whole answer."""
    asked = form.answer.keywords["asked"]  # type: ignore[attr-defined]
    for typed in probes(form, 12, SEED):
        given = {field.name: field.given(typed[field.name]) for field in form.fields}
        whole = answer(with_sizes(read_requirements(asked, edition), given), edition)
        assert whole.verdict.state == "plan", typed
        told = [line for line in ask(form, edition, typed, "").lines if line.says[:5] == "need/"]
        assert [line.says for line in told] == [
            f"need/{m.record.path}" for m in whole.takeoff.materials
        ]
        for line, material in zip(told, whole.takeoff.materials, strict=True):
            ready = material.one.with_allowance
            assert ready is not None and line.slots["ready"][0] == ready


def _exact(traced: Traced) -> bool:
    behind = {each.origin.where for each in trail(traced)} & set(REGISTER)
    return all(export_formula(REGISTER[name])["exact"] for name in behind)


def test_an_older_edition_has_the_forms_that_it_can_fill() -> None:
    """What runs are split by came with a later one; nothing is said where it is not held."""
    assert set(exported(load("2026.1"))["forms"]) == {"dew", "pot-life", "volume", "film"}


def test_what_no_formula_computed_is_refused(edition: Edition) -> None:
    """A number that hangs on an input behind the formulas' back would be frozen in the browser."""
    side = Field("side", "in", 1.0, 9.0, (1.0, 9.0))

    def off_the_drawing(edition: Edition, given: Any, pick: str) -> Answered:
        area = measured(given["side"].value ** 2, "in^2", "outline as drawn")
        return Answered((), lines=[Line("give", {"area": (area, None)})])

    with pytest.raises(FormFault, match="one cause and differ"):
        export(Form("square", (side,), off_the_drawing), edition)


def test_answers_that_no_comparison_tells_apart_are_refused(edition: Edition) -> None:
    blind = replace(BY_ID["pot-life"], answer=lambda *asked: replace(life(*asked), tests=()))
    life = BY_ID["pot-life"].answer
    with pytest.raises(FormFault, match="one cause and differ"):
        export(blind, edition)


def test_equal_graphs_are_one(edition: Edition) -> None:
    form = BY_ID["volume"]
    nodes = Nodes({field.where: field.name for field in form.fields})
    places = {
        nodes.add(ask(form, edition, typed, "").lines[0].slots["allowed"][0])
        for typed in probes(form, 20)
    }
    assert len(places) == 1
    # area, film, need, allowance, what to have ready
    assert len(nodes.listed) == 5


# form, what is typed, what the answer has to say; by hand or from the engine's own answer
ANSWERS = [
    # the example's own weather: answered with a dew point of 54.9 °F and a margin of 23 °F
    ("dew", {"air": "72", "humidity": "55", "surface": "78"}, "54.9 °F, the surface 23 °F above"),
    ("dew", {"air": "72", "humidity": "85", "surface": "70"}, "HOLD"),
    # dry, far over the dew point, and too hot for any resin of the general system
    ("dew", {"air": "88", "humidity": "40", "surface": "120"}, "HOLD"),
    ("dew", {"air": "30", "humidity": "40", "surface": "40"}, "frost point"),
    # 25 min, 18 °F warmer than stated: 12.5 min; 20 % kept off: 10 min
    ("pot-life", {"material": "88"}, "pot life 12 min, plan on 10 min"),
    ("pot-life", {"material": "70"}, "Pot life 25 min. Plan on 20 min"),
    # colder never lengthens it
    ("pot-life", {"material": "61"}, "Pot life 25 min. Plan on 20 min"),
    # 100 ft² at 40 mil is 2.49351 gal; and 10 %: 2.74286
    (
        "volume",
        {"area": "100", "thickness": "40"},
        "2.49 gal; with the allowance for loss 2.74 gal",
    ),
    # 10 ft² at 40 mil is 31.917 fl oz
    ("volume", {"area": "10", "thickness": "40"}, "32 fl oz (0.249 gal)"),
    # 1 gal on 100 ft² is 16.0417 mil
    ("film", {"used": "1", "area": "100"}, "16 mil on average"),
    ("film", {"used": "0,5", "area": "100"}, "8 mil on average"),
]


@pytest.mark.browser
@pytest.mark.parametrize(("form", "typed", "says"), ANSWERS)
def test_a_form_answers(forms: Any, form: str, typed: dict[str, str], says: str) -> None:
    for name, text in typed.items():
        forms.fill(f"#{form}-{name}", text)
    told = forms.inner_text(f"#form-{form} output").replace("\u00a0", " ")
    assert says in told


@pytest.mark.browser
def test_wrong_input_says_what_would_be_right(forms: Any) -> None:
    for text, says in (("72 F or so", "plain number"), ("900", "from -60 °F to 200 °F"), ("", "")):
        forms.fill("#dew-air", text)
        told = forms.inner_text("#dew-air-fault").replace("\u00a0", " ")
        assert says in told
        assert bool(told) is bool(text)
        assert forms.inner_text("#form-dew output") == ""
