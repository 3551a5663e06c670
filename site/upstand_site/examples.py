"""Worked examples: requests from samples.yaml, put to the engine, with what it answered."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any

from upstand.answer import Answer, answer
from upstand.document.graph import walk
from upstand.document.requirements import write
from upstand.document.workings import named_quantities
from upstand.edition import Record, Value
from upstand.edition.applies import takes
from upstand.edition.strict_yaml import read_file
from upstand.query import read_requirements
from upstand_site.context import Context
from upstand_site.places import find_sources

FILE = "samples.yaml"


def load_samples(sources: Path | None = None) -> Mapping[str, Any]:
    """Read the example requests and the common sizes."""
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

    def request(self) -> str:
        """Return the request as JSON on lines of its own; language and weather left out."""
        shown = {k: v for k, v in self.body.items() if k not in ("lang", "now")}
        return json.dumps(shown, ensure_ascii=False)

    def values(self) -> Iterator[Value]:
        """Yield every value of the edition that the answer rests on, each once, by name."""
        edition = self.answer.edition
        places = sorted(
            {
                leaf.origin.where
                for leaf in walk(named_quantities(self.answer)).leaves
                if ": " in leaf.origin.where
            }
        )
        for where in places:
            path, _, field = where.partition(": ")
            if edition.has(path) and isinstance(edition.record(path).get(field), Value):
                yield edition.record(path).value(field)


def put(context: Context, body: Mapping[str, Any]) -> Example:
    """Put a request to the engine in the reader's language."""
    asked = {**body, "lang": context.lang}
    return Example(asked, answer(read_requirements(asked, context.edition), context.edition))


def example_of(context: Context, record: Record) -> Example:
    """Return the worked example of a detail: its own in samples.yaml, else one by its inputs."""
    samples = context.samples
    own = samples["examples"].get(record.id)
    body: dict[str, Any] = {"detail": record.id, **samples["common"], "now": samples["now"]}
    if own is not None:
        body.update(own)
    elif takes(context.edition, record.id, "members"):
        body["members"] = [sizes_of(context, record)[0]["member"]]
    return put(context, body)


def sizes_of(context: Context, record: Record) -> list[Mapping[str, Any]]:
    """Return the common sizes whose sections a detail takes, in the order of its sections."""
    taken = [str(section) for section in record.get("sections", ())]
    sizes: Mapping[str, Any] = context.samples["sizes"]
    return [size for section in taken for size in sizes.get(section, ())]
