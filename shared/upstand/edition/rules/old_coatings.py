"""Whoever scrapes old paint, mastic, felt or caulk is told what may be in it.

Asbestos, lead, chromate and PCB come off with it: a step that takes it off has the hazard, and so
has a detail from which old flashing comes off.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.source import Source

OFF = re.compile(
    r"\b(scrape|scraper|cup wheel|grind|chip|peel|cut back|cut out|take off|strip|chisel)", re.I
)
OLD = re.compile(
    r"\b(mastic|paint|felt|caulk|tar\b|roofing cement|old lap sealant|old boots|bitumen)", re.I
)
OLD_FLASHING = "checks/old-flashing-off"
HAZARDS = frozenset({"old-coating", "asbestos"})


def check(source: Source) -> Iterator[Fault]:
    """Yield steps and details that take old coatings or flashing off without their hazard."""
    for thing in source.kind("details"):
        listed = thing.node.get("confirm") or ()
        if OLD_FLASHING in listed and "old-coating" not in (thing.node.get("hazards") or ()):
            why = "has old flashing taken off, which may hold asbestos, lead or PCB"
            cure = "add old-coating to its hazards"
            yield thing.fault("hazards", None, "old-coatings", why, cure)
    for thing in source.kind("preparations"):
        steps = thing.node.get("steps")
        for number, step in enumerate(steps if isinstance(steps, list) else []):
            do = step.get("do") if isinstance(step, dict) else None
            text = str(do.get("en", "")) if isinstance(do, dict) else ""
            found = [s for s in text.split(". ") if OFF.search(s) and OLD.search(s)]
            if found and not HAZARDS & set(step.get("hazards") or ()):
                why = "takes off what may hold asbestos, lead or PCB, without saying so"
                cure = "add old-coating to its hazards"
                yield thing.fault(f"steps.{number}.do.en", found[0], "old-coatings", why, cure)
