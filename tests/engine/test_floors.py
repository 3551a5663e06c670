"""The house has floors: nothing imports what stands higher, and nothing goes in a circle.

The floors are listed in DEVELOPERS.md, low to high; this test reads them there.
"""

from __future__ import annotations

import ast
import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
ENGINE = ROOT / "shared" / "upstand"
FLOORS = re.search(
    r"^Floors, low to high: (.+)$", (ROOT / "DEVELOPERS.md").read_text("utf-8"), re.M
)


def part_of(parts: tuple[str, ...]) -> str:
    """Return the folder that a module lies in, or the door that it is."""
    return parts[0].removesuffix(".py")


def graph() -> dict[str, set[tuple[str, str]]]:
    """Return part -> what it imports of others, with the file that does."""
    found: dict[str, set[tuple[str, str]]] = {}
    for file in sorted(ENGINE.rglob("*.py")):
        place = file.relative_to(ENGINE)
        here = part_of(place.parts)
        if here == "__init__":
            continue
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            names = []
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom):
                assert node.level == 0, f"{place}: imports by the whole name"
                names = [node.module or ""]
                if node.module == "upstand":
                    names = [f"upstand.{alias.name}" for alias in node.names]
            for name in names:
                parts = tuple(name.split("."))
                held = ENGINE.joinpath(*parts[1:2])
                known = held.is_dir() or held.with_suffix(".py").is_file()
                if parts[0] == "upstand" and len(parts) > 1 and known and parts[1] != here:
                    found.setdefault(here, set()).add((parts[1], place.as_posix()))
    return found


def test_nothing_imports_from_a_higher_floor_nor_in_a_circle() -> None:
    assert FLOORS is not None, "DEVELOPERS.md lists the floors"
    floors = re.findall(r"`([a-z_]+)`", FLOORS[1])
    parts = {part_of(p.relative_to(ENGINE).parts) for p in ENGINE.rglob("*.py")} - {"__init__"}
    assert set(floors) == parts
    # each part has a floor of its own: where all imports lead down there can be no circle
    rank = {name: number for number, name in enumerate(floors)}
    up = [
        f"{file} imports {other}"
        for here, others in graph().items()
        for other, file in sorted(others)
        if rank[other] > rank[here]
    ]
    assert not up, "\n".join(up)
