from __future__ import annotations

import copy
import pickle

import numpy as np
import pytest

import armwright as aw
from cases.driven_cells import swing

LOAD = aw.Load(2.0, (0.05, 0, 0.02))


@pytest.mark.parametrize(
    ("rows", "words"),
    [
        ({"time": [0, -1]}, "never fall"),
        ({"time": [0, 0]}, "two rows at least"),
        ({"qd": [[0], [5]]}, "belong together"),
        ({"q": [[0], [1]]}, "belong together"),
        ({"q": [[0, 0], [0, 0]]}, "the shape of q"),
        ({"q": [[0], [np.nan]]}, "finite"),
        ({"load": [0, 0]}, "-1 to -1"),
        ({"loads": [3]}, "a Load"),
    ],
)
def test_rows_that_make_no_motion_are_refused(rows: dict[str, object], words: str) -> None:
    told = {"time": [0, 1], "q": [[0], [0]], "qd": [[0], [0]], "qdd": [[0], [0]]} | rows
    with pytest.raises(aw.InputError, match=words):
        aw.TimedMotion(**told)  # type: ignore[arg-type]


def test_a_motion_keeps_through_pickle_and_copies() -> None:
    motion = swing(loads=LOAD)
    for again in (pickle.loads(pickle.dumps(motion)), copy.deepcopy(motion)):
        assert again.digest() == motion.digest()
    assert motion.carrying(aw.Load(1.0)).digest() != motion.digest()
    with pytest.raises(ValueError, match="read-only"):
        motion.q[0] = 1
