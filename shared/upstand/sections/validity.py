"""Whether a section can exist: every fault at once, each with the field it stands in."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import NamedTuple

from shapely.geometry import Polygon
from shapely.validation import explain_validity

from upstand.sections.model import NOISE, Fault, Point, turns
from upstand.telling.said import Said, say


class Fields(NamedTuple):
    """The fields one kind of section needs and may have, and how it is called."""

    needs: tuple[str, ...]
    may: tuple[str, ...]
    called: Said


#: What encloses less than this, in square inches, is a line.
LEAST_AREA_IN2 = 1e-4

_ROLLED = ("depth", "flange_width", "web_thickness", "flange_thickness")

#: kind of section -> its fields, all lengths in inches (``points`` of a polygon apart).
FIELDS: Mapping[str, Fields] = MappingProxyType(
    {
        "angle": Fields(("leg_a", "leg_b", "thickness"), (), say("called-angle")),
        "channel": Fields(_ROLLED, (), say("called-channel")),
        "i-section": Fields(_ROLLED, (), say("called-i-section")),
        "tee": Fields(_ROLLED, (), say("called-tee")),
        "tube": Fields(("width", "depth", "thickness"), ("corner_radius",), say("called-tube")),
        "pipe": Fields(("od",), ("thickness",), say("called-pipe")),
        "bar": Fields(("width", "depth"), (), say("called-bar")),
        "rod": Fields(("diameter",), (), say("called-rod")),
        "polygon": Fields((), (), say("called-polygon")),
    }
)


def inches(value_in: float) -> str:
    """Write a length for a message.

    >>> inches(0.25), inches(2.0)
    ('0.25 in', '2 in')
    """
    return f"{value_in:.6g} in"


def section_faults(
    kind: str, dimensions: Mapping[str, float], shown: Mapping[str, str] | None = None
) -> list[Fault]:
    """List what keeps a section from existing.

    ``dimensions`` are inches by field name; ``shown`` gives a field's text as it was typed, for the
    messages. An empty list means that the section can be built.

    >>> section_faults("angle", {"leg_a": 3, "leg_b": 1, "thickness": 2})[0].message
    "2 in is more than leg_b 1 in; an angle's thickness is under both legs"
    """
    fields = FIELDS.get(kind)
    if fields is None:
        known = tuple(FIELDS)
        return [Fault("section", say("section-unknown", known, kind=kind[:40], known=known))]
    found = _field_faults(fields, dimensions)
    if found:
        return found
    return _Talk(dimensions, shown or {}).about(kind)


def _field_faults(fields: Fields, dimensions: Mapping[str, float]) -> list[Fault]:
    known = fields.needs + fields.may
    takes = _listed(known) if known else "points"
    found = [
        Fault(name, say("dimension-missing", called=fields.called, needs=_listed(fields.needs)))
        for name in fields.needs
        if name not in dimensions
    ]
    for name, value in dimensions.items():
        if name not in known:
            told = say("dimension-not-taken", known, called=fields.called, takes=takes)
            found.append(Fault(name, told))
        elif not math.isfinite(value):
            found.append(Fault(name, say("dimension-not-length", ("3 in",))))
        elif value < 0 or (value == 0 and name not in fields.may):
            wanted = "dimension-not-under" if name in fields.may else "dimension-above"
            found.append(Fault(name, say(wanted, value=inches(value))))
    return found


class _Talk:
    """Compares the dimensions of one section and words what does not fit."""

    def __init__(self, dimensions: Mapping[str, float], shown: Mapping[str, str]) -> None:
        self.sizes = dimensions
        self.shown = shown
        self.found: list[Fault] = []

    def about(self, kind: str) -> list[Fault]:
        if kind == "angle":
            for leg in ("leg_a", "leg_b"):
                self.under("thickness", leg, say("rule-angle"))
        elif kind in ("channel", "i-section"):
            called = FIELDS[kind].called
            self.twice_under("flange_thickness", "depth", say("rule-flanges", called=called))
            self.under("web_thickness", "flange_width", say("rule-web", called=called))
        elif kind == "tee":
            self.under("flange_thickness", "depth", say("rule-tee-flange"))
            self.under("web_thickness", "flange_width", say("rule-tee-web"))
        elif kind == "tube":
            for side in ("width", "depth"):
                self.twice_under("thickness", side, say("rule-tube"))
            self.corner()
        elif kind == "pipe" and "thickness" in self.sizes:
            self.twice_under("thickness", "od", say("rule-pipe"))
        return self.found

    def text(self, name: str) -> str:
        return self.shown.get(name) or inches(self.sizes[name])

    def under(self, name: str, limit: str, rule: Said) -> None:
        over = self.sizes[name] - self.sizes[limit]
        if over > -NOISE:
            self.found.append(Fault(name, self.over("dimension-over", over, name, limit, rule)))

    def twice_under(self, name: str, limit: str, rule: Said) -> None:
        over = 2 * self.sizes[name] - self.sizes[limit]
        if over > -NOISE:
            told = self.over("dimension-twice-over", over, name, limit, rule)
            self.found.append(Fault(name, told))

    def over(self, id: str, over: float, name: str, limit: str, rule: Said) -> Said:
        return say(
            id,
            value=self.text(name),
            how=say("more-than-it" if over > NOISE else "as-much-as-it"),
            limit=limit,
            most=self.text(limit),
            rule=rule,
        )

    def corner(self) -> None:
        half_in = min(self.sizes["width"], self.sizes["depth"]) / 2
        if self.sizes.get("corner_radius", 0.0) > half_in + NOISE:
            self.found.append(
                Fault(
                    "corner_radius",
                    say("radius-over", value=self.text("corner_radius"), most=inches(half_in)),
                )
            )


def polygon_faults(points: Sequence[Point]) -> list[Fault]:
    """List what keeps a run of corner points, in inches, from being the outline of a member.

    >>> polygon_faults([(0, 0), (2, 0)])[0].message
    'has 2 different points; an outline needs at least 3, in order round it'
    """
    if not all(math.isfinite(x) and math.isfinite(y) for x, y in points):
        return [Fault("points", say("points-not-lengths"))]
    apart = distinct(points)
    if len(set(apart)) < 3:
        many = len(set(apart))
        id = "points-one" if many == 1 else "points-few"
        return [Fault("points", say(id, many=str(many)))]
    outline = Polygon(apart)
    if not any(turns(apart)) or (outline.is_valid and outline.area < LEAST_AREA_IN2):
        return [Fault("points", say("points-line"))]
    if not outline.is_valid:
        place = explain_validity(outline).partition("[")[2].rstrip("]").split()
        where = ", ".join(f"{float(part):.3g} in" for part in place[:2])
        return [Fault("points", say("points-cross", where=where))]
    return []


def distinct(points: Sequence[Point]) -> list[Point]:
    """Drop a point that repeats the one before it, and a last point that closes the ring."""
    kept: list[Point] = []
    for point in points:
        if not kept or math.dist(kept[-1], point) > NOISE:
            kept.append(point)
    while len(kept) > 1 and math.dist(kept[0], kept[-1]) <= NOISE:
        kept.pop()
    return kept


def _listed(names: Sequence[str]) -> str:
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} and {names[-1]}"
