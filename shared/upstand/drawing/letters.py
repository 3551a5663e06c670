"""Where letters and names go on a plan: in what they name, across its edges, or with a leader."""

from __future__ import annotations

from collections.abc import Sequence

from shapely.geometry import Polygon
from shapely.geometry.base import BaseGeometry
from shapely.ops import unary_union

from upstand.drawing.net import Flat
from upstand.drawing.place import Labels, around
from upstand.drawing.scene import Scene
from upstand.drawing.svg import LINE, wrap
from upstand.drawing.view import View, polygons
from upstand.layout.model import Piece

#: Pieces on the faces of a panel: each with what is seen of it, and all of it.
Lying = list[tuple[Piece, BaseGeometry, BaseGeometry]]


class Letters:
    """Writes on one panel; `told` are the letters that stand on the plan already."""

    def __init__(self, scene: Scene, labels: Labels, view: View, told: set[str]) -> None:
        """Keep what is written on."""
        self.scene, self.labels, self.view, self.told = scene, labels, view, told

    def write(self, lying: Lying) -> None:
        """Write each piece's letter where it is seen, the smallest first.

        Pieces that lie on one another exactly share a text. One that has no room in its piece
        stands across its edges, or beside it with a leader.
        """
        alike = self._alike(lying)
        by_size = sorted(
            ((alike.get(piece.letter, piece.letter), seen) for piece, seen, _ in lying),
            key=lambda one: one[1].area,
        )
        for over_lines in (False, True):
            for letter, seen in by_size:
                if over_lines and letter in self.told:
                    continue
                for part in roomiest(self.view, seen):
                    if self.labels.put_inside(letter, part, over_lines=over_lines):
                        self.told.add(letter)
        for write in (self._lead, self._across_edges):
            for letter, seen in by_size:
                if letter not in self.told and write(letter, seen):
                    self.told.add(letter)

    def write_hidden(self, lying: Lying) -> bool:
        """Write in brackets the letters of what no panel shows, for it lies under another.

        Returns whether there is any.
        """
        alike = self._alike(lying)
        hidden: dict[str, list[BaseGeometry]] = {}
        for piece, _, whole in lying:
            letter = alike.get(piece.letter, piece.letter)
            if letter not in self.told and not whole.is_empty:
                hidden.setdefault(letter, []).append(whole)
        written = False
        for letter, shapes in hidden.items():
            whole, name = unary_union(shapes), f"({letter})"
            if any(self.labels.put_inside(name, part) for part in roomiest(self.view, whole)) or (
                self._lead(name, whole) or self._across_edges(name, whole)
            ):
                self.told.add(letter)
                written = True
        return written

    @staticmethod
    def _alike(lying: Lying) -> dict[str, str]:
        """Return the text that pieces which lie on one another exactly share, by their letters."""
        alike: dict[tuple[object, ...], list[str]] = {}
        for piece, _, whole in lying:
            if not whole.is_empty:
                box = tuple(round(side, 6) for side in whole.bounds)
                letters = alike.setdefault((piece.kind, box, round(whole.area, 6)), [])
                letters += [piece.letter] if piece.letter not in letters else []
        found: dict[str, str] = {}
        for same in alike.values():
            if len(same) > 1:
                found |= {letter: "\u00a0".join(same) for letter in same if letter not in found}
        return found

    def _lead(self, text: str, shape: BaseGeometry) -> bool:
        """Write a text beside what it names, with a leader to its edge."""
        for part in roomiest(self.view, shape):
            edge = part.exterior
            for n in range(8):
                target = edge.interpolate((2 * n + 1) / 16.0, normalized=True)
                at = (target.x, target.y)
                if self.labels.lead(text, at, around(at, (24.0, 38.0))):
                    return True
        return False

    def _across_edges(self, text: str, shape: BaseGeometry) -> bool:
        """Write a text over a part that is narrower than it."""
        for part in roomiest(self.view, shape):
            left, top, right, low = part.bounds
            x = (left + right) / 2.0
            spots = [(x, top + (low - top) * n / 8.0 + 5.0) for n in (4, 3, 5, 2, 6, 1, 7)]
            if self.labels.put(text, spots, bold=True, over_lines=True):
                return True
        return False

    def name(self, flat: Flat, laps: Sequence[BaseGeometry]) -> None:
        """Name a face that is a part of the detail, where there is room for its name."""
        free = flat.bare.difference(unary_union(laps))
        if not flat.face.surface:
            for id, shape in self.scene.layout.shared:
                for part in roomiest(self.view, flat.place(shape).intersection(free)):
                    self.labels.put_inside(self.scene.part(id), part, bold=False, over_lines=False)
            return
        for part in roomiest(self.view, free):
            self.labels.put_inside(
                self.scene.part(flat.face.surface), part, bold=False, over_lines=False
            )

    def in_lines(self, text: str, part: Polygon) -> None:
        """Write a text in the middle of a shape, in as many lines as it takes."""
        left, _, right, _ = part.bounds
        middle = part.centroid
        rows = wrap(text, 0.8 * (right - left))
        for n, row in enumerate(rows):
            y = middle.y + (n - (len(rows) - 1) / 2.0) * LINE + 5.0
            self.labels.put(row, [(middle.x, y)])


def roomiest(view: View, shape: BaseGeometry) -> list[Polygon]:
    """Return the largest drawn part of a shape, in units of paper; nothing where none is drawn."""
    parts = [part for drawn in view.parts(shape) for part in polygons(drawn)]
    return sorted(parts, key=lambda part: -part.area)[:1]
