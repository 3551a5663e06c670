"""The work itself: numbered steps with their hold points, times, checks."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Final

from upstand_api.cli.answer_page.start import TICK
from upstand_api.cli.labels import Labels
from upstand_api.cli.paper import Paper

BY_WHEN: Final = ("pot-life", "skin", "cover-within", "recoat-within", "usable")
"""Times that run out; all others must be waited for."""

STAGES: Final = ("confirm", "hold", "inspect")


def show_steps(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """List the steps in order; a hold point is marked in words."""
    paper.heading(labels["do"])
    beside = {material["id"]: material["neighbours"] for material in document["materials"]}
    resins = {"mix": document["resin"]["id"]}
    rules = {caution["id"]: caution["rules"] for caution in document["cautions"]}
    for step in document["steps"]:
        number = f"{step['n']}. "
        pad = len(number)
        paper.para(step["name"].upper(), 0, number, bold=True)
        paper.para(step["text"], pad)
        if step["here"]:
            paper.para(step["here"], pad)
        for near in beside.get(step["primer"] or resins.get(step["activity"], ""), ()):
            paper.para(near, pad, f"{labels['neighbours']}: ")
        _parts(paper, step["parts"], pad, labels)
        for rule in (rule for id in step["cautions"] for rule in rules.pop(id, ())):
            paper.para(labels.rule(rule), pad, f"{labels['rule']}: ")
        for ask in step["asks"]:
            paper.para(ask["text"], pad, f"[{labels['state-ask']}] ", bold=True)
        for hold in step["holds"]:
            lead = f"[{labels.term('hold-point').upper()}] "
            paper.para(hold["text"], pad, lead, bold=True, fg="red")
        paper.blank()


def _parts(paper: Paper, parts: Sequence[Mapping[str, Any]], pad: int, labels: Labels) -> None:
    """Say what a step means on each surface, and when it is done there."""
    last = None
    for part in parts:
        if part["label"] != last:
            paper.para(f"{part['label']}:", pad)
            last = part["label"]
        paper.para(part["text"], pad, "- ")
        if part["grit"]:
            paper.para(part["grit"], pad + 2)
        for key in ("until", "wait"):
            if part[key]:
                paper.para(part[key], pad + 2, f"{labels[key]}: ")
        if part["standard"]:
            paper.para(labels.rule(part["standard"]), pad + 2, labels.rule_lead(part["standard"]))


def show_since(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Say of each thing that was done already how it stands."""
    if not document["since"]:
        return
    paper.heading(labels["since"])
    for standing in document["since"]:
        paper.para(standing["text"], 0, "- ")


def show_times(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """Say what must wait and what runs out, each time with its temperature."""
    times = document["times"]
    if not times:
        return
    paper.heading(labels["times"])
    for label, runs_out in (("must-wait", False), ("by-when", True)):
        rows = [t for t in times if (t["id"].partition("/")[0] in BY_WHEN) is runs_out]
        if rows:
            paper.para(f"{labels[label]}:", bold=True)
        for time in rows:
            paper.para(f"{time['product']}: {time['label']} {time['text']}", 2, "- ")


def show_checks(paper: Paper, document: Mapping[str, Any], labels: Labels) -> None:
    """List the checks by stage, without those that stand to be confirmed at the start."""
    before = {point["id"] for point in document["confirm"]}
    left = [check for check in document["checks"] if f"checks/{check['id']}" not in before]
    if not left:
        return
    paper.heading(labels["checks"])
    for stage in STAGES:
        checks = [check for check in left if check["stage"] == stage]
        if checks:
            paper.para(f"{labels[f'stage-{stage}'].capitalize()}:", bold=True)
        for check in checks:
            paper.para(f"{check['name']}. {check['method']}", 0, TICK)
            paper.para(check["acceptance"], 4, f"{labels['good']}: ")
            if check["standard"]:
                paper.para(labels.rule(check["standard"]), 4, labels.rule_lead(check["standard"]))
