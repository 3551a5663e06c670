"""Questions of a day on a roof: the verdict that the trade expects, written down beforehand."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml

from upstand.answer import answer
from upstand.edition import Edition
from upstand.query import QueryFaults, read_requirements

ASKED = yaml.safe_load(
    Path(__file__).with_name("everyday_questions.yaml").read_text(encoding="utf-8")
)
#: What a question is about where it does not say: a square tube of steel through EPDM.
USUAL: dict[str, Any] = {
    "detail": "post",
    "roof": "epdm",
    "members": [
        {
            "section": "tube",
            "width": "4 in",
            "depth": "4 in",
            "thickness": "1/4 in",
            "substrate": "carbon-steel",
        }
    ],
}


def body(question: dict[str, Any]) -> dict[str, Any]:
    asked = {**USUAL, **question["ask"]}
    if question["ask"].get("detail", "post") != "post" and "members" not in question["ask"]:
        del asked["members"]
    if "now" in question:
        asked["now"] = ASKED["fair"] if question["now"] == "fair" else question["now"]
    return asked


@pytest.mark.parametrize("question", ASKED["questions"], ids=lambda q: q["name"])
def test_the_verdict_is_the_trade_s(question: dict[str, Any], edition: Edition) -> None:
    if "refused" in question:
        with pytest.raises(QueryFaults) as refused:
            answer(read_requirements(body(question), edition), edition)
        assert question["refused"] in [fault.pointer for fault in refused.value.faults]
        return
    verdict = answer(read_requirements(body(question), edition), edition).verdict
    assert verdict.state == question["state"], [reason.id for reason in verdict.reasons]
    told = " ".join(reason.id for reason in verdict.reasons)
    assert all(word in told for word in question.get("because", ())), told
    ticks = " ".join(tick.id for tick in verdict.confirm)
    assert all(word in ticks for word in question.get("confirm", ())), ticks
