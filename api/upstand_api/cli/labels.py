"""Labels of the terminal in the reader's language.

Words of the trade are the edition's terms, sentences its wording (`cli-…`); what is left are the
short labels of a page, which stand here in both languages.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from upstand.edition import Edition, UnknownRecord, load
from upstand.words.fill import Words, fill

SHORT: Final[dict[str, tuple[str, str]]] = {
    # headings
    "dangers": ("Dangers: before anything else", "Peligros: antes que nada"),
    "asked": ("What was asked", "Lo que se preguntó"),
    "bring": ("What to bring, at least", "Qué llevar, como mínimo"),
    "surfaces": ("Surfaces and their primers", "Superficies y sus imprimadores"),
    "tape": ("Where to tape", "Dónde va la cinta"),
    "cut": ("What to cut", "Qué cortar"),
    "coats": ("How thick", "De qué espesor"),
    "do": ("What to do", "Qué hacer"),
    "times": ("What must wait, and by when", "Qué debe esperar, y hasta cuándo"),
    "checks": ("Checks", "Revisiones"),
    "confirm": ("Confirm on the roof", "Confirme en el techo"),
    "assumed": ("What was assumed", "Lo que se supuso"),
    "sources": ("Sources", "Fuentes"),
    "working": ("Where each number comes from", "De dónde sale cada número"),
    # what stands before a sentence
    "clears": ("Clears when", "Se libera cuando"),
    "ask-whom": ("Ask", "Pregunte a"),
    "facts": ("Have at hand", "Tenga a la mano"),
    "measure": ("Do", "Haga"),
    "governs": ("Governs", "Rige"),
    "rule": ("Rule", "Regla"),
    "until": ("Until", "Hasta"),
    "wait": ("Wait", "Espere"),
    "published": ("Published", "Publicado"),
    "never": ("Never on", "Nunca en"),
    "good": ("Good when", "Bien cuando"),
    "if-not": ("If not, ask", "Si no, pregunte a"),
    "need": ("need", "hace falta"),
    "with-allowance": ("with allowance", "con el margen"),
    "also": ("Also", "Además"),
    "left": ("left over", "sobra"),
    "tools": ("Tools", "Herramientas"),
    "protective": ("Wear and protect", "Protección"),
    "gauge": ("Measure with", "Para medir"),
    "must-wait": ("Must wait", "Debe esperar"),
    "by-when": ("By when", "Hasta cuándo"),
    # tables
    "order": ("Order", "Orden"),
    "each": ("Each", "Cada uno"),
    "all": ("All", "Todos"),
    "piece": ("Piece", "Pieza"),
    "size": ("Width × length", "Ancho × largo"),
    "surface": ("Surface", "Superficie"),
    "area": ("Area", "Área"),
    "coat": ("Coat", "Capa"),
    "volume": ("Volume", "Volumen"),
    "film": ("Whole film, fleece in it", "Película completa, con el vellón"),
    "on-roof": ("On the roof", "En el techo"),
    "on-upright": ("On the upright", "En lo vertical"),
    "tape-kind": ("Tape", "Cinta"),
    # the question, as it was understood
    "points": ("corner points", "puntos de esquina"),
    "mask_turn": ("Mask turned", "Cinta girada"),
    "at": ("at", "en"),
    "turn": ("turned", "girado"),
    "weather": ("Measured", "Medido"),
    "wet": ("surfaces wet", "superficies mojadas"),
    "dry": ("surfaces dry", "superficies secas"),
    "margin": ("margin of the surface", "margen de la superficie"),
    "from": ("see", "vea"),
    "asked-origin": ("asked", "preguntado"),
    "assumed-origin": ("assumed", "supuesto"),
    "constant-origin": ("fixed", "fijo"),
    "computed-origin": ("computed", "calculado"),
    # one word out of a few
    "severity-danger": ("DANGER", "PELIGRO"),
    "severity-warning": ("WARNING", "ADVERTENCIA"),
    "severity-care": ("TAKE CARE", "CUIDADO"),
    "stage-confirm": ("before the start", "antes de empezar"),
    "stage-hold": ("at a hold point", "en un punto de espera"),
    "stage-inspect": ("afterwards", "al final"),
}
"""Label -> (English, Spanish)."""


class Labels:
    """Says labels in one language; words of the trade and sentences come from one edition."""

    def __init__(self, edition: Edition, lang: str) -> None:
        """Keep the edition and the language, `en` or `es`."""
        self.edition, self.lang = edition, lang
        self.words = Words(edition, lang)

    def __getitem__(self, label: str) -> str:
        """Return a short label."""
        english, spanish = SHORT[label]
        return spanish if self.lang == "es" else english

    def say(self, wording: str, /, **slots: str) -> str:
        """Return a sentence of the terminal's own, `wording/cli-…`.

        A frozen edition may be older than a sentence; the edited one has them all.
        """
        path = f"wording/cli-{wording}"
        try:
            record = self.edition.record(path)
        except UnknownRecord:
            record = load(id="next").record(path)
        return fill(record.text("text", self.lang), slots)

    def grade(self, grade: str) -> str:
        """Say how well a value of this grade is known."""
        return self.words.say(f"grade-{grade}")

    def rule(self, statement: Mapping[str, Any]) -> str:
        """Say a published rule with its grade."""
        return f"{statement['text']} ({self.grade(statement['grade'])})"

    def term(self, term: str) -> str:
        """Return a word of the trade, such as `height` or `hold-point`."""
        return self.words.name(f"terms/{term}")

    def name(self, path: str) -> str:
        """Return a record's name; the id itself where the edition has no such record."""
        return self.words.name(path) if self.edition.has(path) else path.partition("/")[2]
