"""Footprints against areas known in closed form."""

import numpy as np
import pytest

from armwright.pictures.silhouette import footprint, top
from armwright.results import Solid
from cases.sample_results import pose


def _area(polygon):
    x, y = polygon.T
    return abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2


CIRCLE = 48 / 2 * np.sin(2 * np.pi / 48)  # area of the 48-sided polygon in the unit circle


@pytest.mark.parametrize(("solid", "area", "height"), [
    (Solid("box", "b", "fixture", pose(1, 2, 3), size=(2, 3, 4)), 6, 5),
    (Solid("box", "b", "fixture", pose(turn="x", angle=np.pi / 2), size=(2, 3, 4)), 8, 1.5),
    (Solid("box", "b", "fixture", pose(turn="y", angle=np.pi / 4), size=(1, 1, 1)), np.sqrt(2), np.sqrt(0.5)),
    (Solid("sphere", "s", "fixture", pose(0, 0, 1), radius=0.5), 0.25 * CIRCLE, 1.5),
    (Solid("cylinder", "c", "fixture", radius=2, length=6), 4 * CIRCLE, 3),
    (Solid("cylinder", "c", "fixture", pose(turn="x", angle=np.pi / 2), radius=2, length=6), 24, 2),
    (Solid("capsule", "c", "fixture", pose(turn="x", angle=np.pi / 2), radius=1, length=3), np.pi + 6, 1),
    (Solid("capsule", "c", "fixture", radius=1, length=3), CIRCLE, 2.5),
])
def test_area_and_height(solid, area, height):
    (polygon,) = footprint(solid, np.eye(4))
    assert np.isclose(_area(polygon), area, rtol=0.004)
    assert np.isclose(top(solid, np.eye(4)), height)


def test_the_links_frame_counts():
    solid = Solid("box", "b", "link", pose(1, 0, 0), size=(1, 1, 1))
    (polygon,) = footprint(solid, pose(0, 0, 5, "z", np.pi / 2))
    assert np.allclose(polygon.mean(axis=0), (0, 1)) and np.isclose(top(solid, pose(0, 0, 5)), 5.5)


def test_mesh_gives_its_triangles_and_a_half_space_nothing():
    corners = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 1]], float)
    mesh = Solid("mesh", "m", "fixture", vertices=corners, triangles=[[0, 1, 2]])
    (triangle,) = footprint(mesh, np.eye(4))
    assert np.isclose(_area(triangle), 0.5) and top(mesh, np.eye(4)) == 1
    assert footprint(Solid("half_space", "floor", "fixture"), np.eye(4)) == []
