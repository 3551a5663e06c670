"""Sentences about what is wrong: English where they are read as text, any language by `tell`.

Each has an id in the YAML files beside this module, and a code, which stays the same while wording
may change. Slots are texts, lists, and sentences again.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from functools import cache
from pathlib import Path
from typing import Any, Final, NamedTuple

from upstand import LANGUAGES
from upstand.telling.sheet import read_sheet

__all__ = ["CODES", "Both", "Or", "Said", "code_of", "say", "sentences", "tell"]

MOST_ACCEPTED: Final = 100
_SLOT: Final = re.compile(r"\{([a-z_]+)\}")

#: What is told apart, and what each means; more may come.
CODES: Final[Mapping[str, str]] = {
    "missing": "a field that has to be there is not",
    "null": "null, where a value or nothing stands",
    "wrong-type": "another kind of JSON value is wanted",
    "empty": "nothing in it",
    "unknown-field": "no such field or parameter here",
    "unknown-id": "an id, word or choice that is not known",
    "ambiguous-id": "a word that may mean several ids",
    "no-unit": "a bare number",
    "wrong-unit": "a unit of another dimension",
    "unreadable-quantity": "not in the notation of quantities",
    "out-of-range": "under or over what is taken",
    "too-many": "a list, a body or a text that is too long",
    "twice": "said more than once",
    "conflict": "two fields that do not stand beside each other, or contradict",
    "not-taken": "a field that this detail or member does not take",
    "impossible-shape": "an outline or a layout that can't be",
    "not-json": "not JSON, or JSON that two readers could take differently",
    "unreadable": "not readable as what it is sent as",
    "unknown-address": "no such address",
    "unknown-edition": "no such edition",
    "unknown-overlay": "no such overlay, or none that this caller may use",
    "wrong-method": "the address is used another way",
    "not-acceptable": "Accept names nothing that can be sent",
    "media-type": "the body is in another form than is read",
    "too-large": "over a ceiling of the server",
    "unknown-cursor": "a cursor that no page has",
    "too-often": "more requests than are taken",
    "busy": "more work than is taken on",
    "unusable-data": "what the server would answer from can't be used",
    "fault": "a fault of this software",
}


class _Sentence(NamedTuple):
    """One sentence: its code and its texts by language."""

    code: str
    texts: tuple[str, ...]


class Or(tuple[str, ...]):
    """Texts of which one is wanted: `a, b or c`."""


class Both(NamedTuple):
    """A name in both languages, as a record of an edition has it."""

    en: str
    es: str


class Said(str):
    """One sentence with its slots; as a text it is the English one."""

    id: str
    slots: Mapping[str, Any]
    accepted: tuple[str, ...]

    @property
    def code(self) -> str:
        """The code of the sentence; one without a code has that of the sentence inside it."""
        inner = (slot.code for slot in self.slots.values() if isinstance(slot, Said))
        return sentences()[self.id].code or next(inner, "unreadable")

    def tell(self, lang: str) -> str:
        """Say it in a language."""
        return _filled(self.id, self.slots, lang)

    def format(self, *_: object, **__: object) -> Said:
        """Stay as it is: schemas format their messages, and this one is filled."""
        return self


def say(id: str, /, accepted: Iterable[str] = (), **slots: Any) -> Said:
    """Make a sentence; `accepted` are values that would do, else those of its slots' sentences.

    >>> say("not-a-flag")
    'is not true or false: write true or false, without quotes'
    >>> say("not-a-flag").tell("es")
    'no es true ni false: escriba true o false, sin comillas'
    """
    clean = {name: _writable(slot) for name, slot in slots.items()}
    found = Said(_filled(id, clean, LANGUAGES[0]))
    found.id, found.slots = id, clean
    inner = (slot.accepted for slot in clean.values() if isinstance(slot, Said))
    own = tuple(accepted)[:MOST_ACCEPTED]
    found.accepted = own or next((one for one in inner if one), ())
    return found


def tell(text: str, lang: str) -> str:
    """Say a text in a language where it is a sentence, else as it stands."""
    return text.tell(lang) if isinstance(text, Said) else text


def code_of(text: str) -> str:
    """Return a text's code."""
    return text.code if isinstance(text, Said) else "unreadable"


@cache
def sentences() -> Mapping[str, _Sentence]:
    """Read every sentence. Raises ValueError for an id that stands twice."""
    found: dict[str, _Sentence] = {}
    for file in sorted(Path(__file__).parent.glob("*.yaml")):
        for id, held in read_sheet(file.read_text(encoding="utf-8")).items():
            if id in found:
                raise ValueError(f"{file.name}: {id} stands in another file too")
            found[id] = _Sentence(held.get("code", ""), tuple(held[lang] for lang in LANGUAGES))
    return found


def _filled(id: str, slots: Mapping[str, Any], lang: str) -> str:
    text = sentences()[id].texts[LANGUAGES.index(lang)]
    return _SLOT.sub(lambda found: _slot(slots[found.group(1)], lang), text)


def _slot(slot: Any, lang: str) -> str:
    if isinstance(slot, Both):
        return slot[LANGUAGES.index(lang)]
    if isinstance(slot, Or):
        joint = {"en": " or ", "es": " o "}[lang]
        return joint.join(filter(None, [", ".join(slot[:-1]), slot[-1] if slot else ""]))
    if isinstance(slot, tuple | list):
        return ", ".join(_slot(each, lang) for each in slot)
    return tell(slot, lang) if isinstance(slot, str) else str(slot)


def _writable(slot: Any) -> Any:
    """Put a question mark for half a character, which JSON lets in but nobody can write out."""
    if type(slot) is str:
        return slot.encode("utf-8", "replace").decode("utf-8")
    return slot
