"""The numbered order of work of one example, hold points inside the step they belong to.

All steps are one list, written number by number, and every box stands inside its step: a box
between two lists would start the numbers again, and a wrong order is a safety fault.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from upstand_site.context import Context
from upstand_site.examples import Example, Sized
from upstand_site.markdown import Page, box, bullets, numbered, prose, wrapped


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
    all_steps = [each.example.document["steps"] for each in sized]
    _same_order(page, all_steps)
    yield numbered((steps[0]["n"], _step(context, steps)) for steps in zip(*all_steps, strict=True))


def holds_on_paper(context: Context, example: Example) -> str:
    """Return the hold points by the number of their step, for the first sheet of paper."""
    items = [
        f"**{step['n']}** {context.plain(hold['text'])}"
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


def _step(context: Context, steps: Sequence[Mapping[str, Any]]) -> str:
    label, step = context.label, steps[0]
    lines = [
        f'<label class="tick"><input type="checkbox" data-tick="{step["n"]}-{step["activity"]}"> '
        f"<b>{context.plain(step['name'])}</b></label>",
        f'<span class="do">{varied([one["text"] for one in steps])}</span>',
    ]
    if step.get("here"):
        lines.append(f"**{label('here')}** {varied([one['here'] for one in steps])}")
    by_surface: dict[str, list[str]] = {}
    for part in step["parts"]:
        by_surface.setdefault(part["label"], []).append(_part(context, part))
    lines += [f"**{context.plain(name)}:** {'<br>'.join(by_surface[name])}" for name in by_surface]
    holds = [varied([one["holds"][i]["text"] for one in steps]) for i in range(len(step["holds"]))]
    asks = [context.plain(ask["text"]) for ask in step.get("asks", ())]
    if asks:
        lines.append(box("ask", label("box.ask"), bullets(asks)))
    if holds:
        body = holds[0] if len(holds) == 1 else bullets(holds)
        lines.append(box("hold", label("box.hold"), body))
    return "\n\n".join(lines)


def _part(context: Context, part: Mapping[str, Any]) -> str:
    """What a step means on one surface: do, until, then wait."""
    label = context.label
    text = context.plain(part["text"])
    if part.get("grit"):
        grit = str(part["grit"]).partition(" (")[0]
        text += f" **{label('grit')}** {context.plain(grit)}."
    text += f'<span class="until">**{label("until")}** {context.plain(part["until"])}</span>'
    if part["wait"]:
        text += f'<span class="wait">**{label("then-wait")}** {context.plain(part["wait"])}</span>'
    return text
