"""What in a checkout names the newest edition, as it reads once there is another."""

from __future__ import annotations

import os
import re
import shlex
import subprocess
import sys
from collections.abc import Callable, Mapping
from difflib import SequenceMatcher
from pathlib import Path

__all__ = ["texts_that_name"]

_BLOCK = re.compile(
    r"```sh\n(?P<command>[^\n]*)\n```\n+<!-- answer: begin -->\n+```text\n(?P<shown>.*?)(?=\n```)",
    re.DOTALL,
)
_LEFT_OUT = "…"
MORE = 4
"""Lines that a part may be shorter or longer than it was."""

WIDTH = "88"
"""Columns of the answer in the README."""


def texts_that_name(checkout: Path) -> Callable[[Path, str], Mapping[Path, str]]:
    """Return a maker of a checkout's texts for (spec data with the new edition, its id)."""

    def make(spec: Path, id: str) -> dict[Path, str]:
        texts = {}
        changes: dict[str, Callable[[str], str]] = {
            "README.md": lambda text: _readme(text, spec),
            "DEVELOPERS.md": lambda text: _next_command(text, id),
            "site/pages/*/overlays.md": lambda text: _form(text, id),
        }
        for pattern, change in changes.items():
            for path in sorted(checkout.glob(pattern)):
                before = path.read_text(encoding="utf-8")
                after = change(before)
                if after != before:
                    texts[path] = after
        return texts

    return make


def _form(text: str, id: str) -> str:
    return re.sub(r"(?m)^( *extends: ).*$", rf'\g<1>"{id}"', text)


def _next_command(text: str, id: str) -> str:
    """Name the edition after this one in the command that publishes."""
    year, _, number = id.partition(".")
    following = f"{year}.{int(number) + 1}"
    return re.sub(r"(upstand publish )20\d\d\.\d+( --date)", rf"\g<1>{following}\g<2>", text)


def _readme(text: str, spec: Path) -> str:
    """Answer the README's question anew, and show the same parts of the answer."""
    found = _BLOCK.search(text)
    if found is None:
        return text
    words = shlex.split(found["command"])
    printed = answer_of(words[words.index("need") :], spec).splitlines()
    parts = found["shown"].split(f"\n{_LEFT_OUT}\n")
    shown = f"\n{_LEFT_OUT}\n".join(_same_part(part.splitlines(), printed) for part in parts)
    return text[: found.start("shown")] + shown + text[found.end("shown") :]


def answer_of(words: list[str], spec: Path) -> str:
    """Return what a command prints from a folder of spec data."""
    run = subprocess.run(
        [sys.executable, "-m", "upstand_api.cli", *words, "--spec", str(spec)],
        env={**os.environ, "COLUMNS": WIDTH, "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    if run.returncode != 0:
        _refuse(f"its command ends with: {run.stderr.strip()[-300:]}")
    return run.stdout


def _same_part(old: list[str], printed: list[str]) -> str:
    """Return the part of the answer that begins with the same line and is most like the old one.

    Its length may differ by some lines, since other numbers wrap in other places.
    """
    if old[0] not in printed:
        _refuse(f"the part that begins with {old[0]!r} is no longer in the answer")
    at = printed.index(old[0])
    lengths = range(max(1, len(old) - MORE), len(old) + MORE + 1)
    like = SequenceMatcher(None, "", "\n".join(old), autojunk=False)

    def likeness(length: int) -> float:
        like.set_seq1("\n".join(printed[at : at + length]))
        return like.ratio()

    return "\n".join(printed[at : at + max(lengths, key=likeness)])


def _refuse(why: str) -> None:
    from upstand.edition import Fault, SpecFault

    cure = "mend the block between the answer marks, then publish"
    raise SpecFault([Fault("README.md", "", "", "publish", why, cure)])
