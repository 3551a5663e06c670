"""What to bring and cut, where to tape, which primer goes where, how thick the coats are."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any, Final

from upstand_api.cli.labels import Labels
from upstand_api.cli.paper import Paper

SORTS: Final = {"tool": "tools", "gauge": "gauge", "protective": "protective"}
"""Sort of tool -> label; cleaners, abrasives and consumables stand among the materials."""

AMOUNTS: Final = (("need", "need"), ("with-allowance", "with_allowance"), ("left", "leftover"))


def show_bring(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """List packs, what each need consists of, and what else to load and what for."""
    if not document["totals"]["materials"] and not document["tools"]:
        return
    paper.heading(labels["bring"])
    count = document["totals"]["count"]
    if count > 1:
        paper.para(labels.say("for-all", count=str(count)))
    counted = {material["id"] for material in document["totals"]["materials"]}
    reasons: dict[str, None] = {}
    for material in document["totals"]["materials"]:
        kind = labels["tape-kind"] if material["kind"] == "tape" else labels.term(material["kind"])
        packs = [f"{pack['count']} × {pack['name']}" for pack in material["packs"]]
        paper.para("; ".join(packs) or material["name"], 0, f"{kind}: ", bold=True)
        amounts = [
            f"{labels[label]} {material[key]['text']}" for label, key in AMOUNTS if material[key]
        ]
        if amounts:
            paper.para("; ".join(amounts), 4)
        if material["mixes_text"]:
            paper.para(material["mixes_text"], 4)
    _show_for_one(paper, document, labels)
    unrated: dict[str, list[str]] = {}
    for material in document["materials"]:
        if material["id"] in counted and material["why"]:
            reasons[material["why"]] = None
        elif material["why"]:
            unrated.setdefault(material["why"], []).append(material["name"])
    for reason in reasons:  # one for all: nothing is counted while a question is open
        paper.para(reason, 4)
    for reason, names in unrated.items():
        paper.blank()
        paper.para(f"{labels['also']} ({reason}):", bold=True)
        paper.para("; ".join(names), 4)
    for sort, label in SORTS.items():
        names = [tool["name"] for tool in document["tools"] if tool["sort"] == sort]
        if names:
            paper.blank()
            paper.para(f"{labels[label]}:", bold=True)
            paper.para("; ".join(names), 4)
    paper.blank()
    for tool in document["tools"]:
        paper.para(tool["use"], 2, f"{tool['name']}: ")


def _show_for_one(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Say what the need of one detail consists of, and its packs where more are built."""
    many = document["totals"]["count"] > 1
    for material in document["materials"]:
        if many and material["packs"]:
            packs = [f"{pack['count']} × {pack['name']}" for pack in material["packs"]]
            paper.para("; ".join(packs), 2, f"1 × {material['name']}: ")
        for line in material["lines"]:
            amount = line["amount"]["text"] if line["amount"] else "-"
            paper.para(f"{line['label']} {amount}", 4, "- ")
        if many:
            amounts = [f"{labels[at]} {material[k]['text']}" for at, k in AMOUNTS if material[k]]
            paper.para("; ".join([*amounts, material["mixes_text"]]), 4)


def show_cut(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """List the pieces of fleece from the bottom up, with the sizes to cut."""
    fleece = document["fleece"]
    if fleece is None:
        return
    paper.heading(labels["cut"])
    paper.para(labels.say("cut-order"))
    many = document["totals"]["count"]
    head = [labels["order"], labels["each"], labels["piece"], labels["size"]]
    if many > 1:
        head.insert(2, f"{labels['all']} {many}")
    rows = []
    for piece in sorted(fleece["pieces"], key=lambda piece: piece["order"]):
        size = f"{piece['width']['text']} × {piece['length']['text']}"
        label = f"{piece['letter']} {piece['label']}" if piece["letter"] else piece["label"]
        row = [f"{piece['order']}.", f"{piece['count']} ×", label, size]
        if many > 1:
            row.insert(2, f"{piece['count'] * many} ×")
        rows.append(row)
    paper.table(head, rows)
    _notes(paper, [(p[key], p["label"]) for p in fleece["pieces"] for key in ("note", "joint")])


def _notes(paper: Paper, notes: Iterable[tuple[str | None, str]]) -> None:
    """Write each note once, behind all that it belongs to."""
    of: dict[str, list[str]] = {}
    for note, name in notes:
        if note:
            of.setdefault(note, []).append(name)
    for note, names in of.items():
        paper.para(f"{', '.join(names)}: {note}", 2, "- ")


def show_surfaces(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Show each surface with its area and its primer, or why it has none."""
    surfaces = document["surfaces"]
    if not surfaces:
        return
    paper.heading(labels["surfaces"])
    head = (labels["surface"], labels["area"], labels.term("primer"))
    rows = [
        (
            surface["label"],
            surface["area"]["text"] if surface["area"] else "-",
            labels.name(f"primers/{surface['primer']}") if surface["primer"] else "-",
        )
        for surface in surfaces
    ]
    paper.table(head, rows)
    _notes(paper, [(s["area_why"], s["label"]) for s in surfaces])
    _notes(paper, [(s["primer_why"], s["label"]) for s in surfaces])
    paper.para(f"{labels['dry-enough']}:", 2, bold=True)
    _notes(paper, [(s["dry_before_primer"], s["label"]) for s in surfaces])
    for surface in surfaces:
        if surface["never"]:
            paper.para(f"{labels['never']} {surface['label']}:", 2, bold=True)
        for never in surface["never"]:
            paper.para(never, 4, "- ")


def show_dimensions(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Say the measures that belong to this detail alone."""
    if not document["dimensions"]:
        return
    paper.heading(labels["dimensions"])
    for statement in document["dimensions"]:
        paper.para(labels.rule(statement), 0, "- ")


def show_tape(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Say where the tape goes and how much there is of it."""
    masking = document["masking"]
    if masking is None:
        return
    paper.heading(labels["tape"])
    flat = ", ".join(f"{m['width']['text']} × {m['length']['text']}" for m in masking["flat"])
    paper.para(flat, 2, f"{labels['on-roof']}: ")
    if masking["line_height"] is not None:
        line = labels.say("tape-line", height=masking["line_height"]["text"])
        paper.para(line, 2, f"{labels['on-upright']}: ")
    length = labels.say(
        "tape-length", tape=masking["tape"]["text"], corners=masking["corners"]["text"]
    )
    paper.para(length, 2, f"{labels['tape-kind']}: ")
    totals = document["totals"]
    if totals["count"] > 1 and totals["tape"]:
        paper.para(totals["tape"]["text"], 2, f"{labels['all']} {totals['count']}: ")


def show_coats(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Show each coat with its area, wet film and volume, for one detail."""
    if not document["coats"]:
        return
    paper.heading(labels["coats"])
    head = (labels["coat"], labels["area"], labels.term("wet-film"), labels["volume"])
    texts = [[coat[k] for k in ("area", "thickness", "volume")] for coat in document["coats"]]
    rows = [
        (coat["label"], *(q["text"] if q else "-" for q in row))
        for coat, row in zip(document["coats"], texts, strict=True)
    ]
    paper.table(head, rows)
    if document["film"]:
        paper.para(f"{labels['film']}: {document['film']['text']}", 2)
