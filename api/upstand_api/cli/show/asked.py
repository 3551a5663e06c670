"""The question as it was understood, so that a slip of the keyboard is seen."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from upstand_api.cli.labels import Labels
from upstand_api.cli.paper import Paper
from upstand_api.cli.shape_text import SHAPES

LENGTHS: Final = ("height", "flange", "reveal")
MEASURED: Final = {
    "air": "air-temperature",
    "surface": "surface-temperature",
    "material": "material-temperature",
    "humidity": "humidity",
    "wind": "wind",
    "rain_chance": "rain",
}
"""Field of `now` -> the term it is called by."""


def show_asked(
    paper: Paper, document: Mapping[str, Any], body: Mapping[str, Any], labels: Labels
) -> None:
    """Repeat the members, plates, lengths and weather that were given."""
    paper.heading(labels["asked"])
    for number, member in enumerate(body.get("members") or (), 1):
        paper.para(_member(member, labels), 0, f"{labels.term('member')} {number}: ")
    for number, plate in enumerate(body.get("plates") or (), 1):
        text = f"{plate['width']} × {plate['length']}{_placed(plate, labels)}"
        paper.para(text, 0, f"{labels.term('fastener-plate')} {number}: ")
    lengths = [f"{labels.term(n)} {body[n]}" for n in LENGTHS if body.get(n) is not None]
    if body.get("mask_turn") is not None:
        lengths.append(f"{labels['mask_turn']} {body['mask_turn']}")
    if lengths:
        paper.para(" · ".join(lengths))
    _weather(paper, document, body.get("now") or {}, labels)


def _member(member: Mapping[str, Any], labels: Labels) -> str:
    """Say a member: what it is, its sizes, of what, where."""
    if "designation" in member:
        text = str(member["designation"])
    elif member["section"] == "polygon":
        points = f"{len(member['points'])} {labels['points']}"
        text = f"{labels.name('sections/polygon')}, {points}"
    else:
        text = f"{labels.name('sections/' + member['section'])}{_sizes(member, labels)}"
    text += f", {labels.name('substrates/' + member['substrate'])}"
    text += _placed(member, labels)
    if member.get("turn") is not None:
        text += f", {labels['turn']} {member['turn']}"
    return text


def _sizes(member: Mapping[str, Any], labels: Labels) -> str:
    section = member["section"]
    if "nps" in member:
        return f", NPS {member['nps']}"
    order = SHAPES[section].fields + SHAPES[section].may
    given = [field for field in order if field in member]
    if len(given) == 1:  # a bare diameter is named: nominal 4 is not 4 in across
        inputs = labels.edition.record(f"sections/{section}").get("inputs", {})
        return f", {inputs[given[0]]['name'][labels.lang].lower()} {member[given[0]]}"
    return " " + " × ".join(str(member[field]) for field in given)


def _placed(thing: Mapping[str, Any], labels: Labels) -> str:
    at = thing.get("at")
    return "" if at is None else f", {labels['at']} x {at[0]}, y {at[1]}"


def _weather(
    paper: Paper, document: Mapping[str, Any], now: Mapping[str, Any], labels: Labels
) -> None:
    parts = [
        f"{labels.term(term).lower()} {now[field]}"
        for field, term in MEASURED.items()
        if now.get(field) is not None
    ]
    if now.get("wet") is not None:
        parts.append(labels["wet" if now["wet"] else "dry"])
    if parts:
        paper.para(" · ".join(parts), 0, f"{labels['weather']}: ")
    conditions = document["conditions"]
    if conditions["dew_point"]:
        text = f"{labels.term(conditions['kind'] + '-point')}: {conditions['dew_point']['text']}"
        if conditions["margin"]:
            text += f", {labels['margin']} {conditions['margin']['text']}"
        paper.para(text)
