"""Drawings of an answer's layout as SVG: section, plan, cut sheet. To scale, text escaped.

>>> sorted(VIEWS)
['cut-sheet', 'plan', 'section']
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Final

from upstand.answer import Answer
from upstand.drawing.cut_sheet import draw_cut_sheet
from upstand.drawing.plan import draw_plan
from upstand.drawing.scene import NothingToDraw, Scene
from upstand.drawing.section import draw_section

VIEWS: Final[Mapping[str, Callable[[Scene], str]]] = MappingProxyType(
    {"plan": draw_plan, "section": draw_section, "cut-sheet": draw_cut_sheet}
)
"""Each view by the name it is asked for."""

_NAME: Final = re.compile(r"[a-z][a-z0-9-]{0,63}", re.ASCII)


def draw(answer: Answer, view: str, name: str = "drawing") -> str:
    """Draw one view of an answer, in the units and language that were asked for.

    Parameters
    ----------
    answer : a whole answer.
    view : one of `VIEWS`.
    name : begins every id in the SVG; drawings that share a page need names of their own.

    Raises
    ------
    KeyError : another view. ValueError : a name that is not a-z, 0-9 and -.
    NothingToDraw : the detail's geometry is not computed; the message says so.
    """
    if not _NAME.fullmatch(name):
        raise ValueError(f"{name[:64]!r} can't begin an id: use a-z, 0-9 and -")
    return VIEWS[view](Scene(answer, name))


__all__ = ["VIEWS", "NothingToDraw", "draw"]
