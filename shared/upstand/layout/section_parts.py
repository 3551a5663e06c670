"""What a split line leaves of a known section on each side, by formula."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from upstand.formulas import areas, section_parts, supply
from upstand.layout.placed import PlacedMember
from upstand.quantity.traced import Traced, constant, reckon, total

#: Member turned by so many right angles -> which of its own axes lies along x, and which way.
_ALONG_X = ((0, 1), (1, -1), (0, -1), (1, 1))
_ALONG_Y = ((1, 1), (0, 1), (1, -1), (0, -1))


@dataclass(frozen=True, slots=True)
class Taken:
    """What a section takes out of the piece before a split line, out of the one behind, of both."""

    before: Traced
    after: Traced
    both: Traced


def taken(member: PlacedMember, axis: str, lap: Traced, turn_up: Traced | None) -> Taken | None:
    """Count what a lone member takes out of two base pieces that lap at its middle.

    `axis` "x" is a line x = middle. Without `turn_up` the section itself counts, else what is left
    of it when the turn-up is taken off all round. None for a section without formulas, or turned.
    """
    if member.quarters is None or member.section.area_formula is None:
        return None
    own, sign = (_ALONG_X if axis == "x" else _ALONG_Y)[member.quarters]
    part = _part_of(member, own, turn_up)
    half = constant(0.5, "1", "half a lap on each side of the line")
    back = constant(-0.5, "1", "half a lap on each side of the line")
    far = reckon(supply.scaled, amount=lap, count=half)
    near = reckon(supply.scaled, amount=lap, count=back)
    width, depth = (member.member.dimensions[n] for n in member.section.box or ())
    whole = part(depth if own else width)
    low = part(far)
    if member.section.kind in ("pipe", "rod", "tube", "bar"):
        high = low
    else:
        high = reckon(areas.difference, whole=whole, part=part(near))
    before, after = (low, high) if sign > 0 else (high, low)
    both = reckon(areas.difference, whole=total("both pieces", [before, after]), part=whole)
    return Taken(before, after, both)


def _part_of(member: PlacedMember, own: int, turn_up: Traced | None) -> Callable[[Traced], Traced]:
    """Return the area of a section up to a line across its own width (0) or depth (1)."""
    given = member.member.dimensions

    def side(name: str) -> Traced:
        if turn_up is None:
            return given[name]
        return reckon(section_parts.shrunk, side=given[name], turn_up=turn_up)

    def twice(name: str) -> Traced:
        return reckon(
            supply.scaled, amount=side(name), count=constant(2.0, "1", "flanges side by side")
        )

    kind = member.section.kind
    none = constant(0.0, "in", "no second wide end")
    if kind in ("pipe", "rod"):
        across = side(member.section.formula_inputs["diameter"])
        radius = reckon(
            supply.scaled, amount=across, count=constant(0.5, "1", "radius of a diameter")
        )
        return lambda reach: reckon(section_parts.disc_part, radius=radius, reach=reach)
    width, depth = (side(name) for name in member.section.box or ())
    if kind in ("bar", "tube"):
        corner = given.get("corner_radius") if kind == "tube" else None
        if corner is None:
            radius = constant(0.0, "in", "sharp corners")
        elif turn_up is None:
            radius = corner
        else:
            radius = reckon(section_parts.less, side=corner, turn_up=turn_up)
        wide, long = (width, depth) if own else (depth, width)
        return lambda reach: reckon(
            section_parts.rounded_part,
            width=wide,
            depth=long,
            corner_radius=radius,
            reach=reach,
        )
    if kind == "angle":
        low = side("thickness")
        wide, long = (width, depth) if own else (depth, width)
        sizes = {"length": long, "wide": wide, "narrow": low, "low": low, "high": none}
    elif kind == "tee" and own:
        web, high = side("web_thickness"), side("flange_thickness")
        sizes = {"length": depth, "wide": width, "narrow": web, "low": none, "high": high}
    elif kind in ("channel", "i-section") and own:
        web, ends = side("web_thickness"), side("flange_thickness")
        sizes = {"length": depth, "wide": width, "narrow": web, "low": ends, "high": ends}
    elif kind == "channel":
        web, narrow = side("web_thickness"), twice("flange_thickness")
        sizes = {"length": width, "wide": depth, "narrow": narrow, "low": web, "high": none}
    else:
        narrow = side("flange_thickness") if kind == "tee" else twice("flange_thickness")
        web = side("web_thickness")
        return lambda reach: reckon(
            section_parts.crossed_part,
            length=width,
            wide=depth,
            narrow=narrow,
            web=web,
            reach=reach,
        )
    return lambda reach: reckon(section_parts.stepped_part, **sizes, reach=reach)
