"""The register of sources: what each is, what of it was read, and what rests on it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from upstand.edition import Edition, Value
from upstand_site.context import PAGES, Context
from upstand_site.markdown import Page, bullets, prose


def uses_of(edition: Edition) -> dict[str, dict[tuple[str, str], None]]:
    """Return source -> (record's path, grade) for every value and rule that names a source."""
    found: dict[str, dict[tuple[str, str], None]] = {}
    for path in edition.paths():
        for grade, source in _graded(edition.record(path).data):
            if source:
                found.setdefault(source, {})[(path, grade)] = None
    return found


def _graded(node: Any) -> Iterator[tuple[str, str | None]]:
    """Yield (grade, source) of everything with a grade under a node."""
    if isinstance(node, Value):
        yield node.grade, node.source
    elif isinstance(node, Mapping):
        basis = node.get("basis")
        if isinstance(basis, Mapping):
            yield str(basis["grade"]), basis.get("source")
        else:
            for item in node.values():
                yield from _graded(item)
    elif isinstance(node, tuple):
        for item in node:
            yield from _graded(item)


def write(context: Context) -> Iterator[Page]:
    """Write the one page of sources."""
    label = context.label
    page = Page(
        "sources.md", label("page.sources"), "lookup", about=label("about.sources"), terse=True
    )
    page.add(label("sources-lead"))
    uses = uses_of(context.edition)
    for record in context.edition.kind("sources").values():
        page.heading(context.name(record.path), record.id)
        title = prose(str(record.get("title")))
        year = f", {record.get('year')}" if record.has("year") else ""
        issuer = prose(str(record.get("issuer")))
        page.add(f'*<span lang="en">{title}</span>*, <span lang="en">{issuer}</span>{year}')
        page.add(f"**{label('what-was-read')}** {context.text(record, 'read')}")
        rows = [
            f"{context.link(page, path) if _shown(path) else context.name(path)} "
            f"({context.grade_word(grade)})"
            for path, grade in uses.get(record.path, {})
        ]
        page.add(f"**{label('rests-on')}**", bullets(rows)) if rows else page.add(
            label("rests-nothing")
        )
    yield page


def _shown(path: str) -> bool:
    return path.partition("/")[0] in PAGES
