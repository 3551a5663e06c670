"""An edition as the engine sees it: frozen records holding frozen, sourced values."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, Literal

from upstand.edition.faults import UnknownKind, UnknownRecord, UnknownValue
from upstand.quantity.units import convert

if TYPE_CHECKING:
    from upstand.quantity.traced import Traced

__all__ = ["Edition", "End", "Record", "Status", "Value"]

Status = Literal["draft", "published", "withdrawn"]
Number = Literal["value", "low", "high", "at"]
_MISSING = object()


@dataclass(frozen=True, slots=True)
class End:
    """Where one end of a range comes from, when an overlay set that end alone."""

    grade: str
    source: str
    locator: str
    layer: str


@dataclass(frozen=True, slots=True)
class Value:
    """A sourced value: one number, a range, a time at a temperature, a table of times, or words.

    ``value``, ``low`` and ``high`` are numbers of ``unit``, ``at`` and the first of each point
    of ``at_unit``. ``flag`` holds true or false, ``window`` a time given in words only, ``sign``
    what shows that a time is over where it has no number, ``also`` the same number as its source
    says it in the other system of units.
    """

    where: str
    grade: str
    value: float | None = None
    low: float | None = None
    high: float | None = None
    unit: str | None = None
    at: float | None = None
    at_unit: str | None = None
    points: tuple[tuple[float, float, float], ...] = ()
    flag: bool | None = None
    window: Mapping[str, str] | None = None
    by: str | None = None
    scales: str | None = None
    keep: str | None = None
    why_none: Mapping[str, str] | None = None
    sign: Mapping[str, str] | None = None
    also: tuple[float, str] | None = None
    source: str | None = None
    locator: str | None = None
    checked_on: str | None = None
    note: Mapping[str, str] | None = None
    layer: str = "edition"
    ends: tuple[tuple[str, End], ...] = ()
    _made: dict[tuple[str, str], Traced] = field(
        default_factory=dict, init=False, compare=False, repr=False
    )

    def magnitude(self, unit: str, end: Number = "value") -> float:
        """Return the single number, an end of the range, or the temperature it holds at."""
        number: float | None = getattr(self, end)
        if number is None:
            raise UnknownValue(f"{self.where} ({end})")
        held = self.at_unit if end == "at" else self.unit
        return number if held in (unit, None) else convert(number, str(held), unit)

    def traced(self, unit: str, end: Number = "value") -> Traced:
        """Return one of its numbers in ``unit``, with its origin."""
        made = self._made.get((end, unit))
        if made is None:
            made = self._made[(end, unit)] = self._trace(self.magnitude(unit, end), unit, end)
        return made

    def end(self, name: str) -> End:
        """Return where one field comes from: its own mark if it has one, else the value's."""
        for field_name, end in self.ends:
            if field_name == name:
                return end
        return End(self.grade, self.source or "", self.locator or "", self.layer)

    def _trace(self, number: float, unit: str, name: str) -> Traced:
        from upstand.quantity.traced import Origin, Traced

        end = self.end(name)
        kind: Literal["edition", "overlay"] = "edition" if end.layer == "edition" else "overlay"
        origin = Origin(kind, self.where, end.grade, end.source)
        return Traced(number, unit, origin, also=self.also if name == "value" else None)


class Record:
    """One thing of an edition. ``data`` is deep-frozen, with a Value for each sourced value."""

    __slots__ = ("_make", "_seen", "data", "id", "kind", "path")

    id: str
    kind: str
    path: str
    data: Mapping[str, Any]
    _seen: dict[str, Any]
    _make: Callable[[], Mapping[str, Any]]

    def __init__(self, kind: str, id: str, make: Callable[[], Mapping[str, Any]]) -> None:
        """Keep what makes the frozen `data`; see ``build.record``, which freezes it."""
        object.__setattr__(self, "kind", kind)
        object.__setattr__(self, "id", id)
        object.__setattr__(self, "path", f"{kind}/{id}")
        object.__setattr__(self, "_make", make)

    def __getattr__(self, name: str) -> Any:
        """Freeze the data when it is first read: most records of an edition never are."""
        if name not in ("data", "_seen"):
            raise AttributeError(name)
        data = self._make()
        object.__setattr__(self, "data", data)
        # dotted path -> node, filled as paths are asked
        object.__setattr__(self, "_seen", dict(data))
        return getattr(self, name)

    def __setattr__(self, name: str, value: object) -> None:
        """Refuse: a record is frozen."""
        raise AttributeError(f"{self.path} is frozen")

    def __delattr__(self, name: str) -> None:
        """Refuse: a record is frozen."""
        raise AttributeError(f"{self.path} is frozen")

    def __repr__(self) -> str:
        """Return the record's path."""
        return f"<Record {self.path}>"

    def _find(self, path: str) -> Any:
        found = self._seen.get(path, _MISSING)
        if found is _MISSING and "." in path:
            found = _walk(self.data, path)
            if found is not _MISSING:  # only paths that exist are kept: the cache stays bounded
                self._seen[path] = found
        return found

    def has(self, path: str) -> bool:
        """Tell whether there is anything at the dotted path."""
        return self._find(path) is not _MISSING

    def get(self, path: str, default: Any = None) -> Any:
        """Return the node at the dotted path (list items by number), or the default."""
        found = self._seen.get(path, _MISSING)
        if found is _MISSING:
            found = self._find(path)
        return default if found is _MISSING else found

    def value(self, path: str) -> Value:
        """Return the sourced value at the dotted path; raises UnknownValue."""
        found = self._find(path)
        if found.__class__ is Value:
            value: Value = found
            return value
        raise UnknownValue(f"{self.path}: {path}", self._value_paths())

    def text(self, path: str, lang: str) -> str:
        """Return the prose at the dotted path in one language (``en`` or ``es``)."""
        found = self._find(path)
        prose = found.get(lang) if found.__class__ is MappingProxyType else found
        if isinstance(prose, str):
            return prose
        raise UnknownValue(f"{self.path}: {path} ({lang})")

    def texts(self, path: str, lang: str) -> tuple[str, ...]:
        """Return a list of prose in one language; empty where the record has no such list."""
        found = self._find(path)
        if found is _MISSING:
            return ()
        return tuple(item[lang] for item in found)

    def values(self) -> Mapping[str, Value]:
        """Return every sourced value of the record by dotted path."""
        return dict(_values(self.data, ""))

    def _value_paths(self) -> list[str]:
        return [f"{self.path}: {path}" for path in self.values()]


def _walk(node: Any, path: str) -> Any:
    for step in path.split("."):
        if isinstance(node, Mapping):
            node = node.get(step, _MISSING)
        elif isinstance(node, tuple) and step.isdecimal() and int(step) < len(node):
            node = node[int(step)]
        else:
            return _MISSING
        if node is _MISSING:
            return _MISSING
    return node


def _values(node: Any, path: str) -> list[tuple[str, Value]]:
    if isinstance(node, Value):
        return [(path, node)]
    steps: list[tuple[str, Any]] = []
    if isinstance(node, Mapping):
        steps = list(node.items())
    elif isinstance(node, tuple):
        steps = [(str(number), item) for number, item in enumerate(node)]
    return [
        pair for step, item in steps for pair in _values(item, f"{path}.{step}" if path else step)
    ]


@dataclass(frozen=True, slots=True, eq=False)
class Edition:
    """All records of one edition, with its overlay already laid over it.

    ``digest`` stands for id, overlay and content: two editions with the same digest answer
    alike. ``status`` is not in it (an edition is withdrawn after it is frozen): ``key`` has both.
    ``base`` is the digest of the edition below an overlay, ``overlay_digest`` that of what lies on
    it. ``overlaid`` lists what an overlay set, ``loosened`` the part of it that loosens a limit or
    drops a caution, each as {path, from, to, reason}.
    """

    id: str
    digest: str
    status: Status
    schema: int
    records: Mapping[str, Mapping[str, Record]]
    overlay: str | None = None
    date: str | None = None
    note: Mapping[str, str] | None = None
    overlaid: tuple[Mapping[str, Any], ...] = ()
    loosened: tuple[Mapping[str, Any], ...] = ()
    raw: Mapping[str, Mapping[str, Any]] = field(default_factory=dict, repr=False)
    base: str = ""
    overlay_digest: str | None = None
    _by_path: Mapping[str, Record] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        """Index the records by their paths."""
        index = {r.path: r for records in self.records.values() for r in records.values()}
        object.__setattr__(self, "_by_path", index)

    @property
    def key(self) -> str:
        """Digest and status: what a cache of answers, which warn of withdrawal, goes by."""
        return f"{self.digest}-{self.status}"

    def __eq__(self, other: object) -> bool:
        """Two editions are equal when they answer alike and warn alike."""
        return isinstance(other, Edition) and self.key == other.key

    def __hash__(self) -> int:
        """Hash of the key."""
        return hash(self.key)

    def kind(self, kind: str) -> Mapping[str, Record]:
        """Return the records of a kind by id, in the order of their ids; raises UnknownKind."""
        try:
            return self.records[kind]
        except KeyError:
            raise UnknownKind(kind, self.records) from None

    def record(self, path: str) -> Record:
        """Return one record by ``kind/id``; raises UnknownRecord, which knows the nearest."""
        found = self._by_path.get(path)
        if found is None:
            raise UnknownRecord(path, self.paths())
        return found

    def has(self, path: str) -> bool:
        """Tell whether there is a record ``kind/id``."""
        return path in self._by_path

    def paths(self) -> list[str]:
        """Return every record's ``kind/id``."""
        return list(self._by_path)
