"""What rules look at: the nodes of ``next`` as read, and every part of them with its shape."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path
from typing import Any, TypeVar

from upstand.edition.faults import Fault, near
from upstand.edition.load import read_tree
from upstand.edition.schema.kinds import KINDS
from upstand.edition.schema.shapes import Part, Shape
from upstand.edition.schema.values import GRADES, Sourced

__all__ = ["Source", "Thing"]

S = TypeVar("S", bound=Shape)


@dataclass(frozen=True)
class Thing:
    """One record as read. ``path`` is its kind/id, ``file`` the name that faults carry."""

    kind: str
    id: str
    node: Mapping[str, Any]

    @property
    def path(self) -> str:
        """Its kind and id."""
        return f"{self.kind}/{self.id}"

    @property
    def file(self) -> str:
        """Its file, from the folder of records."""
        return f"{self.kind}/{self.id}.yaml"

    @cached_property
    def parts(self) -> tuple[Part, ...]:
        """Every part of it, with shape and dotted path."""
        return tuple(KINDS[self.kind].parts(self.node, ""))

    def of(self, *shapes: type[S]) -> Iterator[tuple[str, S, Any]]:
        """Yield (path, shape, node) of every part that has one of the shapes."""
        for part in self.parts:
            if isinstance(part.shape, shapes):
                yield part.path, part.shape, part.node

    def fault(self, path: str, value: object, rule: str, why: str, cure: str) -> Fault:
        """Return a fault in this record."""
        text = "" if value is None else str(value)
        shown = text if len(text) <= 80 else text[:77] + "..."
        return Fault(self.file, path, shown, rule, why, cure)


class Source:
    """A folder of spec data, read once for all rules."""

    def __init__(
        self,
        root: Path,
        raw: Mapping[str, Mapping[str, Any]],
        faults: list[Fault],
        date: str | None,
        *,
        only: frozenset[str] | None = None,
        overlaid: bool = False,
    ) -> None:
        """Hold what was read; see :meth:`read`.

        ``only``: the kind/ids that rules look at, where not all. ``overlaid``: values may be
        of grade ``product``.
        """
        self.root = root
        self.raw = raw
        self.file_faults = tuple(faults)
        self.date = date
        self.only = only
        self.overlaid = overlaid

    @classmethod
    def read(cls, root: Path, *, date: str | None = None) -> Source:
        """Read ``next`` under a root; what cannot be read is kept in ``file_faults``."""
        if not (root / "next").is_dir():
            cure = "give the folder that holds next/ and editions/"
            missing = Fault(str(root), "", "", "file", "holds no folder next", cure)
            return cls(root, {}, [missing], date)
        raw, faults = read_tree(root / "next")
        return cls(root, raw, faults, date)

    @cached_property
    def things(self) -> tuple[Thing, ...]:
        """Every record that is a mapping, in order of kind and id."""
        return tuple(
            Thing(kind, id, node) for kind, id, node in self.nodes() if isinstance(node, dict)
        )

    def nodes(self) -> Iterator[tuple[str, str, Any]]:
        """Yield (kind, id, node) of every record, mapping or not."""
        for kind in KINDS:
            for id, node in sorted(self.raw.get(kind, {}).items()):
                if self.only is None or f"{kind}/{id}" in self.only:
                    yield kind, id, node

    def kind(self, kind: str) -> Iterator[Thing]:
        """Yield the records of one kind."""
        return (thing for thing in self.things if thing.kind == kind)

    def every(self, kind: str) -> Iterator[Thing]:
        """Yield the records of one kind, also where only some are checked."""
        held = self.raw.get(kind, {})
        return (Thing(kind, id, held[id]) for id in sorted(held) if isinstance(held[id], dict))

    def has(self, path: str) -> bool:
        """Tell whether there is a record kind/id."""
        kind, _, id = path.partition("/")
        return id in self.raw.get(kind, {})

    def nearest(self, path: str) -> str:
        """Return a cure that names the records most like a path."""
        kind = path.partition("/")[0]
        known = [f"{kind}/{id}" for id in self.raw.get(kind, {})]
        found = near(path, known)
        return f"nearest: {', '.join(found)}" if found else f"write {path}.yaml, or another id"

    def counts(self) -> dict[str, dict[str, int]]:
        """Return kind -> grade -> how many values, statements and tables carry it."""
        counted: dict[str, dict[str, int]] = {}
        for thing in self.things:
            held = counted.setdefault(thing.kind, dict.fromkeys(GRADES, 0))
            for _, _, node in thing.of(Sourced):
                basis = node.get("basis") if isinstance(node, dict) else None
                grade = basis.get("grade") if isinstance(basis, dict) else None
                if grade in held:
                    held[grade] += 1
        return counted
