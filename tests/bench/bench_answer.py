"""What an answer costs, against a validated echo of the same size; and how long a start takes.

    python tests/bench/bench_answer.py

Not a timed test: machines differ. An echo is what no service can do without: JSON of the answer's
length read, checked by a marshmallow schema row by row, dumped and written again. Both are timed in
one run, turn and turn about, and the median of the ratios is given. An echo of the request itself
stands beside it. Goals: an answer at 8 echoes or less, a start in 0.6 s.
"""

from __future__ import annotations

import gc
import json
import os
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT / "shared"))

from marshmallow import Schema, fields, validate  # noqa: E402

from upstand.answer import answer  # noqa: E402
from upstand.document.requirements import write  # noqa: E402
from upstand.edition import load  # noqa: E402
from upstand.query import read_requirements  # noqa: E402

GOAL_RATIO = 8.0
GOAL_START_S = 0.6
ROUNDS = 40

EXAMPLE: dict[str, Any] = {
    "detail": "post",
    "roof": "tpo",
    "members": [
        {
            "section": "angle",
            "leg_a": "3 in",
            "leg_b": "3 in",
            "thickness": "1/4 in",
            "substrate": "carbon-steel",
        }
    ],
    "height": "8 in",
    "flange": "4 in",
    "reveal": "1/2 in",
    "plates": [{"width": "3 in", "length": "3 in", "at": ["6 in", "0 in"]}],
    "resin": "pu-2k",
    "now": {"air": "72 F", "surface": "78 F", "humidity": "55 %", "material": "70 F"},
}

START = """
import time
begin = time.perf_counter()
from upstand.edition import load
from upstand.query import read_requirements
from upstand.answer import answer
imported = time.perf_counter()
edition = load(id="next")
loaded = time.perf_counter()
write(answer(read_requirements({body!r}, edition), edition))
done = time.perf_counter()
print(imported - begin, loaded - imported, done - loaded, done - begin)
"""


class Row(Schema):
    """A row of the echo: what most of an answer is made of."""

    id = fields.String(required=True)
    value = fields.Float(required=True)
    unit = fields.String(required=True, validate=validate.OneOf(["in", "ft^2", "gal", "min"]))
    text = fields.String(required=True, validate=validate.Length(max=500))


class Echo(Schema):
    """The body of the echo."""

    rows = fields.List(fields.Nested(Row), required=True)


def echo_of(size: int) -> str:
    """JSON of about `size` characters, in rows such as an answer has."""
    row = {"id": "member-1", "value": 0.7083333333333334, "unit": "ft^2", "text": "0.708 sq ft"}
    one = len(json.dumps(row)) + 2
    return json.dumps({"rows": [row] * max(1, round(size / one))})


def took(work: Callable[[], object]) -> float:
    """Seconds that a piece of work takes."""
    begin = time.perf_counter()
    work()
    return time.perf_counter() - begin


def measure_ratio() -> dict[str, float]:
    """Medians in seconds of an answer and of echoes as long as it and as its request; ratios."""
    edition, schema, asking = load(id="next"), Echo(), json.dumps(EXAMPLE)

    def whole() -> str:
        query = read_requirements(json.loads(asking), edition)
        return json.dumps(write(answer(query, edition)))

    size = len(whole())

    def echo(body: str) -> str:
        return json.dumps(schema.dump(schema.load(json.loads(body))))

    long, short = echo_of(size), echo_of(len(asking))
    for _ in range(5):
        whole(), echo(long), echo(short)
    gc.collect()
    rows = [
        (took(whole), took(lambda: echo(long)), took(lambda: echo(short))) for _ in range(ROUNDS)
    ]
    answers, longs, shorts = (statistics.median(column) for column in zip(*rows, strict=True))
    return {
        "size": size,
        "asked": len(asking),
        "answer": answers,
        "echo": longs,
        "short": shorts,
        "ratio": statistics.median(a / b for a, b, _ in rows),
        "short_ratio": statistics.median(a / c for a, _, c in rows),
    }


def measure_start() -> list[float]:
    """Seconds to import, to load the edition, to answer first, and in all: medians of five."""
    environment = {**os.environ, "PYTHONPATH": str(ROOT / "shared")}
    runs = []
    for _ in range(6):
        code = START.format(body=EXAMPLE)
        out = subprocess.run(
            [sys.executable, "-c", code],
            env=environment,
            capture_output=True,
            text=True,
            check=True,
        )
        runs.append([float(part) for part in out.stdout.split()])
    # the first run writes byte code
    return [statistics.median(column) for column in zip(*runs[1:], strict=True)]


def main() -> None:
    """Print both figures beside their goals."""
    found = measure_ratio()
    size, asked = found["size"], found["asked"]
    print(
        f"answer: read, answered, written   {found['answer'] * 1e3:7.2f} ms  {size:,.0f} characters"
    )
    print(f"validated echo as long as it      {found['echo'] * 1e3:7.2f} ms")
    print(
        f"ratio                             {found['ratio']:7.2f}     goal {GOAL_RATIO:g} or less"
    )
    print(
        f"validated echo of its request     {found['short'] * 1e3:7.2f} ms  {asked:,.0f} characters"
    )
    print(f"ratio to that                     {found['short_ratio']:7.1f}")
    imports, loading, first, all_of_it = measure_start()
    print(f"start: import {imports:.2f} s, load {loading:.2f} s, first answer {first:.2f} s")
    print(f"start in all                      {all_of_it:7.2f} s  goal {GOAL_START_S:g} s or less")


if __name__ == "__main__":
    main()
