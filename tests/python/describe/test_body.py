from __future__ import annotations

import numpy as np
import numpy.typing
import pytest

from armwright.describe.body import check_inertia, joined, moved_body, take_inertia
from armwright.describe.pose import make_pose, turn_about
from armwright.errors import InputError


def test_forms_of_an_inertia() -> None:
    assert (take_inertia("i", (1, 2, 2.5)) == np.diag((1, 2, 2.5))).all()
    six = take_inertia("i", (1, 2, 2.5, 0.1, 0.2, 0.3))
    assert (six == [[1, 0.1, 0.2], [0.1, 2, 0.3], [0.2, 0.3, 2.5]]).all()
    assert (take_inertia("i", six) == six).all()
    assert take_inertia("i", ["10000 g*cm^2"] * 3) == pytest.approx(np.eye(3) * 1e-3)
    assert (take_inertia("i", None) == 0).all()


@pytest.mark.parametrize(
    ("value", "said"),
    [
        ((1, 1, 5), "principal moments 1, 1, 5 kg m², expected moments of 0 or more, none larger"),
        ((-1, 1, 1), "principal moments -1, 1, 1"),
        ((1, 2), "3 \\(xx, yy, zz\\)"),
        ([[1, 2, 0], [0, 1, 0], [0, 0, 1]], "symmetric"),
        ((1, 1, float("nan")), "finite"),
        ("heavy", "3 \\(xx, yy, zz\\)"),
    ],
)
def test_inertias_refused(value: object, said: str) -> None:
    with pytest.raises(InputError, match=said):
        take_inertia("inertia", value)


def test_a_plate_is_taken() -> None:
    check_inertia("i", np.diag((1.0, 1.0, 2.0)))


def test_two_halves_of_a_rod_make_the_rod() -> None:
    """m l²/12, the closed form of a slender rod."""

    def rod(mass: float, length: float) -> np.typing.NDArray[np.float64]:
        return np.diag((0, mass * length**2 / 12, mass * length**2 / 12))

    half = (1.0, np.zeros(3), rod(1, 0.5))
    turned = make_pose(turn_about((0, 0, 1), np.pi), (0.25, 0, 0))
    mass, centre, tensor = joined([moved_body(turned, half), moved_body(make_pose(None, (-0.25, 0, 0)), half)])
    assert mass == 2
    assert centre == pytest.approx(np.zeros(3), abs=1e-15)
    assert tensor == pytest.approx(rod(2, 1), abs=1e-15)


def test_nothing_joined() -> None:
    assert joined([])[0] == 0
