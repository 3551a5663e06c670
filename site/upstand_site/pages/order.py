"""The numbered order of work of one example, hold points inside the step they belong to.

All steps are one list, written number by number, and every box stands inside its step: a box
between two lists would start the numbers again, and a wrong order is a safety fault.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from upstand_site.context import Context
from upstand_site.examples import Example
from upstand_site.markdown import Page, box, bullets, numbered


def order_of_work(context: Context, page: Page, example: Example) -> Iterator[str]:
    """Yield the section with every step of the example."""
    label = context.label
    yield f"## {label('head.order')} {{#order}}"
    yield label("order-lead", example=example_words(context, example))
    steps = example.document["steps"]
    if not steps:
        reasons = [context.plain(r["text"]) for r in example.document["verdict"]["reasons"]]
        yield box("stop", context.title("stop", label("no-steps")), bullets(reasons))
        return
    yield numbered((step["n"], _step(context, page, step)) for step in steps)


def example_words(context: Context, example: Example) -> str:
    """Say what the example is: what stands in the roof, which roof, which resin."""
    document = example.document
    plates = [
        context.plain(surface["label"])
        for surface in document["surfaces"]
        if surface["id"].startswith("plate")
    ]
    roof = context.name("substrates/" + document["roof"]["id"])
    resin = context.name("resins/" + document["resin"]["id"])
    sizes = example.body.get("members", [])
    shown = ", ".join(_member(context, member) for member in sizes)
    return "; ".join(part for part in (shown, *plates, roof, resin) if part)


def _member(context: Context, member: Mapping[str, Any]) -> str:
    """Name a member as the size table does; by its section where it isn't in it."""
    for sizes in context.samples["sizes"].values():
        for size in sizes:
            if size["member"] == member:
                substrate = context.name(f"substrates/{member['substrate']}")
                return f"{context.said(size['name'])}, {substrate}"
    return context.name(f"substrates/{member['substrate']}")


def _step(context: Context, page: Page, step: Mapping[str, Any]) -> str:
    label = context.label
    lines = [f"**{context.plain(step['name'])}.** {context.plain(step['text'])}"]
    if step.get("here"):
        lines.append(f"**{label('here')}** {context.plain(step['here'])}")
    for part in step["parts"]:
        lines.append(_part(context, page, part))
    holds = [context.plain(hold["text"]) for hold in step["holds"]]
    if holds:
        body = holds[0] if len(holds) == 1 else bullets(holds)
        lines.append(box("hold", label("box.hold"), body))
    return "\n\n".join(lines)


def _part(context: Context, page: Page, part: Mapping[str, Any]) -> str:
    """What a step means on one surface."""
    label = context.label
    text = f"**{context.plain(part['label'])}:** {context.plain(part['text'])}"
    if part.get("grit"):
        text += f" **{label('grit')}** {context.plain(str(part['grit']))}"
    text += f" **{label('until')}** {context.plain(part['until'])}"
    if part["wait"]:
        text += f" **{label('then-wait')}** {context.plain(part['wait'])}"
    rule = part["standard"]
    if rule:
        grade = context.grade_word(rule["grade"])
        source = f": {context.link(page, 'sources/' + rule['source'])}" if rule["source"] else ""
        text += (
            f' <span class="screen-inline">{context.plain(rule["text"])} '
            f'<span class="grade">({grade}{source})</span></span>'
        )
    return f"-   {text}"
