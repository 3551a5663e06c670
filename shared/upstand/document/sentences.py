"""Names and sentences of one answer: surfaces, pieces, times, steps, in the reader's language."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from upstand.answer import Answer
from upstand.layout import Piece, Surface
from upstand.procedure.holds import holds_of
from upstand.procedure.steps import Step
from upstand.quantity.traced import Traced
from upstand.stages.dew_point import widest_margin
from upstand.stages.times import WorkingTime
from upstand.words.fill import Words, lower_first
from upstand.words.model import Slot, TradeText

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

    def piece_line(self, piece: Piece) -> str:
        """Say a piece with its count and the size to cut, up to the next 1/4 in."""
        return self.words.say(
            "pieces-line",
            count=str(piece.count),
            name=self.piece(piece),
            width=self.speech.text(piece.width, "up-quarter"),
            length=self.speech.text(piece.length, "up-quarter"),
        )

    def time(self, time: WorkingTime) -> str:
        """Say a time with its temperature, or why there is none."""
        product = time.product
        if time.window:
            words = product.value(time.field).window
            return "" if words is None else words[self.lang]
        if time.why == "range":
            given = product.value("application")
            limits = self.speech.span(given.traced("degF", "low"), given.traced("degF", "high"))
            return self.words.say("time-none-range", range=limits)
        if time.why is not None:
            value = product.value(time.field)
            if value.why_none is not None:
                return value.why_none[self.lang]
            return self.words.say("time-none-table")
        assert time.at is not None
        return self.words.say(
            "at-reference" if time.reference else "at-temperature",
            time=self.span(time),
            at=self.speech.text(time.at),
        )

    def span(self, time: WorkingTime) -> str:
        """Say a time's range, rounded to the safe side."""
        style = safe_style(time)
        return self.speech.span(time.low, time.high, (style, style))

    def brief(self, id: str) -> str:
        """Say a time inside a sentence: with its temperature, or that none is on file."""
        time = self.answer.timing.find(id)
        known = time is not None and (time.low is not None or time.window)
        return self.time(time) if known and time is not None else self.words.say("no-time")

    def step(self, step: Step) -> str:
        """Say a step."""
        return self.words.said(TradeText(step.activity, self._wording(step), self._slots(step)))

    def _wording(self, step: Step) -> str:
        """A slot that nothing fills has a sentence of its own, where the edition holds one."""
        layout, materials = self.answer.layout, self.answer.takeoff.materials
        laid = layout.masking is not None and layout.fleece is not None
        if "{resin_need}" in step.activity.text("say", "en"):
            laid = bool(materials) and materials[0].one.need is not None
        if not laid and step.activity.has("say_open"):
            return "say_open"
        flat = layout.masking is not None and layout.masking.line_height is None
        return "say_flat" if flat and step.activity.has("say_flat") else "say"

    def asks(self, step: Step) -> list[tuple[str, str]]:
        """What is open at a step: the verdict's own asks about what is used in it."""
        used = [part.substrate.path for part in step.preparations]
        if step.primer is not None:
            used.append(step.primer.path)
        if step.activity.get("needs") == "resin":
            used.append(self.settled.resin.path)
        return [
            (reason.id, self.words.said(reason.text))
            for reason in self.answer.verdict.reasons
            if reason.state == "ask" and reason.id.partition(": ")[0] in used
        ]

    def holds(self, step: Step) -> list[tuple[str, str]]:
        """Say the hold points of a step: (id, sentence)."""
        slots = self._slots(step)
        return [
            (hold.id, self.words.said(TradeText(hold.text.record, hold.text.path, slots)))
            for hold in holds_of(step.activity)
        ]

    def _slots(self, step: Step) -> Mapping[str, Slot]:
        if step.primer is None:
            return self.common_slots
        return {**self.common_slots, **self._primer_slots(step)}

    def _primer_slots(self, step: Step) -> dict[str, str]:
        primer = step.primer
        assert primer is not None
        method = primer.text("method", self.lang)
        if primer.get("parts") == 2:
            pot_life = self.answer.timing.find(f"pot-life/{primer.id}")
            known = pot_life is not None and pot_life.low is not None and pot_life.at is not None
            mix = self.words.say("primer-mix-open")
            if known and pot_life and pot_life.at and primer.has("mixing"):
                mix = self.words.say(
                    "primer-mix",
                    mixing=self.speech.text(primer.value("mixing").traced("min")),
                    pot_life=self.span(pot_life),
                    at=self.speech.text(pot_life.at),
                )
            method = f"{mix} {method}"
        return {
            "primer": primer.text("name", self.lang),
            "primer_surfaces": lower_first(self.surface_list(step.surfaces)),
            "primer_method": method,
            "primer_ready": self._ready(primer.id),
            "primer_window": self._window(primer.id),
        }

    def _ready(self, primer: str) -> str:
        for name, wording in (("cure", "primer-cure"), ("flash-off", "primer-flash")):
            time = self.answer.timing.find(f"{name}/{primer}")
            if time is None:
                continue
            if time.window:
                return self.words.say("primer-sign", sign=self.time(time))
            sign = time.product.value(time.field).sign
            if time.sign and sign is not None:
                return sign[self.lang]
            if time.low is None or time.at is None:
                return self.words.say("primer-no-time")
            return self.words.say(
                wording,
                time=self.span(time),
                at=self.speech.text(time.at),
            )
        return self.words.say("primer-no-time")

    def _window(self, primer: str) -> str:
        time = self.answer.timing.find(f"cover-within/{primer}")
        if time is None or (not time.window and time.high is None):
            return self.words.say("no-time")
        if time.window or time.high is None or time.at is None:
            return self.words.say("within-words", window=self.time(time))
        return self.words.say(
            "within-time",
            time=self.speech.text(time.high, safe_style(time)),
            at=self.speech.text(time.at),
        )

    @cached_property
    def common_slots(self) -> dict[str, str]:
        """The slots that any step may use."""
        answer, settled, say = self.answer, self.settled, self.words.say
        layout, resin, speech = answer.layout, settled.resin, self.speech
        fleece, masking = layout.fleece, layout.masking
        open_ = say("no-quantity")
        drink = next((c.thickness for c in answer.takeoff.coats if c.id == "drink"), None)
        need = answer.takeoff.materials[0].one.need if answer.takeoff.materials else None
        gauge = answer.takeoff.gauge
        plates = len(settled.plates)
        margin, lap = self._held("parameters/plate-margin"), self._held("parameters/fleece-lap")
        return {
            "height": self._size("height"),
            "flange": self._size("flange"),
            "reveal": self._size("reveal"),
            "lap": lap,
            "line_height": open_
            if masking is None or masking.line_height is None
            else speech.text(masking.line_height),
            "tape": open_ if masking is None else speech.text(masking.tape, "run"),
            "corners": open_ if masking is None else speech.text(masking.corners, "run"),
            "mask": open_
            if masking is None
            else self.words.list(
                [f"{speech.text(w, 'up')} × {speech.text(h, 'up')}" for w, h in masking.flat]
            ),
            "pieces_text": open_
            if fleece is None
            else "; ".join(self.piece_line(p) for p in fleece.pieces),
            "plates_text": self._plates(plates, margin),
            "mix": self._mixing(),
            "base": speech.text(gauge["base"]) if "base" in gauge else open_,
            "top": speech.text(gauge["top"]) if "top" in gauge else open_,
            "drink": open_ if drink is None else speech.text(drink),
            "film": speech.span(
                resin.value("film").traced("mil", "low"), resin.value("film").traced("mil", "high")
            )
            if resin.has("film")
            else say("no-time"),
            "resin_need": open_ if need is None else speech.text(need),
            "watertight": self.brief(f"watertight/{resin.id}"),
            "cure": self.brief(f"cure/{resin.id}"),  # of texts in earlier editions
            "dew_limit": self._strictest_margin(),
            "recoat": self._recoat(),
            "whole_pack": self._whole_pack(),
            "again_text": self._again(),
        }

    def _size(self, name: str) -> str:
        """Say a size of the detail; one that it does not take, or that was not given, is open."""
        size = self.settled.sizes.get(name)
        return self.words.say("no-quantity") if size is None else self.speech.text(size)

    def _held(self, path: str) -> str:
        """Say a length of the edition, or that it holds none."""
        if not self.answer.edition.has(path):
            return self.words.say("no-quantity")
        return self.speech.text(self.answer.edition.record(path).value("value").traced("in"))

    def _strictest_margin(self) -> str:
        """Say the widest margin over the dew point that any limit asks for."""
        margin = widest_margin(self.answer.edition)
        return self.words.say("no-quantity") if margin is None else self.speech.text(margin, "up")

    def _recoat(self) -> str:
        """Say by when another coat may follow, or that no such window is on file."""
        resin = self.settled.resin
        time = self.answer.timing.find(f"recoat-within/{resin.id}")
        if time is None:
            name = lower_first(resin.text("name", self.lang))
            return self.words.say("recoat-none", resin=name)
        if time.high is None or time.at is None:
            return self.time(time)
        return self.words.say("recoat-window", time=self.span(time), at=self.speech.text(time.at))

    def _plates(self, count: int, margin: str) -> str:
        if count == 0:
            return self.words.say("plates-none")
        if count == 1:
            return self.words.say("plates-one", plate_margin=margin)
        return self.words.say("plates-some", count=str(count), plate_margin=margin)

    def _mixing(self) -> str:
        """Say how the resin is mixed and how long it can be used."""
        resin, timing, words = self.settled.resin, self.answer.timing, self.words
        name = lower_first(resin.text("name", self.lang))
        if resin.get("parts") == 1:
            skin = timing.find(f"skin/{resin.id}")
            if skin is None or skin.low is None:
                return words.say("mix-one-part-open", resin=name)
            return words.say("mix-one-part", resin=name, skin=self.time(skin))
        wording = "mix-whole" if resin.get("whole_packs") else "mix-weighed"
        usable = timing.usable_of.get(resin.path)
        mixing = self.speech.text(resin.value("mixing").traced("min"))
        pot_life = timing.find(f"pot-life/{resin.id}")
        if usable is None or pot_life is None:
            wording = "mix-whole-open" if resin.get("whole_packs") else "mix-weighed-open"
            return words.say(wording, resin=name, mixing=mixing)
        return words.say(
            wording,
            resin=name,
            mixing=mixing,
            pot_life=self.time(pot_life),
            usable=self.speech.text(usable, "down"),
        )

    def _whole_pack(self) -> str:
        if self.settled.resin.get("parts") == 1:
            return self.words.say("whole-pack-one")
        whole = bool(self.settled.resin.get("whole_packs"))
        return self.words.say("whole-pack" if whole else "weighed-mix")

    def _again(self) -> str:
        """What cleaning again means for each substrate, each said once; first what is ground."""
        said: dict[str, list[str]] = {}
        records = [
            self.answer.edition.record(f"substrates/{s}") for s in self.answer.layout.substrates
        ]
        for record in sorted(records, key=lambda r: r.get("family") not in ("metal", "wood")):
            path = str(record.get("preparation"))
            if self.answer.edition.has(path):
                text = self.answer.edition.record(path).text("again_after_night", self.lang)
                said.setdefault(text, []).append(record.text("name", self.lang))
        return " ".join(f"{self.words.list(names)}: {text}" for text, names in said.items())
