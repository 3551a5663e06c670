"""What one mix can lay: minutes of the work, minutes a mix leaves, mixes for all of it.

Plans are made in whole minutes: a task's minutes are rounded up, what a mix leaves is rounded down.
"""

from __future__ import annotations

from math import ceil, floor

from upstand.formulas.language.constants import HAIR, ONE_MINUTE
from upstand.formulas.language.units_of import Count, Minutes, SquareInches


def minutes_by_area(
    minutes: Minutes, area: SquareInches, up_to: SquareInches, portion: Count
) -> Minutes:
    """Minutes that one worker takes for an activity on one detail.

    Above the area the minutes grow in proportion, below it they don't shrink.

    >>> minutes_by_area(8, 720, 360, 1), minutes_by_area(8, 200, 360, 0.4)
    (16.0, 4.0)
    """
    return ceil(minutes * max(1, area / up_to) * portion / ONE_MINUTE - HAIR) * ONE_MINUTE


def minutes_shared(minutes: Minutes, parts: Count, workers: Count) -> Minutes:
    """Minutes that a task lasts on one part of a detail, with everyone who works on it.

    >>> minutes_shared(8, 1, 2), minutes_shared(35, 4, 1)
    (4.0, 9.0)
    """
    return ceil(minutes / (parts * workers) / ONE_MINUTE - HAIR) * ONE_MINUTE


def minutes_to_lay(usable: Minutes, mixing: Minutes) -> Minutes:
    """Whole minutes that are left of a mix when it has been mixed.

    >>> minutes_to_lay(20, 2), minutes_to_lay(5.44, 2)
    (18.0, 3.0)
    """
    return floor((usable - min(usable, mixing)) / ONE_MINUTE + HAIR) * ONE_MINUTE


def laid_in_time(left: Minutes, laying: Minutes) -> Count:
    """How many equal pieces of work one mix serves.

    Valid for laying above 0. What a mix serves it serves whole: base, fleece and top coat of one
    piece of work come from one mix.

    >>> laid_in_time(18, 7), laid_in_time(18, 18)
    (2, 1)
    """
    return floor(left / laying + HAIR)


def mixes_for(count: Count, parts: Count, served: Count) -> Count:
    """Mixes for a number of equal details.

    >>> mixes_for(12, 1, 2), mixes_for(3, 4, 1)
    (6, 12)
    """
    return ceil(count * parts / served - HAIR)


def days_of_work(minutes: Minutes, workers: Count, day: Minutes, around: Minutes) -> Count:
    """Days that a crew is on the roof at least, were there nothing to wait for.

    `around` is what each day begins and ends with: setting up and cleaning up.

    >>> days_of_work(5190, 2, 630, 30), days_of_work(600, 1, 630, 30)
    (5, 1)
    """
    return ceil(minutes / (workers * (day - around)) - HAIR)
