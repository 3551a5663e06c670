"""Ids as people say them: the words of the terms serve as ids in every door."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from upstand.edition import Edition

__all__ = ["known_ids", "plain", "said_ids"]


@lru_cache(maxsize=512)
def known_ids(edition: Edition, kind: str, use: str | None = None) -> tuple[str, ...]:
    """Return the ids of a kind; with `use`, of the substrates that are used so."""
    records = edition.kind(kind)
    return tuple(i for i, r in records.items() if use is None or use in r.get("used_as", ()))


@lru_cache(maxsize=128)
def said_ids(edition: Edition, kind: str) -> Mapping[str, tuple[str, ...]]:
    """Return what is said, in any language -> the ids of a kind that it may mean."""
    found: dict[str, dict[str, None]] = {}
    for id, record in edition.kind(kind).items():
        for lang in ("en", "es"):
            found.setdefault(plain(record.text("name", lang)), {})[id] = None
    for term in edition.records.get("terms", {}).values():
        of, _, id = str(term.get("of", "")).partition("/")
        if of == kind and id in edition.kind(kind):
            for lang in ("en", "es"):
                for word in (term.text("name", lang), *term.get(f"said.{lang}", ())):
                    found.setdefault(plain(word), {})[id] = None
    return {word: tuple(ids) for word, ids in found.items()}


def plain(word: str) -> str:
    """Put a word as it is compared: small letters, single blanks, no hyphens.

    >>> plain("Galvanized-Steel ")
    'galvanized steel'
    """
    return " ".join(re.split(r"[\s_-]+", word.strip().lower())).strip()


@lru_cache(maxsize=128)
def held_checks(edition: Edition) -> tuple[str, ...]:
    """Return the ids of the checks that a hold waits for: only these can be told as confirmed."""
    waited = {
        str(stop["confirmed"]).partition("/")[2]
        for kind in edition.records.values()
        for node in kind.values()
        for stop in node.get("stops", ())
        if "confirmed" in stop
    }
    return tuple(sorted(waited))
