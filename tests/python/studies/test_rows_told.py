"""What is told beside figures, each line once; where an extreme stands."""

from __future__ import annotations

import numpy as np

from armwright.studies.rows_told import Told, placed
from cases.railed_cells import both, rows


def test_lines_stand_once_and_in_order() -> None:
    told = Told(["b is not told"], [])
    told.missing += ["a is not told", "b is not told"]
    assert told.attributes == {"missing": "b is not told\na is not told", "warnings": ""}


def test_an_extreme_has_its_case_and_time() -> None:
    made = both(rows([[0.0, 0.0], [0.1, 0.0]]), rows([[0.2, 0.0], [0.3, 0.0]], kind="stop"))
    found = placed(made, {"force": [3, -1, 0]})
    np.testing.assert_array_equal(found["force_case"], [1, -1, 0])
    np.testing.assert_array_equal(found["force_time"], [0.1, np.nan, 0.0])
