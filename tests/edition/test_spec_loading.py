"""Where spec data is looked for, and what loading refuses."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

import pytest
import yaml

from upstand.edition import SpecFault, UnknownEdition, edition_ids, find_root, load


def test_argument_before_environment(
    whole: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    other = tmp_path / "other"
    (other / "next").mkdir(parents=True)
    monkeypatch.setenv("UPSTAND_SPECDATA", str(other))
    assert find_root(whole) == whole
    assert find_root() == other


def test_a_root_that_is_named_and_holds_nothing_is_no_root(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(SpecFault, match="holds no spec data"):
        find_root(tmp_path)
    monkeypatch.setenv("UPSTAND_SPECDATA", str(tmp_path / "gone"))
    with pytest.raises(SpecFault, match="UPSTAND_SPECDATA"):
        find_root()


def test_packaged_before_checkout(
    whole: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("UPSTAND_SPECDATA", raising=False)
    package = tmp_path / "shared" / "upstand"
    (package / "spec").mkdir(parents=True)
    monkeypatch.setattr(
        sys.modules["upstand.edition.load"], "__file__", str(package / "edition" / "load.py")
    )
    shutil.copytree(whole, tmp_path / "specdata")
    assert find_root() == tmp_path / "specdata"
    shutil.copytree(whole, package / "_specdata")
    assert find_root() == package / "_specdata"


def test_before_there_is_a_published_one_the_default_is_next(whole: Path) -> None:
    assert load(root=whole).id == "next"
    assert edition_ids(whole) == ["next"]


def test_an_unknown_edition_names_the_nearest(whole: Path) -> None:
    with pytest.raises(UnknownEdition) as caught:
        load("nxt", whole)
    assert caught.value.nearest == ("next",)
    for id in ("../next", "2026.1/../../next", "", "2026.1\n"):
        with pytest.raises(UnknownEdition):
            load(id, whole)


def test_loading_tells_every_file_that_cannot_be_read(small: Path) -> None:
    (small / "next/terms/a.yaml").write_text("a: [", encoding="utf-8")
    (small / "next/terms/b.yaml").write_text("a: 1\na: 2", encoding="utf-8")
    with pytest.raises(SpecFault) as caught:
        load(root=small)
    assert [fault.file for fault in caught.value.faults] == ["terms/a.yaml", "terms/b.yaml"]


@pytest.mark.parametrize(
    ("node", "words"),
    [
        ({"value": "36"}, "fleeces/polyester.yaml: thickness: '36' is not an amount"),
        ({"value": [36]}, "is not an amount"),
        ({"low": "1 mil", "high": "1 gal"}, "thickness"),
        ({"points": [{"at": "70 degF"}]}, "thickness"),
        ({"points": "none"}, "thickness"),
        ({"window": "soon"}, "prose is not"),
    ],
)
def test_loading_names_a_value_that_cannot_be_read(
    small: Path, node: dict[str, object], words: str
) -> None:
    path = small / "next/fleeces/polyester.yaml"
    held = yaml.safe_load(path.read_text("utf-8"))
    held["thickness"] = {**node, "basis": {"grade": "practice"}, "checked_on": "2026-11-24"}
    path.write_text(yaml.safe_dump(held), encoding="utf-8")
    with pytest.raises(SpecFault) as caught:
        load(root=small)
    assert words in str(caught.value)


def test_the_digest_goes_with_every_word(small: Path) -> None:
    before = load(root=small).digest
    path = small / "next/terms/post.yaml"
    path.write_text(path.read_text("utf-8").replace("A post.", "A post!"), encoding="utf-8")
    changed = load(root=small).digest
    assert changed != before
    path.write_text(
        "# a comment\n" + path.read_text("utf-8").replace("A post!", "A post."), encoding="utf-8"
    )
    assert load(root=small).digest == before
