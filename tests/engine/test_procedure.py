"""Ordered steps: the order of work on a roof, what each surface calls for, and hold points."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from upstand.answer import Answer
from upstand.document.requirements import write
from upstand.edition import Edition
from upstand.edition.applies import activities_of

Ask = Callable[..., Answer]

#: The order in which work is done; a step may be left out, none may change places.
ORDER = [
    "setup", "attach", "repair", "degrease", "grind", "fire-watch", "abrade", "clean", "mask",
    "dry-fit", "last-wipe", "prime-metal", "prime-masonry", "prime-sheet", "plug-night", "reclean",
    "mix", "base-coat", "fleece",
    "top-coat", "second-coat", "unmask", "check", "paint", "plug-out", "clean-up",
]  # fmt: skip


def steps(answer: Answer) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = write(answer)["steps"]
    return found


def activities(answer: Answer) -> list[str]:
    return [step["activity"] for step in steps(answer)]


def with_member(example: dict[str, Any], substrate: str, **changed: Any) -> dict[str, Any]:
    example["members"][0]["substrate"] = substrate
    return {**example, **changed}


def test_the_example_in_order(ask: Ask) -> None:
    """Metal primer first, as it takes hours; a night may fall behind it, then cleaning again."""
    assert activities(ask()) == [
        "setup", "attach", "degrease", "grind", "fire-watch", "abrade", "clean", "mask", "dry-fit",
        "prime-metal", "reclean", "prime-sheet", "mix", "base-coat", "fleece", "top-coat", "unmask",
        "check", "paint", "clean-up",
    ]  # fmt: skip


MEMBERS = ["carbon-steel", "galvanized-steel", "stainless-steel", "aluminum", "cmu", "lumber"]


@pytest.mark.parametrize("roof", ["tpo", "pvc", "epdm"])
@pytest.mark.parametrize("substrate", MEMBERS)
def test_order_holds_for_every_surface(
    ask: Ask, example: dict[str, Any], substrate: str, roof: str
) -> None:
    answer = ask(with_member(example, substrate, roof=roof))
    found = activities(answer)
    rest = [a for a in found if a != "reclean"]
    assert rest == sorted(rest, key=ORDER.index)
    assert [step["n"] for step in steps(answer)] == list(range(1, len(found) + 1))
    once = [a for a in found if not a.startswith("prime")]
    assert len(set(once)) == len(once)
    # cleaning again stands behind the last two-part primer; without one, before the first primer
    again = found.index("reclean")
    primes = [number for number, name in enumerate(found) if name.startswith("prime")]
    if "prime-metal" in found:
        assert again == found.index("prime-metal") + 1
    else:
        assert again < min(primes)
    assert found.index("dry-fit") < found.index("mix"), "all is cut before the first pail"


def test_each_surface_is_primed_once_with_its_own(ask: Ask) -> None:
    answer = ask()
    primers = {step["primer"]: step for step in steps(answer) if step["primer"]}
    assert list(primers) == ["metal-wood", "thermoplastic"], "slowest first"
    by_surface = {s["id"]: s["primer"] for s in write(answer)["surfaces"]}
    assert by_surface == {
        "roof": "thermoplastic", "plate-1": "metal-wood", "member-1": "metal-wood",
    }  # fmt: skip


def test_preparation_names_every_surface(ask: Ask) -> None:
    answer = ask()
    worked: dict[str, set[str]] = {}
    for step in steps(answer):
        for part in step["parts"]:
            assert part["activity"] == step["activity"]
            assert part["text"] and part["until"]
            for surface in part["surfaces"]:
                worked.setdefault(surface, set()).add(step["activity"])
    document = write(answer)
    for surface in document["surfaces"]:
        wanted = {row["activity"] for row in surface["preparation"]}
        assert worked[surface["id"]] == wanted, surface["id"]
        assert {"degrease", "clean"} <= wanted, surface["id"]
    assert "grind" in worked["member-1"], "bare steel is ground bright"
    assert "grind" not in worked["plate-1"] and "grind" not in worked["roof"], "zinc, sheet"


@pytest.mark.parametrize(
    ("substrate", "ground"),
    [
        ("carbon-steel", True), ("stainless-steel", True), ("cmu", True),
        ("galvanized-steel", False), ("lead", False), ("aluminum", False), ("copper", False),
    ],
)  # fmt: skip
def test_only_what_may_be_ground_is(
    ask: Ask, example: dict[str, Any], substrate: str, ground: bool
) -> None:
    """Zinc is kept, lead never sees a disc, soft metals are abraded by hand."""
    found = activities(ask(with_member(example, substrate, plates=[])))
    assert ("grind" in found) is ground
    assert ("fire-watch" in found) is ground, "a watch where there are sparks, and only there"


@pytest.mark.parametrize(
    ("substrate", "painted"),
    [("carbon-steel", True), ("galvanized-steel", False), ("stainless-steel", False)],
)
def test_only_rusting_metal_is_painted(
    ask: Ask, example: dict[str, Any], substrate: str, painted: bool
) -> None:
    found = activities(ask(with_member(example, substrate)))
    assert ("paint" in found) is painted
    assert not painted or found.index("paint") > found.index("unmask")


def test_a_second_coat_is_no_part_of_the_plan(ask: Ask) -> None:
    assert "second-coat" not in activities(ask())


def test_hold_points_stand_at_their_steps(ask: Ask) -> None:
    holds = {step["activity"]: step["holds"] for step in steps(ask())}
    said = {name: " ".join(hold["text"] for hold in rows) for name, rows in holds.items()}
    for activity in ("dry-fit", "prime-metal", "prime-sheet", "mix", "base-coat", "top-coat"):
        assert holds[activity], activity
    # 78 °F: the wait as stated, the window 24 h × 2^(-8/18) = 17 h 38.2 min
    waits = said["prime-metal"].replace("\u00a0", " ")
    assert "2–4 h" in waits and "17 h, if it stays at 78 °F or cooler" in waits
    assert "the same shift" in said["prime-sheet"]
    assert "whole" in said["mix"].lower()
    assert "overnight" in said["top-coat"].lower()


def test_steps_speak_the_answers_own_figures(ask: Ask) -> None:
    texts = {s["activity"]: s["text"].replace("\u00a0", " ") for s in steps(ask())}
    assert "16 in × 12 in" in texts["mask"] and "8 1/2 in" in texts["mask"]
    assert "40 mil" in texts["base-coat"]
    assert "25 mil" in texts["top-coat"]
    # 10.5 × 11 and 6.5 × 11 base pieces, the wrap, three patches
    for piece in ("10 1/2 in × 11 in", "6 1/2 in × 11 in", "10 in × 14 in", "3 × corner patch"):
        assert piece in texts["dry-fit"], piece


def test_every_hazard_of_the_work_has_its_caution(ask: Ask, edition: Edition) -> None:
    document = write(ask())
    found = {caution["id"] for caution in document["cautions"]}
    for hazard in ("falls", "sparks", "solvent", "isocyanate", "heat-in-pail", "skin-eyes"):
        assert hazard in found, hazard
    for caution in document["cautions"]:
        assert caution["because"] and caution["text"] and caution["measure"] and caution["defers"]
    brick = ask(roof="tpo", members=[
        {"section": "bar", "width": "8 in", "depth": "8 in", "substrate": "brick"}
    ], plates=[])  # fmt: skip
    assert "silica" in {caution["id"] for caution in write(brick)["cautions"]}


def test_tools_named_by_the_work_are_listed(ask: Ask) -> None:
    document = write(ask())
    listed = {tool["id"] for tool in document["tools"]}
    named = {tool for step in document["steps"] for part in step["parts"] for tool in part["tools"]}
    assert named and named <= listed


def test_held_work_still_has_its_steps(ask: Ask) -> None:
    """The order of work doesn't hang on the weather."""
    wet = ask(now={"air": "72 F", "surface": "78 F", "humidity": "55 %", "wet": True})
    assert activities(wet) == activities(ask())


@pytest.mark.parametrize("substrate", ["aluminum", "copper", "lead"])
def test_bare_soft_metal_is_wiped_last_right_before_its_primer(
    ask: Ask, example: dict[str, Any], substrate: str
) -> None:
    found = activities(ask(with_member(example, substrate)))
    assert found[found.index("dry-fit") + 1 :][:2] == ["last-wipe", "prime-metal"]


@pytest.mark.parametrize("substrate", ["brick", "cmu", "concrete", "stone", "stucco"])
def test_what_must_cure_is_filled_before_anything_else(
    ask: Ask, example: dict[str, Any], substrate: str
) -> None:
    rows = steps(ask(with_member(example, substrate)))
    found = [row["activity"] for row in rows]
    assert found.index("repair") == found.index("degrease") - 1
    fill = rows[found.index("repair")]
    assert "Days" in fill["parts"][0]["wait"], "as long as its sheet says"
    late = " ".join(p["text"] for row in rows if row["activity"] == "clean" for p in row["parts"])
    assert not {"fill", "point", "patch", "mortar"} & set(late.lower().replace(".", "").split())


def test_metal_is_said_before_sheet_after_a_night(ask: Ask) -> None:
    """Grinding again comes before any solvent is opened again."""
    again = next(row["text"] for row in steps(ask()) if row["activity"] == "reclean")
    assert again.index("ground bright again") < again.index("membrane cleaner")


def test_a_plug_is_out_and_counted_before_a_night(edition: Edition) -> None:
    found = activities_of(edition, edition.record("details/drain"))
    assert found.index("activities/plug-night") + 1 == found.index("activities/reclean")


def test_a_one_part_resin_is_gauged_wet(ask: Ask, example: dict[str, Any]) -> None:
    """Dry 40 and 25 mil at 80 % solids: 40 / 0.8 = 50 and 25 / 0.8 = 31.25 mil wet."""
    for resin in ("pu-1k", "stpe-1k"):
        document = write(ask({**example, "resin": resin}))
        said = {row["activity"]: row for row in document["steps"]}
        told = {name: str(said[name]).replace("\u00a0", " ") for name in ("base-coat", "top-coat")}
        assert "50 mil" in told["base-coat"] and "40 mil" not in told["base-coat"]
        assert "31 mil" in told["top-coat"] and "25 mil" not in told["top-coat"]
