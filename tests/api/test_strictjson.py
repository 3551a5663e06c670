"""JSON is read as RFC 8259 has it: what two readers could take differently is refused."""

from __future__ import annotations

import json
import time

import pytest

from upstand_api.http.strict_json import MAX_DEPTH, MAX_FIELDS, Unreadable, read


def faults(content: bytes | str) -> dict[str, str]:
    """Read what must be refused; gives the faults by pointer."""
    with pytest.raises(Unreadable) as caught:
        read(content.encode() if isinstance(content, str) else content)
    return {fault.pointer: fault.detail for fault in caught.value.faults}


@pytest.mark.parametrize(
    "text",
    [
        '{"a": [1, 2.5, -0.0, 1e3, true, null, "é", "\\ud83d\\ude00"]}',
        "[]",
        '"x"',
        " 12 ",
        '{"": {"a": {}}}',
        str(2**53),
    ],
)
def test_what_is_json_reads_as_the_library_reads_it(text: str) -> None:
    assert read(text.encode()) == json.loads(text)


@pytest.mark.parametrize(
    ("text", "pointer", "said"),
    [
        ("", "", "is empty"),
        (" \n", "", "is empty"),
        ("{", "", "is not JSON, at line 1, column 2"),
        ('{"a": 1,}', "", "is not JSON"),
        ("{'a': 1}", "", "is not JSON"),
        ('{"a": 1} x', "", "is not JSON"),
        ('{"a": 01}', "", "is not JSON"),
        ('{"a": "\t"}', "", "is not JSON"),
        ('{"a": 1, "a": 2}', "/a", "stands twice"),
        ('{"b": [{"a": 1, "a": 1}]}', "/b/0/a", "stands twice"),
        ('{"a/b": 1, "a/b": 1}', "/a~1b", "stands twice"),
        ('{"a": NaN}', "/a", "NaN"),
        ('{"a": [Infinity]}', "/a/0", "Infinity"),
        ('{"a": -Infinity}', "/a", "-Infinity"),
        ('{"a": 1e999}', "/a", "too large"),
        ('{"a": 1e400}', "/a", "too large"),
        (f'{{"a": {2**53 + 1}}}', "/a", "too large"),
        (f'{{"a": -{"9" * 5000}}}', "/a", "too large"),
        (f'{{"a": 0.{"1" * 5000}}}', "/a", "more than 40 digits"),
        ('{"a": "\\ud800"}', "/a", "half of a character"),
        ('{"\\ud800": 1}', "", "name"),
        (f'{{"{"k" * 65}": 1}}', "", "over 64 characters"),
    ],
)
def test_what_is_refused_says_where_and_why(text: str, pointer: str, said: str) -> None:
    found = faults(text)
    assert said in found[pointer]


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"\xff\xfe{\x00}\x00", "not UTF-8"),
        (b'{"a": "\xe9"}', "byte 8"),
        (b"\xef\xbb\xbf{}", "byte order mark"),
    ],
)
def test_bytes_that_are_not_plain_utf_8_are_refused(content: bytes, said: str) -> None:
    assert said in faults(content)[""]


def test_all_faults_come_at_once() -> None:
    assert set(faults('{"a": NaN, "b": {"c": 1, "c": 2}, "d": [1e999]}')) == {"/a", "/b/c", "/d/0"}


def test_nesting_is_bounded() -> None:
    fits = "[" * MAX_DEPTH + "]" * MAX_DEPTH
    assert read(fits.encode()) == json.loads(fits)
    assert "nested deeper" in next(iter(faults("[" + fits + "]").values()))


@pytest.mark.parametrize("opening", ["[", '{"a":', '[{"a":'])
def test_very_deep_nesting_is_refused_at_once(opening: str) -> None:
    started = time.perf_counter()
    found = faults(opening * (256 * 1024 // len(opening)))
    assert "nested" in found[""]
    assert time.perf_counter() - started < 1.0


def test_an_object_has_a_bounded_number_of_fields() -> None:
    many = {f"k{i}": i for i in range(MAX_FIELDS + 1)}
    assert "fields" in faults(json.dumps({"a": many}))["/a"]
    many.pop("k0")
    assert read(json.dumps(many).encode()) == many


def test_very_many_values_are_refused() -> None:
    assert "values" in faults("[" + "1," * 60_000 + "1]")[""]
