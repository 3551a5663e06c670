"""The drawings of a detail's example: section and plan, as SVG in the page itself."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from pathlib import Path

from upstand.drawing import NothingToDraw, draw
from upstand_site.context import Context
from upstand_site.examples import Example, example_of

KEY = re.compile(r'<g class="key" data-top="([\d.]+)">(.*?</g>)</g>', re.S)


def figures(context: Context, example: Example) -> Iterator[str]:
    """Yield the section and the plan, then one key to both; nothing where nothing is drawn.

    Pieces are left out of the key, and so are measures: both stand where the sizes are.
    """
    drawings: list[str] = []
    key: dict[str, tuple[str, str]] = {}
    for view in ("section", "plan"):
        try:
            name = f"{example.answer.settled.detail.id}-{view}-{context.units}"
            svg = draw(example.answer, view, name=name)
        except NothingToDraw:
            continue
        bare, rows = _apart(svg)
        for words, sample in rows.items():
            only = f"{view}-only" if words not in key else ""
            key[words] = sample or key.get(words, ("",))[0], only
        drawings.append(f'<figure class="drawn {view}">{bare}</figure>')
    if drawings:
        yield f"## {context.label('head.drawn')} {{#drawn}}"
        yield f'<div class="figures">{"".join(drawings)}</div>'
        items = "".join(
            f'<li class="{only}{"" if sample else " whole"}">{sample}<span>{words}</span></li>'
            for words, (sample, only) in sorted(key.items(), key=lambda row: not row[1][0])
        )
        yield f'<ul class="key">{items}</ul>'


def _apart(svg: str) -> tuple[str, dict[str, str]]:
    """Take a drawing and its key apart: what each row is -> its sample, pieces left out."""
    found = KEY.search(svg)
    if found is None:
        return svg, {}
    rows = {}
    for row in re.findall(r"<g>(.*?)</g>", found[2], re.S):
        words = " ".join(re.findall(r"<text[^>]*>(.*?)</text>", row))
        short = re.split(r"[,:]", words)[0]
        path = re.search(r"<path[^>]* d=\"M([\d.]+) ([\d.]+)L[^>]*/>", row)
        if path:
            middle = float(path[2]) + (8.0 if path[1] == "4" else 0.0)
            rows[short] = (
                '<svg class="drawing sample" viewBox="0 0 42 20" aria-hidden="true"><g fill="none" '
                f'stroke-width="1.5" transform="translate(0 {10.0 - middle:g})">{path[0]}</g></svg>'
            )
        elif 'class="bold"' not in row or re.search("[(•]", row.partition("</text>")[0]):
            rows[words] = ""
    bare = KEY.sub("", svg)
    return re.sub(r'(viewBox="0 0 [\d.]+) [\d.]+"', rf'\1 {found[1]}"', bare, count=1), rows


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
    svg, _ = _apart(svg)
    svg = re.sub(r"<(text|title|desc)\b[^>]*>.*?</\1>", "", svg)
    svg = re.sub(r'<(?:path|circle) class="(?:thin|notch|dot|leader)"[^>]*/>', "", svg)
    svg = svg.replace(' role="img"', "")
    return re.sub(r' aria-labelledby="[^"]*"', "", svg)
