"""Shapes of nodes, as data: what a field of a kind may hold.

A shape does two things: ``faults`` says what is wrong with a node's form, ``parts`` walks the
node and names the shape of everything in it, so that rules about relations (units, references,
prose, order) need not know the kinds. A node of the wrong form is a fault once and is then
passed over by ``parts``.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from upstand.edition.faults import near

__all__ = [
    "AnyOf",
    "Choice",
    "Field",
    "Fields",
    "Flag",
    "ListOf",
    "MapOf",
    "Open",
    "Part",
    "Prose",
    "Ref",
    "Shape",
    "Whole",
    "Words",
    "Wrong",
    "may",
    "must",
]


@dataclass(frozen=True, slots=True)
class Wrong:
    """One thing wrong with a node's form."""

    path: str
    value: str
    why: str
    cure: str


@dataclass(frozen=True, slots=True)
class Part:
    """A node, its shape and its dotted path in the record."""

    path: str
    shape: Shape
    node: Any


def step(path: str, name: str | int) -> str:
    """Return the path one step deeper.

    >>> step("layers", "base"), step("", 3)
    ('layers.base', '3')
    """
    return f"{path}.{name}" if path else str(name)


def shown(node: Any) -> str:
    """Return a node short enough to stand in a message."""
    text = str(node)
    return text if len(text) <= 60 else text[:57] + "..."


class Shape:
    """What a node may be. ``means`` says it in words, for cures and the handbook."""

    __slots__ = ()

    @property
    def means(self) -> str:
        """What is accepted, in words."""
        raise NotImplementedError

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Yield what is wrong with the node's form."""
        raise NotImplementedError

    def fits(self, node: Any) -> bool:
        """Tell whether the node looks like this shape, right or not (for AnyOf)."""
        return not any(True for _ in self.faults(node, ""))

    def parts(self, node: Any, path: str) -> Iterator[Part]:
        """Yield the node and all that is in it."""
        yield Part(path, self, node)

    def wrong(self, node: Any, path: str) -> Wrong:
        """Return the fault that the node is not of this shape at all."""
        return Wrong(path, shown(node), f"is not {self.means}", f"write {self.means}")


@dataclass(frozen=True, slots=True)
class Open(Shape):
    """Any node: tables with a form of their own."""

    means: str = "a table"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Accept everything."""
        return iter(())


@dataclass(frozen=True, slots=True)
class Words(Shape):
    """A line of plain text, not shown to crews as prose; or one that fits a pattern."""

    means: str = "a line of text"
    pattern: str = r".+"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse what is not text or does not fit the pattern."""
        if not isinstance(node, str) or not re.fullmatch(self.pattern, node, re.DOTALL):
            yield self.wrong(node, path)


@dataclass(frozen=True, slots=True)
class Flag(Shape):
    """True or false."""

    means: str = "true or false"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse all else."""
        if not isinstance(node, bool):
            yield self.wrong(node, path)


@dataclass(frozen=True, slots=True)
class Whole(Shape):
    """A plain whole number between two ends, no sourced value: a year, a place in an order."""

    low: int = 0
    high: int = 9999

    @property
    def means(self) -> str:
        """The ends, in words."""
        return f"a whole number from {self.low} to {self.high}"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse what is no whole number, or outside the ends."""
        if isinstance(node, bool) or not isinstance(node, int) or not self.low <= node <= self.high:
            yield self.wrong(node, path)


@dataclass(frozen=True, slots=True)
class Choice(Shape):
    """One of a closed list of words or whole numbers."""

    options: tuple[str | int, ...]
    what: str = ""

    @property
    def means(self) -> str:
        """The list, in words."""
        words = [str(option) for option in self.options]
        listed = words[0] if len(words) == 1 else ", ".join(words[:-1]) + f" or {words[-1]}"
        return f"{self.what} ({listed})" if self.what else listed

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse what is not in the list (1 is not true)."""
        if isinstance(node, bool) or node not in self.options:
            nearest = near(str(node), [str(option) for option in self.options])
            hint = f"; nearest: {', '.join(nearest)}" if nearest else ""
            yield Wrong(path, shown(node), f"is not {self.means}", f"write one of them{hint}")


@dataclass(frozen=True, slots=True)
class Prose(Shape):
    """Text in both languages, ``{en: ..., es: ...}``; ``slots``: it may hold ``{slots}``.

    ``figures``: it may hold values of the edition, as ``{parameters/ID}`` or ``{limits/ID}``.
    """

    slots: bool = False
    figures: bool = False
    means: str = 'prose in both languages: {en: "...", es: "..."}'

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse what is not a mapping of languages; rule ``prose`` reads the languages."""
        if not isinstance(node, dict) or not {"en", "es"} & set(node):
            yield self.wrong(node, path)


@dataclass(frozen=True, slots=True)
class Ref(Shape):
    """The id of another record, with its kind, or one of a few words.

    ``bare``: of its one kind, and written without it.
    """

    kinds: tuple[str, ...]
    words: tuple[str, ...] = ()
    bare: bool = False

    @property
    def means(self) -> str:
        """How to write it."""
        ids = [f"the id of one of {kind}" if self.bare else f"{kind}/ID" for kind in self.kinds]
        return " or ".join([*ids, *self.words])

    def target(self, node: Any) -> str | None:
        """Return the kind/id that a node names; None where it names none (a word, a fault)."""
        if not isinstance(node, str) or node in self.words:
            return None
        if self.bare:
            return None if "/" in node else f"{self.kinds[0]}/{node}"
        return node if "/" in node and node.partition("/")[0] in self.kinds else None

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse what is not written as an id of an accepted kind; ``references`` finds it."""
        if node not in self.words and self.target(node) is None:
            yield self.wrong(node, path)


@dataclass(frozen=True, slots=True)
class ListOf(Shape):
    """A list of nodes of one shape, at least so many."""

    item: Shape
    least: int = 0

    @property
    def means(self) -> str:
        """What it lists."""
        several = f"of at least {self.least} " if self.least else "of "
        return f"a list {several}({self.item.means})"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse what is no list, too short a list, and every item of the wrong shape."""
        if not isinstance(node, list):
            yield self.wrong(node, path)
            return
        if len(node) < self.least:
            why = f"lists {len(node)}, at least {self.least} are needed"
            yield Wrong(path, "", why, f"add: {self.item.means}")
        for number, item in enumerate(node):
            yield from self.item.faults(item, step(path, number))

    def fits(self, node: Any) -> bool:
        """A list is a list."""
        return isinstance(node, list)

    def parts(self, node: Any, path: str) -> Iterator[Part]:
        """Yield the list and its items."""
        yield Part(path, self, node)
        if isinstance(node, list):
            for number, item in enumerate(node):
                yield from self.item.parts(item, step(path, number))


@dataclass(frozen=True, slots=True)
class MapOf(Shape):
    """A mapping from ids of the author's choice to nodes of one shape."""

    item: Shape

    @property
    def means(self) -> str:
        """What it maps to."""
        return f"a mapping of names to ({self.item.means})"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse what is no mapping, and every item of the wrong shape."""
        if not isinstance(node, dict):
            yield self.wrong(node, path)
            return
        for key, item in node.items():
            yield from self.item.faults(item, step(path, key))

    def parts(self, node: Any, path: str) -> Iterator[Part]:
        """Yield the mapping and its items."""
        yield Part(path, self, node)
        if isinstance(node, dict):
            for key, item in node.items():
                yield from self.item.parts(item, step(path, key))


@dataclass(frozen=True, slots=True)
class Field:
    """A field: its shape, whether every record has it, and what it means."""

    shape: Shape
    means: str
    required: bool


def must(shape: Shape, means: str) -> Field:
    """Return a field that every record has."""
    return Field(shape, means, True)


def may(shape: Shape, means: str) -> Field:
    """Return a field that a record may have."""
    return Field(shape, means, False)


@dataclass(frozen=True)
class Fields(Shape):
    """A mapping with named fields and no others. ``about`` says what it is."""

    fields: Mapping[str, Field]
    about: str = ""

    @property
    def means(self) -> str:
        """The fields, those that may be missing with a question mark."""
        names = [name + ("" if field.required else "?") for name, field in self.fields.items()]
        return f"{{{', '.join(names)}}}"

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Refuse unknown fields (nearest named), missing ones, and every wrong one."""
        if not isinstance(node, dict):
            yield self.wrong(node, path)
            return
        for name in node:
            if name not in self.fields:
                nearest = near(name, self.fields) or tuple(self.fields)
                cure = f"use one of: {', '.join(nearest)}"
                yield Wrong(step(path, name), "", "is not a field here", cure)
        for name, field in self.fields.items():
            if name in node:
                yield from field.shape.faults(node[name], step(path, name))
            elif field.required:
                yield Wrong(step(path, name), "", "is missing", f"write {field.shape.means}")

    def fits(self, node: Any) -> bool:
        """Any mapping with one of the fields: its faults are worth telling."""
        return isinstance(node, dict) and any(name in self.fields for name in node)

    def parts(self, node: Any, path: str) -> Iterator[Part]:
        """Yield the mapping and its fields."""
        yield Part(path, self, node)
        if isinstance(node, dict):
            for name, item in node.items():
                if name in self.fields:
                    yield from self.fields[name].shape.parts(item, step(path, name))


@dataclass(frozen=True, slots=True)
class AnyOf(Shape):
    """One of several shapes; the first that the node looks like is the one it is held to."""

    shapes: tuple[Shape, ...]

    @property
    def means(self) -> str:
        """All of them, in words."""
        return " or ".join(shape.means for shape in self.shapes)

    def _chosen(self, node: Any) -> Shape | None:
        return next((shape for shape in self.shapes if shape.fits(node)), None)

    def faults(self, node: Any, path: str) -> Iterator[Wrong]:
        """Yield the faults by the shape that the node looks like."""
        chosen = self._chosen(node)
        if chosen is None:
            yield self.wrong(node, path)
        else:
            yield from chosen.faults(node, path)

    def fits(self, node: Any) -> bool:
        """It fits where one of them fits."""
        return self._chosen(node) is not None

    def parts(self, node: Any, path: str) -> Iterator[Part]:
        """Yield the parts by the shape that the node looks like."""
        chosen = self._chosen(node)
        if chosen is not None:
            yield from chosen.parts(node, path)
