"""Building, stamping and keeping a handbook."""

from __future__ import annotations

import dataclasses
import hashlib
import subprocess
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

from upstand.edition import Edition, find_root
from upstand.edition.index import read_index
from upstand_site import stamp
from upstand_site.build import BuildFault, Built, build, find_built
from upstand_site.context import Context
from upstand_site.examples import load_samples
from upstand_site.keeper import Keeper
from upstand_site.labels import load_labels
from upstand_site.pages import write_pages
from upstand_site.stamp import place_in, read_stamp, stamp_of


def test_the_stamp_names_what_it_was_made_from(built: Built, edition: Edition) -> None:
    held = read_stamp(built.folder)
    assert held is not None
    assert held["stamp"] == built.stamp == stamp_of(edition)
    assert (held["edition"], held["languages"]) == (edition.id, ["en", "es"])


def test_another_edition_status_or_language_has_another_stamp(edition: Edition) -> None:
    stamps = {
        stamp_of(edition),
        stamp_of(edition, ("en",)),
        stamp_of(dataclasses.replace(edition, status="withdrawn")),
        stamp_of(dataclasses.replace(edition, id="2026.9")),
        stamp_of(dataclasses.replace(edition, digest="0" * 64)),
    }
    assert len(stamps) == 5


def test_a_changed_source_has_another_stamp(
    edition: Edition, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = stamp_of(edition)
    monkeypatch.setattr(stamp, "sources_digest", lambda: "another")
    assert stamp_of(edition) != before


def test_pages_are_written_alike_each_time(edition: Edition) -> None:
    """The Markdown of every page is a function of edition, language and sources."""

    def digest() -> str:
        context = Context(edition, "es", load_labels("es"), load_samples())
        total = hashlib.sha256()
        for page in write_pages(context):
            total.update(f"{page.path}\0{page.text()}".encode())
        return total.hexdigest()

    assert digest() == digest()


def test_nothing_that_changes_from_run_to_run_is_in_it(built: Built, folder: Path) -> None:
    names = {path.name for path in folder.rglob("*")}
    assert not names & {"sitemap.xml", "sitemap.xml.gz", "404.html", "search_index.json"}
    for path in folder.rglob("*.html"):
        text = path.read_text("utf-8")
        assert str(folder) not in text
        assert built.stamp[:12] in text, path.name


def test_a_folder_with_something_else_in_it_is_left_alone(tmp_path: Path) -> None:
    (tmp_path / "letter.txt").write_text("keep me")
    with pytest.raises(BuildFault, match="holds something that is not a handbook"):
        build(tmp_path)
    assert (tmp_path / "letter.txt").read_text() == "keep me"
    assert [path.name for path in tmp_path.iterdir()] == ["letter.txt"]


def test_a_language_that_is_not_there_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BuildFault, match="not a language of the handbook: en, es"):
        build(tmp_path / "out", languages=("en", "fr"))
    assert list(tmp_path.iterdir()) == []


def test_a_built_one_is_found_by_its_stamp(
    built: Built, edition: Edition, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(stamp, "HERE", tmp_path / "release")
    assert find_built(edition, cache=tmp_path) is None
    place = place_in(tmp_path, built.stamp)
    place.parent.mkdir(parents=True)
    place.symlink_to(built.folder)
    assert find_built(edition, cache=tmp_path) == place
    assert find_built(dataclasses.replace(edition, id="2026.9"), cache=tmp_path) is None


class Child:
    """A build that ends when it is told to."""

    def __init__(self) -> None:
        self.status: int | None = None
        self.commands: list[Any] = []

    def start(self, command: Any) -> Child:
        self.commands.append(command)
        return self

    def poll(self) -> int | None:
        return self.status


def test_a_child_builds_what_is_missing_once(
    built: Built, edition: Edition, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(stamp, "HERE", tmp_path / "release")
    child = Child()
    keeper = Keeper(edition, find_root(), tmp_path, child.start)
    assert keeper.folder() is None
    keeper.begin()
    keeper.begin()
    assert len(child.commands) == 1
    target = Path(child.commands[0][3])
    assert target == place_in(tmp_path, built.stamp)
    assert keeper.folder() is None, "it is still being built"
    target.parent.mkdir(parents=True)
    target.symlink_to(built.folder)
    child.status = 0
    assert keeper.folder() == target


def test_a_failed_build_is_said_and_may_be_tried_again(
    edition: Edition,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:
    monkeypatch.setattr(stamp, "HERE", tmp_path / "release")
    child = Child()
    keeper = Keeper(edition, find_root(), tmp_path, child.start)
    keeper.begin()
    child.status = 1
    assert keeper.folder() is None
    assert "building the handbook failed" in caplog.text
    keeper.begin()
    assert len(child.commands) == 2


def test_a_server_that_has_begun_serves_what_the_child_built(
    built: Built, edition: Edition, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from upstand_api.app import create_app
    from upstand_api.pages import handbook
    from upstand_api.settings import Settings

    monkeypatch.setattr(stamp, "HERE", tmp_path / "release")
    child = Child()
    monkeypatch.setattr("upstand_site.keeper.subprocess.Popen", lambda *a, **_: child.start(a[0]))
    app = create_app(Settings(cache=tmp_path))
    client = app.test_client()
    handbook.begin(app)
    assert client.get("/handbook/").status_code == 202
    target = place_in(tmp_path, built.stamp)
    target.parent.mkdir(parents=True)
    target.symlink_to(built.folder)
    child.status = 0
    told = client.get("/handbook/")
    assert told.status_code == 200
    assert f'<span class="stamp">{built.stamp[:12]}' in told.get_data(as_text=True)
    for name, kind in (("sw.js", "text/javascript"), ("manifest-es.webmanifest", "manifest+json")):
        assert kind in client.get(f"/handbook/{name}").headers["Content-Type"]


def test_the_childs_command_can_be_run() -> None:
    import sys

    told = subprocess.run(
        [sys.executable, "-m", "upstand_site", "--help"],
        capture_output=True,
        text=True,
        check=True,
        env={**__import__("os").environ, "PYTHONPATH": ":".join(sys.path)},
    ).stdout
    assert "--specdata" in told and "--edition" in told


def test_the_command_says_where_it_is(built: Built, monkeypatch: pytest.MonkeyPatch) -> None:
    from upstand_api.cli.handbook import command

    asked: list[Any] = []

    def pretend(*given: Any) -> Built:
        asked.append(given)
        return built

    monkeypatch.setattr("upstand_site.build.build", pretend)
    told = CliRunner().invoke(command, ["--out", "there", "--lang", "es"])
    assert told.exit_code == 0, told.output
    assert f"Open it:  {built.folder / 'index.html'}" in told.output
    assert asked[0][0] == "there" and asked[0][2:] == (("es",), None)


def test_the_command_refuses_a_folder_of_something_else(tmp_path: Path) -> None:
    from upstand_api.cli.handbook import command

    (tmp_path / "letter.txt").write_text("keep me")
    told = CliRunner().invoke(command, ["--out", str(tmp_path)])
    assert told.exit_code == 2
    assert "give another folder" in told.output


def test_the_oldest_edition_still_makes_a_handbook(tmp_path: Path) -> None:
    """What came with a later edition is left out, and no list leads to it."""
    oldest = read_index(find_root())[-1].id
    made = build(tmp_path / "handbook", find_root(), edition=oldest, languages=("en",))
    assert made.edition == oldest and made.pages["en"] > 60
    assert not (made.folder / "trouble.html").exists()
    assert "trouble.html" not in (made.folder / "details/post.html").read_text("utf-8")
