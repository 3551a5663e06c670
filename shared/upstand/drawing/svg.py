"""Writing SVG: numbers, escaped text, how wide text runs, and a sheet that grows with its legend.

Every function is pure and every text goes through `escape`. A drawing is 360 units wide with text
of 17 units, so that on a phone, where 360 units are some 340 pixels, nothing is smaller than 16 px.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Final
from xml.sax.saxutils import escape as _escape

WIDTH: Final = 360.0
SIZE: Final = 17.0
LINE: Final = 22.0
BADGE: Final = 12.0

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


def text_width(text: str, size: float = SIZE) -> float:
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
    return ems * size


def wrap(text: str, width: float, size: float = SIZE) -> list[str]:
    """Break a text at its spaces into lines of at most `width` units; no-break spaces hold."""
    lines: list[str] = []
    for word in text.split(" "):
        joined = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(joined, size) <= width:
            lines[-1] = joined
        else:
            lines.append(word)
    return lines


def polyline(points: Iterable[Pair], closed: bool = False) -> str:
    """Return the `d` of a path through points."""
    steps = [f"{number(x)} {number(y)}" for x, y in points]
    return "M" + "L".join(steps) + ("Z" if closed else "")


@dataclass(slots=True)
class Sheet:
    """A drawing in the making. `name` makes its ids its own, so that several share a page."""

    name: str
    title: str
    description: str
    parts: list[str] = field(default_factory=list)
    height: float = 0.0
    _labels: int = 0

    def add(self, element: str) -> None:
        """Append an element that is already safe."""
        self.parts.append(element)

    def path(self, d: str, style: str) -> None:
        """Draw a path in one of the styles of `STYLE`."""
        self.add(f'<path class="{style}" d="{d}"/>')

    def pattern(self, name: str) -> str:
        """Return the paint of one of the sheet's own patterns."""
        return f"url(#{self.name}-{name})"

    def hatched(self, d: str, pattern: str) -> None:
        """Fill a path with a pattern, outlined."""
        self.add(f'<path class="edge" fill="{self.pattern(pattern)}" d="{d}"/>')

    def text(
        self, x: float, y: float, text: str, anchor: str = "start", halo: bool = False
    ) -> None:
        """Write one line; `y` is its baseline. Anchored so, it may not leave the sheet."""
        run = text_width(text)
        least, most = {
            "start": (2.0, WIDTH - 2.0 - run),
            "middle": (2.0 + run / 2.0, WIDTH - 2.0 - run / 2.0),
            "end": (2.0 + run, WIDTH - 2.0),
        }[anchor]
        x = max(least, min(x, most)) if least <= most else least
        style = ' class="halo"' if halo else ""
        where = "" if anchor == "start" else f' text-anchor="{anchor}"'
        self.add(f'<text{style} x="{number(x)}" y="{number(y)}"{where}>{escape(text)}</text>')

    def badge(self, x: float, y: float, letter: str) -> None:
        """Draw a lettered disc."""
        self.add(
            f'<circle class="badge" cx="{number(x)}" cy="{number(y)}" r="{number(BADGE)}"/>'
            f'<text class="letter" x="{number(x)}" y="{number(y + 5.6)}" text-anchor="middle">'
            f"{escape(letter)}</text>"
        )

    def call_out(self, at: Pair, target: Pair) -> str:
        """Point from a new lettered disc at a feature; return the letter for the legend."""
        letter = chr(ord("A") + self._labels)
        self._labels += 1
        (x, y), (tx, ty) = at, target
        self.path(polyline([at, target]), "thin")
        self.add(f'<circle class="dot" cx="{number(tx)}" cy="{number(ty)}" r="2.5"/>')
        self.badge(x, y, letter)
        return letter

    def measure_across(self, x1: float, x2: float, y: float, text: str, below: bool = True) -> None:
        """Dimension a run along x, ticks at both ends, its text under or over the line."""
        self.path(polyline([(x1, y), (x2, y)]), "thin")
        for x in (x1, x2):
            self.path(polyline([(x - 3, y + 3), (x + 3, y - 3)]), "tick")
        self.text((x1 + x2) / 2.0, y + 18.0 if below else y - 6.0, text, "middle", halo=True)

    def measure_up(self, x: float, y1: float, y2: float, text: str, part: float = 0.5) -> None:
        """Dimension a run along y, ticks at both ends, its text across the line at `part` of it."""
        self.path(polyline([(x, y1), (x, y2)]), "thin")
        for y in (y1, y2):
            self.path(polyline([(x - 3, y + 3), (x + 3, y - 3)]), "tick")
        self.text(x, y1 + (y2 - y1) * part + 5.6, text, "middle", halo=True)

    def legend(self, rows: Sequence[tuple[str, str]], top: float) -> None:
        """Write the legend under a drawing, lettered rows first to last; sets the height."""
        y = top
        for letter, words in rows:
            indent = 34.0 if letter else 2.0
            if letter:
                self.badge(2.0 + BADGE, y + 10.0, letter)
            for line in wrap(words, WIDTH - indent - 4.0):
                self.text(indent, y + 15.6, line)
                y += LINE
            y += 7.0
        self.height = y

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
            f'<rect class="paper" width="{number(WIDTH)}" height="{number(self.height)}"/>'
            f'<g fill="none" stroke-width="1.5">{"".join(self.parts)}</g></svg>'
        )

    def _defs(self) -> str:
        made = []
        for name, size, lines in PATTERNS:
            made.append(
                f'<pattern id="{self.name}-{name}" width="{size}" height="{size}" '
                f'patternUnits="userSpaceOnUse">'
                f'<path class="hatch" fill="none" d="{lines}"/></pattern>'
            )
        return "".join(made)


# Ink and paper come from the page where it sets them, so that a drawing follows a dark page;
# alone it is black on white. Nothing is told by colour: lines differ in weight, dashes and hatch.
STYLE: Final = (
    ".drawing .paper{fill:var(--paper,#fff)}"
    ".drawing text{fill:var(--ink,#000)}"
    ".drawing .halo{stroke:var(--paper,#fff);stroke-width:5;paint-order:stroke;"
    "stroke-linejoin:round}"
    ".drawing path,.drawing circle{stroke:var(--ink,#000)}"
    ".drawing .thin{stroke-width:1}"
    ".drawing .tick{stroke-width:2}"
    ".drawing .hatch{stroke-width:1}"
    ".drawing .sheet{stroke-width:3.5}"
    ".drawing .tape{fill:var(--ink,#000)}"
    ".drawing .fleece{stroke-width:3;stroke-dasharray:7 3}"
    ".drawing .mask{stroke-width:2.5;stroke-dasharray:11 4 3 4}"
    ".drawing .cover{stroke-dasharray:4 3}"
    ".drawing .badge{fill:var(--ink,#000)}"
    ".drawing .letter{fill:var(--paper,#fff);font-weight:700}"
    ".drawing .dot{fill:var(--ink,#000);stroke:none}"
)

PATTERNS: Final = (
    ("steel", 7, "M-1 1L1 -1M0 7L7 0M6 8L8 6"),
    ("insulation", 12, "M0 12L6 0L12 12"),
    ("resin", 5, "M1 1h1.2M3.5 3.5h1.2"),
    ("lap", 6, "M0 3h6M3 0v6"),
)
