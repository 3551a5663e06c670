"""What was done already, as the verdict reads it: a window missed stops work, the unknown asks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from upstand.edition import Edition
from upstand.stages.since import Standing
from upstand.verdict.model import Reason
from upstand.words.model import Sentence

FACTS = (Sentence("since-fact-ended"), Sentence("since-fact-weather"))


def standing_reasons(standings: Iterable[Standing], edition: Edition) -> Iterator[Reason]:
    """Give a reason for each thing that can't simply be gone on from."""
    for standing in standings:
        name = standing.done.activity
        if standing.product is not None:
            name += f"/{standing.product.id}"
        said = standing.say(edition)
        differs = () if standing.product is None else (standing.product.path,)
        if standing.state in ("no-now", "later"):
            clears = Sentence("since-clear-now")
            yield Reason(f"since/{name}", "ask", said, clears, "crew-lead", FACTS, differs)
        elif standing.state == "ask" or (standing.state == "missed" and not standing.again):
            clears = Sentence("since-clear-maker")
            yield Reason(f"since/{name}", "ask", said, clears, "product-maker", FACTS, differs)
        elif standing.state == "missed":
            clears = Sentence("since-clear-missed", {"again": standing.to_do(edition)})
            yield Reason(f"since/{name}", "hold", said, clears, differs=differs)
