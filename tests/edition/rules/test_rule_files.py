"""What the reader refuses, it names by file and line."""

from __future__ import annotations

import shutil
from pathlib import Path

from upstand.edition.rules import RULES
from upstand.edition.source import Source

BROKEN = Path(__file__).resolve().parents[2] / "broken" / "files"

EXPECTED = [
    "loose.yaml: lies outside the kinds' folders [file] -> move it to one",
    "rooofs: is not a kind [file] -> use one of: activities, cautions, checks, details, "
    "fleeces, inputs, limits, packs, parameters, preparations, primers, resins, sections, "
    "sources, substrates, terms, tools, topics, troubles",
    "terms/Bad_Id.yaml: has an id ('Bad_Id') that is not one [file] -> use a-z, 0-9 and "
    "-, up to 64",
    "terms/alias.yaml: line 2, name: uses an alias (found *one) [yaml] -> write the value out",
    "terms/anchor.yaml: line 2, name: sets an anchor (found &one) [yaml] -> write the value out",
    "terms/merge.yaml: line 3, name: merges another mapping (found <<) [yaml] -> write "
    "the fields out",
    "terms/note.txt: does not end in .yaml [file] -> name it <id>.yaml",
    "terms/second.yaml: line 3: starts a second document (found ---) [yaml] -> one thing a file",
    "terms/tag.yaml: line 2, name: carries a tag (found "
    "tag:yaml.org,2002:python/name:os.system) [yaml] -> write a plain value",
    "terms/twice.yaml: line 3, name: stands twice (found name) [yaml] -> keep one of the two",
    "terms/unreadable.yaml: line 3: is not readable YAML: did not find expected ',' or "
    "'}' [yaml] -> mend the line",
]


def told(root: Path) -> list[str]:
    return [str(fault) for fault in RULES["files"](Source.read(root))]


def test_files(small: Path) -> None:
    shutil.copytree(BROKEN, small / "next", dirs_exist_ok=True)
    assert told(small) == EXPECTED


def test_the_nearest_file_is_accepted(small: Path) -> None:
    """A longest id; a comment, a star and an ampersand in quotes; a three-dash start."""
    text = '--- # one\nname: {en: "*one & <<", es: "!!uno"}\n'
    (small / "next/terms" / f"{'a' * 60}-b-2.yaml").write_text(text, encoding="utf-8")
    assert told(small) == []
