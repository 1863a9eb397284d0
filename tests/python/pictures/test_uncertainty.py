"""Bands: bars and lines are the data set's, a row an answer."""

import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from cases import sample_results as sample
from cases.designs import level_cell

MASS = "arm.links[forearm].mass"


@pytest.fixture(scope="module")
def dataset():
    return level_cell().uncertainty([aw.ask.payload("far"), aw.ask.served()], {MASS: "10 %"}, samples=16)


def bars(ax):
    drawn = [patch for patch in ax.patches if patch.get_gid()]
    return {patch.get_gid(): (patch.get_x(), patch.get_x() + patch.get_width()) for patch in drawn}


def words(ax):
    return " | ".join(text.get_text() for text in ax.texts)


def test_bands_are_the_datasets(dataset):
    first, second = pictures.uncertainty(dataset)
    for way in ("linear", "sampled"):
        ends = [float(dataset[f"{way}_{end}"][0]) for end in ("low", "high")]
        assert bars(first)[way] == pytest.approx(ends)
    lines = {line.get_gid(): line.get_xdata()[0] for line in first.lines}
    assert lines["median"] == pytest.approx(float(dataset.sampled_middle[0]))
    assert lines["described"] == pytest.approx(float(dataset.answer_value[0]))
    assert first.get_title(loc="left") == "payload at far (kg)" and "forearm: mass 100 %" in words(first)
    assert "linear" not in bars(second) and "a count goes in whole steps" in words(second)
    assert "the whole range" in words(second)
    low, high = first.get_xlim()
    assert low < min(bars(first)["linear"]) and high > max(bars(first)["linear"])


def test_pounds_and_no_samples(dataset):
    bare = level_cell().uncertainty(aw.ask.payload("far"), {MASS: "10 %"}, samples=0)
    (ax,) = pictures.uncertainty(bare, units="us")
    assert list(bars(ax)) == ["linear"]
    assert bars(ax)["linear"][0] == pytest.approx(float(bare.linear_low[0]) / 0.45359237)


def test_axes_are_given_back_and_others_refused(dataset, ax):
    one = dataset.isel(answer=[0])
    assert pictures.uncertainty(one, axes=[ax]) == [ax]
    with pytest.raises(InputError, match="one for each answer"):
        pictures.uncertainty(dataset, axes=[ax])
    with pytest.raises(InputError, match="a result of uncertainty"):
        pictures.uncertainty(sample.reach_map(0.5))
