"""The numbered order of work of one example, hold points inside the step they belong to.

All steps are one list, written number by number, and every box stands inside its step: a box
between two lists would start the numbers again, and a wrong order is a safety fault.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from upstand.document.requirements import words_for
from upstand.document.sentences import Saying
from upstand.edition import Record
from upstand.procedure.cautions import Caution
from upstand_site.context import Context
from upstand_site.examples import Example, Sized
from upstand_site.markdown import Page, box, bullets, numbered, prose, wrapped
from upstand_site.pages.at_step import cautions_by_step


def order_of_work(context: Context, page: Page, sized: Sequence[Sized]) -> Iterator[str]:
    """Yield the section with every step; a sentence that changes with the size in each form."""
    label = context.label
    yield f"## {label('head.order')} {{#order}}"
    document = sized[0].example.document
    if not document["steps"]:
        reasons = [context.plain(r["text"]) for r in document["verdict"]["reasons"]]
        yield box("stop", context.title("stop", label("no-steps")), bullets(reasons))
        return
    yield wrapped("hint", label("order-lead", example=example_words(context, sized[0].example)))
    all_steps = [_listed(context, each.example) for each in sized]
    _same_order(page, all_steps)
    told = cautions_by_step(sized[0].example)
    yield numbered(
        (steps[0]["n"], _step(context, steps, told.get(steps[0]["n"], ())))
        for steps in zip(*all_steps, strict=True)
    )


def holds_on_paper(context: Context, example: Example) -> str:
    """Return the hold points by the number of their step, for the first sheet of paper."""
    items = [
        f"**{step['n']}** {context.plain(_own(context, step, hold['text']))}"
        for step in example.document["steps"]
        for hold in step["holds"]
    ]
    if not items:
        return ""
    title = f"**{context.label('box.hold')}**"
    return wrapped("paper holds", f"{title}\n\n{bullets(items)}")


def varied(texts: Sequence[str]) -> str:
    """Return a text once, or, where it changes with the size, in each form it takes."""
    if len(set(texts)) == 1:
        return prose(texts[0])
    return "".join(
        f'<span class="v{" on" if n == 0 else ""}" data-v="{n}">{prose(text)}</span>'
        for n, text in enumerate(texts)
    )


def _listed(context: Context, example: Example) -> list[Mapping[str, Any]]:
    """Return the steps of an answer; pieces, which stand with the sizes, are not listed again."""
    steps, fleece = example.document["steps"], example.answer.layout.fleece
    if fleece is None:
        return list(steps)
    said = Saying(example.answer, words_for(example.answer, no_break=True))
    pieces = said.pieces_text(fleece.pieces)
    above = context.label("pieces-above")
    return [{**step, "text": step["text"].replace(pieces, above)} for step in steps]


def _same_order(page: Page, all_steps: Sequence[Sequence[Mapping[str, Any]]]) -> None:
    """Refuse a size that changes what is done: its page would tell another size's order."""
    first = [_outline(step) for step in all_steps[0]]
    for steps in all_steps[1:]:
        if [_outline(step) for step in steps] != first:
            raise ValueError(f"{page.path}: a size changes the order of work")


def _outline(step: Mapping[str, Any]) -> tuple[Any, ...]:
    parts = tuple((part["label"], part["text"], part["until"]) for part in step["parts"])
    return step["n"], step["activity"], parts, tuple(hold["id"] for hold in step["holds"])


def example_words(context: Context, example: Example) -> str:
    """Say what the example is: what is flashed, the roof, the resin."""
    document = example.document
    plates = [
        context.plain(surface["label"])
        for surface in document["surfaces"]
        if surface["id"].startswith("plate")
    ]
    roof = context.name("substrates/" + document["roof"]["id"])
    resin = context.name("resins/" + document["resin"]["id"])
    parts = dict.fromkeys(
        context.name(f"substrates/{surface['substrate']}")
        for surface in document["surfaces"]
        if surface["substrate"] and not surface["id"].startswith(("roof", "plate"))
    )
    return "; ".join([*parts, *plates, roof, resin])


def _step(context: Context, steps: Sequence[Mapping[str, Any]], cautions: Iterable[Caution]) -> str:
    """Write one step as a card: what does harm, what is done, until when, the wait, the hold."""
    label, step = context.label, steps[0]
    name, key = context.plain(step["name"]), f"{step['n']}-{step['activity']}"
    done = (
        f'<label class="tick"><input type="checkbox" data-tick="{key}"> '
        f'<span class="n">{step["n"]}</span> <b>{name}.</b></label> '
        f"{varied([one['text'] for one in steps])}"
    )
    if step.get("here"):
        done += f" **{label('here')}** {varied([one['here'] for one in steps])}"
    lines = [done, *(_caution(context, each.record) for each in cautions)]
    by_surface: dict[str, list[str]] = {}
    for part in step["parts"]:
        by_surface.setdefault(_surface(part["label"]), []).append(_part(context, part))
    lines += [f"**{context.plain(each)}:** {' '.join(by_surface[each])}" for each in by_surface]
    asks = [context.plain(ask["text"]) for ask in step.get("asks", ())]
    if asks:
        lines.append(box("ask", label("box.ask"), bullets(asks)))
    holds = [
        varied([_own(context, one, one["holds"][i]["text"]) for one in steps])
        for i in range(len(step["holds"]))
    ]
    if holds:
        lines.append(box("hold", label("box.hold"), "\n\n".join(holds)))
    return "\n\n".join(lines)


def _caution(context: Context, record: Record) -> str:
    """Say in full what is done about a hazard, at the step that brings it."""
    kind = str(record.get("severity"))
    hazard = record.text("short" if record.has("short") else "name", context.lang).partition(":")[0]
    title = f"{context.label(f'box.{kind}')}: {prose(hazard)}"
    return box(kind, title, context.text(record, "measure"))


def _surface(label: str) -> str:
    """Name a surface by what it is alone: `wall (brick)` is brick, wherever it lies.

    >>> _surface("member 1 (carbon steel) and member 2 (carbon steel)")
    'Carbon steel'
    """
    made_of = set(re.findall(r"\(([^()]+)\)", label))
    only = made_of.pop() if len(made_of) == 1 else label
    return only[:1].upper() + only[1:]


def _own(context: Context, step: Mapping[str, Any], text: str) -> str:
    """Leave out the name of a step's own primer: the step begins with it."""
    if not step["primer"]:
        return text
    name = context.edition.record(f"primers/{step['primer']}").text("name", context.lang)
    rest = text.removeprefix(f"{name}: ")
    return rest[:1].upper() + rest[1:]


def _part(context: Context, part: Mapping[str, Any]) -> str:
    """What a step means on one surface: do, until, then wait."""
    label = context.label
    text = context.plain(part["text"])
    grit = str(part["grit"] or "").partition(" (")[0]
    if grit and grit not in part["text"]:
        text += f" **{label('grit')}** {context.plain(grit)}."
    text += f'<span class="until">**{label("until")}** {context.plain(part["until"])}</span>'
    if part["wait"]:
        text += f'<span class="wait">**{label("then-wait")}** {context.plain(part["wait"])}</span>'
    return text
