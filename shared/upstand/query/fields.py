"""Fields of a request: quantities in the trade's notation, ids that must be known."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from datetime import datetime
from typing import Any

from marshmallow import ValidationError, fields

from upstand.quantity.typed import NotationFault, read
from upstand.quantity.units import convert
from upstand.query.faults import nearest
from upstand.query.ids import plain
from upstand.telling.said import Both, Or, Said, say

NULL: dict[str, str | list[Any] | dict[Any, Any]] = {"null": say("null")}
#: A bare number from here on is not repeated in a message.
LONGEST_NUMBER = 1e12
#: Characters of a word that are repeated in a message, and looked up.
LONGEST_WORD = 64


class QuantityField(fields.Field[float]):
    """A quantity written as text ("8 1/2 in"); loads as a float in `unit`.

    Parameters: `dimension` as in `upstand.quantity.units`; `unit` it is wanted in; `least`,
    `most` bounds in that unit, with `bounds_say` naming what would be accepted; `above` a bound
    not itself allowed; `signed` for places along an axis, which may be negative.
    """

    default_error_messages = NULL

    def __init__(
        self,
        dimension: str,
        unit: str,
        *,
        least: float | None = None,
        most: float | None = None,
        above: float | None = None,
        bounds_say: str = "",
        signed: bool = False,
        **kwargs: Any,
    ) -> None:
        """Keep what the field accepts."""
        super().__init__(**kwargs)
        self.dimension = dimension
        self.unit = unit
        self.least, self.most, self.above = least, most, above
        self.bounds_say = bounds_say
        self.signed = signed

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> float:
        readable = isinstance(value, str | int | float) and not isinstance(value, bool)
        if not readable or (not isinstance(value, str) and abs(value) >= LONGEST_NUMBER):
            raise ValidationError(say("not-a-quantity", [self.example], example=self.example))
        text = value if isinstance(value, str) else repr(value)
        sign = 1.0
        if self.signed and text.lstrip().startswith("-"):
            sign, text = -1.0, text.lstrip()[1:]
        try:
            reading = read(text, self.dimension)
        except NotationFault as fault:
            raise ValidationError(fault.message) from None
        number = sign * convert(reading.value, reading.unit, self.unit)
        low = self.least is not None and number < self.least
        high = self.most is not None and number > self.most
        if low or high or (self.above is not None and number <= self.above):
            bounds = say("out-of-bounds", text=text.strip(), bounds=self.bounds_say)
            raise ValidationError(bounds)
        return number

    @property
    def example(self) -> str:
        """An accepted way of writing it, for messages."""
        return {
            "length": "8 1/2 in",
            "temperature": "72 F",
            "fraction": "55 %",
            "angle": "90 deg",
            "speed": "12 mph",
        }.get(self.dimension, f"1 {self.unit}")


class KnownId(fields.Field[str]):
    """An id that stands in the edition; a wrong one is answered with the nearest known."""

    default_error_messages = NULL

    def __init__(
        self,
        what: str | Both,
        known: Callable[[], Collection[str]],
        *,
        said: Callable[[], Mapping[str, tuple[str, ...]]] | None = None,
        **kwargs: Any,
    ) -> None:
        """Keep how the thing is called in messages, its known ids, and other words for them."""
        super().__init__(**kwargs)
        self.what = what
        self.known = known
        self.said = said

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        known = self.known()
        if not isinstance(value, str):
            listed = sorted(known)
            raise ValidationError(say("not-text-id", listed, what=self.what, known=listed))
        if value in known:
            return value
        found = find_id(value, self.what, known, self.said() if self.said else {})
        if isinstance(found, tuple):
            raise ValidationError(found[0])
        return found


def find_id(
    value: str,
    what: str | Both,
    known: Collection[str],
    said: Mapping[str, tuple[str, ...]],
) -> str | tuple[Said]:
    """Return the id that a word means, or in a tuple why none: several it may be, or the nearest.

    >>> find_id("TPO", "roof", ["tpo", "pvc"], {})
    'tpo'
    >>> find_id("steel", "material", ["a-steel", "b-steel"], {"steel": ("a-steel", "b-steel")})
    ('“steel” may be a-steel or b-steel: write which',)
    """
    if value in known:
        return value
    word = plain(value[:LONGEST_WORD])
    if word.replace(" ", "-") in known:
        return word.replace(" ", "-")
    ids = [id for id in said.get(word, ()) if id in known]
    shown = value if len(value) <= LONGEST_WORD else value[: LONGEST_WORD - 3] + "…"
    if len(ids) == 1:
        return ids[0]
    if ids:
        return (say("may-be-several", ids, word=shown, ways=Or(ids)),)
    words = {word: ids for word, ids in said.items() if any(id in known for id in ids)}
    return (say("unknown-id", word=shown, what=what, nearest=nearest(value, known, words)),)


class Moment(fields.Field[str]):
    """A date with an hour, as ISO 8601; kept as it was written."""

    default_error_messages = NULL

    def __init__(self, example: str, **kwargs: Any) -> None:
        """Keep an accepted way of writing it."""
        super().__init__(**kwargs)
        self.example = example

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        fits = isinstance(value, str) and len(value) <= 40 and "T" in value
        try:
            datetime.fromisoformat(value if fits else "")
        except ValueError:
            told = say("not-a-moment", [self.example], example=self.example)
            raise ValidationError(told) from None
        return str(value)


class Choice(fields.Field[str]):
    """One word out of a few."""

    default_error_messages = NULL

    def __init__(self, choices: Collection[str], **kwargs: Any) -> None:
        """Keep the words that are accepted."""
        super().__init__(**kwargs)
        self.choices = tuple(choices)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        if not isinstance(value, str) or value not in self.choices:
            raise ValidationError(say("not-a-choice", self.choices, choices=self.choices))
        return value


class Flag(fields.Field[bool]):
    """true or false, and nothing that only looks like it."""

    default_error_messages = NULL

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> bool:
        if not isinstance(value, bool):
            raise ValidationError(say("not-a-flag", ("true", "false")))
        return value


class Whole(fields.Field[int]):
    """A whole number within bounds, written as a number."""

    default_error_messages = NULL

    def __init__(self, least: int, most: int, **kwargs: Any) -> None:
        """Keep the bounds, both included."""
        super().__init__(**kwargs)
        self.least_value, self.most_value = least, most

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> int:
        span = say("whole-span", least=str(self.least_value), most=f"{self.most_value:,}")
        if isinstance(value, bool) or not isinstance(value, int):
            raise ValidationError(say("not-whole", span=span))
        if not self.least_value <= value <= self.most_value:
            raise ValidationError(say("whole-out-of-range", span=span))
        return value
