import numpy as np

from armwright import _core
from armwright.studies.carried import by_load, load_row, load_table


def load(mass: float) -> _core.model.Inertia:
    return _core.model.Inertia(mass, np.array([0.1, 0.2, mass]), np.diag([1.0, 2.0, 3.0]))


def test_every_row_is_answered_with_its_own_load():
    rows = load_table([load(2.0), load(5.0)], [1, -1, 0, 1])
    assert rows.shape == (4, 13)
    assert rows[:, 0].tolist() == [5.0, 0.0, 2.0, 5.0]
    asked = []

    def answer(carried, at):
        asked.append(carried.mass)
        return np.array([[carried.mass, carried.centre[2], carried.tensor[1, 1], row] for row in at])

    found = by_load(rows, answer)
    assert sorted(asked) == [0.0, 2.0, 5.0]  # each load once
    assert found[:, 0].tolist() == [5.0, 0.0, 2.0, 5.0]
    assert found[:, 1].tolist() == [5.0, 0.0, 2.0, 5.0]
    assert found[:, 2].tolist() == [2.0, 0.0, 2.0, 2.0]
    assert found[:, 3].tolist() == [0, 1, 2, 3]


def test_no_rows():
    assert by_load(load_table([load(1.0)], []), lambda carried, at: np.zeros((len(at), 2))).size == 0


def test_a_row_holds_the_whole_load():
    assert load_row(load(3.0)).tolist() == [3.0, 0.1, 0.2, 3.0, 1.0, 0, 0, 0, 2.0, 0, 0, 0, 3.0]
