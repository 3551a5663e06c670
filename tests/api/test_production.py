"""The production line, as the contributors' page gives it: several processes, each with threads."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import re
import shlex
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest

from upstand_api.openapi.examples import CONDITIONS

ROOT = Path(__file__).parents[2]
START_S, WORKERS = 60.0, 2

pytestmark = pytest.mark.skipif(os.name != "posix", reason="gunicorn runs on POSIX alone")


def production_line() -> list[str]:
    """Return the command of the contributors' page, with fewer processes."""
    found = re.search(r"`(gunicorn [^`]+)`", (ROOT / "DEVELOPERS.md").read_text("utf-8"))
    assert found, "DEVELOPERS.md gives the production line"
    words = shlex.split(found[1])
    words[words.index("--workers") + 1] = str(WORKERS)
    return [sys.executable, "-m", "gunicorn", "--bind", "127.0.0.1:0", *words[1:]]


@contextlib.contextmanager
def served(**environment: str) -> Iterator[tuple[str, subprocess.Popen[str]]]:
    held = {**os.environ, **environment, "PYTHONUNBUFFERED": "1"}
    held["PYTHONPATH"] = os.pathsep.join(str(ROOT / name) for name in ("shared", "api", "site"))
    process = subprocess.Popen(
        production_line(), stdout=subprocess.PIPE, stderr=subprocess.STDOUT, env=held, text=True
    )
    told: list[str] = []
    listening = threading.Event()

    def read() -> None:
        assert process.stdout is not None
        for line in process.stdout:
            told.append(line)
            if sum("Booting worker" in each for each in told) == WORKERS:
                listening.set()

    threading.Thread(target=read, daemon=True).start()
    try:
        assert listening.wait(START_S), "".join(told)
        found = re.search(r"Listening at: (http://127\.0\.0\.1:\d+)", "".join(told))
        assert found, "".join(told)
        yield found[1], process
    finally:
        process.terminate()
        try:
            process.wait(20)
        except subprocess.TimeoutExpired:
            process.kill()


def ask(address: str, body: object, **headers: str) -> tuple[int, dict[str, object]]:
    content = json.dumps(body).encode()
    named = {"Content-Type": "application/json"}
    named |= {name.replace("_", "-"): value for name, value in headers.items()}
    try:
        with urlopen(Request(f"{address}/v1/conditions", content, named), timeout=20) as told:
            return told.status, json.load(told)
    except HTTPError as error:
        return error.code, json.load(error)


def workers(process: subprocess.Popen[str]) -> list[int]:
    listed = subprocess.run(
        ["ps", "-o", "pid=", "--ppid", str(process.pid)], capture_output=True, text=True
    )
    return [int(pid) for pid in listed.stdout.split()]


def test_it_serves_while_one_of_its_processes_stands_still() -> None:
    with served() as (address, process):
        status, told = ask(address, CONDITIONS)
        assert (status, told["verdict"]) == (200, "go")
        still, *others = workers(process)
        assert len(others) == WORKERS - 1
        os.kill(still, signal.SIGSTOP)
        try:
            begin = time.monotonic()
            assert all(ask(address, CONDITIONS)[0] == 200 for _ in range(5))
            assert time.monotonic() - begin < 10.0
        finally:
            os.kill(still, signal.SIGCONT)
        assert ask(address, {"now": {"air": "72"}})[1]["request_id"]
        process.send_signal(signal.SIGTERM)
        assert process.wait(20) == 0


def test_a_key_that_is_revoked_opens_nothing_in_any_process(
    published_root: Path, tmp_path: Path
) -> None:
    overlays, keys = tmp_path / "overlays", tmp_path / "keys"
    overlays.mkdir()
    (overlays / "acme.yaml").write_text(
        "extends: '2026.2'\nset:\n- path: 'resins/pu-2k: layers.base'\n  expects: 45 mil\n"
        "  value: 50 mil\n  basis: {grade: product, source: Sheet A, locator: table 1}\n"
    )
    keys.write_text(f"acme {hashlib.sha256(b'a long key').hexdigest()}\n")
    body, key = {**CONDITIONS, "overlay": "acme"}, "Bearer a long key"
    with served(
        UPSTAND_SPECDATA=str(published_root),
        UPSTAND_OVERLAYS=str(overlays),
        UPSTAND_KEYS=str(keys),
    ) as (address, _):
        several = [ask(address, body, Authorization=key) for _ in range(8)]
        assert {(status, told.get("overlay")) for status, told in several} == {(200, "acme")}
        keys.write_text("# nobody\n")
        assert {ask(address, body, Authorization=key)[0] for _ in range(8)} == {404}


def test_broken_settings_stop_the_start() -> None:
    held = {**os.environ, "UPSTAND_PROXIES": "many"}
    held["PYTHONPATH"] = os.pathsep.join(str(ROOT / name) for name in ("shared", "api", "site"))
    ended = subprocess.run(
        production_line(), capture_output=True, env=held, text=True, timeout=START_S
    )
    assert ended.returncode != 0
    assert "UPSTAND_PROXIES" in ended.stderr + ended.stdout
