"""What no cutting plan can beat: by area, and by pieces of which no two lie side by side."""

from __future__ import annotations

from collections.abc import Sequence
from math import inf

from upstand.cutting.model import NOISE, Roll


def lower_bounds(
    kinds: Sequence[tuple[float, float, bool]], counts: Sequence[int], rolls: Sequence[Roll]
) -> tuple[float, float]:
    """Bound the length [in] and the area of roll [in²] from below."""
    asked = [(kind, count) for kind, count in zip(kinds, counts, strict=True) if count]
    if not asked or not rolls:
        return 0.0, 0.0
    widest = max(roll.width for roll in rolls)
    narrowest = min(roll.width for roll in rolls)
    area = sum(kind[0] * kind[1] * count for kind, count in asked)
    alone, longest = 0.0, 0.0
    for (width, length, turn), count in asked:
        ways = [(width, length), (length, width)] if turn else [(width, length)]
        ways = [(across, along) for across, along in ways if across <= widest + NOISE]
        least = min((along for _, along in ways), default=inf)
        longest = max(longest, least)
        if all(across > widest / 2.0 + NOISE for across, _ in ways):
            alone += least * count
    length_bound = max(area / widest, alone, longest)
    return length_bound, max(area, length_bound * narrowest if len(rolls) == 1 else area)
