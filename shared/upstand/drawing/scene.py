"""What every view of one answer needs: its layout, its words, and lengths already written."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import Final

import shapely
from shapely.geometry.base import BaseGeometry

from upstand.answer import Answer
from upstand.document.requirements import words_for
from upstand.document.sentences import Saying
from upstand.layout import Layout, Piece, Region
from upstand.layout.placed import PlacedMember, place_members, turned
from upstand.quantity.traced import Traced
from upstand.telling.said import Said, say
from upstand.words.fill import Words

#: Hatch by family of substrates; a sheet is drawn by what it lies on.
HATCH: Final[Mapping[str, str]] = MappingProxyType(
    {
        "metal": "steel",
        "masonry": "masonry",
        "wood": "wood",
        "plastic": "plastic",
        "resin": "old-film",
    }
)


class NothingToDraw(ValueError):
    """The answer has no geometry that this view could show; the message says why."""

    def __init__(self, message: Said) -> None:
        """Keep the message."""
        self.message = message
        super().__init__(message)


@dataclass(frozen=True)
class Scene:
    """One answer, ready to be drawn. Lengths are inches in the axes of the mask."""

    answer: Answer
    name: str

    @property
    def layout(self) -> Layout:
        """The answer's layout."""
        return self.answer.layout

    @property
    def lang(self) -> str:
        """The reader's language."""
        return self.words.lang

    @cached_property
    def words(self) -> Words:
        """The words the answer is said in."""
        return words_for(self.answer, no_break=True)

    @cached_property
    def saying(self) -> Saying:
        """The answer's own words."""
        return Saying(self.answer, self.words)

    @cached_property
    def detail(self) -> str:
        """The detail's name."""
        return self.answer.settled.detail.text("name", self.lang)

    @cached_property
    def region(self) -> Region:
        """The first masked rectangle with an upright in it.

        Raises NothingToDraw where there is none.
        """
        for region in self.layout.regions:
            if region.members:
                return region
        raise NothingToDraw(say("no-upright-to-draw"))

    @cached_property
    def members(self) -> Sequence[PlacedMember]:
        """The members where they stand, in the axes of the mask."""
        settled = self.answer.settled
        return place_members(settled.members, settled.mask_turn.value)

    @cached_property
    def plates(self) -> tuple[BaseGeometry, ...]:
        """The fastener plates on the roof, in the axes of its faces."""
        if self.layout.plates:
            return tuple(lying.shape for lying in self.layout.plates)
        settled = self.answer.settled
        found = []
        for plate in settled.plates:
            x, y = (at.value for at in plate.at) if plate.at is not None else (0.0, 0.0)
            wide, long = plate.width.value / 2.0, plate.length.value / 2.0
            box = shapely.box(x - wide, y - long, x + wide, y + long)
            found.append(turned(box, -settled.mask_turn.value, (0.0, 0.0)))
        return tuple(found)

    def label(self, name: str, /, **slots: str) -> str:
        """Return a label of the drawing in the reader's language."""
        return self.words.say(f"drawing-{name}", **slots)

    def text(self, length: Traced, style: str | None = None) -> str:
        """Write a quantity in the reader's units."""
        return self.saying.speech.text(length, style)

    def limit(self, name: str) -> str:
        """Write a length that the layout took from the limits, such as `fleece-lap`."""
        return self.text(self.layout.parameters[name])

    def piece_kind(self, piece: Piece) -> str:
        """Say what sort of piece it is, without its number."""
        return self.label(f"kind-{piece.kind}")

    @cached_property
    def sleeve(self) -> str:
        """How a sleeve round something that stays clear of it is left: "open", "closed", or ""."""
        steps = self.answer.settled.detail.get("work", ())
        tools = {tool for step in steps for tool in step.get("tools", ())}
        if "tools/metal-sleeve" not in tools:
            return ""
        return "closed" if "tools/gap-filler" in tools else "open"

    def hatch(self, substrate: str | None) -> str:
        """Return the hatch that tells what something is made of."""
        if substrate is None:
            return "plastic"
        record = self.answer.edition.record(f"substrates/{substrate}")
        family = str(record.get("family"))
        if family == "masonry" and "deck" in record.get("used_as", ()):
            return "concrete"  # cast in one, not laid in units
        return HATCH.get(family, "insulation")

    def part(self, surface: str) -> str:
        """Name a part of the detail, such as the wall or the sill; a member is an upright."""
        if not surface:  # a strip lies on several
            return self.words.list([self.part(each.id) for each in self.layout.surfaces])
        name = surface.rpartition("-")[0] if surface[-1:].isdigit() else surface
        return self.label(f"part-{name}")

    def face(self, id: str) -> str:
        """Name the part of the detail that a face is of."""
        for face in self.layout.faces:
            if face.id == id:
                return self.part(face.surface)
        return self.part(id)

    def substrates(self, ids: Iterable[str]) -> str:
        """List what something is made of."""
        records = (self.answer.edition.record(f"substrates/{id}") for id in ids)
        return self.words.list([record.text("name", self.lang) for record in records])

    def surface(self, id: str) -> str:
        """Say what a surface is made of and that it is made ready."""
        surface = next((s for s in self.layout.surfaces if s.id == id), None)
        if surface is None or surface.substrate is None:
            return f"{self.part(id)}: {self.label('substrate-missing')}"
        name = self.answer.edition.record(f"substrates/{surface.substrate}").text("name", self.lang)
        primed = surface.id in self.answer.takeoff.primer_of
        return self.label("primed" if primed else "prepared", substrate=name)

    def mask(self) -> str:
        """Write the inside of each taped rectangle."""
        masking = self.layout.masking
        if masking is None:
            raise NothingToDraw(say("nothing-to-draw"))
        sides = [f"{self.text(w, 'up')} × {self.text(h, 'up')}" for w, h in masking.flat]
        return self.words.list(sides)
