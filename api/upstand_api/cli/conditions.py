"""`upstand conditions`: what the weather now allows."""

from __future__ import annotations

from typing import Any, cast

import click

from upstand_api.cli.asking import (
    echo_json,
    language,
    load_edition,
    read_base,
    read_query,
    service_options,
)
from upstand_api.cli.ending import Refused
from upstand_api.cli.typed.options import InputCommand, Option

NAME = "conditions"
READINGS = "--air, --surface, --humidity and others"


class WeatherCommand(InputCommand):
    """A command that takes the readings on the roof, and the resin."""

    def wanted(self, option: Option) -> bool:
        """Tell whether an input is a reading, or the resin."""
        held = option.input
        return held is not None and (held.place[0] == "now" or held.place == ("resin",))


@click.command(NAME, cls=WeatherCommand)
@service_options
def command(source: str | None, spec: str | None, as_json: bool, **options: Any) -> None:
    """Judge the weather now: dew point, margin, and which work it lets go on.

    What is not given is unknown: it is asked about, or ticked on the roof.

    \b
    upstand conditions --air "72 F" --surface "78 F" --humidity "55 %"
    upstand conditions --air "9 C" --surface "8 C" --humidity "80 %" --units si --lang es
    """
    from upstand.conditions import conditions
    from upstand.document.brief_doors import write_conditions_brief
    from upstand.document.conditions import write
    from upstand.query.conditions import read_conditions
    from upstand.telling.said import say
    from upstand_api.cli.door_page import echo_page
    from upstand_api.cli.typed.request import build

    made = cast(InputCommand, click.get_current_context().command).made
    typed = build(read_base(source, NAME), source or "", (), (), (), options, made)
    if source is None and "now" not in typed.body:
        told = say("readings-missing").tell(language(typed.body))
        raise Refused([(READINGS, told)], NAME)
    edition = load_edition(typed.body, spec, NAME)
    places = {"/now": READINGS, **typed.labels}
    query = read_query(read_conditions, typed.body, edition, NAME, places)
    found = conditions(query, edition)
    if as_json:
        echo_json(write(found))
        return
    document = write(found, no_break=True)
    lang = language(typed.body)
    names = {id: r.text("name", lang) for id, r in edition.kind("activities").items()}
    echo_page(document, write_conditions_brief(document, names), edition)
