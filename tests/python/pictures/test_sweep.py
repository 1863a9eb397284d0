"""Sweeps: curves, maps and scatters are the data set's; designs without an answer are hatched and told."""

import numpy as np
import pytest

import armwright as aw
from armwright import pictures
from armwright.errors import InputError
from armwright.pictures.sweep import _trend
from cases import sample_results as sample
from cases.designs import held_at, level_cell

UPPER = "arm.links[upper arm].length"
TORQUE = "arm.joints[axis 3].torque_continuous"
FAR = "payload at far"


def words(ax):
    return " | ".join(text.get_text() for text in ax.texts)


def named(ax, gid):
    return [artist for artist in (*ax.lines, *ax.patches, *ax.collections) if artist.get_gid() == gid]


def lines_of(ax, gid):
    return [np.array(line.get_xydata(), dtype=float) for line in named(ax, gid)]


@pytest.fixture(scope="module")
def one():
    return level_cell().sweep({UPPER: [0.3, 0.55, 0.6]}, [aw.ask.payload("far"), aw.ask.served()])


@pytest.fixture(scope="module")
def two():
    return level_cell().sweep({UPPER: [0.3, 0.55, 0.6], TORQUE: [50.0, 60.0]}, aw.ask.payload("far"))


@pytest.fixture(scope="module")
def cube():
    numbers = {UPPER: (0.45, 0.6), TORQUE: (50.0, 60.0)}
    return level_cell().sweep(numbers, aw.ask.payload("far"), design="latin hypercube", samples=24)


def test_one_number_is_a_curve_an_answer(one):
    first, second = pictures.sweep(one)
    ((short, held, longest),) = lines_of(first, "curve")
    assert short[0] == 0.3 and np.isnan(short[1])
    # by the law of cosines
    assert held == pytest.approx([0.55, held_at(1.0, upper=0.55)])
    assert longest == pytest.approx([0.6, held_at(1.0)])
    assert lines_of(first, "best") == [pytest.approx(np.array([longest if longest[1] > held[1] else held]))]
    (hatched,) = named(first, "no answer")
    assert hatched.get_hatch() and hatched.get_x() < 0.3 < hatched.get_x() + hatched.get_width() < 0.55
    assert "no answer in 1 of 3: far: out of reach by 200 mm" in words(first).replace("\n", " ")
    assert first.get_title(loc="left") == f"{FAR} (kg)" and first.get_xlabel() == "upper arm: length (m)"
    assert not named(second, "no answer") and second.get_title(loc="left") == "points served"
    assert np.array_equal(lines_of(second, "curve")[0][:, 1], one["value"].sel(answer="points served"))


def test_pounds_and_inches(one):
    ax = pictures.sweep(one, units="us")[0]
    assert ax.get_xlabel() == "upper arm: length (in)" and "(lb)" in ax.get_title(loc="left")
    assert lines_of(ax, "curve")[0][2] == pytest.approx([0.6 / 0.0254, held_at(1.0) / 0.45359237])


def test_two_numbers_are_a_map(two):
    (ax,) = pictures.sweep(two)
    (mesh,) = named(ax, "map")
    drawn = np.ma.filled(mesh.get_array().astype(float), np.nan).reshape(2, 3)
    assert drawn == pytest.approx(two["value"].values[:, :, 0].T, nan_ok=True)
    assert ax.get_xlabel() == "upper arm: length (m)" and ax.get_ylabel() == "axis 3: torque continuous (N·m)"
    assert len(named(ax, "no answer")) == 2 and all(patch.get_hatch() for patch in named(ax, "no answer"))
    assert "no answer in 2 of 6" in words(ax)
    at = np.unravel_index(np.nanargmax(two["value"].values[:, :, 0]), (3, 2))
    ((best,),) = lines_of(ax, "best")
    assert best == pytest.approx([two[UPPER].values[at[0]], two[TORQUE].values[at[1]]])


def test_a_hypercube_is_scattered_with_its_trend(cube):
    first, second = pictures.sweep(cube)
    for ax, number in ((first, UPPER), (second, TORQUE)):
        (designs,) = lines_of(ax, "designs")
        known = np.isfinite(cube["value"].values[:, 0])
        assert designs == pytest.approx(np.stack([cube[number].values, cube["value"].values[:, 0]], axis=1)[known])
        (trend,) = lines_of(ax, "trend")
        order = np.argsort(designs[:, 0])
        groups = np.array_split(designs[order], len(trend))
        assert trend == pytest.approx(np.array([group.mean(axis=0) for group in groups]))
    assert first.get_ylim() == second.get_ylim()
    assert "the trend" in words(first)


def test_three_numbers_are_scattered_too_and_crosses_have_no_answer():
    numbers = {UPPER: [0.3, 0.6], TORQUE: [50.0, 60.0], "arm.links[forearm].mass": [3.0, 4.0]}
    dataset = level_cell().sweep(numbers, aw.ask.payload("far"))
    axes = pictures.sweep(dataset)
    assert len(axes) == 3
    (crosses,) = lines_of(axes[0], "no answer")
    assert np.array_equal(crosses[:, 0], [0.3] * 4)
    (trend,) = lines_of(axes[2], "trend")
    mean = dataset["value"].mean([UPPER, TORQUE, "answer"])
    assert trend == pytest.approx(np.stack([mean["arm.links[forearm].mass"], mean], axis=1))


def test_a_trend_is_the_mean_of_groups():
    at, values = np.arange(48.0), 3 * np.arange(48.0) + 1
    x, y = _trend(at, values)
    assert x.size == 8 and y == pytest.approx(3 * x + 1)
    x, y = _trend(np.array([1.0, 2.0, 1.0]), np.array([5.0, 7.0, 9.0]))
    assert list(x) == [1, 2] and list(y) == [7, 7]


def test_less_can_be_better_and_all_alike(one):
    less = one.isel(answer=[0]).assign_coords(answer_better=("answer", ["less"], one["answer_better"].attrs))
    (ax,) = pictures.sweep(less)
    assert lines_of(ax, "best")[0][0, 1] == pytest.approx(np.nanmin(one["value"].values[:, 0]))
    alike = one.isel(answer=[0]).copy(deep=True)
    alike["value"].values[:] = 2.0
    (ax,) = pictures.sweep(alike)
    assert not named(ax, "best") and "2 kg in every design" in words(ax)
    none = one.isel(answer=[0]).copy(deep=True)
    none["value"].values[:, 0] = np.nan, np.nan, np.inf
    (ax,) = pictures.sweep(none)
    assert len(named(ax, "no answer")) == 3 and "without limit in 1 of 3" in words(ax)
    ax.figure.draw_without_rendering()


def test_axes_are_given_back_and_others_refused(one, ax):
    assert pictures.sweep(one.isel(answer=[0]), axes=[ax]) == [ax]
    with pytest.raises(InputError, match="one for each answer"):
        pictures.sweep(one, axes=[ax])
    with pytest.raises(InputError, match="a result of sweep"):
        pictures.sweep(sample.reach_map(0.5))
    studied = level_cell().sweep({TORQUE: [50.0, 60.0]}, study="check_targets")
    with pytest.raises(InputError, match="a sweep of check_targets, expected a sweep of answers"):
        pictures.sweep(studied)
