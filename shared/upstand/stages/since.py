"""What was done already: which waits are over, which windows still open, what is done again."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from math import ceil, floor
from typing import Literal

from upstand.edition import Edition, Record
from upstand.formulas.placing import minutes_to_lay
from upstand.quantity.traced import Traced, reckon
from upstand.query.defaults import Settled
from upstand.query.model import Done
from upstand.stages.times import WAITS, Timing, WorkingTime
from upstand.words.model import Sentence, Slot, TradeText

#: wait: not ready for what comes next. open: may go on, until `until` where that is known.
#: missed: the window is over. again: only what is listed is done again. stays: as it is. ask: no
#: time on file tells. later: it is said to end after now. no-now: now is not said.
State = Literal["wait", "open", "missed", "again", "stays", "ask", "later", "no-now"]

PRIMING = ("prime-metal", "prime-masonry", "prime-sheet")
#: What dust, dew and feet undo over a night.
CLEAN = ("abrade", "clean", "reclean", *PRIMING)
#: What the next coat follows wet on wet.
WET = ("mix", "base-coat", "fleece")


@dataclass(frozen=True, slots=True)
class Standing:
    """How one thing that was done stands now.

    ready : when the wait behind it is over. until : when the window closes. again : what has to
    be done again, in order. nights : how many lie between. ruled_by : the temperature that `until`
    holds at, as long as it stays so.
    """

    done: Done
    activity: Record
    product: Record | None
    state: State
    ready: datetime | None = None
    until: datetime | None = None
    again: tuple[str, ...] = ()
    nights: int = 0
    ruled_by: Traced | None = None

    def say(self, edition: Edition) -> Sentence:
        """Say how it stands; times are rounded to half hours, on the safe side."""
        what: Slot = self.activity
        if self.product is not None:
            product = TradeText(self.product, "name", small=True)
            what = Sentence("since-product", {"activity": self.activity, "product": product})
        return Sentence(
            self._id(),
            {
                "what": what,
                "at": _minute(datetime.fromisoformat(self.done.at)),
                "ready": "" if self.ready is None else half_hour(self.ready, up=True),
                "until": "" if self.until is None else half_hour(self.until, up=False),
                "ruled": "" if self.ruled_by is None else self.ruled_by,
                "again": self.to_do(edition),
            },
        )

    def to_do(self, edition: Edition) -> tuple[Slot, ...]:
        """Name what is done again."""
        paths = (f"activities/{id}" for id in self.again)
        return tuple(TradeText(edition.record(path), "name", small=True) for path in paths)

    def _id(self) -> str:
        wet = self.product is not None and self.product.kind == "resins"
        if self.state == "missed":
            kind = "wet" if wet else "shift" if self.until is None else ""
            return f"since-missed-{kind}" if kind else "since-missed"
        if self.state == "open" and wet:
            return "since-open-wet"
        if self.state == "open" and self.until is not None:
            return "since-open-night" if self.again else "since-open-until"
        return f"since-{self.state}"


def half_hour(at: datetime, *, up: bool) -> str:
    """Write a moment to the half hour on the safe side; alike in every language."""
    over = timedelta(minutes=at.minute % 30, seconds=at.second)
    at = at - over
    if up and over:
        at += timedelta(minutes=30)
    return _minute(at)


def _minute(at: datetime) -> str:
    return at.strftime("%Y-%m-%d %H:%M")


def find_standing(
    settled: Settled, primers: Sequence[Record], timing: Timing, edition: Edition
) -> tuple[Standing, ...]:
    """Judge each thing done by now; a primer's activity once for each primer it applies."""
    found = _Judge(settled, tuple(primers), timing, edition)
    return tuple(standing for done in settled.query.since for standing in found.of(done))


class _Judge:
    """Judges what was done, by one moment and one set of times."""

    def __init__(
        self, settled: Settled, primers: tuple[Record, ...], timing: Timing, edition: Edition
    ) -> None:
        self.settled, self.primers = settled, primers
        self.timing, self.edition = timing, edition
        at = settled.query.now.at
        self.now = None if at is None else datetime.fromisoformat(at)

    def of(self, done: Done) -> Iterator[Standing]:
        activity = self.edition.record(f"activities/{done.activity}")
        ended, now = datetime.fromisoformat(done.at), self.now
        if now is None or (now.tzinfo is None) != (ended.tzinfo is None):
            yield Standing(done, activity, None, "no-now")
            return
        if now.tzinfo is not None:
            ended = ended.astimezone(now.tzinfo)
        if ended > now:
            yield Standing(done, activity, None, "later")
            return
        nights = (now.date() - ended.date()).days
        here = Standing(done, activity, None, "stays", nights=nights)
        if done.activity in PRIMING:
            mine = [p for p in self.primers if str(p.get("activity")) == activity.path]
            yield from (self.primed(here, primer, ended, now) for primer in mine)
            if not mine:
                yield replace(here, state="ask")
        elif done.activity in WET:
            yield self.wet(here, ended, now)
        elif done.activity == "top-coat":
            yield self.coated(here, ended, now)
        elif done.activity == "grind" and nights:
            # bare steel is ground and primed in one shift
            yield replace(here, state="again", again=("grind", "clean"))
        elif done.activity in CLEAN and nights:
            yield replace(here, state="again", again=("reclean",))
        else:
            yield here

    def primed(self, here: Standing, primer: Record, ended: datetime, now: datetime) -> Standing:
        """Judge a primer: dry after its wait, covered in its window, cleaned after a night."""
        window = self.timing.find(f"cover-within/{primer.id}")
        redo = ("abrade", "clean", here.done.activity)
        ready = _later(ended, _wait(primer, self.timing), up=True)
        here = replace(here, product=primer, ready=ready)
        if window is not None and window.window:  # the shift, in words
            if here.nights:
                return replace(here, state="missed", again=redo)
            return replace(here, state=_waits(ready, now))
        if window is None or window.high is None:
            return replace(here, state="ask")
        until = _later(ended, window.high, up=False)
        here = replace(here, until=until, ruled_by=window.at)
        if until is not None and now > until:
            return replace(here, state="missed", again=redo)
        again = ("reclean",) if here.nights else ()
        return replace(here, state=_waits(ready, now), again=again)

    def wet(self, here: Standing, ended: datetime, now: datetime) -> Standing:
        """Judge resin that must be followed wet on wet: the pot life runs from its mixing.

        When mixing ended is known of `mix` alone; of what was laid from it is asked, or it is late.
        """
        resin = self.settled.resin
        here = replace(here, product=resin)
        usable = self.timing.usable_of.get(resin.path)
        if here.nights:
            return replace(here, state="missed")
        if usable is None or not resin.has("mixing"):
            return replace(here, state="ask")
        left = reckon(minutes_to_lay, usable=usable, mixing=resin.value("mixing").traced("min"))
        until = _later(ended, left, up=False)
        if until is None or now > until:
            return replace(here, state="missed", until=until)
        if here.done.activity != "mix":
            return replace(here, state="ask")
        return replace(here, state="open", until=until)

    def coated(self, here: Standing, ended: datetime, now: datetime) -> Standing:
        """Judge the finished film: watertight after its time, coated again inside its window."""
        resin = self.settled.resin
        here = replace(here, product=resin)
        watertight = self.timing.find(f"watertight/{resin.id}")
        ready = _later(ended, None if watertight is None else watertight.high, up=True)
        if ready is None:
            return replace(here, state="ask")
        recoat = self.timing.find(f"recoat-within/{resin.id}")
        until = _later(ended, None if recoat is None else recoat.high, up=False)
        return replace(here, state="wait" if now < ready else "stays", ready=ready, until=until)


def _waits(ready: datetime | None, now: datetime) -> State:
    if ready is None:
        return "ask"
    return "wait" if now < ready else "open"


def _wait(primer: Record, timing: Timing) -> Traced | None:
    """Find the longest wait before resin goes over a primer."""
    found: list[WorkingTime] = [
        t
        for t in timing.times
        if t.product.path == primer.path and t.field in WAITS and t.high is not None
    ]
    return max((t.high for t in found if t.high is not None), key=lambda t: t.value, default=None)


def _later(ended: datetime, minutes: Traced | None, *, up: bool) -> datetime | None:
    """Add minutes, to the whole minute on the safe side."""
    if minutes is None:
        return None
    whole = ceil(minutes.value - 1e-6) if up else floor(minutes.value + 1e-6)
    return ended + timedelta(minutes=whole)
