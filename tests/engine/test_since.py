"""What was done already: a moment, what it was, and how it stands; the clock beside each case."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from typing import Any

import pytest

from upstand.answer import Answer
from upstand.edition import Edition
from upstand.query.model import Done
from upstand.stages.since import Standing, find_standing

Ask = Callable[..., Answer]
FAIR = {"air": "72 F", "surface": "70 F", "material": "70 F", "humidity": "40 %"}


@pytest.fixture
def standing(ask: Ask, edition: Edition) -> Callable[..., list[Standing]]:
    """How what was done stands at `now`, with the example's post in fair weather unless said."""

    def found(now: str | None, *done: tuple[str, str], **weather: Any) -> list[Standing]:
        whole = ask(now={**FAIR, **weather})
        query = whole.settled.query
        query = dataclasses.replace(
            query,
            now=dataclasses.replace(query.now, at=now),
            since=tuple(Done(activity, at) for activity, at in done),
        )
        settled = dataclasses.replace(whole.settled, query=query)
        paths = dict.fromkeys(whole.takeoff.primer_of.values())
        primers = [edition.record(path) for path in paths]
        return list(find_standing(settled, primers, whole.timing, edition))

    return found


@pytest.mark.parametrize(
    ("primed", "now", "surface", "state", "until", "again"),
    [
        # yesterday at three, 70 °F: till three today; a night lies between: clean again
        ("2026-06-01T15:00", "2026-06-02T09:00", "70 F", "open", "2026-06-02T15:00", ("reclean",)),
        ("2026-06-01T15:00", "2026-06-02T15:00", "70 F", "open", "2026-06-02T15:00", ("reclean",)),
        ("2026-06-01T15:00", "2026-06-02T15:01", "70 F", "missed", "2026-06-02T15:00",
         ("abrade", "clean", "prime-metal")),
        # 78 °F: 24 h / 2^(8/18) = 17 h 38 min, till 8:38
        ("2026-06-01T15:00", "2026-06-02T08:30", "78 F", "open", "2026-06-02T08:38", ("reclean",)),
        ("2026-06-01T15:00", "2026-06-02T09:00", "78 F", "missed", "2026-06-02T08:38",
         ("abrade", "clean", "prime-metal")),
        # four hours at the longest
        ("2026-06-02T09:00", "2026-06-02T12:59", "70 F", "wait", "2026-06-03T09:00", ()),
        ("2026-06-02T09:00", "2026-06-02T13:00", "70 F", "open", "2026-06-03T09:00", ()),
        # the zone of now counts
        ("2026-06-01T21:00+00:00", "2026-06-02T09:00-06:00", "70 F", "open",
         "2026-06-02T15:00-06:00", ("reclean",)),
    ],
)  # fmt: skip
def test_primed_metal(
    standing: Callable[..., list[Standing]],
    primed: str, now: str, surface: str, state: str, until: str, again: tuple[str, ...],
) -> None:  # fmt: skip
    [found] = standing(now, ("prime-metal", primed), surface=surface)
    assert (found.state, found.again) == (state, again)
    assert found.until is not None
    assert found.until.isoformat(timespec="minutes") == until
    assert found.product is not None and found.product.id == "metal-wood"


@pytest.mark.parametrize(
    ("primed", "now", "surface", "state", "again"),
    [
        ("2026-06-02T09:00", "2026-06-02T09:59", "70 F", "wait", ()),
        ("2026-06-02T09:00", "2026-06-02T10:00", "70 F", "open", ()),
        # below 70 °F no number is on file
        ("2026-06-02T09:00", "2026-06-02T12:00", "60 F", "ask", ()),
        # its window is the shift
        ("2026-06-01T15:00", "2026-06-02T07:00", "70 F", "missed",
         ("abrade", "clean", "prime-sheet")),
    ],
)  # fmt: skip
def test_a_primed_sheet(
    standing: Callable[..., list[Standing]],
    primed: str, now: str, surface: str, state: str, again: tuple[str, ...],
) -> None:  # fmt: skip
    [found] = standing(now, ("prime-sheet", primed), surface=surface)
    assert (found.state, found.again, found.until) == (state, again, None)


@pytest.mark.parametrize(
    ("activity", "at", "state", "again"),
    [
        ("mask", "2026-06-01T15:00", "stays", ()),
        ("degrease", "2026-06-01T15:00", "stays", ()),
        ("clean", "2026-06-01T15:00", "again", ("reclean",)),
        ("abrade", "2026-06-01T15:00", "again", ("reclean",)),
        ("clean", "2026-06-02T07:00", "stays", ()),
        ("grind", "2026-06-01T15:00", "again", ("grind", "clean")),
        ("grind", "2026-06-02T07:00", "stays", ()),
        ("fleece", "2026-06-01T15:00", "missed", ()),
        # 25 min less a fifth less 2 of mixing: 18
        ("mix", "2026-06-02T08:42", "open", ()),
        ("mix", "2026-06-02T08:41", "missed", ()),
        # when it was mixed is not said
        ("base-coat", "2026-06-02T08:50", "ask", ()),
        ("base-coat", "2026-06-02T08:30", "missed", ()),
        ("top-coat", "2026-06-02T06:00", "wait", ()),
        ("top-coat", "2026-06-02T05:00", "stays", ()),
        ("top-coat", "2026-06-01T15:00", "stays", ()),
        ("prime-masonry", "2026-06-02T08:00", "ask", ()),
        ("clean", "2026-06-02T09:01", "later", ()),
    ],
)
def test_what_else_was_done_by_nine(
    standing: Callable[..., list[Standing]],
    activity: str,
    at: str,
    state: str,
    again: tuple[str, ...],
) -> None:
    [found] = standing("2026-06-02T09:00", (activity, at))
    assert (found.state, found.again) == (state, again)


def test_without_now_nothing_is_said(standing: Callable[..., list[Standing]]) -> None:
    [found] = standing(None, ("prime-metal", "2026-06-01T15:00"))
    assert (found.state, found.until) == ("no-now", None)
    [found] = standing("2026-06-02T09:00", ("prime-metal", "2026-06-01T15:00-06:00"))
    assert found.state == "no-now", "one with a zone and one without can't be compared"


def test_in_the_cold_metal_waits_longer(standing: Callable[..., list[Standing]]) -> None:
    """52 °F: eight hours, and the window no longer than a day."""
    [found] = standing("2026-06-02T12:00", ("prime-metal", "2026-06-02T07:00"), surface="52 F")
    assert found.state == "wait"
    assert found.ready is not None and found.ready.hour == 15
    assert found.until is not None and found.until.isoformat() == "2026-06-03T07:00:00"
