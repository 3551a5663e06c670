"""What a form is: fields to type into, and how the engine answers one set of them."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from upstand.edition import Edition, Record
from upstand.quantity.traced import Traced, asked
from upstand.quantity.units import convert


@dataclass(frozen=True, slots=True)
class Field:
    """One field: the unit it is typed in, the one computed in, what it may lie between.

    `usual` is where most of what is typed lies; `pointer` its place in the question.
    """

    name: str
    unit: str
    low: float
    high: float
    usual: tuple[float, float]
    inner: str = ""
    pointer: str = ""

    @property
    def where(self) -> str:
        """Its place in the question."""
        return self.pointer or f"/{self.name}"

    @property
    def factor(self) -> float:
        """What a typed number is multiplied by to be in the unit computed in."""
        return convert(1.0, self.unit, self.inner) if self.inner else 1.0

    def given(self, typed: float) -> Traced:
        """Take a typed number as asked for."""
        return asked(typed * self.factor, self.inner or self.unit, self.where)


@dataclass(frozen=True, slots=True)
class Test:
    """One comparison that an answer hangs on."""

    sign: str
    left: Traced
    right: Traced

    @property
    def holds(self) -> bool:
        """Whether it holds."""
        left, right = self.left.value, self.right.value
        return {
            "<=": left <= right,
            ">=": left >= right,
            "<": left < right,
            ">": left > right,
        }[self.sign]


Slot = tuple[Traced, str | None] | str


@dataclass(frozen=True, slots=True)
class Line:
    """One sentence of an answer by its label: with numbers and how each is rounded, or as is."""

    says: str
    slots: Mapping[str, Slot] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Answered:
    """What the engine says to one set of fields: `kind` is note, go or hold.

    `tests` are the comparisons it hangs on, in their order; no line is no answer.
    """

    tests: Sequence[Test]
    kind: str = "note"
    lines: Sequence[Line] = ()


Given = Mapping[str, Traced]
Answering = Callable[[Edition, Given, str], Answered]


@dataclass(frozen=True, slots=True)
class Form:
    """One question; `choice` names what is picked first, `choices` gives the records for it.

    `probes` is how many sets of fields the engine is asked, to write the form; `detail` is what
    is built, `section` what stands in it where sizes are those of a member.
    """

    id: str
    fields: tuple[Field, ...]
    answer: Answering
    choice: str = ""
    choices: Callable[[Edition], Sequence[Record]] = lambda edition: ()
    probes: int = 1500
    detail: str = ""
    section: str = ""

    def picks(self, edition: Edition) -> tuple[str, ...]:
        """Return the ids that may be picked; an empty one where nothing is picked."""
        return tuple(record.id for record in self.choices(edition)) or ("",)
