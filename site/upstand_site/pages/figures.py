"""The drawings of a detail's example: section and plan, as SVG in the page itself."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from upstand.drawing import NothingToDraw, draw
from upstand_site.context import Context
from upstand_site.examples import Example, example_of


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


def drawn_small(context: Context) -> Mapping[str, str]:
    """Return detail -> its section without any words, for a card; where there is none, nothing."""
    found = {}
    for record in context.edition.kind("details").values():
        try:
            svg = draw(example_of(context, record).answer, "section", name=record.id)
        except NothingToDraw:
            continue
        found[record.id] = _wordless(svg)
    return found


def write_small(out: Path, context: Context) -> None:
    """Write the small sections as files, once for all languages."""
    folder = out / "assets" / "small"
    folder.mkdir(parents=True, exist_ok=True)
    for id, svg in drawn_small(context).items():
        (folder / f"{id}.svg").write_text(svg, encoding="utf-8")


def _wordless(svg: str) -> str:
    """Leave out words, measures and the key below: what is left is told by its shape alone."""
    marks = [float(y) for y in re.findall(r'<text x="46" y="([\d.]+)">', svg)]
    svg = re.sub(r"<(text|title|desc)\b[^>]*>.*?</\1>", "", svg)
    svg = re.sub(r'<(?:path|circle) class="(?:thin|tick|dot)"[^>]*/>', "", svg)
    svg = svg.replace(' role="img"', "")
    svg = re.sub(r' aria-labelledby="[^"]*"', "", svg)
    if marks:
        height = min(marks) - 24
        svg = re.sub(
            r'viewBox="0 0 ([\d.]+) [\d.]+"', rf'viewBox="0 0 \1 {height:g}"', svg, count=1
        )
    return svg
