"""Pictures of what a track's blocks bear: bars and courses are the data set's."""

import numpy as np
import pytest

from armwright import pictures
from armwright.errors import InputError
from cases import sample_results as sample
from cases.railed_cells import both, guide, rows, swinging


@pytest.fixture(scope="module")
def dataset():
    moving = rows([[0.0, 0.0], [0.5, 1.0], [1.0, 3.0]], [0.5, 1.0], [0, 2.0], kind="cycle", duty=1.0)
    return swinging(guide()).track_loads(rows=both(rows([0.5, 0.0]), moving, rows([0.5, 2.0], [0, 5.0], kind="stop")))


def test_bars_are_the_greatest_of_every_kind(dataset):
    ax = pictures.block_loads(dataset)
    for case, kind in enumerate(("rest", "cycle", "stop")):
        drawn = [bar.get_width() for bar in ax.patches if bar.get_gid() == kind]
        np.testing.assert_allclose(drawn, dataset.case_load.values[case])
    (allowed,) = (line for line in ax.lines if line.get_gid() == "allowed")
    assert allowed.get_xdata()[0] == pytest.approx(30e3 / 2)
    assert [label.get_text() for label in ax.get_yticklabels()] == list(dataset.block.values)
    assert any("lifted off" in text.get_text() for text in ax.texts)


def test_us_units(dataset):
    ax = pictures.block_loads(dataset, units="us")
    drawn = [bar.get_width() for bar in ax.patches if bar.get_gid() == "stop"]
    np.testing.assert_allclose(drawn, dataset.case_load.values[2] / 4.4482216152605)
    (allowed,) = (line for line in ax.lines if line.get_gid() == "allowed")
    assert allowed.get_xdata()[0] == pytest.approx(30e3 / 2 / 4.4482216152605)
    assert ax.get_xlabel() == "equivalent load (lbf)"
    course = pictures.block_course(dataset, units="us")
    (line,) = (line for line in course.lines if line.get_gid() == dataset.block.values[0])
    np.testing.assert_allclose(line.get_ydata(), dataset.radial.values[:, 0] / 4.4482216152605)


def test_courses_are_the_loads(dataset):
    ax = pictures.block_course(dataset)
    for b, name in enumerate(dataset.block.values):
        (line,) = (line for line in ax.lines if line.get_gid() == name)
        np.testing.assert_array_equal(line.get_ydata(), dataset.radial.values[:, b])
        np.testing.assert_array_equal(line.get_xdata(), dataset.time.values)


def test_other_results_are_refused():
    for picture in (pictures.block_loads, pictures.block_course):
        with pytest.raises(InputError, match="a result of track_loads"):
            picture(sample.clearance())
    with pytest.raises(InputError, match="guide is told"):
        pictures.block_loads(swinging().track_loads(rows=rows([0.5, 0.0])))
    with pytest.raises(InputError, match="with a cycle"):
        pictures.block_course(swinging(guide()).track_loads(rows=rows([0.5, 0.0])))
