"""The command `upstand`: which subcommands there are, and whom each is for."""

from __future__ import annotations

import difflib
import importlib
import importlib.util
from typing import Any, NamedTuple

import click

from upstand import __version__
from upstand_api.cli.ending import ended_well, printable


class Entry(NamedTuple):
    """A subcommand: whom it is for, and what it does in one line."""

    whom: str
    does: str


ROOF = "On the roof, or on the phone with it"
OFFICE = "Estimating and scheduling"
DATA = "Keeping the requirements"

COMMANDS: dict[str, Entry] = {
    "need": Entry(ROOF, "one detail -> verdict, dangers, what to bring, cut, do and check"),
    "conditions": Entry(ROOF, "the weather now -> dew point, margin, what can go on"),
    "film": Entry(ROOF, "readings, or packs used -> thick enough or what is short"),
    "cutlist": Entry(ROOF, "pieces on rolls -> a plan cut from edge to edge"),
    "takeoff": Entry(OFFICE, "many details from a list -> order, shares, work, cutting plan"),
    "serve": Entry(OFFICE, "API, phone desk and handbook on one port"),
    "handbook": Entry(OFFICE, "build the handbook that works with no signal"),
    "show": Entry(DATA, "one record of an edition, with grade, source and date of each value"),
    "check": Entry(DATA, "what is wrong with the data, and how many values have which grade"),
    "publish": Entry(DATA, "freeze the edited data as an edition, or withdraw one"),
}

EXAMPLES: dict[str, tuple[str, ...]] = {
    ROOF: (
        "upstand need --example",
        'upstand need post --roof epdm --member "tube 4x4x1/4 in carbon-steel" \\',
        '             --air "72 F" --surface "78 F" --humidity "55 %"',
        'upstand conditions --air "72 F" --surface "78 F" --humidity "55 %"',
        'upstand film base 40 45 40 45 40 45 mil --area "1.73 sq ft"',
    ),
    OFFICE: (
        "upstand takeoff --template curb > list.csv",
        "upstand takeoff list.csv --html order.html",
    ),
    DATA: (
        "upstand show 2026.1 resins/pu-2k",
        "upstand check",
        "upstand publish 2026.1 --date 2026-11-24",
    ),
}


class LazyGroup(click.Group):
    """A group that imports a subcommand only when it is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """List the subcommands that this installation has."""
        package = __package__ or "upstand_api.cli"
        return [name for name in COMMANDS if importlib.util.find_spec(f"{package}.{name}")]

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import a subcommand's module and return its command."""
        if cmd_name not in self.list_commands(ctx):
            return None
        module = importlib.import_module(f"{__package__}.{cmd_name}")
        command: click.Command = module.command
        return command

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the subcommand, or name those there are and the nearest."""
        known = self.list_commands(ctx)
        if args and not args[0].startswith("-") and args[0] not in known:
            close = difflib.get_close_matches(args[0][:40], known, n=1, cutoff=0.5)
            hint = f" Did you mean {close[0]}?" if close else ""
            shown = printable(args[0][:40])
            ctx.fail(f"There is no command “{shown}”.{hint} Known: {', '.join(known)}")
        return super().resolve_command(ctx, args)

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Read what was typed; help that can't be written ends well too."""
        with ended_well(ctx):
            return super().parse_args(ctx, args)

    def invoke(self, ctx: click.Context) -> Any:
        """Run, and end well whatever happens."""
        with ended_well(ctx):
            return super().invoke(ctx)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """List the subcommands by whom they are for, each with a command that can be typed."""
        there = self.list_commands(ctx)
        for whom in dict.fromkeys(entry.whom for entry in COMMANDS.values()):
            rows = [(n, COMMANDS[n].does) for n in there if COMMANDS[n].whom == whom]
            if not rows:
                continue
            with formatter.section(whom):
                formatter.write_dl(rows)
                formatter.write("\n")
                for line in EXAMPLES[whom]:
                    formatter.write(f"    {line}\n")


@click.group(
    cls=LazyGroup,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 88},
)
@click.version_option(__version__, "--version", prog_name="upstand", message="%(prog)s %(version)s")
@click.pass_context
def root(ctx: click.Context) -> None:
    """Upstand: what a reinforced liquid-applied roof flashing needs, and whether to start.

    Describe the detail; it answers with the verdict, the dangers, what to bring and cut, the steps
    with their hold points, the times, the checks, and where each number comes from.
    """
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())
