"""What the sentences of steps and hold points have in their slots, each written when it is said."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from upstand.document.sentences import Saying, safe_style, with_stated
from upstand.edition import Record
from upstand.procedure.steps import Step
from upstand.quantity.traced import Traced
from upstand.stages.dew_point import widest_margin
from upstand.words.fill import lower_first

__all__ = ["Lazy", "StepSlots"]


class Lazy(dict[str, str]):
    """Texts by name, each made when it is first wanted; KeyError for a name without a maker."""

    def __init__(self, makers: Mapping[str, Callable[[], str]]) -> None:
        """Keep the makers."""
        super().__init__()
        self.makers = makers

    def __missing__(self, name: str) -> str:
        """Make a text and keep it."""
        made = self[name] = self.makers[name]()
        return made


class StepSlots:
    """The slots that steps of one answer may use: those of any step, and those of a primer's."""

    def __init__(self, saying: Saying) -> None:
        """Keep what says them; nothing is written yet."""
        self.saying, self.answer = saying, saying.answer
        self.words, self.speech = saying.words, saying.speech

    def common(self) -> Lazy:
        """Return the slots that any step may use.

        They are not kept here: what makes them names this object, and would keep the whole answer.
        """
        saying, resin = self.saying, self.answer.settled.resin
        gauge = self.answer.takeoff.gauge
        makers: dict[str, Callable[[], str]] = {
            "height": lambda: self._size("height"),
            "flange": lambda: self._size("flange"),
            "reveal": lambda: self._size("reveal"),
            "lap": lambda: self._held("parameters/fleece-lap"),
            "line_height": lambda: self._masked("line_height"),
            "tape": lambda: self._masked("tape", "run"),
            "corners": lambda: self._masked("corners", "run"),
            "mask": self._mask,
            "pieces_text": self._pieces,
            "plates_text": self._plates,
            "mix": self._mixing,
            "base": lambda: self._open(gauge.get("base")),
            "top": lambda: self._open(gauge.get("top")),
            "drink": self._drink,
            "film": self._film,
            "resin_need": self._need,
            "watertight": lambda: saying.brief(f"watertight/{resin.id}"),
            "cure": lambda: saying.brief(f"cure/{resin.id}"),  # of texts in earlier editions
            "dew_limit": self._strictest_margin,
            "recoat": self._recoat,
            "whole_pack": self._whole_pack,
            "again_text": self._again,
        }
        return Lazy(makers)

    def of(self, step: Step, common: Lazy) -> Lazy:
        """Return the slots of one step."""
        primer = step.primer
        if primer is None:
            return common
        own: dict[str, Callable[[], str]] = {
            "primer": lambda: primer.text("name", self.words.lang),
            "primer_surfaces": lambda: lower_first(self.saying.surface_list(step.surfaces)),
            "primer_method": lambda: self._method(primer),
            "primer_ready": lambda: self._ready(primer.id),
            "primer_window": lambda: self._window(primer.id),
        }
        return Lazy({**common.makers, **own})

    def _open(self, amount: Traced | None, style: str | None = None) -> str:
        """Say an amount, or that it is open."""
        return self.words.say("no-quantity") if amount is None else self.speech.text(amount, style)

    def _masked(self, name: str, style: str | None = None) -> str:
        return self._open(getattr(self.answer.layout.masking, name, None), style)

    def _mask(self) -> str:
        masking = self.answer.layout.masking
        if masking is None:
            return self._open(None)
        text = self.speech.text
        return self.words.list([f"{text(w, 'up')} × {text(h, 'up')}" for w, h in masking.flat])

    def _pieces(self) -> str:
        fleece = self.answer.layout.fleece
        if fleece is None:
            return self._open(None)
        return self.saying.pieces_text(fleece.pieces)

    def _drink(self) -> str:
        coats = self.answer.takeoff.coats
        return self._open(next((c.thickness for c in coats if c.id == "drink"), None))

    def _film(self) -> str:
        resin = self.answer.settled.resin
        if not resin.has("film"):
            return self.words.say("no-time")
        film = resin.value("film")
        return self.speech.span(film.traced("mil", "low"), film.traced("mil", "high"))

    def _need(self) -> str:
        materials = self.answer.takeoff.materials
        return self._open(materials[0].one.need if materials else None)

    def _method(self, primer: Record) -> str:
        """Say how a primer is put on, and before it how it is mixed where it is."""
        method = primer.text("method", self.words.lang)
        if primer.get("parts") != 2:
            return method
        pot_life = self.answer.timing.find(f"pot-life/{primer.id}")
        if (
            pot_life is None
            or pot_life.low is None
            or pot_life.at is None
            or not primer.has("mixing")
        ):
            return f"{self.words.say('primer-mix-open')} {method}"
        mix = self.words.say(
            "primer-mix",
            mixing=self.speech.text(primer.value("mixing").traced("min")),
            pot_life=self.saying.span(pot_life),
            at=self.speech.text(pot_life.at),
        )
        return f"{mix} {method}"

    def _ready(self, primer: str) -> str:
        for name, wording in (("cure", "primer-cure"), ("flash-off", "primer-flash")):
            time = self.answer.timing.find(f"{name}/{primer}")
            if time is None:
                continue
            if time.window:
                return self.words.say("primer-sign", sign=self.saying.time(time))
            value = time.product.value(time.field)
            if time.sign and value.sign is not None:
                return with_stated(value.sign[self.words.lang], value, self.words)
            if time.low is None or time.at is None:
                return self.words.say("primer-no-time")
            return self.words.say(
                wording,
                time=self.saying.span(time),
                at=self.speech.text(time.at),
            )
        return self.words.say("primer-no-time")

    def _window(self, primer: str) -> str:
        time = self.answer.timing.find(f"cover-within/{primer}")
        if time is None or (not time.window and time.high is None):
            return self.words.say("no-time")
        if time.window or time.high is None or time.at is None:
            return self.words.say("within-words", window=self.saying.time(time))
        return self.words.say(
            "within-time",
            time=self.speech.text(time.high, safe_style(time)),
            at=self.speech.text(time.at),
        )

    def _size(self, name: str) -> str:
        """Say a size of the detail; one that it does not take, or that was not given, is open."""
        size = self.answer.settled.sizes.get(name)
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
        resin = self.answer.settled.resin
        time = self.answer.timing.find(f"recoat-within/{resin.id}")
        if time is None:
            name = lower_first(resin.text("name", self.words.lang))
            return self.words.say("recoat-none", resin=name)
        if time.high is None or time.at is None:
            return self.saying.time(time)
        return self.words.say(
            "recoat-window", time=self.saying.span(time), at=self.speech.text(time.at)
        )

    def _plates(self) -> str:
        count = len(self.answer.settled.plates)
        margin = self._held("parameters/plate-margin")
        if count == 0:
            return self.words.say("plates-none")
        if count == 1:
            return self.words.say("plates-one", plate_margin=margin)
        return self.words.say("plates-some", count=str(count), plate_margin=margin)

    def _mixing(self) -> str:
        """Say how the resin is mixed and how long it can be used."""
        resin, timing, words = self.answer.settled.resin, self.answer.timing, self.words
        name = lower_first(resin.text("name", self.words.lang))
        if resin.get("parts") == 1:
            skin = timing.find(f"skin/{resin.id}")
            if skin is None or skin.low is None:
                return words.say("mix-one-part-open", resin=name)
            return words.say("mix-one-part", resin=name, skin=self.saying.time(skin))
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
            pot_life=self.saying.time(pot_life),
            usable=self.speech.text(usable, "down"),
        )

    def _whole_pack(self) -> str:
        if self.answer.settled.resin.get("parts") == 1:
            return self.words.say("whole-pack-one")
        whole = bool(self.answer.settled.resin.get("whole_packs"))
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
                text = self.answer.edition.record(path).text("again_after_night", self.words.lang)
                said.setdefault(text, []).append(record.text("name", self.words.lang))
        return " ".join(f"{self.words.list(names)}: {text}" for text, names in said.items())
