"""No text leaves the crew to guess: words that say nothing measurable are refused."""

from __future__ import annotations

import re
from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.schema.shapes import Prose, step
from upstand.edition.source import Source

VAGUE = {
    "en": (
        "as required",
        "as needed",
        "as necessary",
        "as appropriate",
        "if necessary",
        "if needed",
        "if required",
        "where necessary",
        "where required",
        "when necessary",
        "properly",
        "adequate",
        "adequately",
        "appropriately",
        "sufficiently",
        "reasonably",
        "in a workmanlike manner",
        "and/or",
        "etc.",
    ),
    "es": (
        "según sea necesario",
        "según se requiera",
        "según se necesite",
        "según corresponda",
        "si es necesario",
        "si fuera necesario",
        "si se requiere",
        "cuando sea necesario",
        "donde sea necesario",
        "adecuadamente",
        "apropiadamente",
        "debidamente",
        "razonablemente",
        "y/o",
        "etc.",
    ),
}

_PATTERNS = {
    lang: re.compile(
        r"(?<!\w)(?:" + "|".join(re.escape(words) for words in listed) + r")(?!\w)", re.IGNORECASE
    )
    for lang, listed in VAGUE.items()
}


def check(source: Source) -> Iterator[Fault]:
    """Yield texts with a vague phrase."""
    for thing in source.things:
        for path, _, node in thing.of(Prose):
            for lang, pattern in _PATTERNS.items():
                text = node.get(lang) if isinstance(node, dict) else None
                found = pattern.search(text) if isinstance(text, str) else None
                if found:
                    why = f"says {found[0]!r}, which nobody can check"
                    cure = "say what is done, how much, or what it looks like when it is right"
                    yield thing.fault(step(path, lang), text, "vague", why, cure)
