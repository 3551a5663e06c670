"""The section: roof and upright from the side, left half, with coats, fleece and tape in order."""

from __future__ import annotations

from dataclasses import dataclass

from upstand.drawing.scene import NothingToDraw, Scene
from upstand.drawing.svg import BADGE, WIDTH, Pair, Sheet, number, polyline, text_width
from upstand.layout.model import Rectangle

TOP, BELOW, LEFT_MARGIN, BEYOND = 2.0, 1.6, 0.9, 2.2  # inches of roof and upright shown around
FILM = 17.0  # units that the whole film is drawn thick
TALLEST = 330.0  # units


@dataclass(frozen=True, slots=True)
class Frame:
    """Where inches come to lie: x from the upright's face outwards to the left, z up the face."""

    scale: float
    face: float
    ground: float

    def at(self, x: float, z: float, dx: float = 0.0, dz: float = 0.0) -> Pair:
        """Place a point `x` inches left of the face, `z` above the roof, moved by units."""
        return (self.face - x * self.scale - dx, self.ground - z * self.scale - dz)


def draw_section(scene: Scene) -> str:
    """Draw the section of the first upright of an answer's layout, to scale, as SVG.

    Raises NothingToDraw where the layout has no geometry or no upright.
    """
    region, masking = scene.region, scene.layout.masking
    if masking is None or masking.line_height is None:
        raise NothingToDraw("the geometry of this detail is not computed")
    settled = scene.answer.settled
    height, flange, reveal = settled.height.value, settled.flange.value, settled.reveal.value
    upright = _first_upright(scene)
    reach = upright.left - region.target.left  # the fleece's, a plate cover's where it goes further
    gutter = max(text_width(scene.text(t)) for t in (settled.height, masking.line_height)) + 14.0
    shown = min(upright.width, BEYOND)
    wide = reach + reveal + LEFT_MARGIN + shown
    tall = height + reveal + TOP + BELOW
    scale = min((WIDTH - gutter - 6.0) / wide, TALLEST / tall)
    frame = Frame(
        scale,
        gutter + (reach + reveal + LEFT_MARGIN) * scale,
        8.0 + (height + reveal + TOP) * scale,
    )
    slots = {
        "height": scene.text(settled.height),
        "line": scene.text(masking.line_height),
        "flange": scene.text(settled.flange),
        "reveal": scene.text(settled.reveal),
    }
    sheet = Sheet(
        scene.name,
        scene.label("section-title", detail=scene.detail),
        scene.label("section-about", **slots),
    )
    _roof(sheet, frame, reach + reveal + LEFT_MARGIN, shown)
    _upright(sheet, frame, height + reveal + TOP, shown)
    film = min(FILM, 0.9 * reach * scale)
    foot = scene.layout.parameters["fleece-lap"].value
    turn_up = scene.layout.parameters["turn-up"].value
    _coats(sheet, frame, film, (reach, reveal, height, foot, turn_up))
    _measures(sheet, frame, scene, (reach, flange, reveal, height))
    rows = _callouts(sheet, frame, film, scene, (reach, reveal, height, foot))
    thick = scene.answer.takeoff.film
    if thick is not None:
        times = film / (thick.value / 1000.0 * scale)
        rows.append(("", scene.label("film-scale", times=number(float(int(times + 0.5))))))
    sheet.legend(rows, frame.ground + BELOW * scale + 56.0)
    return sheet.finished()


def _first_upright(scene: Scene) -> Rectangle:
    """Box of the upright that stands furthest to the left."""
    outline = scene.region.outline
    boxes = [Rectangle(*part.bounds) for part in getattr(outline, "geoms", [outline])]
    return min(boxes, key=lambda box: box.left)


def _roof(sheet: Sheet, frame: Frame, out: float, shown: float) -> None:
    """Draw sheet, insulation and deck out to the left, and beyond the upright."""
    for start, end in ((out, 0.0), (-shown, -shown)):
        if start == end:
            continue
        (x1, y), (x2, _) = frame.at(start, 0.0), frame.at(end, 0.0)
        low = frame.ground + (BELOW - 0.25) * frame.scale
        sheet.hatched(polyline([(x1, y), (x2, y), (x2, low), (x1, low)], True), "insulation")
        sheet.path(polyline([(x1, low + 3.0), (x2, low + 3.0)]), "sheet")
        sheet.path(polyline([(x1, y), (x2, y)]), "sheet")


def _upright(sheet: Sheet, frame: Frame, top: float, shown: float) -> None:
    """Draw the member, cut by a jagged line at its top and on its far side where it goes on."""
    (left, high), (right, low) = frame.at(0.0, top), frame.at(-shown, -BELOW)
    waves = [(left + (right - left) * k / 4.0, high + (4.0 if k % 2 else -4.0)) for k in range(5)]
    sheet.hatched(polyline([*waves, (right, low), (left, low)], True), "steel")


def _coats(
    sheet: Sheet, frame: Frame, film: float, sizes: tuple[float, float, float, float, float]
) -> None:
    """Draw resin from tape to tape, and in it the base piece and the wrap with its foot."""
    reach, reveal, height, foot, turn_up = sizes
    edge, line = reach + reveal, height + reveal
    bare = (reach - foot) * frame.scale > 2.0 * film  # the foot ends well inside the base piece
    step = [(foot, film, 0.8 * film), (foot, -2.0, film)] if bare else []
    outside = [
        frame.at(edge, 0.0),
        frame.at(reach, 0.0, -0.3 * film, (0.8 if bare else 1.0) * film),
        *(frame.at(x, 0.0, dx, dz) for x, dx, dz in step),
        frame.at(0.0, 0.0, film, film),
        frame.at(0.0, height, film, -0.3 * film),
        frame.at(0.0, line),
        frame.at(0.0, 0.0),
    ]
    sheet.hatched(polyline(outside, True), "resin")
    base, over = 0.32 * film, 0.62 * film
    sheet.path(
        polyline(
            [
                frame.at(reach, 0.0, 0.0, base),
                frame.at(0, 0, base, base),
                frame.at(0, turn_up, base),
            ]
        ),
        "fleece",
    )
    sheet.path(
        polyline(
            [frame.at(foot, 0.0, 0.0, over), frame.at(0, 0, over, over), frame.at(0, height, over)]
        ),
        "fleece",
    )
    for x, z, wide, tall in ((edge, 0.0, 0.7, 0.0), (0.0, line, 0.0, 0.7)):
        (x1, y1) = frame.at(x, z)
        (x2, y2) = frame.at(x + wide, z + tall, 0.0 if wide else 4.0, 4.0 if wide else 0.0)
        sheet.path(polyline([(x1, y1), (x2, y1), (x2, y2), (x1, y2)], True), "tape")


def _measures(
    sheet: Sheet, frame: Frame, scene: Scene, sizes: tuple[float, float, float, float]
) -> None:
    """Dimension height and tape line at the left, flange and reveal under the roof."""
    reach, flange, reveal, height = sizes
    settled, masking = scene.answer.settled, scene.layout.masking
    assert masking is not None and masking.line_height is not None
    edge = reach + reveal + LEFT_MARGIN
    x_line = frame.at(edge, 0.0)[0]
    for text, z, x, part in (
        (scene.text(settled.height), height, x_line - 14.0, 0.36),
        (scene.text(masking.line_height), height + reveal, x_line - 44.0, 0.64),
    ):
        level = frame.at(0.0, z)[1]
        sheet.path(polyline([(x - 4.0, level), (frame.face - 2.0, level)]), "thin")
        sheet.measure_up(x, frame.ground, level, text, part)
    y = frame.ground + BELOW * frame.scale + 16.0
    x_edge, x_reach = frame.at(reach + reveal, 0)[0], frame.at(reach, 0)[0]
    for x in (x_edge, x_reach, frame.face):
        sheet.path(polyline([(x, frame.ground + 3.0), (x, y + 4.0)]), "thin")
    if abs(reach - flange) < 0.01:
        sheet.measure_across(x_reach, frame.face, y, scene.text(settled.flange))
    text = scene.text(settled.reveal)
    sheet.measure_across(x_edge, x_reach, y, "")
    sheet.text(x_edge - 6.0, y + 18.0, text, "end", halo=True)


def _callouts(
    sheet: Sheet,
    frame: Frame,
    film: float,
    scene: Scene,
    sizes: tuple[float, float, float, float],
) -> list[tuple[str, str]]:
    """Letter the parts from the tape down to the roof; return the legend's rows."""
    reach, reveal, height, foot = sizes
    layers = {n: scene.text(wet) for n, wet in scene.answer.takeoff.gauge.items()}
    tall = height * frame.scale
    out = max(0.5 * min(reach, 4.0), (film + 2.2 * BADGE) / frame.scale)
    member = next(s.id for s in scene.layout.surfaces if s.role == "member")
    points: list[tuple[str, Pair, Pair]] = [
        (
            scene.label("tape"),
            frame.at(out, height + reveal + 0.9),
            frame.at(0.0, height + reveal + 0.4, 2.0),
        ),
        (
            scene.label("top-coat", top=layers["top"]),
            frame.at(out, 0.82 * height),
            frame.at(0.0, 0.78 * height, 0.88 * film),
        ),
        (
            scene.label(
                "wrap",
                height=scene.text(scene.answer.settled.height),
                foot=scene.limit("fleece-lap"),
            ),
            frame.at(out, 0.62 * height),
            frame.at(0.0, 0.58 * height, 0.62 * film),
        ),
        (
            scene.label("base-coat", base=layers["base"]),
            frame.at(out, 0.42 * height),
            frame.at(0.0, 0.38 * height, 0.25 * film),
        ),
        (
            scene.label("base-fleece", turn_up=scene.limit("turn-up")),
            frame.at(foot + 0.5 * (reach - foot), 0.0, -4.0, max(34.0, 0.2 * tall)),
            frame.at(foot + 0.5 * (reach - foot), 0.0, 0.0, 0.32 * film),
        ),
        (
            scene.surface("roof"),
            frame.at(reach + 0.5 * reveal, 0.0, BADGE + 4.0, max(34.0, 0.2 * tall)),
            frame.at(reach + 0.5 * reveal, 0.0, 0.0, 1.0),
        ),
        (
            scene.surface(member),
            (frame.at(-0.5 * BEYOND, 0)[0] + 8.0, frame.at(0, 0.5 * height)[1]),
            (frame.face + 1.0, frame.at(0, 0.5 * height)[1] + 10.0),
        ),
    ]
    rows: list[tuple[str, str]] = []
    level = beside = 0.0
    for words, (x, y), target in points:
        if rows and abs(y - level) < 2.0 * BADGE:
            x = min(x, beside - 2.0 * BADGE - 4.0)
        level, beside = y, x
        x = max(BADGE + 2.0, min(x, WIDTH - BADGE - 2.0))
        rows.append((sheet.call_out((x, y), target), words))
    return rows
