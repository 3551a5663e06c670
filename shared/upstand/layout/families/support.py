"""Layout of a support: a leg on its base plate, or a sleeper covered whole."""

from __future__ import annotations

from upstand.edition import Edition
from upstand.layout.families.upright import lay_out_upright
from upstand.layout.model import Layout
from upstand.query.defaults import Settled


def lay_out_support(settled: Settled, edition: Edition) -> Layout:
    """Lay out members as a post's, on base plates that are covered with them."""
    covered = settled.choices.get("top") == "covered"
    return lay_out_upright(settled, edition, base_plates=True, covered=covered)
