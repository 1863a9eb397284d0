"""Bolts of a base: what is drawn is the data set's numbers."""

import numpy as np
import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from cases.bases import TILTED, square, studied


@pytest.fixture(scope="module")
def dataset():
    return studied(aw.Base(square(), plate=(0.5, 0.5)), (300, 400, *TILTED[2:]), ("stop",))


def part(ax, gid):
    return next(artist for artist in ax.get_children() if artist.get_gid() == gid)


@pytest.mark.parametrize(("units", "length", "force", "said"), [
    ("si", 1000, 1, ("5250 N", "5000 N·m")), ("us", 1 / 0.0254, 1 / 4.4482216152605, ("1180 lbf", "3688 lbf·ft")),
])  # fmt: skip
def test_bolts_plate_and_shear(dataset, units, length, force, said):
    ax = pictures.bolt_pattern(dataset, units=units)
    bolts = part(ax, "bolts")
    assert np.allclose(bolts.get_offsets(), dataset.bolt_position.values * length)
    assert np.allclose(bolts.get_array(), dataset.worst_pull.values * force)
    assert np.allclose(part(ax, "plate").get_xy()[:4], dataset.plate.values * length)
    arrows = part(ax, "shear")
    assert np.allclose([arrows.U, arrows.V], dataset.worst_shear.values.T * force)
    assert np.allclose(arrows.U, 75 * force)
    words = [text.get_text() for text in ax.texts]
    assert any(f"bolt 3\n{said[0]}" in text for text in words)
    assert any(said[1] in text for text in words)
    tilt = part(ax, "tilt")
    assert tilt.xy[1] < 0 and abs(tilt.xy[0]) < 1e-9, "a positive moment about x presses the plate down at -y"


def test_a_picture_on_given_axes_and_of_the_wrong_result(dataset):
    import matplotlib.pyplot as plt

    ax = plt.figure().subplots()
    assert pictures.bolt_pattern(dataset, ax=ax) is ax
    with pytest.raises(InputError, match="a base with bolts"):
        pictures.bolt_pattern(studied(None, TILTED))


def test_unknown_tension_is_said_so():
    lone = aw.Base(aw.BoltPattern(positions=((0.0, 0.1), (0.0, -0.1))))
    ax = pictures.bolt_pattern(studied(lone, (0, 0, 0, 0, 50, 0)))
    assert sum("not known" in text.get_text() for text in ax.texts) == 2
    assert "no method can tell" in part(ax, "note").get_text()
