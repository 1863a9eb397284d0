"""The price of speed in pictures: what is drawn is the data set's, on one scale."""

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from armwright.pictures import payload_at_speed, payload_at_speed_curve
from cases import sample_results as sample
from cases.moving_arms import driven


@pytest.fixture(scope="module")
def dataset():
    cell = aw.Cell(driven())
    return cell.payload_at_speed("120 mm", tool_acceleration=1.5, speed_share=0.3, attitude="down", spins=1,
                                 bounds=((-0.2, -0.1, -1.2), (1.2, 0.1, 1.2)))


def meshes(axes):
    return [next(c for c in ax.collections if type(c).__name__ == "QuadMesh") for ax in axes]


def test_one_scale_and_the_datasets_masses(dataset):
    axes = payload_at_speed(dataset)
    left, right = meshes(axes)
    assert left.get_clim() == right.get_clim() and left.get_clim()[0] == 0
    assert left.get_cmap().name == right.get_cmap().name
    for mesh, name in ((left, "rest_mass_greatest"), (right, "mass_greatest")):
        plane = dataset[name].sel(y=0, method="nearest").transpose("z", "x").values
        assert np.allclose(mesh.get_array().compressed(), plane[~np.isnan(plane)], rtol=1e-15)
    assert axes[0].get_xlim() == axes[1].get_xlim() and axes[0].get_ylim() == axes[1].get_ylim()
    words = " ".join(t.get_text() for ax in axes for t in ax.texts)
    assert "tool 1.5 m/s² any way, 30 % of joint speeds" in words and "load centre (0, 0, 0) m" in words
    assert "axis 2, motor 2" in words


def test_where_the_arm_cannot_move_itself_is_hatched(dataset):
    _, right = payload_at_speed(dataset)
    plane = dataset["mass_greatest"].sel(y=0, method="nearest").values
    hatched = [c for c in right.collections if c.get_gid() == "nothing"]
    assert (plane == 0).any()
    assert len(hatched) == 1 and len(hatched[0].get_paths()) == int((plane == 0).sum())
    assert any("hatched" in t.get_text() for t in right.texts)


@pytest.mark.parametrize(("units", "length", "mass"), [("si", 1, 1), ("us", 1 / 0.0254, 1 / 0.45359237)])
def test_curves_are_the_datasets(dataset, units, length, mass):
    ax = payload_at_speed_curve(dataset, units=units)
    for gid, name in (("at rest", "rest_curve_mass_any_height"), ("in motion", "curve_mass_any_height")):
        (line,) = [line for line in ax.lines if line.get_gid() == gid]
        assert np.allclose(line.get_xdata(), dataset.distance.values * length)
        assert np.allclose(line.get_ydata(), dataset[name].values * mass, equal_nan=True)
    assert {t.get_text() for t in ax.get_legend().get_texts()} == {"at rest", "in motion"}


def test_nothing_reached_still_draws(dataset):
    empty = dataset.copy(deep=True)
    for name, variable in empty.data_vars.items():
        if variable.attrs["units"] == "kg":
            empty[name].values[:] = np.nan
    payload_at_speed(empty)[0].figure.draw_without_rendering()
    ax = payload_at_speed_curve(empty)
    assert "nothing is reached" in [t.get_text() for t in ax.texts]


def test_other_results_and_wrong_axes_are_refused(dataset, ax):
    for draw in (payload_at_speed, payload_at_speed_curve):
        with pytest.raises(InputError, match="payload_at_speed"):
            draw(sample.payload_map(0.5))
    with pytest.raises(InputError, match="two axes"):
        payload_at_speed(dataset, axes=[ax])


def test_a_folder_gets_both_pictures(dataset, tmp_path):
    from armwright.report import write_result

    names = {path.name for path in write_result(dataset, tmp_path)}
    assert {"payload_at_speed.nc", "payload_at_speed.png", "payload_at_speed_against_reach.png"} <= names
