"""Changes: bars are the data set's gains, in order, told apart without colour."""

import numpy as np
import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from armwright.pictures.changes import short_name
from cases import sample_results as sample
from cases.designs import level_cell

TORQUE = "arm.joints[axis 3].torque_continuous"


@pytest.fixture(scope="module")
def dataset():
    others = [
        aw.Alternative({TORQUE: 56}, 100, "stronger"), aw.Alternative({TORQUE: 50}, 10, "weaker"),
        aw.Alternative({"arm.links[upper arm].length": 0.3}, 1, "short"),
        aw.Alternative({"arm.links[hand].mass": 0.0}, 1, "same"),
    ]  # fmt: skip
    return level_cell().changes(None, others, [aw.ask.payload("far"), aw.ask.served()], currency="EUR")


def bars(ax):
    return {patch.get_gid(): patch.get_width() for patch in ax.patches if patch.get_gid()}


def words(ax):
    return " | ".join(text.get_text() for text in ax.texts)


def test_gains_in_order(dataset):
    ax = pictures.changes(dataset)
    drawn = bars(ax)
    gains = dataset.gain.sel(answer="payload at far").to_series()
    told = gains[gains > 0].sort_values(ascending=False)
    assert list(drawn) == list(told.index) and list(drawn.values()) == pytest.approx(list(told))
    labels = [label.get_text() for label in ax.get_yticklabels()]
    assert labels[0] == short_name(told.index[0]) == "axis 3: torque continuous"
    assert "5.5 N·m more" in words(ax) and "0.3 kg less" in words(ax)
    hatched = {patch.get_gid(): bool(patch.get_hatch()) for patch in ax.patches if patch.get_gid()}
    ways = dataset.better_way.sel(answer="payload at far")
    assert all(hatched[name] == (ways.sel(number=name).item() == "less") for name in hatched)
    assert ax.get_xlabel() == "gain in payload at far (kg)"
    assert ax.get_ylim()[0] > ax.get_ylim()[1]  # the first at the top


def test_pounds(dataset):
    ax = pictures.changes(dataset, units="us")
    assert "lb" in ax.get_xlabel()
    assert max(bars(ax).values()) == pytest.approx(float(dataset.gain.sel(answer="payload at far").max()) / 0.45359237)


def test_alternatives_by_rank(dataset):
    ax = pictures.alternatives(dataset)
    drawn = bars(ax)
    gain = dataset.alternative_gain.sel(answer="payload at far")
    assert set(drawn) == {"stronger", "weaker"}
    for name, width in drawn.items():
        assert width == pytest.approx(float(gain.sel(alternative=name)))
    said = words(ax)
    assert "for 100 EUR" in said and "far: out of reach" in said and "1 others change nothing" in said
    labels = [label.get_text() for label in ax.get_yticklabels()]
    assert labels == ["stronger", "weaker", "short"]
    hatches = {patch.get_gid(): patch.get_hatch() for patch in ax.patches if patch.get_gid()}
    assert hatches["weaker"] and not hatches["stronger"]


def test_nothing_gained_and_nothing_told(dataset):
    assert "gains anything" in words(pictures.changes(dataset, answer="points served"))
    bare = level_cell().changes("load.mass", (), aw.ask.payload("far"))
    assert "no alternatives were told" in words(pictures.alternatives(bare))


def test_axes_are_given_back_and_others_refused(dataset, ax):
    assert pictures.changes(dataset, ax=ax) is ax and pictures.alternatives(dataset, ax=ax) is ax
    with pytest.raises(InputError, match="a result of changes"):
        pictures.changes(sample.reach_map(0.5))
    with pytest.raises(InputError, match="one of payload at far"):
        pictures.alternatives(dataset, answer="payload")


def test_names_are_short():
    told = {
        "arm.joints[axis 2].drive.stages[gear].ratio": "axis 2, gear: ratio",
        "arm.joints[axis 2].drive.motor.peak": "axis 2: motor peak", "arm.links[upper arm].length": "upper arm: length",
        "track.stroke": "track stroke", "tool.mass": "tool mass", "arm.base_link.length": "arm base link length",
    }  # fmt: skip
    assert {path: short_name(path) for path in told} == told
    assert np.all([short_name(path) for path in told])
