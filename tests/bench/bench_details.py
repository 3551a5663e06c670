"""What an answer of each detail of the theater costs against one of its post.

    python tests/bench/bench_details.py [NAME ...]

Not a timed test: machines differ, so ratios of CPU time in one run. Every detail is asked many
times, each time in a size of its own, so that no layout is remembered; all details take turns.
"""

from __future__ import annotations

import copy
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
for part in ("shared", "api"):
    sys.path.insert(0, str(ROOT / part))

from upstand.answer import answer  # noqa: E402
from upstand.document.requirements import write  # noqa: E402
from upstand.edition import load  # noqa: E402
from upstand.query import read_requirements  # noqa: E402
from upstand.scene import details, question  # noqa: E402
from upstand_api import memory  # noqa: E402
from upstand_api.http.responses import write_json  # noqa: E402

EDITION = load("next")
TURNS = 30
POST = "screen-post"
#: A long wall and its goal stand beside the theater's details.
LONG = "500 ft wall"
GOALS = {LONG: 2.0}
GOAL = 1.5


def asked(name: str) -> dict[str, Any]:
    """Return a detail of the theater, or the long wall, as a caller would ask for it."""
    if name != LONG:
        return question(name)
    return {**question("parapet-east"), "length": "500 ft", "joined": 0}


def resized(body: dict[str, Any], number: int) -> dict[str, Any]:
    """Return the detail with a reveal and one size of its own: no two are laid out alike."""
    body = copy.deepcopy(body)
    if body["detail"] != "expansion-joint":
        body["reveal"] = f"{0.5 - number / 1000} in"
    for name in ("length", "bowl", "depth", "height"):
        if name in body:
            value, unit = body[name].split()
            body[name] = f"{float(value) + number / 100} {unit}"
            break
    return body


def took_ms(work: Callable[[], object]) -> float:
    """CPU milliseconds that a piece of work takes: what else the machine does is no matter."""
    begin = time.process_time()
    work()
    return (time.process_time() - begin) * 1e3


def whole(body: dict[str, Any]) -> bytes | str:
    """Answer a question and write it as the service does."""
    return write_json(write(answer(read_requirements(body, EDITION), EDITION)))


def measure(names: list[str]) -> dict[str, list[float]]:
    """CPU milliseconds of each detail, all in turn."""
    for name in names:
        whole(resized(asked(name), 0))  # imports and what is made once are no answer's
    memory.settle()  # as a worker does
    spent: dict[str, list[float]] = {name: [] for name in names}
    for number in range(1, TURNS + 1):
        for name in names:
            body = resized(asked(name), number)
            spent[name].append(took_ms(lambda body=body: whole(body)))
    return spent


def main(names: list[str]) -> None:
    """Print each detail's median, and its ratio to the post's."""
    spent = measure([POST, *(n for n in names or [*details(), LONG] if n != POST)])
    post = statistics.median(spent[POST])
    print(f"{POST}: {post:.2f} ms median")
    medians = {name: statistics.median(taken) for name, taken in spent.items()}
    for name in sorted(medians, key=lambda name: -medians[name]):
        ratio, goal = medians[name] / post, GOALS.get(name, GOAL)
        print(
            f"{name:18} {ratio:5.2f}     goal {goal:g} or less{'' if ratio <= goal else '  OVER'}"
        )


if __name__ == "__main__":
    main(sys.argv[1:])
