"""Names and sentences of one answer: surfaces, pieces, times, in the reader's language."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from upstand.answer import Answer
from upstand.edition import Value
from upstand.layout import Piece, Surface
from upstand.quantity.traced import Traced
from upstand.stages.times import WorkingTime
from upstand.words.fill import Words, lower_first

#: Windows are shown rounded down, waits rounded up: to the safe side.
WINDOWS = ("pot_life", "skin_time", "cover_within", "recoat_within")


def safe_style(time: WorkingTime) -> str:
    """Return the rounding of a time: down for a window, up for a wait.

    A window that hangs on how warm it stays is given in full hours.
    """
    if time.field == "cover_within":
        return "full-hour"
    return "down" if time.field in WINDOWS else "up"


def time_label(time: WorkingTime) -> str:
    """Return the id of what a time is called: a resin's cure on file is no full cure."""
    name = time.id.partition("/")[0]
    return "time-set" if name == "cure" and time.product.kind == "resins" else f"time-{name}"


def with_stated(text: str, value: Value, words: Words) -> str:
    """Fill in the temperature that a time is stated at."""
    return (
        text.replace("{at}", words.speech.text(value.traced("degF", "at"))) if "{" in text else text
    )


def say_time(time: WorkingTime, words: Words) -> str:
    """Say a time with its temperature, or why there is none."""
    product = time.product
    if time.window:
        window = product.value(time.field).window
        return "" if window is None else window[words.lang]
    if time.why == "range":
        given = product.value("application")
        limits = words.speech.span(given.traced("degF", "low"), given.traced("degF", "high"))
        return words.say("time-none-range", range=limits)
    if time.why is not None:
        value = product.value(time.field)
        if value.why_none is not None:
            return with_stated(value.why_none[words.lang], value, words)
        return words.say("time-none-table")
    assert time.at is not None
    return words.say(
        "at-reference" if time.reference else "at-temperature",
        time=say_span(time, words),
        at=words.speech.text(time.at),
    )


def say_span(time: WorkingTime, words: Words) -> str:
    """Say a time's range, rounded to the safe side."""
    style = safe_style(time)
    return words.speech.span(time.low, time.high, (style, style))


class Saying:
    """Says what an answer holds; every number in a sentence is the answer's own."""

    def __init__(self, answer: Answer, words: Words) -> None:
        """Keep the answer and the words it is said in."""
        self.answer, self.settled, self.words = answer, answer.settled, words
        self.lang, self.speech = words.lang, words.speech
        self.surfaces = {s.id: s for s in answer.layout.surfaces}

    def surface(self, surface: Surface) -> str:
        """Name a surface: what it is made of and which one it is."""
        part = surface.id.rpartition("-")[0] if surface.id.startswith("top-") else surface.id
        if surface.substrate is None:
            return self.words.say("surface-part-open", part=self.words.say(f"part-{part}"))
        substrate = self.words.name(self.answer.edition.record(f"substrates/{surface.substrate}"))
        if surface.role != "roof":
            substrate = lower_first(substrate)
        if surface.role == "part":
            named = self.words.say(f"part-{part}")
            return self.words.say("surface-part", part=named, substrate=substrate)
        return self.words.say(
            f"surface-{surface.role}",
            substrate=substrate,
            **({} if surface.role == "roof" else {"n": str(surface.number)}),
        )

    def surface_list(self, ids: tuple[str, ...]) -> str:
        """Name several surfaces in a row."""
        return self.words.list([self.surface(self.surfaces[i]) for i in ids])

    def piece(self, piece: Piece) -> str:
        """Name a piece of fleece."""
        slots = {} if piece.kind in ("cap", "patch") else {"n": str(piece.number)}
        # without a plate a cover lies over damage
        bare = piece.kind == "cover" and not self.settled.plates
        return self.words.say("piece-cover-bare" if bare else f"piece-{piece.kind}", **slots)

    def joint(self, piece: Piece) -> str | None:
        """Say where a wrap's joint lies: half a lap from an edge, the lap flat on one face."""
        if piece.joint is None:
            return None
        wording = f"joint-{piece.joint}"
        if piece.joint == "round":
            return self.words.say(wording)
        lap = self.answer.edition.record("parameters/fleece-lap").value("value").traced("in")
        half = Traced(lap.value / 2.0, "in", lap.origin)
        return self.words.say(wording, inset=self.speech.text(half))

    def piece_rows(self, pieces: Sequence[Piece]) -> list[tuple[Piece, str, str]]:
        """Say pieces lowest first: (first of them, letters, count, name and size to cut).

        Three or more equal neighbors stand together. Sizes are up to the next 1/4 in.
        """
        rows = []
        for alike in _runs(pieces):
            first, total = alike[0], sum(piece.count for piece in alike)
            letters = first.letter if len(alike) == 1 else f"{first.letter}–{alike[-1].letter}"
            many = len(alike) > 1
            said = self.words.say(
                "pieces-line" if total > 1 else "pieces-line-one",
                **({"count": str(total)} if total > 1 else {}),
                name=self.words.say(f"drawing-kind-{first.kind}") if many else self.piece(first),
                width=self.speech.text(first.width, "up-quarter"),
                length=self.speech.text(first.length, "up-quarter"),
            )
            rows.append((first, letters, said))
        return rows

    def pieces_text(self, pieces: Sequence[Piece]) -> str:
        """Say pieces in a row, each behind its letter."""
        return "; ".join(f"{letters} {said}" for _, letters, said in self.piece_rows(pieces))

    def time(self, time: WorkingTime) -> str:
        """Say a time with its temperature, or why there is none."""
        return say_time(time, self.words)

    def span(self, time: WorkingTime) -> str:
        """Say a time's range, rounded to the safe side."""
        return say_span(time, self.words)

    def brief(self, id: str) -> str:
        """Say a time inside a sentence: with its temperature, or that none is on file."""
        time = self.answer.timing.find(id)
        known = time is not None and (time.low is not None or time.window)
        return self.time(time) if known and time is not None else self.words.say("no-time")


def _runs(pieces: Sequence[Piece]) -> Iterator[list[Piece]]:
    """Yield three or more equal neighbors together, every other piece alone, lowest first."""
    runs: list[tuple[tuple[object, ...], list[Piece]]] = []
    for piece in sorted(pieces, key=lambda one: one.order):
        sizes = round(piece.width.value, 6), round(piece.length.value, 6)
        key = (piece.kind, piece.count, *sizes)
        if runs and runs[-1][0] == key:
            runs[-1][1].append(piece)
        else:
            runs.append((key, [piece]))
    for _, run in runs:
        if len(run) > 2:
            yield run
        else:
            yield from ([piece] for piece in run)
