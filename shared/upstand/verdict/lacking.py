"""What this software reads and an earlier edition does not hold is asked about."""

from __future__ import annotations

from upstand.edition import Edition
from upstand.verdict.model import Reason
from upstand.words.model import Sentence

__all__ = ["ask_for"]


def ask_for(missing: str, edition: Edition) -> Reason:
    """Ask about a record or value that the edition does not hold, by its name."""
    return Reason(
        f"edition: {missing}",
        "ask",
        Sentence("not-in-edition", {"edition": edition.id, "record": missing}),
        Sentence("clear-not-in-edition"),
        "product-maker",
        (Sentence("fact-edition", {"edition": edition.id, "record": missing}),),
    )
