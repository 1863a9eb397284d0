"""Power of all axes: the areas stack to what is drawn from the bus and what returns."""

import numpy as np
import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from cases import sample_results as sample
from cases.driven_cells import driven_arm, supply, swing


@pytest.fixture(scope="module")
def dataset():
    return driven_arm().power(swing(loads=aw.Load(2.0)), supply())


def area(ax, gid):
    """The outline of one axis' area: its lower and its upper edge over time."""
    (path,) = next(c for c in ax.collections if c.get_gid() == gid).get_paths()
    return path.vertices


def level(ax, gid):
    return float(next(line for line in ax.lines if line.get_gid() == gid).get_ydata()[0])


def test_areas_stack(dataset):
    ax = pictures.power(dataset)
    each = dataset.axis_power.values
    for sign in (1, -1):
        floor = np.zeros(each.shape[0])
        for k, name in enumerate(dataset.joint.values):
            top = floor + sign * np.maximum(sign * each[:, k], 0)
            drawn = area(ax, f"{name} {sign:+d}")
            expected = {(t, y) for t, y in zip(dataset.time.values, top, strict=True)}
            assert expected <= {(t, y) for t, y in drawn}
            floor = top


def test_the_sum_and_the_levels_are_the_datasets(dataset):
    ax = pictures.power(dataset)
    total = next(line for line in ax.lines if line.get_gid() == "sum")
    assert np.array_equal(total.get_xdata(), dataset.time.values)
    assert np.array_equal(total.get_ydata(), dataset.electrical_power.values)
    assert level(ax, "rms") == dataset.attrs["electrical_rms"]
    # 80 % of 16 A at 230 V, power factor and efficiency 1, nothing stands by
    assert level(ax, "branch") == pytest.approx(0.8 * 16 * 230)
    words = " ".join(text.get_text() for text in ax.texts)
    assert f"peak {dataset.attrs['electrical_peak']:.0f} W" in words
    assert f"{dataset.attrs['returned_energy']:.0f} J return in a cycle" in words
    assert ax.get_xlabel() == "time (s)" and ax.get_ylabel() == "power from the bus (W)"


def test_every_axis_is_named_once_and_told_apart_without_colour(dataset):
    ax = pictures.power(dataset)
    said = [text.get_text() for text in ax.get_legend().get_texts()]
    assert [name for name in said if name.startswith("axis")] == list(dataset.joint.values)
    hatches = [c.get_hatch() for c in ax.collections if c.get_gid().endswith("+1")]
    assert len({hatch or "" for hatch in hatches}) == len(hatches)


def test_a_supply_without_a_branch_circuit_draws_no_limit(ax):
    result = driven_arm().power(swing(), supply(branch_current=None))
    assert "branch" not in [line.get_gid() for line in pictures.power(result, ax=ax).lines]


def test_other_results_are_refused_and_axes_given_back(dataset, ax):
    assert pictures.power(dataset, ax=ax) is ax
    with pytest.raises(InputError, match="a result of power"):
        pictures.power(sample.payload_map(0.5))
