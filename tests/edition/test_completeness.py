"""The requirements are whole: every question ends in an answer or in a refusal by a named rule."""

from __future__ import annotations

from types import ModuleType

import pytest

from upstand.edition import load


def test_each_detail_with_each_substrate_roof_and_resin(completeness: ModuleType) -> None:
    edition = load(id="next")
    report = completeness.ask_all(edition, completeness.cells(edition, whole=False), variants=True)
    assert report.missing == []
    assert all(rule.startswith(("/members", "/plates")) for rule in report.refused)
    # one text for many substrates would be none: each substrate with a preparation has its own
    prepared = {
        r.get("preparation")
        for r in edition.kind("substrates").values()
        if edition.has(str(r.get("preparation")))
    }
    assert len(report.preparations - {"[]"}) == len(prepared)
    assert len(report.orders) >= len(edition.kind("details"))


@pytest.mark.matrix
def test_the_whole_matrix(completeness: ModuleType) -> None:
    edition = load(id="next")
    report = completeness.ask_all(edition, completeness.cells(edition, whole=True))
    assert report.missing == []
