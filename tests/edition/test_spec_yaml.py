"""The strict part of YAML that data is written in."""

from __future__ import annotations

from pathlib import Path

import pytest
import yaml

from upstand.edition import SpecFault
from upstand.edition import strict_yaml as strictyaml
from upstand.edition.load import read_tree
from upstand.edition.strict_yaml import DEPTH_LIMIT, SIZE_LIMIT, parse, read_file


@pytest.fixture(autouse=True, params=["CSafeLoader", "SafeLoader"])
def loader(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    """Run every test with the parser in C, where there is one, and with the one in Python."""
    if not hasattr(yaml, request.param):
        pytest.skip("PyYAML was built without the parser in C")
    monkeypatch.setattr(strictyaml, "_Loader", getattr(yaml, request.param))


@pytest.mark.parametrize(
    ("text", "node"),
    [
        ("a: true", {"a": True}),
        ("a: false", {"a": False}),
        ("a: null", {"a": None}),
        ("a:", {"a": None}),
        ("a: 24", {"a": 24}),
        ("a: -5", {"a": -5}),
        ("a: 0.25", {"a": 0.25}),
        # what YAML 1.1 reads as true, false, minutes, octal, a date, infinity
        ("a: no", {"a": "no"}),
        ("a: on", {"a": "on"}),
        ("no: 1", {"no": 1}),
        ("a: 07:30", {"a": "07:30"}),
        ("a: 010", {"a": "010"}),
        ("a: 1_000", {"a": "1_000"}),
        ("a: 1e9", {"a": "1e9"}),
        ("a: .inf", {"a": ".inf"}),
        ("a: 2026-11-24", {"a": "2026-11-24"}),
        # quotes make text
        ('a: "24"', {"a": "24"}),
        ("a: 'true'", {"a": "true"}),
        ('"a b": x', {"a b": "x"}),
        ("a: [1, x, {b: 2}]", {"a": [1, "x", {"b": 2}]}),
        ("a: >-\n  one\n  two", {"a": "one two"}),
        ("a: |\n  one\n  two\n", {"a": "one\ntwo"}),
        ("- 1\n- 2", [1, 2]),
    ],
)
def test_reads_what_it_says(text: str, node: object) -> None:
    read = parse(text, "x.yaml")
    assert read == node
    assert repr(read) == repr(node)  # 1 is not true, 1 is not 1.0


def test_an_edition_id_stays_text_where_asked() -> None:
    assert parse("extends: 2026.10", "x.yaml", as_text=("extends",)) == {"extends": "2026.10"}
    assert parse("extends: 2026.10", "x.yaml") == {"extends": 2026.1}


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("a: 1\nb: 2\na: 3", "line 3, a: stands twice"),
        ("a: {b: 1, b: 2}", "a.b: stands twice"),
        ("a: &x 1\nb: *x", "line 1, a: sets an anchor (found &x)"),
        ("a: *x", "uses an alias (found *x)"),
        ("? &k a\n: 1", "has a key that is not a plain word"),
        ("? [a, b]\n: 1", "has a key that is not a plain word"),
        ("a: !!str 1", "carries a tag"),
        ("a: !thing 1", "carries a tag"),
        ("a:\n  <<: {b: 1}", "merges another mapping"),
        ("a: 1\n---\nb: 2", "line 2: starts a second document"),
        ("", "is empty"),
        ("# a comment alone", "is empty"),
        ("a: [1, 2", "is not readable YAML"),
        ("a: b: c", "is not readable YAML"),
        ("\ta: 1", "is not readable YAML"),
        ("a: \x07", "is not readable YAML"),
        ("[" * (DEPTH_LIMIT + 2) + "]" * (DEPTH_LIMIT + 2), f"nests over {DEPTH_LIMIT} deep"),
    ],
)
def test_refuses(text: str, words: str) -> None:
    with pytest.raises(SpecFault) as caught:
        parse(text, "terms/x.yaml")
    assert words in str(caught.value)
    assert str(caught.value).startswith("terms/x.yaml: ")


def test_a_bomb_of_aliases_is_refused_at_once() -> None:
    bomb = "a: &a [x, x]\n" + "".join(
        f"{new}: &{new} [*{old}, *{old}]\n" for old, new in zip("abcdefgh", "bcdefghi", strict=True)
    )
    with pytest.raises(SpecFault, match="sets an anchor"):
        parse(bomb, "x.yaml")


def test_refuses_a_file_over_the_limit_and_takes_one_at_it(tmp_path: Path) -> None:
    path = tmp_path / "x.yaml"
    head = "a: "
    path.write_text(head + "x" * (SIZE_LIMIT - len(head)), encoding="utf-8")
    assert len(read_file(path, "x.yaml")["a"]) == SIZE_LIMIT - len(head)
    path.write_text(head + "x" * (SIZE_LIMIT - len(head) + 1), encoding="utf-8")
    with pytest.raises(SpecFault, match="is over 512 KB"):
        read_file(path, "x.yaml")


def test_refuses_bytes_that_are_not_utf_8(tmp_path: Path) -> None:
    path = tmp_path / "x.yaml"
    path.write_bytes("a: ñ".encode("latin-1"))
    with pytest.raises(SpecFault, match=r"is not UTF-8 \(byte 3\)"):
        read_file(path, "x.yaml")


def test_refuses_symbolic_links_of_files_and_folders(tmp_path: Path) -> None:
    (tmp_path / "terms").mkdir()
    real = tmp_path / "terms" / "real.yaml"
    real.write_text("a: 1", encoding="utf-8")
    (tmp_path / "terms" / "link.yaml").symlink_to(real)
    (tmp_path / "tools").symlink_to(tmp_path / "terms")
    raw, faults = read_tree(tmp_path)
    assert raw == {"terms": {"real": {"a": 1}}}
    assert [str(fault) for fault in faults] == [
        "terms/link.yaml: is a symbolic link [file] -> put the file itself here",
        "tools: is a symbolic link [file] -> put the folder itself here",
    ]


def test_passes_over_what_editors_leave(tmp_path: Path) -> None:
    (tmp_path / "terms").mkdir()
    (tmp_path / "terms" / ".x.yaml.swp").write_bytes(b"\xff")
    (tmp_path / ".DS_Store").write_bytes(b"\xff")
    assert read_tree(tmp_path) == ({}, [])
