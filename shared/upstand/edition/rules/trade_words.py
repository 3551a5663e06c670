"""One word for one thing, in both languages: what a text says else is found.

The words to keep to are terms (`keeps`); those that have led people wrong, or that are spelled
as in Britain, are listed there too, as data.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from upstand import LANGUAGES
from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import Prose, step
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield texts that say a thing by a word which the terms name as not to be said."""
    instead = _instead(source)
    for thing in source.things:
        for path, _, node in thing.of(Prose):
            if thing.kind == "terms" and not path.startswith("means"):
                continue
            for lang in LANGUAGES:
                text = node.get(lang) if isinstance(node, dict) else None
                if not isinstance(text, str):
                    continue
                for pattern, (word, term) in instead[lang].items():
                    found = pattern.search(text)
                    if found:
                        why, cure = f"says {found[0]!r}", f"say {word!r}, see {term}"
                        yield thing.fault(step(path, lang), text, "trade-words", why, cure)


def _instead(source: Source) -> Mapping[str, Mapping[re.Pattern[str], tuple[str, str]]]:
    """Return language -> pattern -> (the word to say, the term that says so)."""
    found: dict[str, dict[re.Pattern[str], tuple[str, str]]] = {lang: {} for lang in LANGUAGES}
    for term in source.kind("terms"):
        rows = term.node.get("not_said")
        for row in rows if isinstance(rows, list) else []:
            lang, words, say = row.get("lang"), row.get("words"), row.get("say")
            for word in words if isinstance(words, list) else []:
                pattern = re.compile(rf"(?<!\w){re.escape(str(word))}(?!\w)", re.IGNORECASE)
                found.get(str(lang), {})[pattern] = (str(say), term.path)
    return found
