"""Checks and cautions hang on what an answer involves: substances, tools, sections, places."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from upstand.answer import Answer
from upstand.document.requirements import write

Ask = Callable[..., Answer]
DISC = {"hot-work-ready", "solvent-away", "grinding-over"}


def of_pipe(example: dict[str, Any], substrate: str) -> dict[str, Any]:
    pipe = {"section": "pipe", "od": "4 1/2 in", "substrate": substrate}
    return {**example, "members": [pipe], "plates": None}


def called(answer: Answer) -> set[str]:
    """Every check of an answer by its id, to be confirmed or made later."""
    confirmed = {c.id.partition("/")[2] for c in answer.verdict.confirm}
    return {check.id for check in answer.checks} | confirmed


def test_hot_work_is_asked_for_where_a_disc_grinds_and_nowhere_else(
    ask: Ask, example: dict[str, Any]
) -> None:
    """Carbon steel is ground bright; rigid PVC and aluminum are dulled by hand."""
    assert called(ask()) >= DISC
    for by_hand in ("rigid-pvc", "aluminum"):
        assert not DISC & called(ask(of_pipe(example, by_hand))), by_hand


def test_plates_are_felt_only_where_there_are_plates(ask: Ask, example: dict[str, Any]) -> None:
    assert "plates-tight" in called(ask())
    assert "plates-tight" not in called(ask(of_pipe(example, "carbon-steel")))


def test_silica_only_where_masonry_is_ground(ask: Ask) -> None:
    silica = {"dust-captured", "dust-filter"}
    wall = {"detail": "wall-base", "roof": "tpo", "length": "10 ft"}
    for substrate, ground in (("cmu", True), ("concrete", True), ("plywood", False)):
        found = ask({**wall, "surfaces": [{"substrate": substrate}]})
        assert (silica <= called(found)) is ground, substrate
        assert ("silica" in {c.record.id for c in found.cautions}) is ground, substrate


def test_a_pipe_section_is_asked_what_it_carries(ask: Ask, example: dict[str, Any]) -> None:
    carries = {"conduit-identified", "gas-lines-identified", "surface-not-hot"}
    answer = ask(of_pipe(example, "carbon-steel"))
    assert carries <= called(answer)
    assert {"live-electrical", "gas-line"} <= {c.record.id for c in answer.cautions}
    assert not carries & called(ask())


def test_polystyrene_is_looked_for_below_a_methacrylate(ask: Ask) -> None:
    assert "foam-known" in called(ask(resin="pmma"))
    assert "foam-known" not in called(ask())


def test_a_stop_shows_only_the_stop(ask: Ask, example: dict[str, Any]) -> None:
    """Nobody scrapes, taps or reaches in at asbestos-cement: its test, the edge, the openings."""
    answer = ask(of_pipe(example, "asbestos-cement"))
    assert answer.verdict.state == "hold"
    assert called(answer) == {"edge-protection", "openings-covered", "old-material-tested"}


def test_lead_holds_until_its_rules_are_in_place(ask: Ask, example: dict[str, Any]) -> None:
    body = of_pipe(example, "lead")
    assert ask(body).verdict.state == "hold"
    told = ask(body, confirmed=["lead-rules-in-place"])
    assert "substrates/lead: lead-rules" not in {r.id for r in told.verdict.reasons}
    assert "lead-rules-in-place" in called(told), "it stays to be ticked"


def test_what_speaks_of_a_statement_carries_it_and_says_by_when(ask: Ask) -> None:
    """The number of the gap is 1/4 in, as the trade has it."""
    gap = next(c for c in write(ask())["confirm"] if c["id"] == "checks/gap-backed")
    assert "1/4 in" in gap["standard"]["text"] and gap["standard"]["grade"] == "memory"
    order = ["days-ahead", "before-ladder", "before-pail", "until-watertight"]
    found = [c["by"] for c in write(ask())["confirm"] if c["by"]]
    assert found == sorted(found, key=order.index)
