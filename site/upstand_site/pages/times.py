"""Working times of a product at the temperatures of a day, computed by the engine."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from upstand.document.sentences import safe_style, time_label
from upstand.edition import Record
from upstand.quantity.traced import asked
from upstand.query import read_requirements
from upstand.query.defaults import settle
from upstand.scene import question
from upstand.stages.times import Timing, find_times
from upstand.words.store import label as word
from upstand_site.context import Context
from upstand_site.markdown import Page, prose, table

DEGREES = (40, 50, 60, 70, 80, 90)


def timing_at(context: Context, product: Record, degrees: int) -> Timing:
    """Return the engine's times with air, surface and material all at so many °F."""
    body: dict[str, Any] = {**question(weather=False), "lang": context.lang}
    if product.kind == "resins":
        body["resin"] = product.id
    here = f"{degrees} F"
    body["now"] = {"air": here, "surface": here, "material": here, "humidity": "50 %"}
    query = read_requirements(body, context.edition)
    settled = settle(query, context.edition)
    primers = [product] if product.kind == "primers" else []
    return find_times(settled, primers, context.edition)


def times_by_temperature(context: Context, page: Page, product: Record) -> Iterator[str]:
    """Yield a table: a row a temperature, a column a time; a dash with the reason below."""
    label = context.label
    timings = {degrees: timing_at(context, product, degrees) for degrees in DEGREES}
    held = [
        time
        for time in next(iter(timings.values())).times
        if time.product.path == product.path and not time.window
    ]
    names = [time.id for time in held]
    if not names:
        return
    heads = [label("head.temperature")] + [
        prose(word(time_label(time), context.lang)) for time in held
    ]
    rows, reasons = [], {}
    for degrees, timing in timings.items():
        row = [f"**{context.quantity(asked(float(degrees), 'degF', '/now/air'))}**"]
        for name in names:
            time = timing.find(name)
            if time is None or time.low is None or time.high is None:
                row.append(label("no-time-here"))
                reasons[name] = True
            else:
                style = safe_style(time)
                row.append(context.speech.span(time.low, time.high, (style, style)))
        rows.append(row)
    yield f"## {label('head.times')} {{#times}}"
    yield label("times-lead")
    yield table(heads, rows, "times")
    if reasons:
        yield label("no-time-why")
