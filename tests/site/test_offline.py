"""Offline: a hash for every file, the whole handbook from the store, two editions never mixed."""

from __future__ import annotations

import gzip
import hashlib
import json
import re
import shutil
from pathlib import Path
from typing import Any

import pytest

from upstand_site.build import Built
from upstand_site.stamp import read_stamp


def stored(folder: Path) -> dict[str, str]:
    worker = (folder / "sw.js").read_text("utf-8")
    found = re.search(r"const FILES = (\{.*?\});", worker, re.S)
    assert found is not None
    files: dict[str, str] = json.loads(found[1])
    return files


def test_every_file_is_stored_with_its_hash(folder: Path, built: Built) -> None:
    files = stored(folder)
    there = {p.relative_to(folder).as_posix() for p in folder.rglob("*") if p.is_file()}
    packed = {name for name in there if name.endswith(".gz")}
    assert set(files) == there - packed - {"sw.js", "stamp.json"}
    for name, expected in files.items():
        assert hashlib.sha256((folder / name).read_bytes()).hexdigest() == expected, name
    assert f'const STAMP = "{built.stamp}";' in (folder / "sw.js").read_text("utf-8")


def test_what_shrinks_has_a_packed_copy_of_the_same_content(folder: Path) -> None:
    packed = sorted(folder.rglob("*.gz"))
    assert {"index.html.gz", "sw.js.gz"} <= {path.name for path in packed}
    for path in packed:
        assert gzip.decompress(path.read_bytes()) == path.with_suffix("").read_bytes(), path


def test_the_whole_is_small_enough_to_store(folder: Path) -> None:
    files = [p for p in folder.rglob("*") if p.is_file() and p.suffix != ".gz"]
    assert sum(p.stat().st_size for p in files) < 12_000_000


@pytest.mark.browser
def test_it_reads_on_with_the_server_gone(
    browser: Any, folder: Path, tmp_path: Path, make_server: Any
) -> None:
    shutil.copytree(folder, tmp_path / "handbook")
    server = make_server(tmp_path)
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(server.url + "index.html")
    page.wait_for_selector("#offline.ready", timeout=120_000)
    edition = (read_stamp(folder) or {})["edition"]
    assert page.inner_text("#offline").endswith(f"Ready offline · edition {edition}")
    scopes = page.evaluate(
        "navigator.serviceWorker.getRegistrations().then((all) => all.map((one) => one.scope))"
    )
    assert scopes == [server.url]
    server.stop()
    page.goto(server.url + "details/post.html?from=home")
    assert "Post or angle" in page.inner_text("h1")
    page.goto(server.url + "es/")
    assert page.get_attribute("html", "lang") == "es"
    page.click("#search-open")
    page.fill("#search-words", "desagüe")
    page.wait_for_selector("#search-found a")
    page.goto(server.url + "es/details/nothing-of-the-kind.html")
    assert "no está en el manual" in page.inner_text("h1")
    context.close()


@pytest.mark.browser
def test_two_editions_never_mix(
    browser: Any, folder: Path, tmp_path: Path, make_server: Any
) -> None:
    """A new edition is offered; until it is taken every page is the old one, then every page new.

    A new edition that is not whole (a file that does not fit its hash) is not taken at all.
    """
    here = tmp_path / "handbook"
    shutil.copytree(folder, here)
    server = make_server(tmp_path)
    context = browser.new_context(viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto(server.url + "index.html")
    page.wait_for_selector("#offline.ready", timeout=120_000)
    page.reload()

    old = (here / "limits.html").read_text("utf-8")
    worker = (here / "sw.js").read_text("utf-8")
    new = old.replace("<h1>", "<h1>New: ", 1) if "<h1>" in old else old.replace('">', '">New: ', 1)
    assert new != old
    (here / "limits.html").write_text(new, "utf-8")
    before = hashlib.sha256(old.encode()).hexdigest()
    half = worker.replace('const STAMP = "', 'const STAMP = "half-').replace(before, "0" * 64)
    (here / "sw.js").write_text(half, "utf-8")
    page.evaluate(
        "navigator.serviceWorker.ready.then((one) => one.update()).then(() => 0, () => 0)"
    )
    page.wait_for_timeout(1500)
    assert page.is_hidden("#notice-update"), "a new edition that is not whole was offered"

    digest = hashlib.sha256(new.encode()).hexdigest()
    whole = worker.replace('const STAMP = "', 'const STAMP = "new-').replace(before, digest)
    (here / "sw.js").write_text(whole, "utf-8")
    page.evaluate("navigator.serviceWorker.ready.then((one) => one.update()).then(() => 0)")
    page.wait_for_selector("#notice-update:not([hidden])", timeout=120_000)
    page.goto(server.url + "limits.html")
    assert "New: " not in page.content()
    with page.expect_navigation():
        page.click("#update-now")
    page.wait_for_function("document.body.textContent.includes('New: ')", timeout=10_000)
    server.stop()
    page.goto(server.url + "limits.html")
    assert "New: " in page.content()
    context.close()


@pytest.mark.browser
def test_without_https_the_badge_says_what_is_missing(browser: Any, folder: Path) -> None:
    """From another machine over plain http nothing is kept: the badge says why."""
    page = browser.new_page(viewport={"width": 390, "height": 844})

    def from_folder(route: Any) -> None:
        route.fulfill(path=folder / route.request.url.partition("/handbook/")[2])

    page.route("http://roofs.example/**", from_folder)
    for place in ("index.html", "es/index.html"):
        page.goto(f"http://roofs.example/handbook/{place}")
        page.wait_for_function("document.getElementById('offline').textContent !== ''")
        assert "https" in page.inner_text("#offline")
        assert page.get_attribute("#offline", "class") == "offline"
    page.close()
