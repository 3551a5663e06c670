"""The steps of an answer, written down: what each says, what is open at it, where it holds."""

from __future__ import annotations

from typing import Any

from upstand.answer import Answer
from upstand.document.sentences import Saying
from upstand.document.shelf import Shelf
from upstand.document.step_slots import Lazy, StepSlots
from upstand.procedure.cautions import cautions_of_step
from upstand.procedure.holds import holds_of
from upstand.procedure.steps import Step
from upstand.words.model import TradeText

__all__ = ["write_steps"]


def write_steps(saying: Saying, shelf: Shelf) -> list[dict[str, Any]]:
    """Write the steps in order; what hangs on the kind of work alone is remembered with it."""
    answer, slots = saying.answer, StepSlots(saying)
    common = slots.common()
    kept = answer.work.written
    key = ("steps", saying.words)
    if key not in kept:
        steps = answer.procedure.steps
        kept[key] = [_fixed(n, step, saying, shelf) for n, step in enumerate(steps, 1)]
    return [
        {
            **fixed,
            "text": saying.words.said(
                TradeText(step.activity, _wording(step, answer), slots.of(step, common))
            ),
            "asks": _asks(step, saying),
            "holds": _holds(step, saying, slots, common),
        }
        for step, fixed in zip(answer.procedure.steps, kept[key], strict=True)
    ]


def _fixed(number: int, step: Step, saying: Saying, shelf: Shelf) -> dict[str, Any]:
    """Write what of a step hangs on no size and no weather; the rest is open."""
    return {
        "n": number,
        "name": step.activity.text("name", saying.lang),
        "text": None,
        "here": _added_work(step, saying),
        "activity": step.activity.id,
        "parts": [
            {
                "surfaces": list(part.surfaces),
                "label": saying.surface_list(part.surfaces),
                **shelf.preparation_step(part.record.path, part.step),
            }
            for part in step.preparations
        ],
        "primer": None if step.primer is None else step.primer.id,
        "cautions": list(
            cautions_of_step(step, number == 1, saying.settled, saying.answer.cautions)
        ),
        "asks": None,
        "holds": None,
    }


def _added_work(step: Step, saying: Saying) -> str | None:
    """Say what this detail adds to an activity."""
    for work in saying.settled.detail.get("work", ()):
        if work["activity"] == step.activity.path:
            return str(work["say"][saying.lang])
    return None


def _wording(step: Step, answer: Answer) -> str:
    """A slot that nothing fills has a sentence of its own, where the edition holds one."""
    layout, materials = answer.layout, answer.takeoff.materials
    laid = layout.masking is not None and layout.fleece is not None
    if "{resin_need}" in step.activity.text("say", "en"):
        laid = bool(materials) and materials[0].one.need is not None
    if not laid and step.activity.has("say_open"):
        return "say_open"
    flat = layout.masking is not None and layout.masking.line_height is None
    return "say_flat" if flat and step.activity.has("say_flat") else "say"


def _asks(step: Step, saying: Saying) -> list[dict[str, str]]:
    """Say what is open at a step: the verdict's own asks about what is used in it."""
    asks = [reason for reason in saying.answer.verdict.reasons if reason.state == "ask"]
    if not asks:
        return []
    used = [part.substrate.path for part in step.preparations]
    if step.primer is not None:
        used.append(step.primer.path)
    if step.activity.get("needs") == "resin":
        used.append(saying.settled.resin.path)
    return [
        {"id": reason.id, "text": saying.words.said(reason.text)}
        for reason in asks
        if reason.id.partition(": ")[0] in used
    ]


def _holds(step: Step, saying: Saying, slots: StepSlots, common: Lazy) -> list[dict[str, str]]:
    """Say the hold points of a step."""
    holds = holds_of(step.activity)
    if not holds:
        return []
    own = slots.of(step, common)
    return [
        {
            "id": hold.id,
            "text": saying.words.said(TradeText(hold.text.record, hold.text.path, own)),
        }
        for hold in holds
    ]
