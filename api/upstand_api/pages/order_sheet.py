"""A take-off as a sheet to print: one HTML file with nothing from elsewhere."""

from __future__ import annotations

import re
from typing import Final

from jinja2 import Environment, PackageLoader, select_autoescape
from markupsafe import Markup

from upstand.document.takeoff import write
from upstand.drawing.cutting import draw_cutting
from upstand.drawing.svg import STYLE as DRAWN
from upstand.quantity.shown import Speech
from upstand.quantity.units import System
from upstand.takeoff import TakeOff
from upstand.words.fill import Words

__all__ = ["STYLE", "order_sheet"]

_PAGES: Final = Environment(
    loader=PackageLoader("upstand_api"),
    autoescape=select_autoescape(),
    trim_blocks=True,
    lstrip_blocks=True,
)
_SOURCE: Final = _PAGES.loader.get_source(_PAGES, "order_sheet.html")[0]  # type: ignore[union-attr]
STYLE: Final = (*re.findall("<style>(.*?)</style>", _SOURCE, re.DOTALL), DRAWN)
"""The styles of the sheet, for whoever lets in these alone."""


def order_sheet(found: TakeOff, lang: str | None = None, units: System | None = None) -> str:
    """Write the order, each detail's share, the work and the cutting plan for paper."""
    lang, units = lang or found.query.lang, units or found.query.units or "us"
    words = Words(lang, Speech(units, no_break=True))
    document = write(found, lang, units, no_break=True)
    drawing = None if found.cutting is None else Markup(draw_cutting(found.cutting, words))
    names = {
        id: words.name(record) for id, record in found.edition.records.get("activities", {}).items()
    }
    return _PAGES.get_template("order_sheet.html").render(
        document=document,
        say=words.say,
        title=words.say("sheet-title"),
        tools=words.say("sheet-tools"),
        drawing=drawing,
        names=names,
        lang=lang,
    )
