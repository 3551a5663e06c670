"""Worked examples: details of the made-up theater, put to the engine, with what it answered."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from upstand.answer import Answer, answer
from upstand.document.graph import graph_of
from upstand.document.requirements import write
from upstand.edition import Record, Value
from upstand.edition.strict_yaml import read_file
from upstand.query import read_requirements
from upstand.scene import details, question, scene
from upstand_site.context import Context
from upstand_site.places import find_sources

FILE = "samples.yaml"


def load_samples(sources: Path | None = None) -> Mapping[str, Any]:
    """Read the common sizes."""
    path = (sources or find_sources()) / "pages" / FILE
    samples: Mapping[str, Any] = read_file(path, f"pages/{FILE}")
    return samples


@dataclass(frozen=True)
class Example:
    """A request as a client would send it, and the engine's answer to it."""

    body: Mapping[str, Any]
    answer: Answer

    @cached_property
    def document(self) -> dict[str, Any]:
        """The answer as the API gives it, numbers joined to their units."""
        return write(self.answer, no_break=True)

    def values(self) -> Iterator[Value]:
        """Yield every value of the edition that the answer rests on, each once, by name."""
        edition = self.answer.edition
        places = sorted(
            {
                leaf.origin.where
                for leaf in graph_of(self.answer).leaves
                if ": " in leaf.origin.where
            }
        )
        for where in places:
            path, _, field = where.partition(": ")
            if edition.has(path) and isinstance(edition.record(path).get(field), Value):
                yield edition.record(path).value(field)


def put(context: Context, body: Mapping[str, Any]) -> Example:
    """Put a request to the engine in the reader's language."""
    asked = {**body, "lang": context.lang, "units": context.units}
    return Example(asked, answer(read_requirements(asked, context.edition), context.edition))


def example_of(context: Context, record: Record) -> Example:
    """Return the worked example of a detail: the first of its kind in the made-up theater.

    Raises KeyError where the theater has none: each detail's page shows its own.
    """
    return put(context, _of_the_scene(record)[1])


@dataclass(frozen=True)
class Sized:
    """One size of a detail: its name in every language, and its worked example."""

    name: Mapping[str, str]
    example: Example


def sizes_of(context: Context, record: Record) -> list[Sized]:
    """Return the sizes of a detail, its worked example first.

    The others are asked as the example is, its surfaces too, with other measures: the common
    sections that it takes, or the measures listed for the detail itself.
    """
    own, body = _of_the_scene(record)
    sized = [Sized(own, put(context, body))]
    seen = [_measures(body)]
    for size in _others(context, record, body):
        asked = {**body, **size["ask"]}
        if _measures(asked) not in seen:
            seen.append(_measures(asked))
            sized.append(Sized(size["name"], put(context, asked)))
    return sized


def _of_the_scene(record: Record) -> tuple[Mapping[str, str], dict[str, Any]]:
    for name in details():
        asked = question(name)
        if asked["detail"] == record.id:
            return scene()["details"][name]["name"], asked
    raise KeyError(f"the scene has no {record.id}")


def _others(
    context: Context, record: Record, body: Mapping[str, Any]
) -> Iterator[Mapping[str, Any]]:
    yield from context.samples["measures"].get(record.id, ())
    members = body.get("members", ())
    if len(members) != 1:
        return
    for section in record.get("sections", ()):
        for size in context.samples["sizes"].get(str(section), ()):
            member = {**size["member"], "substrate": members[0]["substrate"]}
            yield {"name": size["name"], "ask": {"members": [member]}}


def _measures(body: Mapping[str, Any]) -> str:
    return json.dumps(body, sort_keys=True)
