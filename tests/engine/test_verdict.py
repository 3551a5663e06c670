"""Go, hold or ask, at the edges of every limit."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from typing import Any

import pytest

from upstand.answer import Answer
from upstand.document.requirements import write
from upstand.edition import Edition
from upstand.query.faults import QueryFaults
from upstand.verdict.model import Reason, decide
from upstand.words.model import Sentence

Ask = Callable[..., Answer]
FAIR = {"air": "72 F", "surface": "78 F", "humidity": "55 %", "material": "70 F"}


def reasons(answer: Answer) -> list[str]:
    return [reason.id for reason in answer.verdict.reasons]


def text_of(answer: Answer, id: str) -> str:
    found = next(r for r in write(answer)["verdict"]["reasons"] if r["id"] == id)
    return str(found["text"]).replace("\u00a0", " ")


def quantities(document: dict[str, Any]) -> dict[str, Any]:
    """What does not hang on the weather; packs do, by the material's temperature."""
    whole = {name: document[name] for name in ("surfaces", "coats", "fleece", "masking")}
    for place, materials in (
        ("one", document["materials"]),
        ("all", document["totals"]["materials"]),
    ):
        whole[place] = {m["id"]: (m["need"], m["with_allowance"]) for m in materials}
    return whole


def test_the_example_goes(ask: Ask) -> None:
    document = write(ask())
    assert document["verdict"] == {"state": "go", "reasons": [], "ask": None}


# At 100 % the dew point is the air, so the margin is surface less air.
@pytest.mark.parametrize(
    ("surface", "state"),
    [
        ("75.2 F", "hold"), ("75.39 F", "hold"), ("75.4 F", "go"), ("75.5 F", "go"),
        ("70 F", "hold"), ("69 F", "hold"),
    ],
)  # fmt: skip
def test_the_margin_over_the_dew_point(ask: Ask, surface: str, state: str) -> None:
    """5 °F and 3 °C (5.4 °F): the stricter counts, and is said."""
    answer = ask(now={"air": "70 F", "surface": surface, "humidity": "100 %", "material": "70 F"})
    assert answer.verdict.state == state
    if state == "hold":
        assert reasons(answer) == ["limits/dew-point-margin"]
        said = text_of(answer, "limits/dew-point-margin")
        assert "5.4 °F" in said and "70 °F" in said
        assert answer.verdict.reasons[0].clears


def test_a_margin_is_told_to_the_safe_side(ask: Ask) -> None:
    """5.39 is told as 5.3, never as the 5.4 it would then seem to keep."""
    now = {"air": "70 F", "surface": "75.39 F", "humidity": "100 %", "material": "70 F"}
    answer = ask(now=now)
    said = text_of(answer, "limits/dew-point-margin")
    assert "5.3 °F" in said and said.count("5.4 °F") == 1
    margin = write(answer)["conditions"]["margin"]
    assert margin["text"].replace("\u00a0", " ") == "5.3 °F"
    assert margin["value"] == pytest.approx(5.39)


def magnus(air_degf: float, humidity: float, a: float, b: float) -> float:
    """Temperature at which the vapour of the air saturates: over water or, by a and b, over ice."""
    celsius = (air_degf - 32) / 1.8
    vapour = math.log(humidity / 100) + 17.62 * celsius / (243.12 + celsius)
    return 32 + 1.8 * b * vapour / (a - vapour)


@pytest.mark.parametrize(
    ("air", "humidity", "kind", "point"),
    [
        # published beside one another: Magnus over water 8.56 °F; over ice 11.1 °F
        (30, 40, "frost", 11.139),
        (20, 100, "frost", 21.381),  # over the air itself
        (50, 40, "frost", 27.236),  # whatever the air
        (72, 55, "dew", 54.945),
        (32, 100, "frost", 32.0),
        (33, 100, "dew", 33.0),
        (-20, 70, "frost", magnus(-20, 70, 22.46, 272.62)),
    ],
)
def test_dew_or_frost(ask: Ask, air: float, humidity: float, kind: str, point: float) -> None:
    a, b = (17.62, 243.12) if kind == "dew" else (22.46, 272.62)
    assert magnus(air, humidity, a, b) == pytest.approx(point, abs=0.001)
    surface = 80.0 if air > 40 else 60.0
    now = {"air": f"{air} F", "surface": f"{surface} F", "humidity": f"{humidity} %"}
    conditions = write(ask(now=now))["conditions"]
    assert conditions["kind"] == kind
    assert conditions["dew_point"]["value"] == pytest.approx(point, abs=0.001)
    assert conditions["margin"]["value"] == pytest.approx(surface - point, abs=0.001)


def test_frost_holds(ask: Ask) -> None:
    """Methacrylate is applied from 23 °F; at 30 °F and 80 % the frost point is 25.4 °F."""
    # ln 0.8 - 0.0809 = -0.3040; 272.62 × -0.3040 / (22.46 + 0.3040) = -3.641 °C
    point = magnus(30, 80, 22.46, 272.62)
    assert point == pytest.approx(25.446, abs=0.001)
    for above, held in ((5.3, True), (5.5, False)):
        now = {
            "air": "30 F", "surface": f"{point + above:.3f} F", "humidity": "80 %",
            "material": "70 F",
        }  # fmt: skip
        answer = ask(resin="pmma", now=now)
        assert ("limits/dew-point-margin" in reasons(answer)) is held
        if held:
            assert "frost point" in text_of(answer, "limits/dew-point-margin")


@pytest.mark.parametrize(
    ("now", "missing"),
    [
        (
            {"wind": "5 mph"},
            {"limits/application-air", "limits/application-surface", "limits/dew-point-margin"},
        ),
        ({"air": "72 F"}, {"limits/application-surface", "limits/dew-point-margin"}),
        (
            {"air": "72 F", "humidity": "55 %", "material": "70 F"},
            {"limits/application-surface", "limits/dew-point-margin"},
        ),
        ({"air": "72 F", "surface": "78 F"}, {"limits/dew-point-margin"}),
        ({"air": "72 F", "surface": "78 F", "humidity": "0 %"}, {"limits/dew-point-margin"}),
    ],
    ids=lambda each: str(sorted(each) if isinstance(each, set) else each),
)
def test_never_go_on_what_is_not_known(ask: Ask, now: Any, missing: set[str]) -> None:
    answer = ask(now=now)
    assert answer.verdict.state == "ask"
    assert set(reasons(answer)) == missing
    document = write(answer)
    assert document["verdict"]["ask"]["whom"]
    assert len(document["verdict"]["ask"]["facts"]) >= 2
    for reason in document["verdict"]["reasons"]:
        assert reason["whom"] and len(reason["facts"]) >= 2 and reason["clears"]
    assert quantities(document) == quantities(write(ask()))


@pytest.mark.parametrize("now", [None, {}], ids=str)
def test_without_any_reading_it_is_a_plan(ask: Ask, now: Any) -> None:
    document = write(ask(now=now))
    assert document["verdict"]["state"] == "plan"
    [reason] = document["verdict"]["reasons"]
    assert reason["id"] == "now" and reason["state"] == "plan"
    for reading in ("air", "humidity", "surface", "material"):
        assert reading in reason["clears"]
    assert quantities(document) == quantities(write(ask()))
    assert [s["activity"] for s in document["steps"]] == [
        s["activity"] for s in write(ask())["steps"]
    ]


def test_hold_and_ask_come_before_a_plan(ask: Ask) -> None:
    assert ask(now=None, height="4 in").verdict.state == "ask"
    assert ask(now={"wet": True}).verdict.state == "hold"


def test_the_surface_is_never_taken_from_the_air(ask: Ask) -> None:
    conditions = write(ask(now={"air": "72 F", "humidity": "55 %"}))["conditions"]
    assert conditions["margin"] is None
    assert conditions["dew_point"]["value"] == pytest.approx(54.945, abs=0.001)


@pytest.mark.parametrize(
    ("height", "state"),
    [
        ("7.99 in", "ask"),
        ("4 in", "ask"),
        ("8 in", "go"),
        ("203.2 mm", "go"),
        ("200 mm", "go"),
        ("20 cm", "go"),
        ("199 mm", "ask"),
    ],
)
def test_height_under_the_minimum(ask: Ask, height: str, state: str) -> None:
    assert ask(height=height).verdict.state == state


def test_a_low_height_asks_the_designer_and_counts_whole(ask: Ask) -> None:
    answer = ask(height="4 in")
    document = write(answer)
    assert reasons(answer) == ["limits/upright-height"]
    assert "designer" in document["verdict"]["ask"]["whom"]
    assert len(document["verdict"]["ask"]["facts"]) >= 2
    said = text_of(answer, "limits/upright-height")
    assert "4 in" in said and "8 in" in said
    # girth 12: upright 12 × 4.5, zone 165 - 1.4375 + 12 × 4, wrap 6 × 14
    upright = next(s for s in document["surfaces"] if s["orientation"] == "upright")
    assert upright["area"]["value"] * 144 == pytest.approx(54)
    assert document["fleece"]["zone"]["value"] * 144 == pytest.approx(211.5625)
    wrap = next(p for p in document["fleece"]["pieces"] if p["kind"] == "wrap")
    assert (wrap["width"]["value"], wrap["length"]["value"]) == (6, 14)
    assert all(m["need"] for m in document["materials"] if m["kind"] in ("resin", "primer"))


@pytest.mark.parametrize(
    ("name", "edge", "over"),
    [
        ("air", "40 F", "39.9 F"),
        ("air", "90 F", "90.1 F"),
        ("surface", "40 F", "39.9 F"),
        ("surface", "90 F", "90.1 F"),
    ],
)
def test_weather_outside_the_range_is_held_with_the_limit_named(
    ask: Ask, name: str, edge: str, over: str
) -> None:
    dry = {"air": "60 F", "surface": "60 F", "humidity": "5 %", "material": "70 F"}
    assert ask(now={**dry, name: edge}).verdict.state == "go"
    answer = ask(now={**dry, name: over})
    assert answer.verdict.state == "hold"
    assert reasons(answer) == [f"limits/application-{name}"]
    assert "40–90 °F" in text_of(answer, f"limits/application-{name}")
    assert quantities(write(answer)) == quantities(write(ask()))


def test_a_range_is_the_products_own(ask: Ask) -> None:
    """At 93 °F one-part resin itself may go (to 100), its primers may not (to 90)."""
    now = {"air": "93 F", "surface": "93 F", "humidity": "36 %", "material": "70 F"}
    said = text_of(ask(resin="pu-1k", now=now), "limits/application-air")
    assert "40–90 °F" in said and "primer" in said.lower() and "olyurethane" not in said


@pytest.mark.parametrize(
    ("material", "state"),
    [
        ("60 F", "go"), ("80 F", "go"), ("59.9 F", "hold"), ("85 F", "go"), ("90 F", "go"),
        ("90.1 F", "hold"), (None, "go"),
    ],
)  # fmt: skip
def test_material_outside_60_to_90_is_held(ask: Ask, material: str | None, state: str) -> None:
    now = {k: v for k, v in {**FAIR, "material": material}.items() if v is not None}
    answer = ask(now=now)
    assert answer.verdict.state == state
    assert reasons(answer) == (["limits/storage-temperature"] if state == "hold" else [])


def test_held_material_still_has_its_times(ask: Ask) -> None:
    document = write(ask(now={**FAIR, "material": "85 F"}))
    times = {t["id"]: t for t in document["times"]}
    half = 2 ** (-15 / 18)
    assert times["pot-life/pu-2k"]["low"]["value"] == pytest.approx(25 * half)
    assert times["pot-life/pu-2k"]["high"]["value"] == pytest.approx(30 * half)
    assert times["pot-life/pu-2k"]["at"]["value"] == 85
    assert quantities(document) == quantities(write(ask()))


@pytest.mark.parametrize(
    ("changed", "state", "id"),
    [
        ({"wet": True}, "hold", "limits/dry-surface"),
        ({"wet": False}, "go", ""),
        ({"wind": "25 mph"}, "go", ""),
        ({"wind": "25.1 mph"}, "hold", "limits/wind"),
        ({"wind": "41 km/h"}, "hold", "limits/wind"),
        ({"rain_chance": "29.9 %"}, "go", ""),
        ({"rain_chance": "30 %"}, "hold", "limits/rain"),
        ({"rain_chance": "0 %"}, "go", ""),
    ],
    ids=str,
)
def test_wet_wind_and_rain(ask: Ask, changed: dict[str, Any], state: str, id: str) -> None:
    answer = ask(now={**FAIR, **changed})
    assert answer.verdict.state == state
    assert reasons(answer) == ([id] if id else [])
    stands = {c.id for c in answer.verdict.confirm}
    name = {"wet": "limits/dry-surface", "wind": "limits/wind", "rain_chance": "limits/rain"}
    for field, limit in name.items():
        assert (limit in stands) is (field not in changed), "what is not told is confirmed"


def test_without_a_forecast_rain_and_dew_later_are_confirmed(ask: Ask) -> None:
    confirm = {c["id"]: c["text"] for c in write(ask())["confirm"]}
    assert "rain" in confirm["limits/rain"].lower()
    assert "dew point" in confirm["limits/rain"]


def test_what_a_question_cannot_tell_stands_to_be_confirmed(ask: Ask) -> None:
    stands = {c.id for c in ask().verdict.confirm}
    for check in ("insulation-dry", "sheet-maker-accepts", "surface-sound"):
        assert f"checks/{check}" in stands
    assert ask().verdict.state == "go"


@pytest.mark.parametrize(
    ("humidity", "state"), [("34.9 %", "hold"), ("35 %", "ask"), ("36 %", "ask")]
)
def test_one_part_resin_needs_humidity(ask: Ask, humidity: str, state: str) -> None:
    """It asks about its greatest pass anyway; dry air holds it besides."""
    answer = ask(resin="pu-1k", now={**FAIR, "humidity": humidity})
    assert answer.verdict.state == state
    assert ("limits/humidity-for-cure" in reasons(answer)) is (state == "hold")


def test_hold_beats_ask_and_all_reasons_are_listed(ask: Ask) -> None:
    answer = ask(height="6 in", now={**FAIR, "wet": True, "material": "91 F"})
    assert answer.verdict.state == "hold"
    assert set(reasons(answer)) == {
        "limits/dry-surface", "limits/storage-temperature", "limits/upright-height",
    }  # fmt: skip
    states = [r.state for r in answer.verdict.reasons]
    assert states == ["hold", "hold", "ask"]
    ask_part = write(answer)["verdict"]["ask"]
    assert "designer" in ask_part["whom"] and len(ask_part["facts"]) >= 2


def test_decide() -> None:
    one, two, said = Sentence("fact-photo"), Sentence("fact-sizes"), Sentence("no-time")
    hold = Reason("h", "hold", said, said)
    asked = Reason("a", "ask", said, said, "crew-lead", (one, two))
    assert decide([]).state == "go"
    assert decide([asked]).state == "ask"
    assert decide([hold]).state == "hold"
    assert decide([asked, hold]).state == decide([hold, asked]).state == "hold"
    both = decide([asked, hold, asked])
    assert [r.id for r in both.reasons] == ["h", "a", "a"]
    assert both.whom == ("crew-lead",) and list(dict.fromkeys(f.id for f in both.facts)) == [
        "fact-photo",
        "fact-sizes",
    ]


@pytest.mark.parametrize(
    "touched",
    [
        {"members": [{"section": "pipe", "nps": "4", "substrate": "asbestos-cement"}]},
        {"detail": "wall-base", "surfaces": [{"part": "wall", "substrate": "asbestos-cement"}]},
        {"detail": "drain", "surfaces": [{"substrate": "asbestos-cement"}]},
    ],
)
def test_a_stop_shows_only_the_stop(ask: Ask, touched: dict[str, Any]) -> None:
    """Nobody may touch it: its danger, whom to ask with what, the edge and the openings."""
    document = write(ask({"detail": "pipe", "roof": "tpo", "now": FAIR, "lang": "en", **touched}))
    assert document["verdict"]["state"] == "hold"
    assert [r["id"] for r in document["verdict"]["reasons"]] == [
        "substrates/asbestos-cement: asbestos"
    ]
    ask_part = document["verdict"]["ask"]
    assert ask_part["whom"] and len(ask_part["facts"]) >= 2
    assert {c["id"] for c in document["cautions"]} == {"asbestos", "falls", "openings"}
    assert {c["id"] for c in document["confirm"]} == {
        "checks/old-material-tested",
        "checks/edge-protection",
        "checks/openings-covered",
    }
    assert {c["id"] for c in document["checks"]} <= {c["id"][7:] for c in document["confirm"]}
    for key in ("materials", "coats", "steps", "tools", "times", "dimensions", "assumed", "since"):
        assert document[key] == [], key
    assert document["fleece"] is None and document["masking"] is None
    assert document["totals"]["materials"] == []
    assert [s["substrate"] for s in document["surfaces"]] == ["asbestos-cement"]
    for surface in document["surfaces"]:
        assert surface["area"] is None and surface["area_why"]
        assert surface["preparation"] == [] and surface["primer"] is None


@pytest.mark.parametrize("roof", ["tpo", "epdm"])
@pytest.mark.parametrize("substrate", ["carbon-steel", "galvanized-steel", "cmu", "lumber"])
def test_alcohol_before_isocyanate_is_forbidden_on_every_surface(
    ask: Ask, example: dict[str, Any], substrate: str, roof: str
) -> None:
    """Two-part polyurethane meets every surface; without it, only where the metal primer goes."""
    example["members"][0]["substrate"] = substrate
    example |= {"roof": roof, "lang": "en"}
    for surface in write(ask(example))["surfaces"]:
        assert sum("alcohol" in text for text in surface["never"]) == 1, surface["label"]
    for surface in write(ask({**example, "resin": "pmma"}))["surfaces"]:
        told = any("alcohol" in text for text in surface["never"])
        assert told is (surface["primer"] == "metal-wood"), surface["label"]


def test_methacrylate_says_what_it_harms_and_takes(ask: Ask, example: dict[str, Any]) -> None:
    """Polystyrene foam, dose table, scale and cup, a drill without sparks, primers of its own."""
    document = write(ask({**example, "resin": "pmma", "lang": "en"}))
    (resin,) = [m for m in document["materials"] if m["kind"] == "resin"]
    near = " ".join(resin["neighbours"])
    assert "polystyrene" in near and "must not spark" in near and "hot work" in near
    assert "checks/foam-known" in {c["id"] for c in document["confirm"]}
    assert {"dosing-scale", "measuring-cup"} <= {t["id"] for t in document["tools"]}
    reasons = {r["id"] for r in document["verdict"]["reasons"]}
    assert "resins/pmma: dose-table" in reasons
    primers = {m["id"] for m in document["materials"] if m["kind"] == "primer"}
    assert primers and {f"primers/{p}: system" for p in primers} <= reasons
    other = write(ask({**example, "lang": "en"}))
    assert "checks/foam-known" not in {c["id"] for c in other["confirm"]}
    assert "dosing-scale" not in {t["id"] for t in other["tools"]}


PIPE = {"section": "pipe", "nps": "2", "substrate": "carbon-steel"}
BAR = {"section": "bar", "width": "2 in", "depth": "2 in", "substrate": "carbon-steel"}


@pytest.mark.parametrize("detail", ["pipe", "post", "support"])
def test_a_pipe_may_be_conduit_gas_or_hot(ask: Ask, detail: str) -> None:
    """Nothing tells them apart from outside: each is asked about, and both dangers stand there."""
    asked = {"detail": detail, "roof": "tpo", "now": FAIR}
    told = write(ask({**asked, "members": [PIPE]}))
    points = {
        "checks/conduit-identified",
        "checks/gas-lines-identified",
        "checks/surface-not-hot",
    }
    assert points <= {c["id"] for c in told["confirm"]}
    assert {"live-electrical", "gas-line"} <= {c["id"] for c in told["cautions"]}
    plastic = write(ask({**asked, "members": [{**PIPE, "substrate": "rigid-pvc"}]}))
    assert points <= {c["id"] for c in plastic["confirm"]}
    assert "live-electrical" in {c["id"] for c in plastic["cautions"]}
    if detail != "pipe":
        solid = write(ask({**asked, "members": [BAR]}))
        assert not points & {c["id"] for c in solid["confirm"]}


@pytest.mark.parametrize("lang", ["en", "es"])
def test_full_cure_has_no_figure_of_ours(edition: Edition, lang: str) -> None:
    """Watertight is not full cure: what waits for it names the product's sheet, and no hours."""
    speaks = {"en": "full cure", "es": "curado completo"}[lang]
    sheet = {"en": "sheet", "es": "hoja"}[lang]
    found = [
        record.text(path, lang)
        for kind, paths in {
            "checks": ("method", "acceptance"),
            "activities": ("say",),
            "troubles": ("sign",),
        }.items()
        for record in edition.kind(kind).values()
        for path in paths
        if speaks in record.text(path, lang).lower()
    ]
    assert len(found) >= 4
    for text in found:
        assert sheet in text.lower(), text
        assert not re.search(r"\d+\s*(h|hours|horas|min|days|días)\b|\{cure\}", text), text


def test_lead_waits_for_its_rules(ask: Ask, example: dict[str, Any]) -> None:
    """Confirmed, the hold is gone and the point stays on the list; no other check can be told."""
    example["members"][0]["substrate"] = "lead"
    held, point = ask(example), "checks/lead-rules-in-place"
    assert held.verdict.state == "hold"
    assert "substrates/lead: lead-rules" in {r.id for r in held.verdict.reasons}
    told = ask({**example, "confirmed": ["lead-rules-in-place"]})
    assert "substrates/lead: lead-rules" not in {r.id for r in told.verdict.reasons}
    assert told.verdict.state != "hold"
    for answer in (held, told):
        assert point in {c.id for c in answer.verdict.confirm}
    with pytest.raises(QueryFaults) as refused:
        ask({**example, "confirmed": ["peel-test"]})
    (fault,) = refused.value.faults
    assert fault.pointer == "/confirmed/0" and "lead-rules-in-place" in fault.detail


def test_lead_is_not_scraped_ground_or_swept_up(ask: Ask, example: dict[str, Any]) -> None:
    example["members"][0]["substrate"] = "lead"
    document = write(ask({**example, "plates": [], "lang": "en"}))
    leaden = {s["id"] for s in document["surfaces"] if s["substrate"] == "lead"}
    parts = [p for s in document["steps"] for p in s["parts"] if leaden & set(p["surfaces"])]
    assert parts
    used = {tool for part in parts for tool in part["tools"]}
    assert not used & {"hand-scraper", "vacuum-filter", "angle-grinder", "orbital-sander"}
    assert not used & {"abrasive-60", "abrasive-80", "wire-brush", "broom", "diamond-cup-wheel"}
    for text in [p["text"].lower() for p in parts] + [c["measure"] for c in document["cautions"]]:
        assert "vacuum as you go." not in text.lower()


def test_an_expansion_joint_is_always_asked_about(ask: Ask) -> None:
    body = {"detail": "expansion-joint", "roof": "tpo", "now": FAIR}
    document = write(ask(body))
    assert document["verdict"]["state"] == "ask"
    assert len(document["verdict"]["ask"]["facts"]) >= 2
    for material in document["materials"]:
        assert material["need"] is None and material["why"]


def test_no_primer_on_file_is_asked_about(ask: Ask) -> None:
    answer = ask(roof="sbs-cap")
    assert answer.verdict.state == "ask"
    assert any(r.id.startswith("substrates/sbs-cap") for r in answer.verdict.reasons)


@pytest.mark.parametrize("lang", ["en", "es"])
@pytest.mark.parametrize("units", ["us", "si"])
def test_no_slot_is_left_open(ask: Ask, lang: str, units: str) -> None:
    def texts(node: Any) -> list[str]:
        if isinstance(node, str):
            return [node]
        inner = node.values() if isinstance(node, dict) else node if isinstance(node, list) else ()
        return [text for part in inner for text in texts(part)]

    cold = {"air": "30 F", "surface": "30 F", "humidity": "90 %", "wet": True, "wind": "30 mph"}
    for now in (FAIR, {}, cold):
        for text in texts(write(ask(now=now, height="5 in", lang=lang, units=units))):
            assert "{" not in text and "}" not in text, text
