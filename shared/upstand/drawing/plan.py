"""The plan: tape, fleece, base pieces with their lap, plates with covers, uprights, from above."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely.geometry import box
from shapely.geometry.base import BaseGeometry

from upstand.drawing.scene import NothingToDraw, Scene
from upstand.drawing.svg import BADGE, WIDTH, Pair, Sheet, polyline, text_width
from upstand.layout import Rectangle, Region
from upstand.layout.placed import turned

MARGIN = 0.8  # inches of roof shown beyond the tape
TALLEST = 420.0  # units
RIGHT = 2.0 * BADGE + 22.0  # units kept for the letters


@dataclass(frozen=True, slots=True)
class View:
    """Maps inches of the mask's axes on to the sheet, y upwards."""

    scale: float
    left: float
    high: float
    x0: float
    y0: float

    def at(self, x: float, y: float) -> Pair:
        """Place a point."""
        return (self.x0 + (x - self.left) * self.scale, self.y0 + (self.high - y) * self.scale)

    def outline(self, shape: BaseGeometry) -> str:
        """Return the `d` of a polygon, or of several, holes included."""
        rings = []
        for part in getattr(shape, "geoms", [shape]):
            rings += [part.exterior, *part.interiors]
        return "".join(
            polyline([self.at(x, y) for x, y in list(ring.coords)[:-1]], True) for ring in rings
        )


def draw_plan(scene: Scene) -> str:
    """Draw an answer's layout from above, to scale, as SVG.

    Raises NothingToDraw where the layout has no geometry.
    """
    layout, masking = scene.layout, scene.layout.masking
    if masking is None or not layout.regions:
        raise NothingToDraw("the geometry of this detail is not computed")
    settled = scene.answer.settled
    bounds = [_placed(region.mask, region).bounds for region in layout.regions]
    left, low = min(b[0] for b in bounds) - MARGIN, min(b[1] for b in bounds) - MARGIN
    right, high = max(b[2] for b in bounds) + MARGIN, max(b[3] for b in bounds) + MARGIN
    first = next((r for r in layout.regions if r.members), layout.regions[0])
    sides = dict(zip(map(id, layout.regions), masking.flat, strict=True))[id(first)]
    gutter = text_width(scene.text(sides[1], "up")) / 2.0 + 8.0
    scale = min((WIDTH - 2.0 * gutter - RIGHT) / (right - left), TALLEST / (high - low))
    view = View(scale, left, high, 2.0 * gutter, 6.0)
    sheet = Sheet(
        scene.name,
        scene.label("plan-title", detail=scene.detail),
        scene.label(
            "plan-about",
            mask=scene.mask(),
            flange=scene.text(settled.flange),
            reveal=scene.text(settled.reveal),
        ),
    )
    for region in layout.regions:
        _region(sheet, view, scene, region)
    _plates(sheet, view, scene)
    for region in layout.regions:
        if region.members:
            sheet.hatched(view.outline(region.outline), "steel")
    _measures(sheet, view, scene, first, gutter)
    rows, lowest = _callouts(sheet, view, scene, first)
    rows.append(("", scene.label("plan-scale")))
    sheet.legend(rows, max(view.at(0.0, low)[1] + 40.0, lowest + BADGE + 10.0))
    return sheet.finished()


def _placed(rectangle: Rectangle, region: Region) -> BaseGeometry:
    """Place a region's rectangle in the mask's axes; an island may lie along its own."""
    sides = box(rectangle.left, rectangle.low, rectangle.right, rectangle.high)
    return turned(sides, region.turn_deg, (0.0, 0.0))


def _region(sheet: Sheet, view: View, scene: Scene, region: Region) -> None:
    """Draw the tape line, the fleece's edge, and where base pieces lap."""
    sheet.path(view.outline(_placed(region.mask, region)), "mask")
    sheet.path(view.outline(_placed(region.target, region)), "edge")
    for lap in _laps(scene, region):
        sheet.hatched(view.outline(lap), "lap")


def _laps(scene: Scene, region: Region) -> Iterator[BaseGeometry]:
    """Yield where two base pieces of a region lie on each other, outside the uprights."""
    fleece = scene.layout.fleece
    target = _placed(region.target, region).buffer(1e-6)
    shapes = [
        p.shape
        for p in (fleece.pieces if fleece else ())
        if p.kind == "base" and p.shape is not None and target.covers(p.shape)
    ]
    for number, one in enumerate(shapes):
        for other in shapes[number + 1 :]:
            both = one.intersection(other).difference(region.outline)
            yield from (p for p in getattr(both, "geoms", [both]) if p.area > 1e-6)


def _plate_shapes(scene: Scene) -> list[tuple[BaseGeometry, BaseGeometry]]:
    """Return (plate, cover) of each plate, in the mask's axes."""
    settled = scene.answer.settled
    margin = scene.layout.parameters["plate-margin"].value
    shapes = []
    for plate in settled.plates:
        assert plate.at is not None
        x, y = plate.at[0].value, plate.at[1].value
        wide, long = plate.width.value / 2.0, plate.length.value / 2.0
        grown = (wide + margin, long + margin)
        shapes.append(
            tuple(
                turned(box(x - w, y - h, x + w, y + h), -settled.mask_turn.value, (0.0, 0.0))
                for w, h in ((wide, long), grown)
            )
        )
    return [(plate, cover) for plate, cover in shapes]


def _plates(sheet: Sheet, view: View, scene: Scene) -> None:
    for plate, cover in _plate_shapes(scene):
        sheet.path(view.outline(cover), "cover")
        sheet.path(view.outline(plate), "edge")


def _measures(sheet: Sheet, view: View, scene: Scene, region: Region, gutter: float) -> None:
    """Dimension the inside of the tape, and the flange where there is room for its text."""
    if region.turn_deg:
        return
    masking = scene.layout.masking
    assert masking is not None
    width, length = masking.flat[scene.layout.regions.index(region)]
    mask = region.mask
    (x1, y1), (x2, y2) = view.at(mask.left, mask.low), view.at(mask.right, mask.high)
    y = view.at(0.0, mask.low)[1] + 14.0
    sheet.measure_across(x1, x2, y, scene.text(width, "up"))
    sheet.measure_up(gutter, y1, y2, scene.text(length, "up"))
    for level in (y1, y2):
        sheet.path(polyline([(gutter - 4.0, level), (x1 - 3.0, level)]), "thin")
    settled = scene.answer.settled
    if not region.members:
        return
    outline_left, outline_low, _, _ = region.outline.bounds
    if abs(outline_left - region.target.left - settled.flange.value) < 0.01:
        text = scene.text(settled.flange)
        x1, y = view.at(region.target.left, (region.target.low + outline_low) / 2.0)
        x2, low = view.at(outline_left, outline_low)
        if x2 - x1 > text_width(text):
            sheet.path(polyline([(x2, low + 2.0), (x2, y + 4.0)]), "thin")
            sheet.measure_across(x1, x2, y, text, below=False)


def _callouts(
    sheet: Sheet, view: View, scene: Scene, region: Region
) -> tuple[list[tuple[str, str]], float]:
    """Letter what the plan shows, in a column at the right.

    Returns the legend's rows and how far down the column goes.
    """
    settled = scene.answer.settled
    target, mask = region.target, region.mask
    rows: list[tuple[str, Pair]] = []
    if region.turn_deg == 0.0:
        rows = [
            (scene.label("mask-line", mask=scene.mask()), (mask.right, mask.high - 0.25)),
            (
                scene.label("fleece-edge", reveal=scene.text(settled.reveal)),
                (target.right, target.high - 0.16 * target.length),
            ),
        ]
    laps = list(_laps(scene, region))
    if laps:
        furthest = max(laps, key=lambda lap: lap.bounds[2])
        point = furthest.representative_point()
        rows.append((scene.label("lap", lap=scene.limit("fleece-lap")), (point.x, point.y)))
    plates = _plate_shapes(scene)
    if plates:
        plate, cover = max(plates, key=lambda pair: pair[1].bounds[2])
        middle = plate.representative_point()
        corner = cover.bounds
        rows.append(
            (
                scene.label("cover", margin=scene.limit("plate-margin")),
                (corner[2] - 0.3, corner[1] + 0.22 * (corner[3] - corner[1])),
            )
        )
        rows.append((scene.label("plate"), (middle.x, middle.y - 0.4)))
    if region.members:
        substrate = settled.members[region.members[0]].substrate
        name = scene.answer.edition.record(f"substrates/{substrate}").text("name", scene.lang)
        point = region.outline.representative_point()
        rows.append((scene.label("member", substrate=name), (point.x, point.y)))
    placed = sorted(((view.at(*at)[1], at, words) for words, at in rows), key=lambda row: row[0])
    legend: list[tuple[str, str]] = []
    y = 0.0
    for level, at, words in placed:
        y = max(y + 2.0 * BADGE + 4.0, level, BADGE + 2.0)
        legend.append((sheet.call_out((WIDTH - BADGE - 3.0, y), view.at(*at)), words))
    return legend, y
