"""What a usual request costs while a hundred clients are slow and a hundred more are idle.

    .venv/bin/python tests/bench/bench_server.py

A ratio in one run: the same request by itself first, then beside the two hundred. Slow clients send
one byte of a request every half second; idle ones connect and say nothing.
"""

from __future__ import annotations

import contextlib
import json
import socket
import statistics
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
sys.path[:0] = [str(ROOT / name) for name in ("shared", "api", "site")]

from upstand_api.app import create_app  # noqa: E402
from upstand_api.cli.server import make_server  # noqa: E402
from upstand_api.openapi.examples import CONDITIONS  # noqa: E402

SLOW = IDLE = 100
ASKED = 50
MOST = 100.0
"""A usual request beside the slow and the idle: at most so many times its own cost."""

BODY = json.dumps(CONDITIONS).encode()
REQUEST = (
    b"POST /v1/conditions HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\n"
    b"Connection: close\r\nContent-Length: %d\r\n\r\n" % len(BODY)
) + BODY


def ask(address: tuple[str, int]) -> float:
    """Ask once on a connection of its own; the time until the whole answer is there [s]."""
    begin = time.perf_counter()
    with socket.create_connection(address, timeout=60.0) as wire:
        wire.sendall(REQUEST)
        answer = b""
        while part := wire.recv(65536):
            answer += part
    assert answer.startswith(b"HTTP/1.1 200"), answer[:100]
    return time.perf_counter() - begin


@contextlib.contextmanager
def dawdling(address: tuple[str, int]) -> Iterator[None]:
    """Keep the slow and the idle connected."""
    held = [socket.create_connection(address, timeout=60.0) for _ in range(SLOW + IDLE)]
    done = threading.Event()

    def drip() -> None:
        sent = 0
        while not done.wait(0.5):
            for wire in held[:SLOW]:
                with contextlib.suppress(OSError):
                    wire.sendall(REQUEST[sent % 40 : sent % 40 + 1])
            sent += 1

    thread = threading.Thread(target=drip, daemon=True)
    thread.start()
    try:
        yield
    finally:
        done.set()
        thread.join()
        for wire in held:
            wire.close()


def main() -> int:
    """Measure, print, and fail where the ratio is over what is promised."""
    server = make_server(create_app(), "127.0.0.1", 0, max_in_flight=8)
    threading.Thread(target=server.run, daemon=True).start()
    address = ("127.0.0.1", server.effective_port)
    first = ask(address)
    alone = [ask(address) for _ in range(ASKED)]
    own = statistics.median(alone)
    with dawdling(address):
        time.sleep(1.0)
        beside = [ask(address) for _ in range(ASKED)]
    worst = max(beside) / own
    print(f"first {first * 1e3:.1f} ms; alone {own * 1e3:.1f} ms (median of {ASKED})")
    print(
        f"beside {SLOW} slow and {IDLE} idle: median {statistics.median(beside) * 1e3:.1f} ms, "
        f"worst {max(beside) * 1e3:.1f} ms = {worst:.1f} times its own cost (at most {MOST:.0f})"
    )
    return int(worst > MOST)


if __name__ == "__main__":
    raise SystemExit(main())
