"""The terminal: `upstand`.

Each subcommand is a module of this package that holds a click command named `command`; the group
(`group.COMMANDS`) lists them and imports only the one that is called.

Exit status: 0 answered, whatever the verdict; 2 what was typed can't be used; 1 the requirements
data or this software is at fault; 130 stopped by ctrl-C; 141 whoever read the output went away.
"""

from __future__ import annotations

__all__ = ["main"]


def main() -> None:
    """Run the command line and end the process with its exit status."""
    from upstand_api import memory

    with memory.loading():
        try:
            from upstand_api.cli.group import root
        except KeyboardInterrupt:  # before there is a command that would end well by itself
            raise SystemExit(130) from None
        try:
            root.main(prog_name="upstand")
        finally:
            memory.end()
