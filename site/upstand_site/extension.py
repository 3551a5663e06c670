"""What our Markdown adds to the usual: tables that fold up on a phone, boxes that carry a shape.

A box is told by its word and its shape, never by colour alone. The shapes are drawn here, in
plain geometry, and stand in the page itself so that they also print.
"""

from __future__ import annotations

from typing import Any
from xml.etree.ElementTree import Element, SubElement

from markdown import Markdown  # type: ignore[import-untyped]
from markdown.extensions import Extension  # type: ignore[import-untyped]
from markdown.treeprocessors import Treeprocessor  # type: ignore[import-untyped]

# kind: (outline, marks on it), on a field of 24 by 24
SHAPES: dict[str, tuple[str, str]] = {
    "go": ("M12 1A11 11 0 1 0 12 23A11 11 0 1 0 12 1Z", "M6 12.5L10.5 17L18.5 8"),
    "hold": ("M2 2H22V22H2Z", "M9 7V17M15 7V17"),
    "stop": ("M8 1H16L23 8V16L16 23H8L1 16V8Z", "M6 12H18"),
    "ask": ("M2 2H22V17H13L7 23V17H2Z", "M9 7.5C9 4.5 15 4.5 15 8C15 10 12 10 12 12M12 14.4V14.6"),
    "danger": ("M12 1L23.5 22.5H0.5Z", "M12 8.5V15.5M12 18.6V18.8"),
    "warning": ("M12 1L23 12L12 23L1 12Z", "M12 6.5V13.5M12 16.8V17"),
    "care": ("M1 6H23V18H1Z", "M6 12H18"),
    "note": ("M3 1H16L21 6V23H3Z", "M7 10H17M7 15H17"),
}


def shape(kind: str) -> Element:
    """Return the shape of a kind of box as an SVG element, hidden from screen readers."""
    outline, marks = SHAPES[kind]
    svg = Element(
        "svg", {"class": f"shape shape-{kind}", "viewBox": "0 0 24 24", "aria-hidden": "true"}
    )
    SubElement(svg, "path", {"class": "outline", "d": outline})
    SubElement(svg, "path", {"class": "marks", "d": marks})
    return svg


class _Folding(Treeprocessor):  # type: ignore[misc]
    """Names each cell after its column, and puts each table in a box that scrolls by itself."""

    def run(self, root: Element) -> None:
        for parent in list(root.iter()):
            for index, child in enumerate(list(parent)):
                if child.tag == "table":
                    self._fold(child)
                    frame = Element("div", {"class": "table"})
                    parent[index] = frame
                    frame.append(child)
                    frame.tail, child.tail = child.tail, None

    @staticmethod
    def _fold(table: Element) -> None:
        # cards on a phone are no table to a browser any more; the roles keep it one to a reader
        heads = ["".join(head.itertext()) for head in table.iter("th")]
        table.set("role", "table")
        for tag, role in (("thead", "rowgroup"), ("tbody", "rowgroup"), ("tr", "row")):
            for element in table.iter(tag):
                element.set("role", role)
        for head in table.iter("th"):
            head.set("scope", "col")
            head.set("role", "columnheader")
        for row in table.iter("tr"):
            for words, cell in zip(heads, row.findall("td"), strict=False):
                cell.set("data-label", words)
                cell.set("role", "cell")


class _Shaping(Treeprocessor):  # type: ignore[misc]
    """Puts its shape before the title of each box, and makes the title a label of the box."""

    def run(self, root: Element) -> None:
        for element in root.iter("div"):
            kinds = str(element.get("class", "")).split()
            kind = next((k for k in kinds if k in SHAPES), None)
            if "admonition" not in kinds or kind is None or not len(element):
                continue
            title = element[0]
            words, title.text = title.text, None
            title.insert(0, shape(kind))
            title[0].tail = words


class UpstandExtension(Extension):  # type: ignore[misc]
    """The handbook's additions to Markdown."""

    def extendMarkdown(self, md: Markdown) -> None:
        """Register both; after inline text and attributes are in place."""
        md.treeprocessors.register(_Folding(md), "upstand-folding", 4)
        md.treeprocessors.register(_Shaping(md), "upstand-shaping", 3)


def makeExtension(**options: Any) -> UpstandExtension:
    """Return the extension; how Markdown loads it by name."""
    return UpstandExtension(**options)
