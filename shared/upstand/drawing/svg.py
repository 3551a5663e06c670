"""Writing SVG: numbers, escaped text, how wide text runs, and a sheet that grows with its legend.

Every function is pure and every text goes through `escape`. A drawing is 360 units wide with text
of 17 units, so that on a phone, where 360 units are some 340 pixels, nothing is smaller than 16 px.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Final, NamedTuple
from xml.sax.saxutils import escape as _escape

WIDTH: Final = 360.0
SIZE: Final = 17.0
LINE: Final = 22.0

_NARROW: Final = frozenset("iljI.,:;|!'’()[]ftr-/ \u00a0·")
_WIDE: Final = frozenset("mwMWÑ%—@&")

Pair = tuple[float, float]


def number(value: float) -> str:
    """Write a coordinate with at most two decimals, halves up.

    >>> number(12.0), number(-0.004), number(3.14159)
    ('12', '0', '3.14')
    """
    hundredths = math.floor(value * 100.0 + 0.5)
    text = f"{hundredths / 100.0:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def escape(text: str) -> str:
    """Make a text safe inside an element or a quoted attribute; control characters are dropped."""
    plain = "".join(sign for sign in text if sign >= " " or sign in "\n\t")
    return _escape(plain, {'"': "&quot;", "'": "&#39;"})


def text_width(text: str, bold: bool = False) -> float:
    """Estimate how far a text runs, in units, on the wide side for the usual system fonts.

    >>> text_width("mm") > text_width("ii")
    True
    """
    ems = 0.0
    for sign in text:
        if sign in _NARROW:
            ems += 0.38
        elif sign in _WIDE:
            ems += 0.98
        elif sign.isupper():
            ems += 0.78
        else:
            ems += 0.62
    return ems * SIZE * (1.08 if bold else 1.0)


def wrap(text: str, width: float, bold: bool = False) -> list[str]:
    """Break a text at its spaces into lines of at most `width` units; no-break spaces hold."""
    lines: list[str] = []
    for word in text.split(" "):
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(joined, bold=bold) <= width:
            lines[-1] = joined
        else:
            lines.append(word)
    return lines


def polyline(points: Iterable[Pair], closed: bool = False) -> str:
    """Return the `d` of a path through points."""
    steps = [f"{number(x)} {number(y)}" for x, y in points]
    return "M" + "L".join(steps) + ("Z" if closed else "")


class Row(NamedTuple):
    """A row of a legend: its words, behind a mark, a sample of a line's style or of a hatch."""

    words: str
    mark: str = ""
    style: str = ""
    pattern: str = ""


@dataclass(slots=True)
class Sheet:
    """A drawing in the making. `name` makes its ids its own, so that several share a page."""

    name: str
    title: str
    description: str
    parts: list[str] = field(default_factory=list)
    height: float = 0.0

    def add(self, element: str) -> None:
        """Append an element that is already safe."""
        self.parts.append(element)

    def path(self, d: str, style: str) -> None:
        """Draw a path in one of the styles of `STYLE`."""
        self.add(f'<path class="{style}" d="{d}"/>')

    def pattern(self, name: str) -> str:
        """Return the paint of one of the sheet's own patterns."""
        return f"url(#{self.name}-{name})"

    def hatched(self, d: str, pattern: str, style: str = "edge") -> None:
        """Fill a path with a pattern, outlined."""
        self.add(f'<path class="{style}" fill="{self.pattern(pattern)}" d="{d}"/>')

    def dot(self, at: Pair, radius: float = 2.5) -> None:
        """Draw a full dot."""
        x, y = (number(value) for value in at)
        self.add(f'<circle class="dot" cx="{x}" cy="{y}" r="{number(radius)}"/>')

    def text(
        self,
        x: float,
        y: float,
        text: str,
        anchor: str = "start",
        halo: bool = False,
        bold: bool = False,
    ) -> None:
        """Write one line; `y` is its baseline. Anchored so, it may not leave the sheet."""
        run = text_width(text, bold)
        least, most = {
            "start": (2.0, WIDTH - 2.0 - run),
            "middle": (2.0 + run / 2.0, WIDTH - 2.0 - run / 2.0),
            "end": (2.0 + run, WIDTH - 2.0),
        }[anchor]
        x = max(least, min(x, most)) if least <= most else least
        names = [name for name, on in (("halo", halo), ("bold", bold)) if on]
        style = f' class="{" ".join(names)}"' if names else ""
        where = "" if anchor == "start" else f' text-anchor="{anchor}"'
        self.add(f'<text{style} x="{number(x)}" y="{number(y)}"{where}>{escape(text)}</text>')

    def measure_across(self, x1: float, x2: float, y: float) -> None:
        """Draw a dimension line along x, ticks at both ends."""
        self.path(polyline([(x1, y), (x2, y)]), "thin")
        for x in (x1, x2):
            self.path(polyline([(x - 3, y + 3), (x + 3, y - 3)]), "notch")

    def measure_up(self, x: float, y1: float, y2: float) -> None:
        """Draw a dimension line along y, ticks at both ends."""
        self.path(polyline([(x, y1), (x, y2)]), "thin")
        for y in (y1, y2):
            self.path(polyline([(x - 3, y + 3), (x + 3, y - 3)]), "notch")

    def legend(self, rows: Sequence[Row], top: float) -> None:
        """Write the legend under a drawing, first to last; sets the height of the sheet.

        It is a group of its own, a group a row, so that a page may set it in its own type.
        """
        y = top
        self.add(f'<g class="key" data-top="{number(top)}">')
        for row in rows:
            self.add("<g>")
            indent = 2.0
            if row.style or row.pattern:
                indent = 46.0
                self._swatch(row, y + 10.0)
            elif row.mark:
                indent = max(46.0, text_width(row.mark, bold=True) + 10.0)
                self.text(2.0, y + 15.6, row.mark, bold=True)
            for line in wrap(row.words, WIDTH - indent - 4.0):
                self.text(indent, y + 15.6, line)
                y += LINE
            self.add("</g>")
            y += 5.0
        self.add("</g>")
        self.height = y

    def _swatch(self, row: Row, y: float) -> None:
        """Draw a sample of a line or a hatch."""
        if row.pattern:
            square = polyline(
                [(4.0, y - 8.0), (38.0, y - 8.0), (38.0, y + 8.0), (4.0, y + 8.0)], True
            )
            self.hatched(square, row.pattern)
        else:
            self.path(polyline([(2.0, y), (40.0, y)]), row.style)

    def finished(self) -> str:
        """Return the whole SVG element."""
        box = f"0 0 {number(WIDTH)} {number(self.height)}"
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" class="drawing" viewBox="{box}" '
            f'role="img" aria-labelledby="{self.name}-t {self.name}-d" '
            f"font-family=\"system-ui, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif\" "
            f'font-size="{number(SIZE)}">'
            f'<title id="{self.name}-t">{escape(self.title)}</title>'
            f'<desc id="{self.name}-d">{escape(self.description)}</desc>'
            f"<style>{STYLE}</style><defs>{self._defs()}</defs>"
            f'<rect class="backing" width="{number(WIDTH)}" height="{number(self.height)}"/>'
            f'<g fill="none" stroke-width="1.5">{"".join(self.parts)}</g></svg>'
        )

    def _defs(self) -> str:
        made, drawn = [], "".join(self.parts)
        for name, size, lines in PATTERNS:
            if self.pattern(name) not in drawn:
                continue
            made.append(
                f'<pattern id="{self.name}-{name}" width="{size}" height="{size}" '
                f'patternUnits="userSpaceOnUse">'
                f'<path class="hatch" fill="none" d="{lines}"/></pattern>'
            )
        return "".join(made)


# Ink and paper come from the page where it sets them, so that a drawing follows a dark page;
# alone it is black on white. Nothing is told by colour: lines differ in weight, dashes and hatch.
STYLE: Final = (
    ".drawing .backing{fill:var(--paper,#fff)}"
    ".drawing text{fill:var(--ink,#000)}"
    ".drawing .halo{stroke:var(--paper,#fff);stroke-width:5;paint-order:stroke;"
    "stroke-linejoin:round}"
    ".drawing path,.drawing circle{stroke:var(--ink,#000)}"
    ".drawing .thin{stroke-width:1}"
    ".drawing .notch{stroke-width:2}"
    ".drawing .leader{stroke-width:1}"
    ".drawing .hatch{stroke-width:1}"
    ".drawing .membrane{stroke-width:3.5}"
    ".drawing .tape{fill:var(--ink,#000)}"
    ".drawing .fleece{stroke-width:3;stroke-dasharray:7 3}"
    ".drawing .mask{stroke-width:2.5;stroke-dasharray:11 4 3 4}"
    ".drawing .white{fill:var(--paper,#fff);stroke:none}"
    ".drawing .piece{stroke-width:2}"
    ".drawing .hidden{stroke-width:1;stroke-dasharray:2 3}"
    ".drawing .sleeve{stroke-width:2;stroke-dasharray:9 4}"
    ".drawing .plate{stroke-width:1.5;stroke-dasharray:6 3}"
    ".drawing .crease{stroke-width:1.5;stroke-dasharray:14 3 2 3 2 3}"
    ".drawing .joined{stroke-width:1.5;stroke-dasharray:1 4}"
    ".drawing .break{stroke-width:1}"
    ".drawing .tape-line{stroke-width:7}"
    ".drawing .breaker{stroke-width:4.5;stroke-dasharray:3 2}"
    ".drawing .slit{stroke-width:3.5}"
    ".drawing .under{stroke-width:3;stroke-dasharray:.1 5;stroke-linecap:round}"
    ".drawing .cleft{stroke-width:3}"
    ".drawing .film{stroke-width:1.5}"
    ".drawing .bold{font-weight:700}"
    ".drawing .dot{fill:var(--ink,#000);stroke:none}"
)

PATTERNS: Final = (
    ("steel", 7, "M-1 1L1 -1M0 7L7 0M6 8L8 6"),
    ("insulation", 12, "M0 12L6 0L12 12"),
    ("resin", 5, "M1 1h1.2M3.5 3.5h1.2"),
    ("lap", 6, "M0 3h6M3 0v6"),
    ("patch", 9, "M0 0L9 9"),
    ("masonry", 16, "M0 4h16M0 12h16M4 4v8M12 12v8M12 -4v8"),
    ("concrete", 14, "M2 2h1.2M10 4h1.2M4 11h1.2M9 9l3 3h-4zM5 5l2.4 1l-2 1.6z"),
    ("old-film", 6, "M1.5 0v6M4.5 0v6"),
    ("dam", 7, "M0 3.5h7"),
    ("wood", 10, "M0 2q2.5 -2 5 0t5 0M0 7q2.5 -2 5 0t5 0"),
    ("plastic", 8, "M1 1l3 3M5 5l2 2"),
)
