"""The payload pictures: masses, contours in kg, regions named by joint, curves."""

import numpy as np
import pytest

from armwright.errors import InputError
from armwright.pictures import payload_curve, payload_section
from armwright.pictures.slices import without_islands
from cases import sample_results as sample


def test_regions_are_outlined_and_named():
    dataset = sample.payload_map(0.05)
    ax = payload_section(dataset)
    plane = dataset.sel(y=0, method="nearest")
    joints = np.unique(plane.limiting_joint.values[~np.isnan(plane.mass_greatest.values)])
    names = {str(dataset.joint_names.values[j]) for j in joints}
    assert len(names) == 3
    written = [text.get_text() for text in ax.texts]
    assert names <= set(written) and "axis 1" not in written
    (regions,) = [c for c in ax.collections if c.get_gid() == "regions"]
    codes = np.where(np.isnan(plane.mass_greatest.values), -1, plane.limiting_joint.values)
    codes = without_islands(codes.T, 12).T
    assert len(regions.get_segments()) == sum(np.count_nonzero(np.diff(codes, axis=a)) for a in (0, 1))


def test_names_and_masses_do_not_run_into_each_other():
    ax = payload_section(sample.payload_map(0.05))
    ax.figure.draw_without_rendering()
    boxes = [t.get_window_extent() for t in ax.texts if t.get_text().startswith("axis") or t.get_text().endswith(" kg")]
    assert len(boxes) > 5
    assert not any(a.overlaps(b) for i, a in enumerate(boxes) for b in boxes[:i])


@pytest.mark.parametrize(("units", "name", "factor"), [("si", "kg", 1), ("us", "lb", 1 / 0.45359237)])
def test_masses_are_shown_in_kg_or_pounds(units, name, factor):
    dataset = sample.payload_map()
    ax = payload_section(dataset, units=units)
    assert any(text.get_text().endswith(f" {name}") for text in ax.texts)
    mesh = next(c for c in ax.collections if type(c).__name__ == "QuadMesh")
    plane = dataset.mass_greatest.sel(y=0, method="nearest").transpose("z", "x").values
    assert np.allclose(mesh.get_array().compressed(), plane[~np.isnan(plane)] * factor, rtol=1e-15)


@pytest.mark.parametrize("draw", [payload_section, payload_curve])
def test_every_mass_states_its_load_centre_and_limit(draw):
    ax = draw(sample.payload_map())
    words = " ".join(text.get_text() for text in ax.texts)
    assert "load centre (0, 0, 0.06) m" in words and "continuous torque" in words and "attitude any" in words


@pytest.mark.parametrize(("units", "length", "mass"), [("si", 1, 1), ("us", 1 / 0.0254, 1 / 0.45359237)])
def test_curves_are_the_datasets(units, length, mass):
    dataset = sample.payload_map(0.5)
    ax = payload_curve(dataset, units=units)
    faint = [line for line in ax.lines if line.get_gid() == "height"]
    (bold,) = [line for line in ax.lines if line.get_gid() == "any height"]
    heights = dataset.curve_mass.values
    reached = heights[np.isfinite(heights).any(axis=1)]
    assert len(faint) == min(len(reached), 8)
    assert all(bold.get_linewidth() > 2 * line.get_linewidth() for line in faint)
    assert np.allclose(bold.get_xdata(), dataset.distance.values * length)
    assert np.allclose(bold.get_ydata(), dataset.curve_mass_any_height.values * mass, equal_nan=True)
    drawn = [line.get_ydata() for line in faint]
    for end, line in ((0, drawn[0]), (-1, drawn[-1])):  # the lowest and the highest height are among them
        assert np.allclose(line, reached[end] * mass, equal_nan=True)
    assert all(any(np.allclose(line, one * mass, equal_nan=True) for one in reached) for line in drawn)


def test_nothing_reached_still_draws():
    dataset = sample.payload_map(0.5)
    for name in ("mass_greatest", "mass_least", "curve_mass", "curve_mass_any_height"):
        dataset[name].values[:] = np.nan
    payload_section(dataset).figure.draw_without_rendering()
    ax = payload_curve(dataset)
    assert "nothing is reached" in [text.get_text() for text in ax.texts]


def test_unlimited_masses_still_draw():
    dataset = sample.payload_map(0.5)
    dataset["mass_greatest"].values[~np.isnan(dataset["mass_greatest"].values)] = np.inf
    dataset["curve_mass_any_height"].values[:] = np.inf
    payload_section(dataset).figure.draw_without_rendering()
    payload_curve(dataset).figure.draw_without_rendering()


def test_other_results_are_refused():
    for draw in (payload_section, payload_curve):
        with pytest.raises(InputError, match="a result of payload_map"):
            draw(sample.reach_map(0.5))
