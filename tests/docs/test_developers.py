"""The contributors' page names things that are there."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")


def test_every_path_named_exists() -> None:
    named = re.findall(r"`((?:shared|api|site|tests|specdata|\.ci)/[\w./*-]*)`", PAGE)
    assert len(named) > 20
    missing = [path for path in named if not list(ROOT.glob(path.rstrip("/")))]
    assert missing == []


def test_every_dependency_has_its_reason() -> None:
    project = (ROOT / "pyproject.toml").read_text(encoding="utf-8")
    block = project.partition("dependencies = [")[2].partition("]")[0]
    packages = re.findall(r'"([A-Za-z-]+)', block)
    assert len(packages) >= 10
    reasons = PAGE.partition("## Dependencies")[2]
    assert [p for p in packages if p not in reasons] == []
