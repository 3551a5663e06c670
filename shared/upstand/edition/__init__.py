"""Requirements as versioned, sourced data: loading, checking, publishing and overlaying it.

>>> from upstand.edition import load
>>> edition = load()                                            # doctest: +SKIP
>>> edition.record("resins/pu-2k").value("layers.base").magnitude("mil")   # doctest: +SKIP
40.0
"""

from __future__ import annotations

from upstand.edition.faults import (
    Fault,
    SpecFault,
    UnknownEdition,
    UnknownKind,
    UnknownOverlay,
    UnknownRecord,
    UnknownValue,
)
from upstand.edition.load import edition_ids, find_root, load
from upstand.edition.model import Edition, Record, Value

__all__ = [
    "Edition",
    "Fault",
    "Record",
    "SpecFault",
    "UnknownEdition",
    "UnknownKind",
    "UnknownOverlay",
    "UnknownRecord",
    "UnknownValue",
    "Value",
    "edition_ids",
    "find_root",
    "load",
]
