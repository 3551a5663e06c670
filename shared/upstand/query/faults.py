"""What is wrong with a question: every fault at once, each with the place it stands in."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from upstand.telling.said import Or, Said, say

#: How alike a name must be for one to be suggested for the other; a word for a thing is nearer.
ALIKE, NEAR = 0.6, 0.7


@dataclass(frozen=True, slots=True, order=True)
class Fault:
    """One fault: a JSON pointer (RFC 6901) into the question, and a sentence for its sender."""

    pointer: str
    detail: str


class QueryFaults(ValueError):
    """A question that can be read but not answered; carries every fault found, in order."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        """Keep the faults, each once, sorted by the place they stand in."""
        clean = {Fault(_writable(f.pointer), f.detail) for f in faults}
        self.faults: tuple[Fault, ...] = tuple(sorted(clean))
        super().__init__("; ".join(f"{f.pointer or '/'}: {f.detail}" for f in self.faults))


def _writable(text: str) -> str:
    """Put a question mark for half a character, which JSON lets in but nobody can write out."""
    return text.encode("utf-8", "replace").decode("utf-8")


def pointer(*parts: str | int) -> str:
    """Join the parts to a JSON pointer.

    >>> pointer("members", 0, "leg/a")
    '/members/0/leg~1a'
    """
    return "".join("/" + str(part).replace("~", "~0").replace("/", "~1") for part in parts)


def nearest(
    word: str, known: Iterable[str], said: Mapping[str, tuple[str, ...]] | None = None
) -> Said:
    """Say which known words are nearest, or all of them where they are few: ends a sentence.

    `said` are other words for things: there a word must be near, and stone is none for steel.

    >>> nearest("tpoo", ["tpo", "pvc", "epdm"], {})
    'did you mean tpo? Known: epdm, pvc, tpo'
    >>> nearest("steel", ["stone"], {})
    'known are stone'
    """
    choices = sorted(known)
    ways = {choice: (choice,) for choice in choices} | dict(said or {})
    cutoff = ALIKE if said is None else NEAR
    found = difflib.get_close_matches(word[:64].lower(), ways, n=3, cutoff=cutoff)
    close = list(dict.fromkeys(id for way in found for id in ways[way] if id in choices))[:3]
    if close:
        return say("nearest", [*close, *choices], close=Or(close), known=choices)
    return say("known", choices, known=choices)


def flatten(messages: object, *place: str | int) -> list[Fault]:
    """Turn the nested error messages of a schema into faults with pointers."""
    if isinstance(messages, Mapping):
        found: list[Fault] = []
        for key, inner in messages.items():
            # marshmallow files what concerns a whole object under "_schema"
            found += flatten(inner, *place) if key == "_schema" else flatten(inner, *place, key)
        return found
    if isinstance(messages, list | tuple):
        return [fault for inner in messages for fault in flatten(inner, *place)]
    return [Fault(pointer(*place), messages if isinstance(messages, str) else str(messages))]
