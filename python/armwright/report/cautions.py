"""The cautions that go with every result."""

from __future__ import annotations

cautions = (
    "A result is a calculation from what was typed in; it is as good as those figures.",
    "An untested arm moves with enough force to kill: keep out of its range, guard it, start at reduced speed.",
    "Test brakes and hard stops before anyone stands near. Hoist only with rated gear.",
    "Supply, protective earth, fusing and stop circuits: to local codes, by those licensed for them.",
    "A risk assessment to the machinery standards comes before first use.",
)
"""Short sentences, in the order in which they matter."""


def caution_line() -> str:
    """All of them in a line, as it stands under a result.

    >>> report.caution_line()[:39]
    'Caution: A result is a calculation from'
    """
    return "Caution: " + " ".join(cautions)
