"""Worked examples: details of the made-up theater, put to the engine, with what it answered."""

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
    """Return the worked example of a detail: the first of its kind in the made-up theater.

    Raises KeyError where the theater has none: each detail's page shows its own.
    """
    for name in details():
        asked = question(name)
        if asked["detail"] == record.id:
            return put(context, asked)
    raise KeyError(f"the scene has no {record.id}")


def common(record: Record) -> dict[str, Any]:
    """Return what all sizes of a detail share."""
    return {"detail": record.id, **scene()["shared"]}


def sizes_of(context: Context, record: Record) -> list[tuple[Mapping[str, str], dict[str, Any]]]:
    """Return the sizes of a detail, each with its name and its request.

    The common sizes whose sections it takes; of a detail without members, those of the theater.
    """
    taken = [str(section) for section in record.get("sections", ())]
    sizes: Mapping[str, Any] = context.samples["sizes"]
    listed = [size for section in taken for size in sizes.get(section, ())]
    if listed and takes(context.edition, record.id, "members"):
        return [(size["name"], {**common(record), "members": [size["member"]]}) for size in listed]
    return [
        (scene()["details"][name]["name"], question(name, weather=False))
        for name in details()
        if question(name)["detail"] == record.id
    ]
