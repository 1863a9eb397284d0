"""Sections show the grid's own numbers, cell by cell, and nothing where nothing is reached."""

import numpy as np
import pytest

from armwright.errors import InputError
from armwright.pictures import section
from cases import sample_results as sample


def _mesh(ax):
    return next(c for c in ax.collections if type(c).__name__ == "QuadMesh")


def _marks(ax, gid):
    return [line for line in ax.lines if line.get_gid() == gid]


@pytest.mark.parametrize(
    ("cut", "dims"), [({"y": 0.0}, ("z", "x")), ({"x": 0.52}, ("z", "y")), ({"z": 0.6}, ("y", "x"))])
def test_cells_carry_the_datasets_numbers(cut, dims):
    dataset = sample.reach_map()
    plane = dataset.sel(cut, method="nearest").transpose(*dims)
    mesh = _mesh(section(dataset, **cut))
    shown = mesh.get_array()
    assert np.array_equal(np.ma.getmaskarray(shown), ~plane.reachable.values)
    assert np.array_equal(shown.compressed(), plane.reach_index.values[plane.reachable.values])


def test_cells_have_their_true_size_and_place():
    dataset = sample.reach_map()
    corners = _mesh(section(dataset)).get_coordinates()
    assert np.allclose(np.diff(corners[0, :, 0]), 0.1) and np.allclose(np.diff(corners[:, 0, 1]), 0.1)
    assert np.isclose(corners[0, 0, 0], dataset.x.values[0] - 0.05)
    assert section(dataset).get_aspect() == 1


def test_us_units_are_the_defined_inch():
    corners = _mesh(section(sample.reach_map(), units="us")).get_coordinates()
    assert np.allclose(np.diff(corners[0, :, 0]), 0.1 / 0.0254)


def test_the_scale_is_the_whole_maps_not_the_sections():
    dataset = sample.reach_map()
    low, high = _mesh(section(dataset, variable="clearance", z=1.6)).get_clim()
    assert (low, high) == (float(dataset.clearance.min()), float(dataset.clearance.max()))
    assert _mesh(section(dataset)).get_clim() == (0, 1)


def test_base_is_marked_full_in_its_plane_and_hollow_off_it():
    dataset = sample.reach_map()
    (inside,), (off,) = _marks(section(dataset), "base"), _marks(section(dataset, y=0.9), "base")
    assert inside.get_xydata().tolist() == [[0, 0]] and inside.get_markerfacecolor() != "white"
    assert off.get_markerfacecolor() == "white"
    (moved,) = _marks(section(dataset, base=(0.3, 0, 0.2)), "base")
    assert moved.get_xydata().tolist() == [[0.3, 0.2]]
    del dataset.attrs["base_position"]
    assert _marks(section(dataset), "base") == []


def test_track_is_drawn_from_end_to_end():
    dataset = sample.reach_map(0.5)
    dataset.attrs["track_span"] = [-0.5, 0.0, 0.0, 0.5, 0.0, 0.0]
    (track,) = _marks(section(dataset, z=0.5), "track")
    assert track.get_xydata().tolist() == [[-0.5, 0], [0.5, 0]]


def test_the_rim_goes_round_every_reached_cell():
    dataset = sample.reach_map()
    ax = section(dataset, z=0.6)
    reached = dataset.reachable.sel(z=0.6, method="nearest").transpose("y", "x").values
    padded = np.pad(reached, 1)
    sides = sum(int(np.count_nonzero(np.diff(padded.astype(int), axis=axis))) for axis in (0, 1))
    (rim,) = [c for c in ax.collections if c.get_gid() == "rim"]
    assert len(rim.get_segments()) == sides  # this region lies wholly inside the grid


def test_the_rim_is_open_where_the_grid_ends():
    dataset = sample.reach_map().isel(x=slice(20, 28), y=slice(10, 20), z=slice(8, 12))
    dataset["reachable"].values[:] = True
    (rim,) = [c for c in section(dataset, y=-0.2).collections if c.get_gid() == "rim"]
    assert rim.get_segments() == []


def test_nothing_reached_and_a_single_plane_still_draw():
    dataset = sample.reach_map(0.5)
    dataset["reachable"].values[:] = False
    assert _mesh(section(dataset)).get_array().count() == 0
    assert _mesh(section(sample.reach_map(0.5).isel(y=[3]), y=0)) is not None


@pytest.mark.parametrize(("arguments", "words"), [
    ({"y": 9.0}, "a place on the grid"), ({"y": 0.0, "x": 0.0}, "one of x, y and z"),
    ({"y": float("nan")}, "a place on the grid"), ({"variable": "reach"}, "one of reach_index"),
])
def test_refused(arguments, words):
    with pytest.raises(InputError, match=words):
        section(sample.reach_map(0.5), **arguments)
    with pytest.raises(InputError, match="a result of reach_map or payload_map"):
        section(sample.check_targets())
