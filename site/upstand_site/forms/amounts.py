"""Forms about amounts: resin for an area, and the film that what was used makes."""

from __future__ import annotations

from upstand.edition import Edition
from upstand.formulas import resin as formulas
from upstand.formulas.film import film_from_volume
from upstand.quantity.traced import constant, reckon
from upstand.stages.materials import Stock
from upstand.stages.needs import Need
from upstand_site.forms.model import Answered, Field, Form, Given, Line, Test
from upstand_site.forms.weather import resin_of


def volume(edition: Edition, given: Given, pick: str) -> Answered:
    """Resin for an area at a thickness, and what to have ready."""
    need = reckon(formulas.film_volume, area=given["area"], thickness=given["thickness"])
    ready = Stock(edition).supply(Need(resin_of(edition), "resin", (), need)).with_allowance
    assert ready is not None
    return Answered((), lines=[Line("give", {"need": (need, None), "allowed": (ready, None)})])


def film(edition: Edition, given: Given, pick: str) -> Answered:
    """Mean film that a volume makes on an area."""
    some = Test(">", given["area"], constant(0.0, "in^2", "no area"))
    if not some.holds:
        return Answered([some])
    mean = reckon(film_from_volume, volume=given["used"], area=given["area"])
    return Answered([some], lines=[Line("give", {"film": (mean, None)})])


AREA = Field("area", "ft^2", 0.0, 100_000.0, (1.0, 200.0), inner="in^2")

AMOUNTS = (
    Form("volume", (AREA, Field("thickness", "mil", 0.0, 500.0, (10.0, 120.0))), volume),
    Form("film", (Field("used", "gal", 0.0, 10_000.0, (0.1, 10.0)), AREA), film),
)
