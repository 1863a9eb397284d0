"""As drawn, the centre of gravity hangs straight below the eye, and all is turned about the eye alone."""

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from cases import sample_results as sample
from cases.true_cells import POSTURE, weighed_arm


@pytest.fixture(scope="module")
def cell():
    return aw.Cell.from_description(weighed_arm())


@pytest.fixture(scope="module")
def dataset(cell):
    return cell.lifting(POSTURE)


def place(ax, gid):
    (line,) = [line for line in ax.lines if line.get_gid() == gid]
    return np.array([line.get_xdata()[0], line.get_ydata()[0]])


def points(ax, gid):
    (found,) = [item for item in ax.collections if item.get_gid() == gid]
    return np.concatenate([path.vertices for path in found.get_paths()])


@pytest.mark.parametrize("level", [False, True])
def test_the_centre_is_below_the_eye(dataset, cell, level):
    ax = pictures.hanging(dataset, cell.scene(POSTURE), level=level)
    eye, centre = place(ax, "eye"), place(ax, "centre of gravity")
    prefix = "level_" if level else ""
    row = dataset.isel(eye=0)
    own = row.level_centre.values if level else row.centre.values
    assert centre[0] == pytest.approx(eye[0], abs=1e-5) and centre[1] < eye[1]
    assert np.linalg.norm(centre - eye) == pytest.approx(np.linalg.norm(own - row[f"{prefix}eye_point"].values))
    (plumb,) = [line for line in ax.lines if line.get_gid() == "plumb line"]
    assert plumb.get_xdata()[0] == pytest.approx(eye[0])


def test_the_arm_is_turned_about_the_eye_by_the_tilt(dataset, cell):
    ax = pictures.hanging(dataset, cell.scene(), eye="foot eye")
    upright, turned, eye = points(ax, "upright"), points(ax, "hanging"), place(ax, "eye")
    np.testing.assert_allclose(np.linalg.norm(upright - eye, axis=1), np.linalg.norm(turned - eye, axis=1), atol=1e-9)
    a, b = (np.arctan2(*(part[0] - eye)[::-1]) for part in (upright, turned))
    tilt = float(dataset.tilt.sel(eye="foot eye"))
    assert np.angle(np.exp(1j * (a - b))) == pytest.approx(tilt, abs=1e-9)  # clockwise: the right side goes down
    note = next(text for text in ax.texts if text.get_gid() == "note").get_text()
    assert "in the posture asked about" in note


def test_on_a_track_the_same_is_drawn(cell):
    described = replace(weighed_arm(), track=aw.Track("x", "1 m"))
    moved = aw.Cell.from_description(described)
    q = np.array([0.3, *POSTURE])
    a = pictures.hanging(moved.lifting(q), moved.scene(q))
    b = pictures.hanging(cell.lifting(POSTURE), cell.scene(POSTURE))
    np.testing.assert_allclose(points(a, "hanging"), points(b, "hanging"), atol=1e-9)


def test_what_cannot_be_drawn_is_refused(dataset, cell):
    with pytest.raises(InputError, match="lifting"):
        pictures.hanging(sample.reach_map(), cell.scene())
    with pytest.raises(InputError, match="foot eye"):
        pictures.hanging(dataset, cell.scene(), eye="nowhere")
    with pytest.raises(InputError, match="scene"):
        pictures.hanging(dataset, sample.scene())
