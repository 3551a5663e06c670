"""What the handbook weighs over the wire, every file gzipped as it is served."""

from __future__ import annotations

import gzip
from pathlib import Path
from typing import Any

import pytest

FIRST, WHOLE = 60_000, 3_000_000


def weight(path: Path) -> int:
    return len(gzip.compress(path.read_bytes(), 9))


def test_the_whole_handbook_is_small(folder: Path) -> None:
    """Both languages, all drawings, search: what a phone stores."""
    files = [path for path in folder.rglob("*") if path.is_file() and path.suffix != ".gz"]
    assert len(files) > 200
    assert sum(map(weight, files)) <= WHOLE


@pytest.mark.browser
@pytest.mark.parametrize("name", ["index.html", "es/index.html", "details/post.html"])
def test_the_first_page_is_small(browser: Any, folder: Path, served: str, name: str) -> None:
    """What is asked for until a page stands, the store for offline not counted."""
    context = browser.new_context(viewport={"width": 390, "height": 844}, service_workers="block")
    page = context.new_page()
    asked: set[str] = set()
    page.on("request", lambda request: asked.add(request.url))
    page.goto(served + name, wait_until="networkidle")
    context.close()
    files = [folder / url.removeprefix(served).partition("?")[0] for url in asked]
    assert folder / name in files
    assert folder / "assets/upstand.css" in files
    assert sum(weight(path) for path in files) <= FIRST
