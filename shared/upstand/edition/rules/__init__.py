"""Rules for spec data, one a file: ``check(source)`` yields what is wrong.

A rule says why, not only what: its module's first line stands in lists of rules. To add one,
write the file, name it here, and give it a twin test and a broken file.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from types import MappingProxyType

from upstand.edition.faults import Fault
from upstand.edition.rules import (
    addresses,
    asks,
    by_when,
    callers,
    dates,
    figures,
    files,
    frozen,
    grades,
    hazards,
    html,
    isocyanates,
    limits,
    numbers,
    old_coatings,
    overlays,
    packs,
    prose,
    ranges,
    references,
    shape,
    slots,
    statements,
    substrates,
    tables,
    times,
    tokens,
    trade_order,
    trade_words,
    two_part,
    uncalled,
    units,
    vague,
    vents,
)
from upstand.edition.source import Source

__all__ = ["RULES"]

Rule = Callable[[Source], Iterator[Fault]]

RULES: Mapping[str, Rule] = MappingProxyType(
    {
        "files": files.check,
        "shape": shape.check,
        "units": units.check,
        "grades": grades.check,
        "ranges": ranges.check,
        "references": references.check,
        "callers": callers.check,
        "substrates": substrates.check,
        "prose": prose.check,
        "numbers": numbers.check,
        "slots": slots.check,
        "figures": figures.check,
        "vague": vague.check,
        "vents": vents.check,
        "html": html.check,
        "addresses": addresses.check,
        "dates": dates.check,
        "hazards": hazards.check,
        "tokens": tokens.check,
        "trade-order": trade_order.check,
        "two-part": two_part.check,
        "isocyanates": isocyanates.check,
        "times": times.check,
        "asks": asks.check,
        "packs": packs.check,
        "limits": limits.check,
        "tables": tables.check,
        "frozen": frozen.check,
        "overlays": overlays.check,
        "statements": statements.check,
        "by-when": by_when.check,
        "uncalled": uncalled.check,
        "old-coatings": old_coatings.check,
        "trade-words": trade_words.check,
    }
)
"""Every rule by its name, in the order they are run."""
