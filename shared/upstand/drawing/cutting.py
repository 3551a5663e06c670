"""The cutting plan to scale: each roll with its cuts right across and what lies in each strip."""

from __future__ import annotations

from upstand.cutting.model import CutPlan, CutRoll
from upstand.drawing.svg import LINE, SIZE, WIDTH, Row, Sheet, polyline, text_width
from upstand.quantity.traced import measured
from upstand.words.fill import Words

__all__ = ["draw_cutting"]

#: Units: beside a roll stand the marks where it is cut right across.
MARKS, GAP, HEAD = 96.0, 30.0, 26.0


def draw_cutting(plan: CutPlan, words: Words, name: str = "cutting") -> str:
    """Draw every roll of a plan, one under the other, as SVG.

    A piece too small for its name has a number, told below.
    """
    sheet = Sheet(name, words.say("cutting-title"), words.say("cutting-about"))
    widest = max((cut.roll.width for cut in plan.rolls), default=1.0)
    scale = (WIDTH - MARKS - 4.0) / widest
    numbered: dict[str, int] = {}
    top = 0.0
    for number, cut in enumerate(plan.rolls, 1):
        top = _roll(sheet, words, number, cut, scale, top, numbered)
    legend = [Row(f"{number} = {id}") for id, number in numbered.items()]
    sheet.legend([*legend, Row(words.say("cutting-scale"))], top)
    return sheet.finished()


def _inches(words: Words, value: float) -> str:
    return words.speech.text(measured(value, "in", "cutting plan"))


def _roll(
    sheet: Sheet,
    words: Words,
    number: int,
    cut: CutRoll,
    scale: float,
    top: float,
    numbered: dict[str, int],
) -> float:
    head = words.say("cutting-roll", n=str(number), width=_inches(words, cut.roll.width))
    sheet.text(2.0, top + SIZE, head)
    y = top + HEAD
    right = 2.0 + cut.roll.width * scale
    foot = y + cut.length_used * scale
    for piece in cut.placed:
        left, low = 2.0 + piece.x * scale, y + piece.y * scale
        wide, tall = piece.width * scale, piece.length * scale
        corners = [(left, low), (left + wide, low), (left + wide, low + tall), (left, low + tall)]
        sheet.hatched(polyline(corners, closed=True), "resin")
        said = piece.id
        if text_width(said) > wide - 4.0 or tall < LINE:
            said = str(numbered.setdefault(piece.id, len(numbered) + 1))
        if text_width(said) <= wide - 2.0 and tall >= SIZE:
            middle = low + tall / 2.0 + SIZE / 3.0
            sheet.text(left + wide / 2.0, middle, said, "middle", halo=True)
    sheet.path(
        polyline([(2.0, y), (right, y), (right, foot), (2.0, foot)], closed=True), "membrane"
    )
    said_to = y
    for at in cut.strips:
        line = y + at * scale
        sheet.path(polyline([(2.0, line), (right + 8.0, line)]), "fleece")
        if line - said_to >= LINE:
            sheet.text(right + 12.0, line + SIZE / 3.0, _inches(words, at))
            said_to = line
    return foot + GAP
