"""The order in which figures stand; the rest of the file is what test_part_loads.py holds to each study."""

from __future__ import annotations

import math

from armwright.studies.part_figures import Figure, sorted_keys


def test_groups_then_parts_then_as_they_come() -> None:
    a, b = Figure("bolt", "bolt 1", "tension", "N"), Figure("bearing", "near", "radial load", "N")
    c, d = Figure("bolt", "bolt 2", "tension", "N"), Figure("bolt", "bolt 1", "shear", "N")
    life = Figure("bearing", "near", "life", "s")
    keys = sorted_keys({"rest": [a, b, c], "cycle": [d, a, life]})
    assert keys == [b.key, life.key, a.key, d.key, c.key]
    assert math.isnan(a.value) and math.isnan(a.wanted)
