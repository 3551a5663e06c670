"""Two thousand requests made by breaking right ones: refused with a pointer, never 5xx, never slow.

The breaks are drawn from a fixed seed, so that a failure comes again. UPSTAND_BROKEN_REQUESTS sets
how many are sent to each address.
"""

from __future__ import annotations

import copy
import json
import os
import random
import time
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from flask.testing import FlaskClient

EACH = int(os.environ.get("UPSTAND_BROKEN_REQUESTS", "1000"))
SLOWEST_S = 3.0
REFUSED = {400, 404, 413, 415, 422}
JSON = {"Content-Type": "application/json"}

WILD: tuple[Any, ...] = (
    None, True, False, 0, -1, 1, 7, 501, 1.5, -0.0, 1e15, 2**53, 2**53 + 1, [], {}, [[]], [{}],
    {"a": 1}, ["6 in"], ["6 in", "0 in", "0 in"], [None, None], "", " ", "8", "8 in in", "8 in",
    "0 in", "-8 in", "0.0000001 in", "999 ft", "1,000 ft", "1001 ft", "12,000 in", "1/0 in",
    "1e9 in", "9" * 40, "9" * 41, "9" * 400 + " in", "½ in", "8 1/2 in", "1/2/3 in", "٣ in",
    "NaN", "nan in", "inf in", "-5 F", "72", "72 F", "9999 F", "22 °C", "55 %", "-1 %", "101 %",
    "40 mil", "12 mph", "x", "post", "tpo", "pu-2k", "next", "2026.1", "../../etc/passwd",
    "<script>alert(1)</script>", "{limit}", "%s%n", "\u0000", "\u202e", "é" * 50, "😀", "\\",
    "L3x3x1/4", "W8x31", "HSS4x4x1/4", "angle", "polygon", "pipe", "carbon-steel", "si", "es",
)  # fmt: skip
NAMES = ("", "a", "edition", "overlay", "units", "leg_c", "points", "nps", "od", "designation",
         "section", "__proto__", "\u0000", "é", "x" * 64, "x" * 65, "0", "a/b", "~")  # fmt: skip

Place = tuple[str | int, ...]


def places(node: Any, here: Place = ()) -> Iterator[Place]:
    """Yield every place in a body, the whole first."""
    yield here
    if isinstance(node, dict | list):
        for key, inner in node.items() if isinstance(node, dict) else enumerate(node):
            yield from places(inner, (*here, key))


def at(body: Any, place: Place) -> Any:
    """Return what stands at a place."""
    for step in place:
        body = body[step]
    return body


def put(body: Any, draw: random.Random) -> Any:
    """Put something wild somewhere."""
    place = draw.choice(list(places(body)))
    value = copy.deepcopy(draw.choice(WILD))
    if not place:
        return value
    at(body, place[:-1])[place[-1]] = value
    return body


def drop(body: Any, draw: random.Random) -> Any:
    """Take something away."""
    place = draw.choice(list(places(body))[1:])
    del at(body, place[:-1])[place[-1]]
    return body


def add(body: Any, draw: random.Random) -> Any:
    """Add a field that may not be known."""
    objects = [place for place in places(body) if isinstance(at(body, place), dict)]
    at(body, draw.choice(objects))[draw.choice(NAMES)] = copy.deepcopy(draw.choice(WILD))
    return body


def rename(body: Any, draw: random.Random) -> Any:
    """Write a field's name wrong."""
    fields = [place for place in places(body) if place and isinstance(place[-1], str)]
    *outer, name = draw.choice(fields)
    held = at(body, tuple(outer))
    spot = draw.randrange(len(str(name)) + 1)
    held[str(name)[:spot] + draw.choice("xé_ ") + str(name)[spot:]] = held.pop(name)
    return body


def swap(body: Any, draw: random.Random) -> Any:
    """Swap what stands at two places."""
    inner = [place for place in places(body) if place and not isinstance(at(body, place), dict)]
    one, other = draw.choice(inner), draw.choice(inner)
    if one[: len(other)] == other or other[: len(one)] == one:
        return put(body, draw)
    first, second = copy.deepcopy(at(body, one)), copy.deepcopy(at(body, other))
    at(body, one[:-1])[one[-1]], at(body, other[:-1])[other[-1]] = second, first
    return body


def repeat(body: Any, draw: random.Random) -> Any:
    """Repeat an item of a list, up to beyond what is taken."""
    lists = [place for place in places(body) if isinstance(at(body, place), list)]
    if not lists:
        return put(body, draw)
    held = at(body, draw.choice(lists))
    held += [copy.deepcopy(held[0]) for _ in range(draw.choice((1, 3, 60, 250)))] if held else []
    return body


def wrap(body: Any, draw: random.Random) -> Any:
    """Wrap a value into lists or objects, up to beyond what is read."""
    place = draw.choice(list(places(body))[1:])
    value = at(body, place)
    for _ in range(draw.choice((1, 2, 20, 200))):
        value = [value] if draw.random() < 0.5 else {"a": value}
    at(body, place[:-1])[place[-1]] = value
    return body


BREAKS: tuple[Callable[[Any, random.Random], Any], ...] = (
    put, put, put, drop, add, rename, swap, repeat, wrap,
)  # fmt: skip


def garble(content: bytes, draw: random.Random) -> bytes:
    """Damage the bytes of a request."""
    spot = draw.randrange(len(content))
    way = draw.randrange(5)
    if way == 0:
        return content[:spot]
    if way == 1:
        return content[:spot] + bytes([draw.randrange(256)]) + content[spot + 1 :]
    if way == 2:
        return (
            content[:spot] + draw.choice([b"[", b"{", b'"', b"\\", b",", b"NaN"]) + content[spot:]
        )
    if way == 3:
        return content + content
    return bytes(draw.randrange(256) for _ in range(draw.randrange(200)))


def stands(body: Any, pointer: str) -> bool:
    """Tell whether a pointer's place, or the object it is missing in, is in the body."""
    steps = [s.replace("~1", "/").replace("~0", "~") for s in pointer.split("/")[1:]]
    for step in steps[:-1]:
        try:
            body = body[int(step)] if isinstance(body, list) else body[step]
        except (KeyError, IndexError, ValueError, TypeError):
            return False
    return True


@pytest.mark.parametrize(
    ("path", "seed"), [("/v1/requirements", 20261124), ("/v1/conditions", 42611202)]
)
def test_broken_requests_are_refused_with_a_pointer(
    client: FlaskClient, example: dict[str, Any], path: str, seed: int
) -> None:
    draw = random.Random(seed)
    right = {"resin": "pu-2k", "now": example["now"], "units": "us", "lang": "en"}
    if path == "/v1/requirements":
        right = example
    assert client.post(path, json=right).status_code == 200
    refused = 0
    for number in range(EACH):
        body: Any = copy.deepcopy(right)
        for _ in range(draw.choice((1, 1, 2, 3))):
            if isinstance(body, dict) and body:
                body = draw.choice(BREAKS)(body, draw)
        content = json.dumps(body, ensure_ascii=draw.random() < 0.5).encode("utf-8", "replace")
        garbled = draw.random() < 0.2
        if garbled:
            content = garble(content, draw)
        headers = dict(JSON) if draw.random() < 0.97 else {"Content-Type": "text/plain"}
        started = time.process_time()  # of this process alone: others may keep the machine busy
        told = client.post(path, data=content, headers=headers)
        taken = time.process_time() - started
        told_of = f"request {number}: {content[:400]!r} -> {told.status_code}"
        assert taken < SLOWEST_S, f"{told_of} after {taken:.1f} s"
        if told.status_code == 200:
            assert told.get_json()["edition"]
            continue
        refused += 1
        assert told.status_code in REFUSED, told_of
        assert told.content_type == "application/problem+json", told_of
        errors = told.get_json()["errors"]
        assert errors, told_of
        for error in errors:
            assert error["detail"].strip() and len(error["detail"]) < 1500, told_of
            assert not error["pointer"] or error["pointer"].startswith("/"), told_of
            if told.status_code == 422 and not garbled:
                assert stands(body, error["pointer"]), f"{told_of}: {error}"
    # some breaks leave a request that is still right
    assert refused > EACH * 0.7
