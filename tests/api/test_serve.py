"""`upstand serve`: what it prints works, it ends well, and says in one line why it can't start."""

from __future__ import annotations

import contextlib
import json
import os
import re
import shutil
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.error import HTTPError
from urllib.request import urlopen

import pytest
from click.testing import CliRunner, Result

from upstand_api.app import create_app
from upstand_api.cli import serve
from upstand_api.cli.group import root
from upstand_api.settings import Settings

START_S = 20.0
RUN = "import sys; from upstand_api.cli import main; sys.argv[0] = 'upstand'; main()"


def run(*words: str, **environment: str) -> Result:
    """Run the command in this process; only for what ends by itself."""
    return CliRunner().invoke(root, ["serve", *words], env=environment)


@contextlib.contextmanager
def serving(tmp_path: Path) -> Iterator[tuple[Any, str]]:
    """Serve on a free port in a process of its own; gives the process and what it printed."""
    environment = {**os.environ, "UPSTAND_CACHE": str(tmp_path), "PYTHONUNBUFFERED": "1"}
    environment["PYTHONPATH"] = os.pathsep.join(path for path in sys.path if path)
    process = subprocess.Popen(
        [sys.executable, "-c", RUN, "serve", "--port", "0"],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        env=environment,
        text=True,
    )
    try:
        assert process.stdout is not None
        printed, until = "", time.monotonic() + START_S
        while "ctrl-C" not in printed and time.monotonic() < until:
            line = process.stdout.readline()
            if not line:
                break
            printed += line
        assert "ctrl-C" in printed, printed
        yield process, printed
    finally:
        process.kill()
        process.wait(5)


@pytest.mark.skipif(os.name != "posix", reason="sends the signal of POSIX service managers")
def test_it_prints_what_works_and_ends_on_a_signal(tmp_path: Path) -> None:
    with serving(tmp_path) as (process, printed):
        found = re.search(r"Upstand answers at (http://127\.0\.0\.1:\d+) from edition \S+", printed)
        assert found, printed
        for path in ("/", "/docs", "/healthz"):
            with urlopen(found[1] + path, timeout=5) as told:
                assert told.status == 200
        line = next(line.strip() for line in printed.splitlines() if "curl" in line)
        if shutil.which("curl"):
            pasted = subprocess.run(["sh", "-c", line], capture_output=True, timeout=20)
            assert pasted.returncode == 0
            assert json.loads(pasted.stdout)["verdict"]["state"] == "go"
        process.send_signal(signal.SIGTERM)
        assert process.wait(10) == 0


@pytest.mark.parametrize("port", ["99999", "-1", "x", "80.5", "٨٠٠٠"])
def test_a_wrong_port_is_one_line_and_2(port: str) -> None:
    ended = run("--port", port)
    assert ended.exit_code == 2
    assert len(ended.stderr.splitlines()) == 1
    assert "is not a port" in ended.stderr and "65535" in ended.stderr


def test_a_port_in_use_is_one_line_and_1(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        port = taken.getsockname()[1]
        ended = run("--port", str(port), UPSTAND_CACHE=str(tmp_path))
    assert ended.exit_code == 1
    assert len(ended.stderr.splitlines()) == 1
    assert f"port {port} is in use" in ended.stderr and f"--port {port + 1}" in ended.stderr


def test_a_host_of_another_machine_is_one_line_and_2(tmp_path: Path) -> None:
    # 192.0.2.0/24 is set aside for documentation: no machine has an address in it
    ended = run("--host", "192.0.2.7", "--port", "0", UPSTAND_CACHE=str(tmp_path))
    assert ended.exit_code == 2
    assert len(ended.stderr.splitlines()) == 1
    assert "not an address of this machine" in ended.stderr


def test_without_a_cache_it_answers_and_the_handbook_says_why_not(tmp_path: Path) -> None:
    from upstand_site.places import HERE

    if (HERE / "_built").is_dir():
        pytest.skip("a handbook came with the release: none is built")
    blocked = tmp_path / "file"
    blocked.write_text("not a folder", "utf-8")
    with serving(blocked / "cache") as (_, printed):
        assert f"No handbook: the cache {blocked / 'cache'} can't be written" in printed
        assert "UPSTAND_CACHE" in printed
        found = re.search(r"http://127\.0\.0\.1:\d+", printed)
        assert found
        with urlopen(found[0] + "/readyz", timeout=5) as told:
            assert told.status == 200
        with pytest.raises(HTTPError) as refused:
            urlopen(found[0] + "/handbook/", timeout=5)
        assert refused.value.code == 404
        assert "can&#39;t be written" in refused.value.read().decode()


@pytest.mark.parametrize(
    ("host", "said"),
    [("127.0.0.1", "only over https"), ("0.0.0.0", "begins with https"), ("::", "with https")],
)
def test_where_a_phone_keeps_the_handbook_is_said(host: str, said: str, tmp_path: Path) -> None:
    class Server:
        effective_port = 8000

    app = create_app(Settings(cache=tmp_path))
    assert said in serve._greeting(app, host, Server())


def test_a_wrong_setting_is_one_line_and_2(tmp_path: Path) -> None:
    ended = run(UPSTAND_CACHE=str(tmp_path), UPSTAND_BASE_URL="roofs")
    assert ended.exit_code == 2
    assert len(ended.stderr.splitlines()) == 1
    assert "UPSTAND_BASE_URL" in ended.stderr


def test_missing_data_is_said_and_1(tmp_path: Path) -> None:
    ended = run(UPSTAND_CACHE=str(tmp_path), UPSTAND_SPECDATA=str(tmp_path))
    assert ended.exit_code == 1
    assert "holds no spec data" in ended.stderr


@pytest.mark.parametrize(
    ("host", "address"),
    [
        ("127.0.0.1", "http://127.0.0.1:8000"),
        ("0.0.0.0", "http://127.0.0.1:8000"),
        ("::", "http://[::1]:8000"),
        ("::1", "http://[::1]:8000"),
        ("localhost", "http://localhost:8000"),
    ],
)
def test_the_address_printed_is_one_that_can_be_opened(host: str, address: str) -> None:
    class Server:
        effective_port = 8000

    assert serve._address(host, Server()) == address


def test_who_may_not_open_a_port_is_told_which_to_take() -> None:
    import errno

    fault = serve._cant_listen(OSError(errno.EACCES, "Permission denied"), "127.0.0.1", 80)
    assert fault.exit_code == 1
    assert "--port 8000" in fault.message
