"""One handbook for all tests of it, built once; a server, and a browser where there is one."""

from __future__ import annotations

import shutil
import threading
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache, partial
from html.parser import HTMLParser
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

import pytest

from upstand.edition import Edition
from upstand_site.build import Built, build

CHROMIUM = next(
    (p for name in ("chromium", "chromium-browser", "google-chrome") if (p := shutil.which(name))),
    None,
)
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--no-first-run",
]


@pytest.fixture(scope="session")
def built(tmp_path_factory: pytest.TempPathFactory, edition: Edition, frozen_root: Path) -> Built:
    """The handbook in both languages; below a folder of its name, as it is served."""
    out = tmp_path_factory.mktemp("site") / "handbook"
    return build(out, frozen_root, edition=edition.id)


@pytest.fixture(scope="session")
def folder(built: Built) -> Path:
    return built.folder


@pytest.fixture(scope="session")
def pages(folder: Path) -> dict[str, str]:
    """Every page by its path, as it was written."""
    found = sorted(folder.rglob("*.html"))
    return {path.relative_to(folder).as_posix(): path.read_text("utf-8") for path in found}


class Quiet(SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: Any) -> None:
        pass


class Server:
    """Serves the folder above the handbook, so that it lies under /handbook/."""

    def __init__(self, above: Path) -> None:
        self.httpd = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=str(above)))
        self.url = f"http://127.0.0.1:{self.httpd.server_address[1]}/handbook/"
        self.stopped = False
        threading.Thread(target=self.httpd.serve_forever, daemon=True).start()

    def stop(self) -> None:
        """Stop; a second time does nothing."""
        if not self.stopped:
            self.stopped = True
            self.httpd.shutdown()
            self.httpd.server_close()


@pytest.fixture(scope="session")
def served(folder: Path) -> Iterator[str]:
    server = Server(folder.parent)
    yield server.url
    server.stop()


@pytest.fixture
def make_server() -> Iterator[Callable[[Path], Server]]:
    """Make servers of a test's own, which it may stop; the others are stopped after it."""
    made: list[Server] = []

    def make(above: Path) -> Server:
        made.append(Server(above))
        return made[-1]

    yield make
    for server in made:
        server.stop()


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Chromium with a new, empty profile; the tests are skipped only where it is absent."""
    if CHROMIUM is None:
        pytest.skip("Chromium is not installed")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        one = playwright.chromium.launch(executable_path=CHROMIUM, args=FLAGS)
        yield one
        one.close()


VOID = {"meta", "link", "input", "br", "hr", "img"}


@dataclass
class Cell:
    label: str
    text: str = ""


@dataclass
class Seen(HTMLParser):
    """What a page holds: `links` as (tag, attribute, target), ids, cells, and numbered steps."""

    links: list[tuple[str, str, str]] = field(default_factory=list)
    ids: list[str] = field(default_factory=list)
    cells: list[Cell] = field(default_factory=list)
    rows: list[list[Cell]] = field(default_factory=list)
    steps: list[list[str]] = field(default_factory=list)
    headings: list[int] = field(default_factory=list)
    words: list[str] = field(default_factory=list)

    def __post_init__(self) -> None:
        super().__init__()
        self.open: list[tuple[str, str]] = []

    def inside(self, css: str) -> bool:
        return any(css in classes.split() for _, classes in self.open)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        held = {name: value or "" for name, value in attrs}
        for name in ("href", "src", "action", "data", "poster", "srcset"):
            if name in held:
                self.links.append((tag, name, held[name]))
        if "id" in held:
            self.ids.append(held["id"])
        if tag == "tr":
            self.rows.append([])
        if tag == "td":
            self.cells.append(Cell(held.get("data-label", "")))
            self.rows[-1].append(self.cells[-1])
        if tag == "div" and "steps" in held.get("class", "").split():
            self.steps.append([])
        if tag in ("h1", "h2", "h3", "h4"):
            self.headings.append(int(tag[1]))
        if tag == "br" and self.cells and any(name == "td" for name, _ in self.open):
            self.cells[-1].text += "\n"
        if tag not in VOID:
            self.open.append((tag, held.get("class", "")))

    def handle_endtag(self, tag: str) -> None:
        while self.open:
            name, _ = self.open.pop()
            if name == tag:
                break

    def handle_data(self, data: str) -> None:
        tags = [name for name, _ in self.open]
        if "style" in tags or "script" in tags or self.inside("si"):
            return  # what is read is what a page shows as it opens: US units
        if "td" in tags and "summary" not in tags:
            self.cells[-1].text += data
        if self.open and self.open[-1] == ("span", "n"):
            self.steps[-1].append(data)
        if "article" in tags:
            self.words.append(data)

    @property
    def text(self) -> str:
        return " ".join("".join(self.words).split(" "))


Read = Callable[[str], Seen]


@pytest.fixture(scope="session")
def read() -> Read:
    """Read a page into what it holds; each page once."""

    @cache
    def reading(html: str) -> Seen:
        seen = Seen()
        seen.feed(html)
        return seen

    return reading
