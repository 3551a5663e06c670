"""The README's way to https holds: its commands make a certificate, nginx serves by its lines."""

from __future__ import annotations

import http.client
import re
import shutil
import socket
import ssl
import subprocess
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from upstand_api.app import create_app
from upstand_api.cli.server import make_server
from upstand_api.settings import Settings

README = (Path(__file__).parents[2] / "README.md").read_text(encoding="utf-8")
NEEDS_OPENSSL = pytest.mark.skipif(shutil.which("openssl") is None, reason="no openssl here")
NEEDS_NGINX = pytest.mark.skipif(shutil.which("nginx") is None, reason="no nginx here")


def block(kind: str) -> str:
    found = re.search(rf"```{kind}\n(.*?)\n```", README, flags=re.S)
    assert found is not None
    return found[1]


def free_port() -> int:
    with socket.socket() as tried:
        tried.bind(("127.0.0.1", 0))
        port: int = tried.getsockname()[1]
        return port


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("https")
    subprocess.run(["sh", "-euc", block("bash")], cwd=folder, check=True, capture_output=True)
    return folder


@NEEDS_OPENSSL
def test_the_certificate_is_good_for_the_name_and_for_nothing_else(made: Path) -> None:
    ask = ["openssl", "verify", "-CAfile", "office.crt", "-verify_hostname"]
    good = subprocess.run([*ask, "roofs.lan", "roofs.crt"], cwd=made, capture_output=True)
    assert good.returncode == 0
    other = subprocess.run([*ask, "elsewhere.lan", "roofs.crt"], cwd=made, capture_output=True)
    assert other.returncode != 0


@pytest.fixture
def port(made: Path, tmp_path: Path) -> Iterator[int]:
    """An nginx by the README's lines, on ports of its own, before an app with a handbook."""
    handbook = tmp_path / "handbook"
    handbook.mkdir()
    page = "<!doctype html><title>x</title>" + "<p>roof</p>" * 500
    (handbook / "index.html").write_text(page, "utf-8")
    app = create_app(Settings(handbook=handbook, proxies=1, requests_per_minute=3))
    server = make_server(app, "127.0.0.1", 0, 8, 1)
    threading.Thread(target=server.run, daemon=True).start()
    port = free_port()
    lines = block("nginx").replace("/etc/upstand", str(made)).replace("443", f"127.0.0.1:{port}")
    lines = lines.replace("127.0.0.1:8000", f"127.0.0.1:{server.effective_port}")
    conf = tmp_path / "nginx.conf"
    conf.write_text(
        f"daemon off; pid {tmp_path}/pid; error_log {tmp_path}/errors;\n"
        f"events {{}}\nhttp {{ access_log off; client_body_temp_path {tmp_path}/body;\n"
        f"proxy_temp_path {tmp_path}/proxy;\n{lines}\n}}\n",
        "utf-8",
    )
    nginx = subprocess.Popen(["nginx", "-e", f"{tmp_path}/errors", "-c", str(conf)])
    try:
        until = time.monotonic() + 10
        while time.monotonic() < until:
            with socket.socket() as tried:
                if tried.connect_ex(("127.0.0.1", port)) == 0:
                    break
            time.sleep(0.05)
        yield port
    finally:
        nginx.terminate()
        nginx.wait(10)
        server.close()


@NEEDS_OPENSSL
@NEEDS_NGINX
def test_a_phone_that_trusts_the_office_reads_it_and_the_rate_counts_the_api_alone(
    made: Path, port: int
) -> None:
    trusting = ssl.create_default_context(cafile=str(made / "office.crt"))

    def ask(path: str, sender: str = "192.0.2.1") -> http.client.HTTPResponse:
        line = http.client.HTTPSConnection("127.0.0.1", port, timeout=10)
        raw = socket.create_connection(("127.0.0.1", port), timeout=10)
        line.sock = trusting.wrap_socket(raw, server_hostname="roofs.lan")
        line.request("GET", path, headers={"Host": "roofs.lan", "Accept-Encoding": "gzip"})
        return line.getresponse()

    # a page of the handbook as often as one likes: only the API is counted
    for _ in range(8):
        assert ask("/handbook/").status == 200
    assert [ask("/v1/editions").status for _ in range(4)] == [200, 200, 200, 429]
    assert ask("/handbook/").status == 200
