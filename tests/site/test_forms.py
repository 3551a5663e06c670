"""Forms that work offline give what the engine gives."""

from __future__ import annotations

import random
from pathlib import Path
from typing import Any

import pytest

from upstand.edition import Edition
from upstand.formulas import REGISTER
from upstand.formulas.language.evaluate import evaluate
from upstand.formulas.language.export import export
from upstand_site.forms import FORMULAS, numbers_of

SPANS = {
    "air": (20.0, 110.0),
    "humidity": (5.0, 100.0),
    "surface": (20.0, 140.0),
    "dew": (0.0, 90.0),
    "temperature": (35.0, 110.0),
    "at": (60.0, 80.0),
    "step": (18.0, 18.0),
}


def test_numbers_are_the_editions(edition: Edition) -> None:
    held = numbers_of(edition)
    assert held["margin"] == pytest.approx(5.4)  # 3 °C, stricter than 5 °F
    assert held["step"] == 18.0
    assert held["kept"] == 20.0
    assert held["allowance"] == 10.0
    assert held["resins"]["pu-2k"] == {"low": 25.0, "at": 70.0, "store": [60.0, 80.0]}
    assert "pmma" not in held["resins"], "its pot life goes by the dose, not by halving"


@pytest.fixture(scope="module")
def forms(browser: Any, folder: Path) -> Any:
    page = browser.new_page(viewport={"width": 390, "height": 844})
    page.goto((folder / "reckon.html").as_uri())
    yield page
    page.close()


@pytest.mark.browser
def test_browser_and_engine_compute_alike(forms: Any) -> None:
    """Bit-equal without exp and log, else within 1e-12; 100 cases a formula, the same each run."""
    luck = random.Random(7)
    for name in FORMULAS:
        formula = export(REGISTER[name])
        cases = [
            {
                p["name"]: luck.uniform(*SPANS.get(p["name"], (0.1, 500.0)))
                for p in formula["parameters"]
            }
            for _ in range(100)
        ]
        theirs = forms.evaluate(
            "([name, cases]) => cases.map((one) => upstandReckon(name, one))", [name, cases]
        )
        for case, found in zip(cases, theirs, strict=True):
            ours = evaluate(formula, case)
            if formula["exact"]:
                assert found == ours, (name, case)
            else:
                assert found == pytest.approx(ours, rel=1e-12), (name, case)


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
