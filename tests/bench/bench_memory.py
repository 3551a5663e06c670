"""What a worker holds while it answers: RSS every 1,000 of so many requests, all different.

    python tests/bench/bench_memory.py [20000]

The app is loaded as a server loads it, and asked through its own client: posts, pipes, clusters,
walls and drains of random sizes, weather, units and languages, whole or in part, and now and then
one that is refused. Flat is: the last quarter grows by no more than 1 MB a 5,000.
"""

from __future__ import annotations

import resource
import sys
from pathlib import Path
from random import Random
from typing import Any

ROOT = Path(__file__).parents[2]
for part in ("shared", "api", "site"):
    sys.path.insert(0, str(ROOT / part))

from upstand_api import create_app, memory  # noqa: E402
from upstand_api.settings import Settings  # noqa: E402

GOAL_MB = 100.0
ROOFS = ("tpo", "epdm", "pvc", "sbs-cap")
METALS = ("carbon-steel", "galvanized-steel", "stainless-steel", "copper")
PARTS = (None, None, ["verdict", "steps"], ["workings"], ["fleece", "materials"])


def member(dice: Random) -> dict[str, str]:
    """A member of random size."""
    size = f"{dice.uniform(2, 8):.3f} in"
    shapes: tuple[dict[str, str], ...] = (
        {"section": "tube", "width": size, "depth": size, "thickness": "1/8 in"},
        {"section": "angle", "leg_a": size, "leg_b": size, "thickness": "1/4 in"},
        {"section": "pipe", "od": size},
        {"section": "bar", "width": size, "depth": "1 in"},
    )
    return {**dice.choice(shapes), "substrate": dice.choice(METALS)}


def question(dice: Random) -> dict[str, Any]:
    """A question that was not asked before."""
    weather = {
        "air": f"{dice.uniform(40, 95):.2f} F",
        "surface": f"{dice.uniform(45, 110):.2f} F",
        "humidity": f"{dice.uniform(20, 95):.1f} %",
        "material": f"{dice.uniform(55, 80):.1f} F",
    }
    body: dict[str, Any] = {
        "roof": dice.choice(ROOFS),
        "flange": f"{dice.uniform(4, 6):.3f} in",
        "now": weather,
        "lang": dice.choice(("en", "es")),
        "units": dice.choice(("us", "si")),
        "count": dice.randint(1, 40),
    }
    way = dice.randrange(10)
    if way < 6:
        detail = {"detail": "post", "members": [member(dice)]}
    elif way == 6:
        members = [{**member(dice), "at": [f"{n * 9} in", "0 in"]} for n in range(3)]
        detail = {"detail": "cluster", "members": members}
    elif way == 7:
        wall = [{"part": "wall", "substrate": "cmu"}]
        length = f"{dice.uniform(40, 400):.2f} in"
        detail = {"detail": "wall-base", "length": length, "surfaces": wall}
    elif way == 8:
        detail = {"detail": "drain", "bowl": f"{dice.uniform(10, 14):.3f} in", "seat": "8 in"}
    else:
        detail = {"detail": "post", "members": [{"section": f"no-{dice.random()}"}]}
    parts = dice.choice(PARTS)
    return {**body, **detail, **({} if parts is None else {"fields": parts})}


def rss_mb() -> float:
    """Resident memory now, in MB."""
    try:
        pages = int(Path("/proc/self/statm").read_text("ascii").split()[1])
    except OSError:  # elsewhere the most so far
        return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    return pages * resource.getpagesize() / 2**20


def main() -> None:
    """Ask, and print what is held."""
    total = int(sys.argv[1]) if len(sys.argv) > 1 else 20_000
    client = create_app(Settings(requests_per_minute=0)).test_client()
    memory.settle()  # as a worker does
    dice, held, refused = Random(7), [rss_mb()], 0
    print(f"{0:7,} requests: {held[0]:6.1f} MB")
    for number in range(1, total + 1):
        told = client.post("/v1/requirements", json=question(dice))
        assert told.status_code in (200, 422), told.text
        refused += told.status_code == 422
        if number % 1_000 == 0:
            held.append(rss_mb())
            print(f"{number:7,} requests: {held[-1]:6.1f} MB, {refused:,} refused", flush=True)
    last = max(1, len(held) // 4)
    growth = (held[-1] - held[-1 - last]) / last * 5
    print(f"at most {max(held):.1f} MB, goal {GOAL_MB:g} or less")
    print(f"the last quarter grew {growth:.2f} MB a 5,000, goal 1 or less")


if __name__ == "__main__":
    main()
