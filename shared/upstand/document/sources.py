"""The sources behind an answer: every record of `sources` that a value or a rule in it names."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upstand.answer import Answer
from upstand.document.graph import Graph
from upstand.document.shelf import Shelf


def _used(answer: Answer, graph: Graph, shelf: Shelf) -> Iterator[tuple[str, str, str]]:
    """Yield (source, grade, what for)."""
    for leaf in graph.leaves:
        if leaf.origin.source:
            yield leaf.origin.source, leaf.origin.grade, leaf.origin.where
    if not answer.layout.stopped:
        yield from shelf.limit_sources(answer.settled.detail)
        for rule in answer.settled.detail.get("dimensions", ()):
            if rule["basis"].get("source"):
                yield rule["basis"]["source"], rule["basis"]["grade"], answer.settled.detail.path
    for caution in answer.cautions:
        for rule in caution.record.get("rules", ()):
            if rule["basis"].get("source"):
                yield rule["basis"]["source"], rule["basis"]["grade"], caution.record.path
    confirmed = [c.check for c in answer.verdict.confirm if c.check is not None]
    for check in (*answer.checks, *confirmed):
        standard = check.get("standard")
        if standard is not None and standard["basis"].get("source"):
            yield standard["basis"]["source"], standard["basis"]["grade"], check.path
    for step in answer.procedure.steps:
        for part in step.preparations:
            standard = part.record.get("steps")[part.step].get("standard")
            if standard is not None and standard["basis"].get("source"):
                yield standard["basis"]["source"], standard["basis"]["grade"], part.record.path


def list_sources(answer: Answer, graph: Graph, shelf: Shelf) -> list[dict[str, Any]]:
    """List each source once, with the grades and the places it is used at."""
    uses: dict[str, list[tuple[str, str]]] = {}
    for source, grade, where in dict.fromkeys(_used(answer, graph, shelf)):
        uses.setdefault(source, []).append((grade, where))
    found = []
    for path, places in sorted(uses.items()):
        record = answer.edition.record(path)
        found.append(
            {
                "id": record.id,
                "title": record.get("title"),
                "issuer": record.get("issuer"),
                "year": record.get("year"),
                "grades": sorted({grade for grade, _ in places}),
                "used_for": sorted({where for _, where in places}),
            }
        )
    return found
