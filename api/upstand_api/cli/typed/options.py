"""The terminal's options for what a question may hold: made from the table of inputs."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import click

if TYPE_CHECKING:
    from upstand.edition import Edition
    from upstand.query.table import Input

__all__ = ["InputCommand", "Option", "options_of"]

METAVAR: Final[Mapping[str, str]] = {
    "length": "LENGTH",
    "angle": "ANGLE",
    "temperature": "TEMP",
    "fraction": "SHARE",
    "speed": "SPEED",
    "whole": "N",
    "moment": "TIME",
    "record": "ID",
}


@dataclass(frozen=True, slots=True)
class Option:
    """One option: the input it gives, and the part whose material it may also name."""

    name: str
    input: Input | None = None
    part: Input | None = None

    @property
    def dest(self) -> str:
        """The name that its value goes by."""
        return self.name.replace("-", "_")

    @property
    def whole(self) -> bool:
        """Whether it takes a whole number."""
        return self.input is not None and self.input.reads == "whole"

    def gives_part(self, value: object) -> bool:
        """Tell whether a value is a material: sizes begin with a number."""
        if self.part is None or self.input is None:
            return self.part is not None
        return not str(value).lstrip()[:1].isdigit() and not str(value).lstrip().startswith(".")

    def declared(self) -> click.Option:
        """Make the option as click knows it."""
        held = [item for item in (self.input, self.part) if item is not None]
        say = " Or: ".join(
            f"{item.record.text('name', 'en')}. {item.record.text('how', 'en')}" for item in held
        )
        say = f"{say} Such as {' or '.join(str(i.record.get('example')) for i in held)}."
        if self.input is not None and self.input.reads == "flag":
            no = str(self.input.record.get("opposite", f"no-{self.name}"))
            return click.Option([f"--{self.name}/--{no}", self.dest], default=None, help=say)
        words = self.input.record.get("choices") if self.input is not None else None
        one = "|".join(words) if words else METAVAR[held[0].reads]
        metavar = f"{one}|ID" if len(held) > 1 else one
        return click.Option(
            [f"--{self.name}", self.dest], metavar=metavar, help=say, multiple=len(held) > 1
        )


def options_of(edition: Edition) -> tuple[Option, ...]:
    """Return the options of an edition's inputs, in their order; members and plates have theirs."""
    from upstand.query.table import LISTS, inputs

    sizes: dict[str, Input] = {}
    parts: dict[str, Input] = {}
    for item in inputs(edition):
        if item.reads not in LISTS:
            name = str(item.record.get("option", item.record.id))
            (sizes if item.part is None else parts)[name] = item
    names = dict.fromkeys([*parts, *sizes])
    return tuple(Option(name, sizes.get(name), parts.get(name)) for name in names)


class InputCommand(click.Command):
    """A command whose options are those of its own and those of the table of inputs."""

    made: tuple[Option, ...] = ()

    def wanted(self, option: Option) -> bool:
        """Tell whether an input is an option of this command."""
        return True

    def _options(self, spec: str | None) -> tuple[Option, ...]:
        return tuple(option for option in _table(spec) if self.wanted(option))

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read the table that the words typed are to be read by, then the words."""
        self.made = self._options(_spec(args))
        return super().parse_args(ctx, args)

    def get_params(self, ctx: click.Context) -> list[click.Parameter]:
        """Return its own options and those of the inputs."""
        made = self.made or self._options(None)
        own = super().get_params(ctx)
        return [*own[:1], *(option.declared() for option in made), *own[1:]]


def _spec(args: Sequence[str]) -> str | None:
    """Return the folder behind --spec, which says whose inputs are options."""
    for place, before in enumerate(args):
        if before == "--spec" and place + 1 < len(args):
            return args[place + 1]
        if before.startswith("--spec="):
            return before.removeprefix("--spec=")
    return None


def _table(spec: str | None) -> tuple[Option, ...]:
    from upstand.edition import SpecFault, load
    from upstand_api.cli.ending import DataFault
    from upstand_api.cli.spec_folder import find_folder

    try:
        return options_of(load(root=None if spec is None else find_folder(spec, "need")))
    except SpecFault as fault:
        raise DataFault(fault.faults) from None
