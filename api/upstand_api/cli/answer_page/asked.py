"""The question as it was understood, so that a slip of the keyboard is seen."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from upstand.query.shape_text import SHAPES
from upstand_api.cli.labels import Labels
from upstand_api.cli.paper import Paper

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
    rows = [
        (f"{labels.term('member')} {number}: ", _member(member, labels))
        for number, member in enumerate(body.get("members") or (), 1)
    ]
    for number, plate in enumerate(body.get("plates") or (), 1):
        text = f"{plate['width']} × {plate['length']}{_placed(plate, labels)}"
        rows.append((f"{labels.term('fastener-plate')} {number}: ", text))
    lengths = [f"{labels.term(n)} {body[n]}" for n in LENGTHS if body.get(n) is not None]
    if body.get("mask_turn") is not None:
        lengths.append(f"{labels['mask_turn']} {body['mask_turn']}")
    rows.append(("", " · ".join(lengths)))
    rows += _weather(document, body.get("now") or {}, labels)
    said = [(lead, text) for lead, text in rows if text]
    if said:
        paper.heading(labels["asked"])
    for lead, text in said:
        paper.para(text, 0, lead)


def show_sizes(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """List the sizes that the answer goes by."""
    if document["sizes"]:
        paper.heading(labels["sizes"])
        sizes = [f"{each['label']} {each['size']['text']}" for each in document["sizes"]]
        paper.para("; ".join(sizes), 2)


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
    document: Mapping[str, Any], now: Mapping[str, Any], labels: Labels
) -> list[tuple[str, str]]:
    """Say what was measured, and the dew or frost point that follows from it."""
    parts = [
        f"{labels.term(term).lower()} {now[field]}"
        for field, term in MEASURED.items()
        if now.get(field) is not None
    ]
    if now.get("wet") is not None:
        parts.append(labels["wet" if now["wet"] else "dry"])
    rows = [(f"{labels['weather']}: ", " · ".join(parts))]
    conditions = document["conditions"]
    if conditions["dew_point"]:
        text = conditions["dew_point"]["text"]
        if conditions["margin"]:
            text += f", {labels['margin']} {conditions['margin']['text']}"
        if conditions["least_surface"]:
            text += f", {labels['least-surface']} {conditions['least_surface']['text']}"
        rows.append((f"{labels.term(conditions['kind'] + '-point')}: ", text))
    return rows
