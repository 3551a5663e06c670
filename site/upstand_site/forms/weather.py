"""Forms about weather: is the surface over the dew point, and how long a pail stays usable."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Edition, Record
from upstand.formulas import times as formulas
from upstand.formulas.weather import dew_point
from upstand.quantity.traced import NOISE, Traced, constant, reckon
from upstand.query.model import Now
from upstand.stages.dew_point import FREEZING_DEGF, MARGIN, find_dew
from upstand.stages.times import MARGINS, Temperatures, times_of
from upstand.verdict.limits import Bound, Facts, bounds_of
from upstand_site.forms.model import Answered, Field, Form, Given, Line, Slot, Test

SIGNS = {"at_least": ">=", "at_most": "<=", "under": "<"}


def resin_of(edition: Edition) -> Record:
    """Return the resin that is taken where none is named."""
    return edition.record(str(edition.record("parameters/default-resin").get("choice")))


def halving_resins(edition: Edition) -> list[Record]:
    """Return the resins whose pot life goes by the halving rule."""
    return [
        record
        for record in edition.kind("resins").values()
        if record.has("pot_life") and record.value("pot_life").scales == "halves"
    ]


def _tests(limit: Record, found: Traced, resin: Record) -> Iterator[tuple[Test, Bound]]:
    """Compare a reading with a limit's bounds as the verdict does."""
    facts = Facts({}, {}, {"product": resin})
    for bound in bounds_of(limit, facts, found.unit):
        slack = NOISE if bound.sort == "at_most" else -NOISE
        right = constant(bound.value.value + slack, found.unit, "bound of a limit")
        yield Test(SIGNS[bound.sort], found, right), bound


def dew(edition: Edition, given: Given, pick: str) -> Answered:
    """Dew or frost point now, and whether air, surface and margin keep their limits."""
    air, surface, humidity = given["air"], given["surface"], given["humidity"]
    zero = constant(0.0, "percent", "wholly dry air")
    tests = [Test("<=", humidity, zero)]
    found = find_dew(Now(air=air, surface=surface, humidity=humidity), edition)
    if found.point is None or found.margin is None:
        return Answered(tests)
    # the dew point itself decides whether it is frost that forms
    over_water = reckon(dew_point, air=air, humidity=humidity)
    tests.append(Test("<=", over_water, constant(FREEZING_DEGF, "degF", "freezing")))
    frost = [Line("frost")] if found.kind == "frost" else []
    resin = resin_of(edition)
    point: Slot = (found.point, None)
    for path, reading in (("application-air", air), ("application-surface", surface)):
        compared = list(_tests(edition.record(f"limits/{path}"), reading, resin))
        for test, _ in compared:
            tests.append(test)
            if not test.holds:
                low, high = (bound.value for _, bound in compared)
                slots: dict[str, Slot] = {
                    "low": (low, None),
                    "high": (high, None),
                    "point": point,
                }
                return Answered(tests, "hold", [Line("outside", slots), *frost])
    [(test, bound)] = _tests(edition.record(MARGIN), found.margin, resin)
    tests.append(test)
    slots = {"point": point, "margin": (found.margin, "down"), "least": (bound.value, "up")}
    state = "go" if test.holds else "hold"
    return Answered(tests, state, [Line(state, slots), *frost])


def pot_life(edition: Edition, given: Given, pick: str) -> Answered:
    """Pot life at the material's temperature, and what to plan on."""
    resin, material = edition.record(f"resins/{pick}"), given["material"]
    step = edition.record("parameters/halving-step").value("value").traced("delta_degF")
    at = Temperatures(material, None, False, material)
    [life] = (time.low for time in times_of(resin, ("pot_life",), at, step))
    assert life is not None
    margin = edition.record(MARGINS["resins"]).value("value").traced("percent")
    kept = reckon(formulas.pot_life_kept, pot_life=life, margin=margin)
    stored = resin.value("storage")
    low, high = stored.traced("degF", "low"), stored.traced("degF", "high")
    tests = [Test(">=", material, low)]
    if tests[0].holds:
        tests.append(Test("<=", material, high))
    slots = {
        "life": (life, "down"),
        "kept": (kept, "down"),
        "low": (low, None),
        "high": (high, None),
    }
    good = all(test.holds for test in tests)
    return Answered(tests, "note" if good else "hold", [Line("give" if good else "hold", slots)])


DEGREES = (-60.0, 200.0)

WEATHER = (
    Form(
        "dew",
        (
            Field("air", "degF", *DEGREES, (35.0, 100.0)),
            Field("humidity", "percent", 0.0, 100.0, (5.0, 95.0)),
            Field("surface", "degF", *DEGREES, (35.0, 110.0)),
        ),
        dew,
    ),
    Form(
        "pot-life",
        (Field("material", "degF", 32.0, 120.0, (50.0, 90.0)),),
        pot_life,
        "resin",
        halving_resins,
    ),
)
