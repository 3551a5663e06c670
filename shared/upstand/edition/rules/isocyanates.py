"""What cures by isocyanate forbids an alcohol wipe before it: alcohol uses the isocyanate up.

The product says it, not one surface's preparation: so it is said of every surface that it meets.
"""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield primers and resins with isocyanate that do not forbid alcohol."""
    for kind in ("primers", "resins"):
        for thing in source.kind(kind):
            if "isocyanate" not in (thing.node.get("hazards") or ()):
                continue
            never = thing.node.get("never")
            texts = [n.get("en", "") for n in never or () if isinstance(n, dict)]
            if not any("alcohol" in str(text).lower() for text in texts):
                why = "does not forbid an alcohol wipe, and alcohol stops isocyanate from curing"
                yield thing.fault("never", None, "isocyanates", why, "say it there")
