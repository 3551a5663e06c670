"""A real server on a socket: half-sent requests, wrong lengths, and what is not even HTTP."""

from __future__ import annotations

import contextlib
import json
import socket
import threading
import time
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from flask import Flask

from upstand_api.cli.server import MAX_HEADER_BYTES, MAX_READ_BYTES, make_server

BODY = json.dumps({"resin": "pu-2k", "now": {"air": "72 F"}}).encode()
LONGEST_S = 5.0

Send = Callable[..., bytes]


def request(content: bytes, *more: str, length: int | None = None) -> bytes:
    """Write a request with a body."""
    size = len(content) if length is None else length
    lines = ["POST /v1/conditions HTTP/1.1", "Host: x", "Content-Type: application/json"]
    lines += [f"Content-Length: {size}", *more]
    return "\r\n".join(lines).encode() + b"\r\n\r\n" + content


@pytest.fixture(scope="module")
def address(app: Flask) -> Iterator[tuple[str, int]]:
    """A server in a thread; gives its address."""
    server = make_server(app, "127.0.0.1", 0, max_in_flight=4)
    threading.Thread(target=server.run, daemon=True).start()
    yield "127.0.0.1", server.effective_port
    server.close()


@pytest.fixture
def send(address: tuple[str, int]) -> Send:
    """Send bytes on a connection of their own; gives what comes back until the end, or None."""

    def sent(content: bytes, *, end: bool = True, wait_s: float = LONGEST_S) -> bytes:
        found = b""
        until = time.monotonic() + wait_s
        with socket.create_connection(address, timeout=LONGEST_S) as wire:
            wire.settimeout(wait_s)
            try:
                wire.sendall(content)
                if end:
                    wire.shutdown(socket.SHUT_WR)
                while time.monotonic() < until:
                    part = wire.recv(65536)
                    if not part:
                        break
                    found += part
            except (ConnectionError, TimeoutError):
                pass
        return found

    return sent


def status(answer: bytes) -> int:
    """Return the status of an answer."""
    return int(answer.split(b" ", 2)[1])


def problem(answer: bytes) -> Any:
    """Return the problem that an answer tells."""
    head, _, content = answer.partition(b"\r\n\r\n")
    assert b"application/problem+json" in head
    told = json.loads(content)
    assert told["errors"] and told["errors"][0]["detail"]
    return told


def alive(send: Send) -> bool:
    """Tell whether the server answers a right request."""
    return status(send(request(BODY, "Connection: close"), end=False)) == 200


def test_a_right_request_is_answered(send: Send) -> None:
    answer = send(request(BODY, "Connection: close"), end=False)
    assert status(answer) == 200
    assert b"Server:" not in answer


@pytest.mark.parametrize("part", [0, 1, len(BODY) // 2, len(BODY) - 1])
def test_a_body_that_breaks_off_leaves_the_server_well(send: Send, part: int) -> None:
    send(request(BODY[:part], length=len(BODY)))
    assert alive(send)


def test_many_half_sent_bodies_do_not_take_every_thread(
    send: Send, address: tuple[str, int]
) -> None:
    held = []
    try:
        for _ in range(40):
            wire = socket.create_connection(address, timeout=LONGEST_S)
            wire.sendall(request(BODY[:5], length=len(BODY)))
            held.append(wire)
        assert alive(send)
    finally:
        for wire in held:
            wire.close()
    assert alive(send)


def test_a_length_shorter_than_the_body_reads_that_much(send: Send) -> None:
    answer = send(request(BODY, "Connection: close", length=5), end=False)
    assert status(answer) == 400
    assert "not JSON" in problem(answer)["errors"][0]["detail"]


@pytest.mark.parametrize(
    ("content", "wanted"),
    [
        (b"nonsense\r\n\r\n", 400),
        (b"GET\r\n\r\n", 400),
        (b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03\r\n\r\n", 400),
        (b"GET / HTTP/1.1\r\nHost: x\r\nBad Header: y\r\n\r\n", 400),
        (b"GET / HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: gzip\r\n\r\n", 400),
        (b"POST /v1/conditions HTTP/1.1\r\nHost: x\r\nContent-Length: -5\r\n\r\n", 400),
        (b"POST /v1/conditions HTTP/1.1\r\nHost: x\r\nContent-Length: 1e3\r\n\r\n", 400),
        (
            b"POST /v1/conditions HTTP/1.1\r\nHost: x\r\nContent-Length: "
            + str(MAX_READ_BYTES + 1).encode()
            + b"\r\n\r\n",
            413,
        ),
    ],
)
def test_what_is_no_request_is_a_problem_too(send: Send, content: bytes, wanted: int) -> None:
    answer = send(content, end=False)
    assert status(answer) == wanted
    assert problem(answer)["status"] == wanted
    assert alive(send)


def test_headers_are_bounded(send: Send) -> None:
    long = b"GET / HTTP/1.1\r\nHost: x\r\nX: " + b"a" * (MAX_HEADER_BYTES + 1) + b"\r\n\r\n"
    answer = send(long, end=False)
    # the server may hang up while the headers still come
    assert not answer or status(answer) in (400, 431)
    assert alive(send)


def test_a_chunked_body_is_read(send: Send) -> None:
    head = b"POST /v1/conditions HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
    head += b"Connection: close\r\nTransfer-Encoding: chunked\r\n\r\n"
    half = len(BODY) // 2
    chunks = b"".join(
        f"{len(part):x}\r\n".encode() + part + b"\r\n" for part in (BODY[:half], BODY[half:])
    )
    assert status(send(head + chunks + b"0\r\n\r\n", end=False)) == 200
    bad = send(head + b"zz\r\nnonsense\r\n0\r\n\r\n", end=False)
    assert status(bad) == 400
    problem(bad)


def test_a_chunked_body_that_is_too_large_is_413(send: Send) -> None:
    head = b"POST /v1/conditions HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
    head += b"Connection: close\r\nTransfer-Encoding: chunked\r\n\r\n"
    chunk = b"10000\r\n" + b" " * 0x10000 + b"\r\n"
    answer = send(head + chunk * 5 + b"0\r\n\r\n", end=False)
    assert status(answer) == 413
    assert "256 KB" in problem(answer)["errors"][0]["detail"]


def test_requests_on_one_connection_are_answered_in_order(send: Send) -> None:
    first = request(b"{", "Connection: keep-alive")
    answer = send(first + request(BODY, "Connection: close"), end=False)
    assert status(answer) == 400
    assert b"HTTP/1.1 200 OK" in answer


@pytest.mark.parametrize("begun", [b"", b"POST /v1/conditions HTTP/1.1\r\nContent-Le"])
def test_a_hundred_and_fifty_that_dawdle_keep_nobody_waiting(
    address: tuple[str, int], send: Send, begun: bytes
) -> None:
    # idle ones and slow ones; a server that serves a hundred connections would take no more
    with contextlib.ExitStack() as held:
        for _ in range(150):
            wire = held.enter_context(socket.create_connection(address, timeout=LONGEST_S))
            wire.sendall(begun)
        begin = time.monotonic()
        assert status(send(request(BODY))) == 200
        assert time.monotonic() - begin < 2.0
