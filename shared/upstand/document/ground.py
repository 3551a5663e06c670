"""What of a document hangs on geometry and products alone: it is remembered with the ground."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from upstand.document.sentences import Saying
from upstand.document.shelf import Shelf
from upstand.layout import Piece, Surface

__all__ = ["GroundWriter"]

T = TypeVar("T")


class GroundWriter:
    """Writes surfaces, coats, fleece and masking in one reader's words; each once for a ground.

    What is returned is shared between documents: to be read, never changed.
    """

    def __init__(self, saying: Saying, shelf: Shelf) -> None:
        """Keep what says it, and the ground it is remembered with."""
        self.saying, self.shelf = saying, shelf
        self.words, self.lang, self.json = saying.words, saying.lang, saying.speech.json
        self.ground = saying.answer.ground

    def _kept(self, name: str, make: Callable[[], T]) -> T:
        key, written = (name, self.words), self.ground.written
        if key not in written:
            written[key] = make()
        found: T = written[key]
        return found

    def surfaces(self) -> list[dict[str, Any]]:
        """Write every surface: what it is, its area, how it is prepared, its primer."""
        return self._kept(
            "surfaces", lambda: [self._surface(s) for s in self.ground.layout.surfaces]
        )

    def coats(self) -> list[dict[str, Any]]:
        """Write each coat as laid."""
        return self._kept("coats", self._coats)

    def fleece(self) -> dict[str, Any] | None:
        """Write the pieces of fleece, and what they cover; None without geometry."""
        return self._kept("fleece", self._fleece)

    def masking(self) -> dict[str, Any] | None:
        """Write what is taped; None without geometry."""
        return self._kept("masking", self._masking)

    def _surface(self, surface: Surface) -> dict[str, Any]:
        if surface.substrate is None:
            return self._unnamed(surface)
        edition = self.saying.answer.edition
        substrate = edition.record(f"substrates/{surface.substrate}")
        primer = self.ground.needs.primer_of.get(surface.id)
        path = str(substrate.get("preparation"))
        return {
            "id": surface.id,
            "label": self.saying.surface(surface),
            "substrate": surface.substrate,
            "orientation": surface.orientation,
            "area": self.json(surface.area),
            "area_why": None
            if surface.area is not None
            else self.words.say(self.ground.layout.why),
            "preparation": self.shelf.preparation(path),
            "never": self._never(path, primer),
            "primer": None if primer is None else primer.partition("/")[2],
            "primer_why": substrate.text("primer_why", self.lang)
            if substrate.has("primer_why")
            else None,
            "dry_before_primer": substrate.text("dry_before_primer", self.lang),
        }

    def _unnamed(self, surface: Surface) -> dict[str, Any]:
        """Write a surface of which nobody said what it is made of."""
        why = None if surface.area is not None else self.words.say(self.ground.layout.why)
        return {
            "id": surface.id,
            "label": self.saying.surface(surface),
            "substrate": None,
            "orientation": surface.orientation,
            "area": self.json(surface.area),
            "area_why": why,
            "preparation": [],
            "never": [],
            "primer": None,
            "primer_why": None,
            "dry_before_primer": None,
        }

    def _never(self, preparation: str, primer: str | None) -> list[str]:
        """Say what is never done to a surface: by its preparation, its primer and the resin."""
        if self.ground.layout.stopped:
            return []
        products = [p for p in (primer, self.saying.settled.resin.path) if p is not None]
        found = [text for path in (preparation, *products) for text in self.shelf.never(path)]
        return list(dict.fromkeys(found))

    def _fleece(self) -> dict[str, Any] | None:
        fleece = self.ground.layout.fleece
        if fleece is None:
            return None
        return {
            "id": self.saying.settled.fleece.id,
            "pieces": [self._piece(p) for p in fleece.pieces],
            **{
                name: self.json(getattr(fleece, name))
                for name in ("zone", "net", "cut", "lap_area", "extra")
            },
        }

    def _piece(self, piece: Piece) -> dict[str, Any]:
        return {
            "id": piece.id,
            "label": self.saying.piece(piece),
            "kind": piece.kind,
            "letter": piece.letter,
            "width": self.json(piece.width, "up-quarter"),
            "length": self.json(piece.length, "up-quarter"),
            "count": piece.count,
            "order": piece.order,
            "note": self.words.say("slit-note") if piece.slit else None,
            "joint": self.saying.joint(piece),
        }

    def _masking(self) -> dict[str, Any] | None:
        masking = self.ground.layout.masking
        if masking is None:
            return None
        return {
            "tape": self.json(masking.tape, "run"),
            "corners": self.json(masking.corners, "run"),
            "flat": [
                {"width": self.json(width), "length": self.json(length)}
                for width, length in masking.flat
            ],
            "line_height": self.json(masking.line_height),
        }

    def _coats(self) -> list[dict[str, Any]]:
        return [
            {
                "id": coat.id,
                "label": self.words.say(f"line-{coat.id}"),
                "area": self.json(coat.area),
                "thickness": self.json(coat.thickness),
                "volume": self.json(coat.volume),
                "state": "wet",
                "dry": self.json(coat.dry),
            }
            for coat in self.ground.needs.coats.coats
        ]
