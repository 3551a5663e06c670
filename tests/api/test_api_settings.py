"""Settings from the environment: defaults for all, and clear words about what can't be used."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest

from upstand_api.admission import Gate, Rate
from upstand_api.http.problems import Problem
from upstand_api.settings import Settings, SettingsFault


def test_nothing_needs_to_be_set() -> None:
    assert Settings.from_environment({}) == Settings()


def test_everything_can_be_set() -> None:
    held = Settings.from_environment(
        {
            "UPSTAND_SPECDATA": "/d",
            "UPSTAND_BASE_URL": "http://roofs.example:8080/up/",
            "UPSTAND_OVERLAYS": "/o",
            "UPSTAND_OVERLAYS_PUBLIC": "1",
            "UPSTAND_KEYS": "/k",
            "UPSTAND_CACHE": "/c",
            "UPSTAND_HANDBOOK": "/h",
            "UPSTAND_MAX_IN_FLIGHT": "3",
            "UPSTAND_REQUESTS_PER_MINUTE": "60",
            "UPSTAND_PROXIES": "2",
        }
    )
    assert held == Settings(
        Path("/d"),
        "http://roofs.example:8080/up",
        Path("/o"),
        True,
        Path("/k"),
        Path("/c"),
        Path("/h"),
        3,
        60,
        2,
    )
    assert held.cache_folder() == Path("/c")


@pytest.mark.parametrize(
    ("name", "text", "accepted"),
    [
        ("UPSTAND_BASE_URL", "roofs.example", "https://roofs.example"),
        ("UPSTAND_BASE_URL", "ftp://roofs.example", "https://roofs.example"),
        ("UPSTAND_BASE_URL", "https://roofs.example/?a=1", "https://roofs.example"),
        ("UPSTAND_BASE_URL", "https://me@roofs.example", "https://roofs.example"),
        ("UPSTAND_BASE_URL", "https://roofs.example/<b>", "https://roofs.example"),
        ("UPSTAND_BASE_URL", "https://[x", "https://roofs.example"),
        ("UPSTAND_OVERLAYS_PUBLIC", "yes", "1 or 0"),
        ("UPSTAND_MAX_IN_FLIGHT", "0", "from 1"),
        ("UPSTAND_MAX_IN_FLIGHT", "many", "whole number"),
        ("UPSTAND_REQUESTS_PER_MINUTE", "-1", "from 0"),
        ("UPSTAND_PROXIES", "10", "from 0 to 9"),
    ],
)
def test_what_cannot_be_used_is_named_with_what_can(name: str, text: str, accepted: str) -> None:
    with pytest.raises(SettingsFault) as caught:
        Settings.from_environment({name: text})
    assert str(caught.value).startswith(name)
    assert accepted in str(caught.value)


def test_a_bucket_fills_evenly() -> None:
    rate = Rate(60)  # one a second, sixty at once
    for _ in range(60):
        rate.take("a", 0.0)
    with pytest.raises(Problem) as caught:
        rate.take("a", 0.5)
    assert caught.value.status == 429
    assert caught.value.headers["Retry-After"] == "1"
    rate.take("a", 1.6)
    rate.take("b", 1.6)


def test_addresses_are_forgotten_rather_than_kept_without_end() -> None:
    rate = Rate(1)
    for number in range(rate.MOST_ADDRESSES + 5):
        rate.take(str(number), 0.0)
    assert len(rate._buckets) == rate.MOST_ADDRESSES
    rate.take("0", 0.0)  # the oldest was dropped and starts anew


def test_no_limit_unless_one_is_set() -> None:
    rate = Rate(0)
    for _ in range(1000):
        rate.take("a")


def test_the_gate_lets_so_many_in_and_the_next_when_one_leaves() -> None:
    gate = Gate(2, wait_s=5.0)
    entered = threading.Event()

    def wait_inside() -> None:
        with gate.inside():
            entered.set()

    with gate.inside():
        waiting = threading.Thread(target=wait_inside, daemon=True)
        waiting.start()
        assert not entered.wait(0.05)
    assert entered.wait(2.0)
    waiting.join(2.0)
    with pytest.raises(RuntimeError), gate.inside():
        raise RuntimeError
    with gate.inside():
        pass
