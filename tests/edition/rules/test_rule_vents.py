"""A tube is closed only where vents in use are excepted; the check that does is accepted."""

from __future__ import annotations

from collections.abc import Callable

EXPECTED = [
    "tools/grinder.yaml: use.en: has an open tube closed, and does not say that a vent in use "
    "stays open (found Cap the open tube before.) [vents] -> say that vents, flues and drains in "
    "use are never closed",
]


def test_vents(told: Callable[..., list[str]]) -> None:
    assert told("vents") == EXPECTED
