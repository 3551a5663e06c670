"""Lengths that layouts are made with, read from the edition by their names."""

from __future__ import annotations

from collections.abc import Iterable

from upstand.edition import Edition
from upstand.quantity.traced import Traced


def read_parameters(edition: Edition, names: Iterable[str], unit: str = "in") -> dict[str, Traced]:
    """Read parameters by name; what an edition does not have is raised as unknown."""
    return {name: read_parameter(edition, name, unit) for name in names}


def read_parameter(edition: Edition, name: str, unit: str = "in") -> Traced:
    """Read one parameter."""
    return edition.record(f"parameters/{name}").value("value").traced(unit)
