"""Writing plain Markdown: prose made safe, numbers kept with their units, boxes, tables, steps."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

NBSP = "\u00a0"
WORD_JOINER = "\u2060"

_UNITS = (
    "fl oz|sq ft/gal|sq ft/min|sq ft|ft²/gal|ft²|in²|m²/L|m²|mm|mil|min|mph|km/h|gal|in|ft|qt|"
    "oz|lb|ml|L|kg/m³|kg|g/m²|mg/m³|µm|µg/m³|ppm|cfm|psi|h|°F|°C|%"
)
_NUMBER = r"(?:\d[\d.,]*(?:[-–]\d[\d.,]*)?|\d+/\d+)"
_JOIN = re.compile(rf"(?<![\w.])({_NUMBER})[ \u00a0]({_UNITS})(?![\w/])")
_MIXED = re.compile(r"(?<![\w.])(\d+) (\d+/\d+)(?=[ \u00a0-])")
_RANGE = re.compile(r"(?<=\d)–(?=\d)")
_SIGNS = re.compile(r"([\\`*_{}\[\]<>|#~])")
_LEADS = re.compile(r"^(\s*)([-+]|\d+[.)])(?=\s)")


def join_units(text: str) -> str:
    """Put a no-break space between number and unit, and inside a mixed fraction; hold ranges.

    >>> join_units("8 1/2 in high, 20 to 30 mil").replace(NBSP, "~")
    '8~1/2~in high, 20 to 30~mil'
    """
    text = _MIXED.sub(lambda m: f"{m[1]}{NBSP}{m[2]}", text)
    text = _JOIN.sub(lambda m: f"{m[1]}{NBSP}{m[2].replace(' ', NBSP)}", text)
    return _RANGE.sub(f"{WORD_JOINER}–{WORD_JOINER}", text)


def prose(text: str) -> str:
    """Make a text of the data safe to stand in Markdown; it never becomes markup.

    >>> prose("leg_a <b>")
    'leg\\\\_a &lt;b&gt;'
    """
    flat = " ".join(text.split(" ")).replace("\n", " ").strip()
    safe = flat.replace("&", "&amp;")
    safe = _SIGNS.sub(lambda m: {"<": "&lt;", ">": "&gt;"}.get(m[1], f"\\{m[1]}"), safe)
    safe = _LEADS.sub(lambda m: f"{m[1]}{m[2][:-1]}\\{m[2][-1]}", safe)
    return join_units(safe)


def indent(text: str, by: int = 4) -> str:
    """Move every line that holds anything to the right."""
    pad = " " * by
    return "\n".join(pad + line if line else line for line in text.split("\n"))


def box(kind: str, title: str, body: str) -> str:
    """Return a box: go, hold, stop, ask, danger, warning, care or note. Texts are Markdown."""
    quoted = title.replace('"', "″")
    return f'!!! {kind} "{quoted}"\n{indent(body)}'


def bullets(items: Iterable[str]) -> str:
    """Return a list; an item may run over several blocks."""
    return "\n".join("-   " + indent(item).lstrip(" ") for item in items)


def ticks(items: Iterable[str]) -> str:
    """Return a list to be ticked off on paper or in the head."""
    return wrapped("ticks", bullets(items))


def numbered(steps: Iterable[tuple[int, str]]) -> str:
    """Return steps as one list. Each has its number in its text too, so that no box restarts it."""
    items = [f"{number}.  " + indent(body).lstrip(" ") for number, body in steps]
    return wrapped("steps", "\n\n".join(items))


def wrapped(kind: str, body: str) -> str:
    """Put a class round blocks of Markdown."""
    return f'<div class="{kind}" markdown="1">\n\n{body}\n\n</div>'


def table(heads: Sequence[str], rows: Iterable[Sequence[str]], kind: str = "") -> str:
    """Return a table of Markdown cells. On a phone each row becomes a card."""
    lines = ["| " + " | ".join(heads) + " |", "|" + " --- |" * len(heads)]
    for row in rows:
        if len(row) != len(heads):
            raise ValueError(f"{len(row)} cells in a table of {len(heads)} columns: {row}")
        lines.append("| " + " | ".join(cell.replace("\n", " ") or "–" for cell in row) + " |")
    if len(lines) == 2:
        raise ValueError(f"a table without rows: {heads}")
    return wrapped(kind, "\n".join(lines)) if kind else "\n".join(lines)


@dataclass(slots=True)
class Page:
    """One page: its file (`details/post.md`), its title, and blocks of Markdown.

    `section` is where the menu lists it, `aka` other words it is searched by.
    """

    path: str
    title: str
    section: str
    about: str = ""
    blocks: list[str] = field(default_factory=list)
    aka: list[str] = field(default_factory=list)
    kind: str = "page"
    terse: bool = False
    """A long list, whose headings stand close on a phone."""

    def add(self, *blocks: str) -> Page:
        """Append blocks; empty ones are left out."""
        self.blocks += [block for block in blocks if block]
        return self

    def heading(self, text: str, id: str, level: int = 2, mark: str = "") -> Page:
        """Append a heading with an id of its own. `mark` is a class, such as `screen`."""
        css = f" .{mark}" if mark else ""
        return self.add(f"{'#' * level} {text} {{#{id}{css}}}")

    def text(self) -> str:
        """Return the whole page as Markdown with its front matter."""
        about = self.about.replace("\\", "").replace("\n", " ").replace('"', "'")
        title = self.title.replace('"', "'")
        kind = f"{self.kind} terse" if self.terse else self.kind
        head = f'---\ntitle: "{title}"\ndescription: "{about}"\nkind: {kind}\n---\n'
        return head + f"\n# {self.title}\n\n" + "\n\n".join(self.blocks) + "\n"
