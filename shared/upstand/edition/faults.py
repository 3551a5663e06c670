"""What can be wrong with spec data, said in words a person can act on."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from dataclasses import dataclass

__all__ = [
    "Fault",
    "SpecFault",
    "UnknownEdition",
    "UnknownKind",
    "UnknownOverlay",
    "UnknownRecord",
    "UnknownValue",
    "near",
]


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong: which file, where in it, what stood there, which rule, why, and the cure."""

    file: str
    path: str
    value: str
    rule: str
    why: str
    cure: str

    def __str__(self) -> str:
        """Return the fault on one line.

        >>> print(Fault("resins/x.yaml", "parts", "3", "shape", "is not 1 or 2", "write 1 or 2"))
        resins/x.yaml: parts: is not 1 or 2 (found 3) [shape] -> write 1 or 2
        """
        place = f"{self.file}: {self.path}" if self.path else self.file
        found = f" (found {self.value})" if self.value else ""
        return f"{place}: {self.why}{found} [{self.rule}] -> {self.cure}"


class SpecFault(ValueError):
    """Spec data that cannot be used; ``faults`` holds every one found."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        """Keep the faults; the message is one line for each."""
        self.faults: tuple[Fault, ...] = tuple(faults)
        super().__init__("\n".join(str(fault) for fault in self.faults))


class _Unknown(KeyError):
    """Something asked for by an id that is not there; ``nearest`` lists ids much like it."""

    what = "thing"

    def __init__(self, wanted: str, known: Iterable[str] = ()) -> None:
        """Keep what was asked for, and the ids among which the nearest are."""
        self.wanted = wanted
        self._known = tuple(known)
        super().__init__(wanted)

    @property
    def nearest(self) -> tuple[str, ...]:
        """The ids nearest to it; looked for only when somebody is told."""
        return near(self.wanted, self._known)

    def __str__(self) -> str:
        hint = f"; nearest: {', '.join(self.nearest)}" if self.nearest else ""
        return f"no {self.what} {self.wanted!r}{hint}"


class UnknownKind(_Unknown):
    """No such kind of record."""

    what = "kind"


class UnknownRecord(_Unknown):
    """No such record in the edition."""

    what = "record"


class UnknownValue(_Unknown):
    """The record has nothing at that path, or no sourced value."""

    what = "value"


class UnknownEdition(_Unknown):
    """No such edition."""

    what = "edition"


class UnknownOverlay(_Unknown):
    """No such overlay."""

    what = "overlay"


def near(wanted: str, known: Iterable[str]) -> tuple[str, ...]:
    """Return up to three known ids most like the wanted one, best first.

    >>> near("resins/pu2k", ["resins/pu-2k", "resins/pmma", "roofs/tpo"])
    ('resins/pu-2k', 'resins/pmma')
    """
    return tuple(difflib.get_close_matches(wanted[:200], sorted(known), n=3, cutoff=0.6))
