"""Where the handbook's own sources lie: in a checkout beside this package, in a wheel inside it."""

from __future__ import annotations

from pathlib import Path

HERE = Path(__file__).resolve().parent


class MissingSources(FileNotFoundError):
    """The handbook's pages and theme are not where they belong."""


def find_sources() -> Path:
    """Return the folder that holds mkdocs.yml, pages/ and theme/.

    Raises MissingSources where neither the checkout nor the wheel has it.
    """
    for place in (HERE.parent, HERE / "_source"):
        if (place / "mkdocs.yml").is_file() and (place / "theme").is_dir():
            return place
    raise MissingSources(
        "the handbook's mkdocs.yml, pages and theme are missing: install the whole package again"
    )
