"""Requirements as versioned, sourced data: loading, checking, publishing and overlaying it.

>>> from upstand.spec import load
>>> edition = load()                                            # doctest: +SKIP
>>> edition.record("resins/pu-2k").value("layers.base").magnitude("mil")   # doctest: +SKIP
40.0
"""

from __future__ import annotations

from upstand.spec.faults import (
    Fault,
    SpecFault,
    UnknownEdition,
    UnknownKind,
    UnknownOverlay,
    UnknownRecord,
    UnknownValue,
)
from upstand.spec.loading import edition_ids, find_root, load
from upstand.spec.model import Edition, Record, Value

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
