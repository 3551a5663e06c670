"""The engine stands alone: what it may import, what no stage touches, what no code may know."""

from __future__ import annotations

import ast
import builtins
import io
import os
import random
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from upstand.answer import Answer
from upstand.document.requirements import write
from upstand.edition import Edition

ENGINE = Path(__file__).parents[2] / "shared" / "upstand"
FILES = sorted(ENGINE.rglob("*.py"))

#: Packages that the engine must do without: those that build on it, and what they are made of.
ABOVE = {
    "upstand_api", "upstand_site", "flask", "flask_smorest", "werkzeug", "jinja2", "mkdocs",
    "material", "waitress", "click", "requests", "apispec",
}  # fmt: skip

#: What would make an answer more than a function of edition, software and query.
IMPURE = {
    "time", "datetime", "os", "sys", "random", "secrets", "uuid", "pathlib", "tempfile", "shutil",
    "socket", "subprocess", "threading", "asyncio", "urllib", "http", "logging", "locale", "io",
    "glob", "sqlite3", "pickle", "yaml",
}  # fmt: skip

#: Editions, sentences and the scene of the examples are read from files; all else is handed in.
READS_FILES = ("edition/", "telling/", "words/", "scene/")

#: `sys` tells where a float ends; cutting plans are tried in ways drawn from a fixed seed.
ALLOWED = {
    ("query/detail_table.py", "io"),  # a table of text in memory
    ("document/takeoff_table.py", "io"),
    ("formulas/language/constants.py", "sys"),
    ("cutting/nest.py", "random"),
    # moments that were written are read; no clock is
    ("query/fields.py", "datetime"),
    ("stages/since.py", "datetime"),
    ("verdict/reasons.py", "datetime"),
    ("query/forecast.py", "datetime"),
    ("query/readings.py", "datetime"),
    ("stages/daylight.py", "datetime"),
    ("conditions_by_hour.py", "datetime"),
}

#: Words that are ids of details and something else besides: the word, where, and what it means.
ALSO = {
    ("pipe", "query/shape_text.py"): "a kind of section",
    ("pipe", "sections"): "a kind of section",
    ("pipe", "query/members.py"): "a kind of section",
    ("patch", "document/sentences.py"): "a kind of piece",
    ("patch", "drawing/panel.py"): "a kind of piece, and the hatch it is drawn with",
    ("patch", "drawing/cut_sheet.py"): "a kind of piece",
    ("patch", "drawing/standing.py"): "a hatch, and what it is of",
    ("crack", "drawing/ground.py"): "a kind of mark on the ground",
    ("curb", "drawing/measure.py"): "a part of a detail: the surface",
    ("patch", "drawing/svg.py"): "a hatch",
    ("pipe", "drawing/hollow.py"): "a kind of section",
    ("cluster", "edition/schema/kinds/work.py"): "a layout family",
}


def place(file: Path) -> str:
    return file.relative_to(ENGINE).as_posix()


def tree(file: Path) -> ast.Module:
    return ast.parse(file.read_text(encoding="utf-8"), filename=str(file))


def imported(file: Path) -> Iterator[str]:
    for node in ast.walk(tree(file)):
        if isinstance(node, ast.Import):
            yield from (alias.name.partition(".")[0] for alias in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module.partition(".")[0]


def docstrings(module: ast.Module) -> set[int]:
    """Ids of the string nodes that are documentation, not values."""
    return {
        id(node.body[0].value)
        for node in ast.walk(module)
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef)
        and node.body
        and isinstance(node.body[0], ast.Expr)
    }


def stages() -> list[Path]:
    return [file for file in FILES if not place(file).startswith(READS_FILES)]


def test_the_engine_is_found() -> None:
    assert len(FILES) > 60
    assert {"answer.py", "stages/materials.py", "stages/times.py", "verdict/model.py"} <= {
        place(f) for f in FILES
    }


@pytest.mark.parametrize("file", FILES, ids=place)
def test_imports_nothing_that_is_built_on_it(file: Path) -> None:
    assert not set(imported(file)) & ABOVE


def test_an_answer_loads_nothing_that_is_built_on_it(edition: Edition) -> None:
    """Whatever is imported on the way counts too; marshmallow alone is shared with the API."""
    code = (
        "import sys; from upstand.edition import load\n"
        "from upstand.document.requirements import write\n"
        "from upstand.query import read_requirements\n"
        f"from upstand.answer import answer; e = load(id='{edition.id}')\n"
        "q = {'detail': 'post', 'roof': 'tpo', 'members': [{'section': 'bar', 'width': '3 in',"
        " 'depth': '3 in', 'substrate': 'carbon-steel'}]}\n"
        "write(answer(read_requirements(q, e), e))\n"
        "print(' '.join(sorted({name.partition('.')[0] for name in sys.modules})))"
    )
    environment = {**os.environ, "PYTHONPATH": str(ENGINE.parent)}
    run = subprocess.run(
        [sys.executable, "-c", code], env=environment, capture_output=True, text=True, check=True
    )
    loaded = set(run.stdout.split())
    assert {"upstand", "shapely"} <= loaded
    assert not loaded & ABOVE


@pytest.mark.parametrize("file", stages(), ids=place)
def test_no_stage_can_reach_files_or_clocks(file: Path) -> None:
    used = {name for name in imported(file) if (place(file), name) not in ALLOWED}
    assert not used & IMPURE


@pytest.mark.parametrize("file", stages(), ids=place)
def test_no_stage_opens_prints_or_keeps_globals(file: Path) -> None:
    for node in ast.walk(tree(file)):
        assert not isinstance(node, ast.Global | ast.Nonlocal), node.lineno
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
            assert node.func.id not in {
                "open", "print", "input", "eval", "exec", "compile", "__import__", "globals",
            }, node.lineno  # fmt: skip


def test_no_module_value_is_filled_later() -> None:
    """What is empty at module level would be filled later, without a bound."""
    found = set()
    for file in FILES:
        for node in tree(file).body:
            value = getattr(node, "value", None)
            empty = (isinstance(value, ast.Dict) and not value.keys) or (
                isinstance(value, ast.List | ast.Set) and not value.elts
            )
            if isinstance(node, ast.Assign | ast.AnnAssign) and empty:
                target = node.target if isinstance(node, ast.AnnAssign) else node.targets[0]
                found.add((place(file), ast.unparse(target)))
    assert not found


def test_no_code_outside_layout_knows_a_detail(edition: Edition) -> None:
    """A detail's record names its family, inputs, work and checks: code never asks which it is."""
    details = set(edition.kind("details"))
    assert {"post", "pipe", "cluster", "threshold", "drain"} <= details
    known = []
    for file in FILES:
        where = place(file)
        if where.startswith("layout/"):
            continue
        module = tree(file)
        prose = docstrings(module)
        for node in ast.walk(module):
            if not isinstance(node, ast.Constant) or not isinstance(node.value, str):
                continue
            word = node.value.removeprefix("details/")
            if word not in details or id(node) in prose:
                continue
            if any(word == w and (where == p or where.startswith(f"{p}/")) for w, p in ALSO):
                continue
            known.append(f"{where}:{node.lineno}: {node.value!r}")
    assert not known, known


def test_the_exceptions_are_still_needed() -> None:
    for word, where in ALSO:
        folder = ENGINE / where
        files = [folder] if folder.is_file() else sorted(folder.rglob("*.py"))
        assert any(f'"{word}"' in file.read_text(encoding="utf-8") for file in files), (word, where)


class Touched(AssertionError):
    """A stage reached outside."""


def test_an_answer_touches_nothing_outside(
    ask: Callable[..., Answer], monkeypatch: pytest.MonkeyPatch
) -> None:
    """With files, clocks, chance and the environment taken away an answer is the same."""
    question: dict[str, Any] = {
        "members": [{"designation": "W8x31", "substrate": "aluminum", "turn": "10 deg"}],
        "lang": "es",
        "units": "si",
        "roof": "epdm",
    }
    before = write(ask(**question))

    def refuse(*args: Any, **kwargs: Any) -> Any:
        raise Touched(f"called with {args[:1]}")

    class NoEnvironment(dict[str, str]):
        get = __getitem__ = __contains__ = refuse  # type: ignore[assignment]

    with monkeypatch.context() as patched:
        for module, names in (
            (builtins, ["open", "print", "input"]),
            (io, ["open"]),
            (os, ["open", "getenv", "stat", "listdir", "getcwd"]),
            (time, ["time", "monotonic", "perf_counter", "localtime", "gmtime"]),
            (random, ["random", "randint", "shuffle", "seed"]),
        ):
            for name in names:
                patched.setattr(module, name, refuse)
        patched.setattr(os, "environ", NoEnvironment())
        after = write(ask(**question))
    assert after == before
