"""What a take-off costs against its details one by one, how it grows, and what nesting costs.

    python tests/bench/bench_takeoff.py

Not a timed test: machines differ, so ratios of CPU time in one run. 500 details, all different
and of six kinds, as one take-off written as JSON against 500 answers written as documents.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable
from pathlib import Path
from random import Random
from typing import Any

ROOT = Path(__file__).parents[2]
for part in ("shared", "api"):
    sys.path.insert(0, str(ROOT / part))

from upstand.answer import answer  # noqa: E402
from upstand.cutting.model import Roll, Wanted  # noqa: E402
from upstand.cutting.nest import nest  # noqa: E402
from upstand.document import requirements, takeoff  # noqa: E402
from upstand.edition import load  # noqa: E402
from upstand.query import read_requirements  # noqa: E402
from upstand.query.takeoff import read_take_off  # noqa: E402
from upstand.takeoff import take_off_all  # noqa: E402
from upstand_api import memory  # noqa: E402

EDITION = load("next")
CMU = {"surfaces": [{"part": "wall", "substrate": "cmu"}]}
KINDS: tuple[Callable[[int], dict[str, Any]], ...] = (
    lambda n: {"detail": "post", "members": [tube(3 + n % 6)], "flange": f"{4 + n / 1000} in"},
    lambda n: {"detail": "pipe", "members": [rod(1 + n / 250)]},
    lambda n: {"detail": "wall-base", "length": f"{60 + n} in", **CMU},
    lambda n: {"detail": "corner", "corner": "inside", "flange": f"{4 + n / 500} in", **CMU},
    lambda n: {"detail": "drain", "bowl": f"{12 + n / 100} in", "seat": "8 in"},
    lambda n: {"detail": "patch", "width": f"{2 + n / 200} in", "length": "4 in"},
)  # fmt: skip


def tube(side: int) -> dict[str, str]:
    """Return a square tube."""
    sizes = {"width": f"{side} in", "depth": f"{side} in", "thickness": "1/4 in"}
    return {"section": "tube", **sizes, "substrate": "carbon-steel"}


def rod(diameter: float) -> dict[str, str]:
    """Return a rod."""
    return {"section": "rod", "diameter": f"{diameter} in", "substrate": "carbon-steel"}


def mixed(count: int, different: int | None = None, reveal: str = "1/2 in") -> list[dict[str, Any]]:
    """Return so many details in turn of six kinds, of which so many are different.

    Another reveal makes all their geometry another, so that no layout is remembered.
    """
    made = []
    for number in range(count):
        like = number % (different or count)
        asked = KINDS[like % len(KINDS)](like)
        made.append({**asked, "reveal": reveal, "roof": "tpo", "id": f"d{number}"})
    return made


def took(work: Callable[[], object]) -> float:
    """CPU seconds that a piece of work takes."""
    begin = time.process_time()
    work()
    return time.process_time() - begin


def taken_off(rows: list[dict[str, Any]]) -> str:
    """Take a list off and write it as JSON."""
    found = take_off_all(read_take_off({"details": rows}, EDITION, most=None), EDITION)
    return json.dumps(takeoff.write(found))


def one_by_one(rows: list[dict[str, Any]]) -> int:
    """Answer each detail and write its document as JSON."""
    size = 0
    for row in rows:
        asked = {name: value for name, value in row.items() if name != "id"}
        found = answer(read_requirements(asked, EDITION), EDITION)
        size += len(json.dumps(requirements.write(found)))
    return size


def main() -> None:
    """Measure, and print the ratios."""
    one_by_one(mixed(12))
    taken_off(mixed(12))
    memory.settle()  # as a worker does
    ratios = []
    for turn in range(2):  # whichever comes first, each list is laid out anew
        rows, others = mixed(500, reveal=f"0.3{turn} in"), mixed(500, reveal=f"0.4{turn} in")
        works = [lambda r=rows: taken_off(r), lambda r=others: one_by_one(r)]
        spent = {n: took(works[n]) for n in ((0, 1) if turn else (1, 0))}
        ratios.append(spent[0] / spent[1])
        print(f"500 details: take-off {spent[0]:.2f} s, one by one {spent[1]:.2f} s")
    print(f"ratio {sum(ratios) / len(ratios):.2f} (goal 0.4 at most)")
    for count in (100, 1_000, 10_000):
        like = took(lambda n=count: taken_off(mixed(n, 60)))
        print(f"{count:6,} details of 60 kinds: {like:.2f} s, {1e3 * like / count:.2f} ms each")
    for count in (30, 100):
        random = Random(count)
        wanted = [
            Wanted(f"p{n}", random.uniform(4, 38), random.uniform(4, 60)) for n in range(count)
        ]
        begin = time.process_time()
        plan = nest(wanted, [Roll(40.0)])
        spent = time.process_time() - begin
        print(f"nesting {count} pieces: {1e3 * spent:.0f} ms, {100 * plan.waste:.1f} % waste, "
              f"{plan.length_used / plan.lower_bound:.3f} of the lower bound")  # fmt: skip


if __name__ == "__main__":
    main()
