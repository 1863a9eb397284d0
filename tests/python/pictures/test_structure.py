"""Pictures of sag: what is drawn is the data sets' numbers."""

import numpy as np
import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from cases.elastic_arms import elastic_arm

INCH = 0.0254


@pytest.fixture(scope="module")
def cell():
    return elastic_arm(targets=(aw.Target((0.7, 0, 0.2), "bench"), aw.Target((9.0, 0, 0), "nowhere")))


@pytest.fixture(scope="module")
def over_reach(cell):
    return cell.sag_over_reach(0.25, directions=["down", "x"])


def words(ax):
    return "\n".join(text.get_text() for text in ax.texts)


@pytest.mark.parametrize(("units", "small", "length"), [("si", 1e-3, 1.0), ("us", INCH, INCH)])
def test_the_map_is_the_sag(over_reach, units, small, length):
    ax = pictures.sag_over_reach(over_reach, units=units)
    (mesh,) = [item for item in ax.collections if item.get_gid() == "sag"]
    drawn = np.ma.filled(mesh.get_array(), np.nan).reshape(over_reach.sag_greatest.shape)
    assert drawn * small == pytest.approx(over_reach.sag_greatest.values, nan_ok=True)
    (worst,) = [line for line in ax.lines if line.get_gid() == "worst"]
    row, column = np.unravel_index(int(np.nanargmax(over_reach.sag_greatest.values)), over_reach.sag_greatest.shape)
    assert worst.get_xdata()[0] * length == pytest.approx(float(over_reach.distance[column]))
    assert worst.get_ydata()[0] * length == pytest.approx(float(over_reach.height[row]))
    assert "most " in words(ax) and ("5 kg" in words(ax) or "11 lb" in words(ax))


def test_bars_are_the_shares(cell):
    sag = cell.sag()
    ax = pictures.sag_causes(sag)
    bars = {patch.get_gid(): patch.get_width() for patch in ax.patches if patch.get_gid()}
    assert bars
    for name, width in bars.items():
        share = float(sag.cause_share.sel(cause=name)[0])
        assert width == pytest.approx(1000 * share * float(sag.sag_size[0]))
    assert sum(bars.values()) == pytest.approx(1000 * float(sag.sag_size[0]), rel=0.02)
    assert "bench" in words(ax)
    labels = [label.get_text() for label in ax.get_yticklabels()]
    assert labels == sorted(labels, key=lambda name: -abs(float(sag.cause_share.sel(cause=name)[0])))


def test_a_share_that_rounds_to_nothing_is_told_as_little_or_not_at_all(cell):
    found = cell.sag(np.zeros(6))
    known = np.zeros(found.cause_share.shape)
    known[..., :3] = [0.9959, 0.004, -3e-5]
    ax = pictures.sag_causes(found.assign(cause_share=(found.cause_share.dims, known, found.cause_share.attrs)))
    assert [text.get_text() for text in ax.texts if "%" in text.get_text()] == ["100 %", "under 1 %"]


def test_a_posture_that_is_missing_and_one_that_is_asked_for(cell):
    sag = cell.sag()
    assert "no posture" in words(pictures.sag_causes(sag, posture=1))
    with pytest.raises(InputError, match="posture"):
        pictures.sag_causes(sag, posture=2)


def test_other_results_are_refused(over_reach, cell):
    with pytest.raises(InputError, match="a result of sag"):
        pictures.sag_causes(over_reach)
    with pytest.raises(InputError, match="a result of sag_over_reach"):
        pictures.sag_over_reach(cell.sag())
    with pytest.raises(InputError, match="variable"):
        pictures.sag_over_reach(over_reach, variable="q")


def test_axes_that_are_given_are_used(over_reach, cell, ax):
    assert pictures.sag_over_reach(over_reach, variable="sag_least", ax=ax) is ax
