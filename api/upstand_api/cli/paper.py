"""Plain pages for a terminal: wrapped text, headings, tables; colour only where it is wanted."""

from __future__ import annotations

import os
import shutil
import textwrap
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import IO, Any

import click

WIDEST = 88
NARROWEST = 40
NARROW_COLUMN = 16
NO_BREAK = "\u00a0"

_PLAIN_SIGNS = {
    "×": "x", "÷": "/", "−": "-", "–": "-", "—": "-", "…": "...", "·": "-",
    " °": " deg ", "°": " deg",
    "µ": "u", "²": "2", "³": "3", "“": '"', "”": '"', "’": "'", "√": "sqrt", "π": "pi",
    "¿": "", "¡": "", "≥": ">=", "≤": "<=", "≠": "!=", "•": "-",
}  # fmt: skip
"""What stands for a sign that the terminal's encoding does not have."""


def spelled(text: str, encoding: str) -> str:
    """Return a text in the signs that an encoding has: letters lose their accents before a `?`.

    >>> spelled("vellón 3 °C", "ascii")
    'vellon 3 deg C'
    """
    try:
        text.encode(encoding)
    except (UnicodeEncodeError, LookupError):
        for sign, plain in _PLAIN_SIGNS.items():
            text = text.replace(sign, plain)
        text = unicodedata.normalize("NFKD", text)
        text = "".join(c for c in text if not unicodedata.combining(c))
        text = text.encode("ascii", "replace").decode("ascii")
    return text


@dataclass(frozen=True)
class Screen:
    """What is written to: width in characters, whether colour is wanted, its encoding."""

    width: int = WIDEST
    colour: bool = False
    encoding: str = "utf-8"

    @classmethod
    def here(cls, stream: IO[Any]) -> Screen:
        """Look at a stream: colour on a terminal only, and never with NO_COLOR set."""
        columns = shutil.get_terminal_size((WIDEST, 24)).columns
        width = max(NARROWEST, min(WIDEST, columns))
        plain = bool(os.environ.get("NO_COLOR")) or os.environ.get("TERM") == "dumb"
        encoding = getattr(stream, "encoding", None) or "utf-8"
        return cls(width, stream.isatty() and not plain, encoding)


@dataclass
class Paper:
    """Collects lines; every paragraph is wrapped, numbers stay with their units."""

    screen: Screen
    lines: list[str] = field(default_factory=list)

    def blank(self) -> None:
        """Leave one line free, never two."""
        if self.lines and self.lines[-1]:
            self.lines.append("")

    def heading(self, text: str) -> None:
        """Start a section: its heading in capitals, underlined."""
        self.blank()
        shown = text.upper()
        for line in self._wrap(shown, 0, ""):
            self.lines.append(self._style(line, bold=True))
        rule = min(len(shown), self.screen.width)
        self.lines.append("=" * rule)

    def para(self, text: str, indent: int = 0, lead: str = "", **style: Any) -> None:
        """Write a paragraph; what follows the lead hangs under its end. `style` is the lead's."""
        first, *rest = self._wrap(text, indent, lead)
        start = " " * indent + lead
        if lead and style and first.replace(NO_BREAK, " ").startswith(start):
            first = " " * indent + self._style(lead, **style) + first[len(start) :]
        elif style and not lead:
            first, *rest = (self._style(line, **style) for line in (first, *rest))
        self.lines += [first, *rest]

    def hung(self, text: str, lead: str, hang: int, **style: Any) -> None:
        """Write a paragraph whose further lines hang by a little, whatever the lead is."""
        first, *rest = textwrap.wrap(
            lead + text,
            self.screen.width,
            subsequent_indent=" " * hang,
            break_on_hyphens=False,
        )
        if first.startswith(lead):
            first = self._style(lead, **style) + first[len(lead) :]
        self.lines += [first, *rest]

    def table(self, head: Sequence[str], rows: Sequence[Sequence[str]], indent: int = 2) -> None:
        """Write a table; a last column that does not fit is wrapped, else rows are paragraphs."""
        if not rows:
            return
        widths = [max(len(row[i]) for row in [head, *rows]) for i in range(len(head))]
        room = self.screen.width - indent - sum(widths[:-1]) - 2 * (len(widths) - 1)
        if room < min(widths[-1], NARROW_COLUMN):
            for row in rows:
                cells = [f"{h}: {c}" for h, c in zip(head, row, strict=True)]
                self.para("; ".join(cells), indent, "- ")
            return
        for row in (head, *rows):
            cells = [cell.ljust(width) for cell, width in zip(row, widths, strict=True)]
            before = " " * indent + "".join(f"{cell}  " for cell in cells[:-1])
            style = {"bold": True} if row is head else {}
            for number, line in enumerate(
                textwrap.wrap(row[-1], room, break_on_hyphens=False) or [""]
            ):
                start = " " * len(before) if number else before
                self.lines.append(self._style((start + line).rstrip(), **style))

    def text(self) -> str:
        """Return the page, ending in a line's end."""
        page = "\n".join(self.lines).replace(NO_BREAK, " ").strip("\n") + "\n"
        return spelled(page, self.screen.encoding)

    def _wrap(self, text: str, indent: int, lead: str) -> list[str]:
        margin = " " * indent
        # a lead is kept in one piece by no-break blanks, unless it would leave no room behind it
        room = not lead or self.screen.width - indent - len(lead) >= NARROW_COLUMN
        solid = lead.replace(" ", NO_BREAK) if room else lead
        return textwrap.wrap(
            text if room else lead + text,
            self.screen.width,
            initial_indent=margin + solid if room else margin,
            subsequent_indent=" " * (indent + len(lead) if room else indent + 2),
            break_long_words=True,
            break_on_hyphens=False,
        ) or [margin + lead]

    def _style(self, text: str, **style: Any) -> str:
        return click.style(text, **style) if self.screen.colour else text
