"""Dew point: the table, and what the margin asks of the humidity, computed by the engine."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from upstand.quantity.traced import asked
from upstand.query.model import Now
from upstand.stages.dew_point import find_dew
from upstand_site.context import Context
from upstand_site.markdown import Page, box, table
from upstand_site.pages.limits import limit_text

AIRS = (40, 50, 60, 70, 80, 90)
HUMIDITIES = (30, 40, 50, 60, 70, 80, 90)


def write(context: Context) -> Iterator[Page]:
    """Write the one page of dew points."""
    label = context.label
    page = Page("weather.md", label("page.weather"), "rules", about=label("about.weather"))
    page.add(label("weather-lead"))
    limit = context.edition.record("limits/dew-point-margin")
    margin = limit_text(replace(context, marks=True), page, limit)
    margin += f" {context.link(page, limit.path)}"
    page.add(box("hold", label("weather-hold"), f"{margin}\n\n{label('weather-hold-more')}"))
    page.heading(label("head.dew-table"), "table").add(label("dew-table-lead"))
    heads = [label("head.air"), *(f"{h}\u00a0%" for h in HUMIDITIES)]
    rows = [
        [f"**{_air(context, air)}**", *(_dew(context, air, h) for h in HUMIDITIES)] for air in AIRS
    ]
    page.add(table(heads, rows, "dew"))
    page.add(label("dew-frost"))
    page.heading(label("head.how-measured"), "measured").add(label("weather-measured"))
    yield page


def _air(context: Context, air: int) -> str:
    return context.quantity(asked(float(air), "degF", "/now/air"))


def _dew(context: Context, air: int, humidity: int) -> str:
    now = Now(
        air=asked(float(air), "degF", "/now/air"),
        humidity=asked(float(humidity), "percent", "/now/humidity"),
    )
    dew = find_dew(now, context.edition)
    assert dew.point is not None
    text = context.speech.text(dew.point, "up")
    return f"{text} {context.label('frost-mark')}" if dew.kind == "frost" else text
