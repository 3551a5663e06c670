"""From the need of one detail to what is bought for all, and what is left over.

Each holds for volumes, areas and lengths alike: what goes in and what comes out have one unit.
"""

from __future__ import annotations

from upstand.formulas.language.constants import ALL_OF_IT
from upstand.formulas.language.units_of import Amount, Count, Gallons, Percent


def scaled(amount: Amount, count: Count) -> Amount:
    """Amount for a number of equal things.

    >>> scaled(144, 4)
    576
    """
    return amount * count


def with_allowance(need: Amount, allowance: Percent) -> Amount:
    """Amount to have ready: the need, and an allowance for offcuts and what stays in the pail.

    >>> with_allowance(2, 50)
    3.0
    """
    return need * (1 + allowance / ALL_OF_IT)


def without_allowance(amount: Amount, allowance: Percent) -> Amount:
    """What of an amount reaches the roof: the allowance stays on tools and in the pail.

    >>> without_allowance(3, 50)
    2.0
    """
    return amount / (1 + allowance / ALL_OF_IT)


def leftover(opened: Amount, need: Amount) -> Amount:
    """What is left of what was opened; below 0 where it doesn't suffice.

    >>> leftover(1, 0.75)
    0.25
    """
    return opened - need


def short_of(wanted: Amount, found: Amount) -> Amount:
    """What lacks, 0 where there is enough.

    >>> short_of(40, 38), short_of(40, 45)
    (2, 0)
    """
    return wanted - min(wanted, found)


def in_one_mix(ready: Gallons, mixes: Count) -> Gallons:
    """What one mix has to hold, on an average.

    >>> in_one_mix(3, 12)
    0.25
    """
    return ready / mixes
