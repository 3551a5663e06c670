"""Which way a change is: tightening is free, loosening is told."""

from __future__ import annotations

from typing import Any

import pytest

from upstand.edition.overlay.loosening import loosens

BASIS = {"basis": {"grade": "practice"}}


def of(**measure: Any) -> dict[str, Any]:
    return {**measure, **BASIS}


def stated(at: str, low: str | None, high: str, scales: str = "halves") -> dict[str, Any]:
    ends = {"low": low, "high": high} if low else {"high": high}
    return of(at=at, **ends, by="material", scales=scales, keep="shorter")


LOOSER: list[tuple[str, str, Any, Any]] = [
    ("limits", "at_least", of(value="8 in"), of(value="7 in")),
    ("checks", "acceptance", {"en": "Nothing moves."}, {"en": "Anything goes."}),
    ("substrates", "primer", "primers/metal-wood", "primers/thermoplastic"),
    ("substrates", "preparation", "preparations/a", "preparations/b"),
    ("primers", "coverage", of(value="150 ft^2/gal"), of(value="3000 ft^2/gal")),
    ("resins", "volume_solids", of(value="80 percent"), of(value="90 percent")),
    ("packs", "size", of(value="0.25 gal"), of(value="10 gal")),
    ("fleeces", "thickness", of(value="36 mil"), of(value="20 mil")),
    ("activities", "text", {"en": "Wipe."}, {"en": "Skip it."}),
    ("limits", "because", {"en": "A"}, {"en": "B"}),
    ("details", "not-a-field-yet", 1, 2),
    ("limits", "at_most", of(value="25 mph"), of(value="25.1 mph")),
    ("limits", "at_most", of(value="25 mph"), of(value="45 km/h")),  # 45 km/h is 28 mph
    ("limits", "under", of(value="30 percent"), of(value="40 percent")),
    ("limits", "at_least.0", of(value="5.4 delta_degF"), of(value="5 delta_degF")),
    ("limits", "at_least.0", of(value="5.4 delta_degF"), of(value="2.9 delta_degC")),
    ("parameters", "stricter", None, "less"),
    ("resins", "stops.0.unless", None, "cure"),
    ("resins", "dose", of(points=[{"at": "70 degF", "percent": 2}]), None),
    ("limits", "at_least.1", of(value="3 delta_degC"), of(value="2 delta_degC")),
    ("limits", "at_most", of(value="25 mph"), None),
    ("limits", "is", of(value=False), of(value=True)),
    ("limits", "of", "wind", "gap"),
    ("limits", "else", "refuse", "hold"),
    ("limits", "else", "hold", "ask"),
    ("limits", "else", "ask", "confirm"),
    ("limits", "missing", "ask", "confirm"),
    ("limits", "missing", "confirm", "skip"),
    ("parameters", "value", of(value="2 in"), of(value="1 in")),
    ("resins", "application", of(low="40 degF", high="90 degF"), of(low="35 degF", high="90 degF")),
    ("resins", "application", of(low="40 degF", high="90 degF"), of(low="40 degF", high="95 degF")),
    ("resins", "application", of(low="40 degF", high="90 degF"), of(low="40 degF")),
    ("resins", "humidity", of(low="30 percent"), None),
    ("resins", "film", of(low="90 mil", high="110 mil"), of(low="80 mil", high="110 mil")),
    ("resins", "layers.top_band", of(low="20 mil", high="30 mil"), of(low="20 mil", high="40 mil")),
    ("resins", "layers.base", of(value="40 mil"), of(value="39 mil")),
    ("resins", "max_pass", of(value="40 mil"), of(value="50 mil")),
    (
        "resins", "pot_life",
        stated("70 degF", "25 min", "30 min"),
        stated("70 degF", "25 min", "31 min"),
    ),
    # 25 min at 80 F is 25 * 2^(10/18) = 36.7 min at 70 F
    (
        "resins", "pot_life",
        stated("70 degF", "25 min", "30 min"),
        stated("80 degF", "25 min", "30 min"),
    ),
    ("resins", "cure", stated("70 degF", "2 h", "4 h"), stated("70 degF", "2 h", "3 h")),
    # 4 h at 60 F is 4 / 2^(10/18) = 2.7 h at 70 F
    ("resins", "cure", stated("70 degF", "4 h", "4 h"), stated("60 degF", "4 h", "4 h")),
    ("primers", "cover_within", stated("70 degF", None, "24 h"), stated("70 degF", None, "36 h")),
    ("primers", "cover_within", stated("70 degF", None, "24 h"), None),
    (
        "primers", "flash_off",
        stated("70 degF", "10 min", "60 min"),
        stated("70 degF", "5 min", "60 min"),
    ),
    (
        "resins", "pot_life",
        stated("70 degF", "9 min", "9 min"),
        stated("70 degF", "9 min", "9 min", "none"),
    ),
    (
        "resins", "watertight",
        stated("70 degF", "2 h", "4 h", "none"),
        stated("60 degF", "2 h", "4 h", "none"),
    ),
    ("resins", "whole_packs", True, False),
    ("primers", "keeps_open", False, True),
    ("primers", "coats", of(value=2), of(value=1)),
    ("substrates", "primer", "ask", "primers/metal-wood"),
    ("substrates", "primer", "primers/metal-wood", "none"),
    ("substrates", "preparation", "preparations/carbon-steel", "none"),
    ("substrates", "confirm", ["checks/a", "checks/b"], ["checks/a"]),
    ("details", "limits", ["limits/a"], []),
    ("details", "hazards.0", "silica", "dust"),
    ("details", "stops", [{"id": "a"}], None),
    ("details", "stops.0.state", "hold", "ask"),
    ("activities", "holds", [{"id": "a", "say": "x"}], [{"id": "a", "say": "y"}]),
    ("cautions", "severity", "danger", "care"),
    ("cautions", "when", [["hazard/a"], ["always"]], [["hazard/a"]]),
    ("cautions", "when", [["hazard/a"]], [["hazard/a", "activity/mix"]]),
    ("cautions", "say", {"en": "It burns."}, {"en": "It is warm."}),
]  # fmt: skip

FREE: list[tuple[str, str, Any, Any]] = [
    ("limits", "at_least", of(value="8 in"), of(value="9 in")),
    ("limits", "at_least", of(value="8 in"), of(value="203.2 mm")),  # the same height
    ("limits", "at_most", of(value="25 mph"), of(value="40 km/h")),  # 40 km/h is 24.9 mph
    ("limits", "at_least.0", of(value="5 delta_degF"), of(value="3 delta_degC")),
    ("resins", "dose", None, of(points=[{"at": "70 degF", "percent": 2}])),
    ("limits", "else", "ask", "hold"),
    ("limits", "missing", "skip", "ask"),
    ("parameters", "value", of(value="2 in"), of(value="3 in")),
    ("inputs", "example", "8 in", "10 in"),
    ("resins", "application", of(low="40 degF", high="90 degF"), of(low="45 degF", high="85 degF")),
    ("resins", "application", of(low="40 degF"), of(low="40 degF", high="85 degF")),
    ("resins", "humidity", None, of(low="40 percent")),
    ("resins", "layers.base", of(value="40 mil"), of(value="45 mil")),
    ("resins", "max_pass", None, of(value="40 mil")),
    (
        "resins", "pot_life",
        stated("70 degF", "25 min", "30 min"),
        stated("70 degF", "20 min", "30 min"),
    ),
    # 22 min at 73 F is 22 * 2^(3/18) = 24.7 min at 70 F
    (
        "resins", "pot_life",
        stated("70 degF", "25 min", "30 min"),
        stated("73 degF", "20 min", "22 min"),
    ),
    ("resins", "cure", stated("70 degF", "2 h", "4 h"), stated("70 degF", "3 h", "6 h")),
    ("resins", "recoat_within", None, stated("70 degF", None, "48 h")),
    # what is left of it is less, so more of it is laid
    ("resins", "volume_solids", of(value="90 percent"), of(value="80 percent")),
    ("resins", "hazards", ["solvent"], ["solvent", "sparks"]),
    ("primers", "coverage", of(value="150 ft^2/gal"), of(value="100 ft^2/gal")),
    ("substrates", "primer", "primers/a", "ask"),
    ("details", "checks", ["checks/a"], ["checks/a", "checks/b"]),
    ("packs", "name", {"en": "A"}, {"en": "B"}),
    ("primers", "note", None, {"en": "A"}),
    ("cautions", "severity", "care", "danger"),
    ("terms", "means", {"en": "A"}, {"en": "B"}),
]  # fmt: skip


@pytest.mark.parametrize(("kind", "path", "old", "new"), LOOSER)
def test_looser(kind: str, path: str, old: Any, new: Any) -> None:
    assert loosens(kind, path, old, new, {})


@pytest.mark.parametrize(("kind", "path", "old", "new"), FREE)
def test_free(kind: str, path: str, old: Any, new: Any) -> None:
    assert loosens(kind, path, old, new, {}) is None


def test_a_parameter_that_is_stricter_when_less() -> None:
    less = {"stricter": "less"}
    old, new = of(value="80 percent"), of(value="90 percent")
    assert loosens("parameters", "value", old, new, less) == "raises it"
    assert loosens("parameters", "value", new, old, less) is None
    assert loosens("parameters", "value", old, new, {"stricter": "neither"}) is None
    assert loosens("parameters", "value", new, old, {"stricter": "neither"}) is None


def test_a_table_of_times() -> None:
    def table(*rows: tuple[str, str, str]) -> dict[str, Any]:
        points = [{"at": at, "low": low, "high": high} for at, low, high in rows]
        return of(points=points, by="material", scales="table", keep="shorter")

    old = table(("50 degF", "20 min", "40 min"), ("70 degF", "10 min", "20 min"))
    shorter = table(("50 degF", "20 min", "30 min"), ("70 degF", "10 min", "15 min"))
    assert loosens("resins", "pot_life", old, shorter, {}) is None
    assert loosens("resins", "pot_life", shorter, old, {}) == "lengthens it"
    wider = table(("40 degF", "20 min", "40 min"), ("70 degF", "10 min", "20 min"))
    assert loosens("resins", "pot_life", old, wider, {}) == "changes the table's temperatures"
