"""The drawings of a detail's example: section and plan, as SVG in the page itself."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.drawing import NothingToDraw, draw
from upstand_site.context import Context
from upstand_site.examples import Example


def figures(context: Context, example: Example) -> Iterator[str]:
    """Yield the section and the plan; nothing where the geometry is not computed."""
    drawings = []
    for view in ("section", "plan"):
        try:
            svg = draw(example.answer, view, name=f"{example.answer.settled.detail.id}-{view}")
        except NothingToDraw:
            continue
        drawings.append(f'<figure class="drawn {view}">{svg}</figure>')
    if drawings:
        yield f"## {context.label('head.drawn')} {{#drawn}}"
        yield f'<div class="figures">{"".join(drawings)}</div>'
