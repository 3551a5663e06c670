"""Checks: what a detail has inspected, during the work and after it."""

from __future__ import annotations

from upstand.edition import Edition, Record
from upstand.query.defaults import Settled

__all__ = ["find_checks"]


def find_checks(settled: Settled, edition: Edition) -> tuple[Record, ...]:
    """Return the checks of a detail, in the order it lists them."""
    return tuple(edition.record(path) for path in settled.detail.get("checks", ()))
