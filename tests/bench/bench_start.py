"""What a start costs to its first answer: the terminal's example, and the app's first post.

    python tests/bench/bench_start.py

CPU seconds of child processes, user and system, the least and the median of seven; beside them
what nobody can do without: an empty interpreter, and the import of shapely.
"""

from __future__ import annotations

import os
import resource
import statistics
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
FIRST_POST = """
import os
from upstand_api import create_app
from upstand.scene import question
from upstand_api.settings import Settings
told = create_app(Settings()).test_client().post("/v1/requirements", json=question())
assert told.status_code == 200, told.text
os._exit(0)  # it goes on serving: its end is no part of its start
"""
STARTS = {
    "an empty interpreter": ["-c", "pass"],
    "import shapely": ["-c", "import shapely"],
    "upstand need --example": ["-m", "upstand_api.cli", "need", "--example"],
    "the app to its first answer": ["-c", FIRST_POST],
}
GOAL_S = 0.5


def cpu_s(arguments: list[str]) -> float:
    """CPU seconds of one process."""
    path = os.pathsep.join(str(ROOT / part) for part in ("shared", "api", "site"))
    environment = {**os.environ, "PYTHONPATH": path}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)  # what is installed is compiled
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    subprocess.run([sys.executable, *arguments], env=environment, check=True, capture_output=True)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    """Print the figures; the goal is for the last two."""
    for name, arguments in STARTS.items():
        cpu_s(arguments)  # compiles
        spent = [cpu_s(arguments) for _ in range(7)]
        goal = f"goal {GOAL_S:g} or less" if len(arguments) > 2 or "app" in name else ""
        print(f"{name:28} {min(spent):6.3f} s, median {statistics.median(spent):.3f}   {goal}")


if __name__ == "__main__":
    main()
