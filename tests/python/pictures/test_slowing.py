"""Payload against cycle time: the curves are the data set's, and what is too fast carries nothing."""

import numpy as np
import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from cases import sample_results as sample
from cases.driven_cells import driven_arm, swing
from cases.moving_cells import moving_cell

COURSES = {"mass": "mass", "peak": "mass_peak", "continuous": "mass_continuous"}


@pytest.fixture(scope="module")
def dataset():
    slowing = [0.6, 0.8, 1, 1.5, 2, 3, np.inf]
    return driven_arm().payload_against_time(swing(loads=aw.Load(2.0, (0.05, 0, 0.02))), slowing=slowing)


def line(ax, gid):
    return next(line for line in ax.lines if line.get_gid() == gid)


@pytest.mark.parametrize(("units", "factor"), [("si", 1), ("us", 1 / 0.45359237)])
def test_curves_are_the_datasets(dataset, units, factor):
    ax = pictures.payload_against_time(dataset, units=units)
    ends = np.isfinite(dataset.duration.values)
    for gid, name in COURSES.items():
        drawn = line(ax, gid)
        assert np.array_equal(drawn.get_xdata(), dataset.duration.values[ends])
        shown = np.where(dataset.mass.values[ends] > 0, dataset[name].values[ends] * factor, np.nan)
        assert np.allclose(drawn.get_ydata(), shown, equal_nan=True, rtol=1e-14)
    (x,), (y,) = line(ax, "as timed").get_data()
    assert x == pytest.approx(2.4) and y == pytest.approx(dataset.mass.sel(slowing=1).item() * factor)
    assert ax.get_xlabel() == "duration of the cycle (s)"
    assert ax.get_ylabel() == f"greatest load ({'kg' if units == 'si' else 'lb'})"


def test_what_gives_out_first_is_named_at_the_curve(dataset):
    said = [text.get_text() for text in pictures.payload_against_time(dataset).texts]
    ends = np.isfinite(dataset.duration.values) & (dataset.mass.values > 0)
    joints, parts = dataset.limiting_joint.values[ends], dataset.limiting_part.values[ends]
    for joint, part in {(int(j), str(p)) for j, p in zip(joints, parts, strict=True)}:
        assert f"{dataset.joint_names.values[joint]}, {part}" in said
    assert "load as described, 2 kg" in said
    assert any("load centre (0.05, 0, 0.02) m" in words for words in said)


def test_what_is_too_fast_is_hatched_and_carries_nothing():
    cell = moving_cell()
    cycle = aw.Cycle((aw.JointMove("rack", via_approach=True), aw.PickUp(), aw.JointMove("kiln"), aw.SetDown()))
    result = cell.payload_against_time(cycle, slowing=[0.7, 0.9, 1.01, 2])
    assert (result.mass.values[:2] == 0).all()  # a joint would pass its limit
    ax = pictures.payload_against_time(result)
    (patch,) = [patch for patch in ax.patches if patch.get_gid() == "too fast"]
    assert patch.get_extents().transformed(ax.transData.inverted()).x1 == pytest.approx(result.duration.item(1))
    for gid in COURSES:
        assert np.isnan(line(ax, gid).get_ydata()).tolist() == [True, True, False, False]
    assert "too fast" in [text.get_text() for text in ax.texts]


def test_nothing_too_fast_is_not_hatched(dataset):
    slow = dataset.sel(slowing=[1.5, 2, 3, np.inf])
    ax = pictures.payload_against_time(slow)
    assert not ax.patches and "as timed" not in [drawn.get_gid() for drawn in ax.lines]


def test_other_results_are_refused_and_axes_given_back(dataset, ax):
    assert pictures.payload_against_time(dataset, ax=ax) is ax
    with pytest.raises(InputError, match="a result of payload_against_time"):
        pictures.payload_against_time(sample.payload_map(0.5))
