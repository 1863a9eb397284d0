"""Surfaces of marching cubes, held to closed forms and checked by trimesh."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra import numpy as made

from armwright.report.isosurface import Surface, surface

measure = pytest.importorskip("skimage.measure")


def mesh_of(found: Surface | None) -> trimesh.Trimesh:
    assert found is not None
    return trimesh.Trimesh(found.vertices, found.faces, process=False)


def ball(step: float) -> tuple[tuple[np.ndarray, np.ndarray, np.ndarray], np.ndarray]:
    axis = np.arange(-1.5, 1.5 + step / 2, step)
    return (axis, axis + 1, axis - 2), np.sqrt(sum(x**2 for x in np.meshgrid(axis, axis, axis, indexing="ij")))


def test_a_ball() -> None:
    """A value that falls evenly from the middle is exact along the axes, and the flat triangles between lack what goes
    with the square of the step; where the value stops (NaN) it is known to half a step only."""
    whole = 4 / 3 * np.pi
    lacking = []
    for step in (0.1, 0.05):
        axes, radius = ball(step)
        mesh = mesh_of(surface(axes, 2 - radius, 1.0, step=step, measure=measure))
        assert mesh.is_watertight and mesh.is_winding_consistent
        lacking.append(1 - mesh.volume / whole)
    assert 0 < lacking[0] < 0.01 and lacking[0] / lacking[1] == pytest.approx(4, rel=0.1)
    axes, radius = ball(0.1)
    mesh = mesh_of(surface(axes, 2 - radius, 1.0, step=0.1, measure=measure))
    np.testing.assert_allclose(mesh.bounds, [[-1, 0, -3], [1, 2, -1]], atol=0.005)
    stops = mesh_of(surface(axes, np.where(radius <= 1, 1.0, np.nan), None, step=0.1, measure=measure))
    assert stops.is_watertight and stops.volume == pytest.approx(whole, rel=0.03)
    normals = surface(axes, 2 - radius, 1.0, step=0.1, measure=measure).normals
    outward = np.sum(normals * (mesh.vertices - [0, 1, -2]), axis=1)
    assert (outward > 0.9).all()


def test_a_box_that_fills_the_map_goes_half_a_step_beyond_it() -> None:
    axes = (np.arange(4.0), np.arange(3.0), np.array([5.0]))
    mesh = mesh_of(surface(axes, np.ones((4, 3, 1)), None, step=0.5, measure=measure))
    assert mesh.is_watertight
    np.testing.assert_allclose(mesh.bounds, [[-0.5, -0.5, 4.75], [3.5, 2.5, 5.25]], atol=1e-6)


def test_values_are_those_just_inside() -> None:
    values = np.full((3, 3, 3), np.nan)
    values[1, 1, 1] = 7.0
    found = surface((np.arange(3.0),) * 3, values, 5.0, step=1.0, measure=measure)
    assert found is not None and len(found.vertices) == 6 and (found.values == 7).all()
    np.testing.assert_allclose(np.linalg.norm(found.vertices - 1, axis=1), 0.5, atol=1e-6)


def test_nothing_there() -> None:
    values = np.array([[[1.0, np.nan]]])
    assert surface((np.zeros(1), np.zeros(1), np.arange(2.0)), values, 2.0, step=1.0, measure=measure) is None


@settings(max_examples=60, deadline=None)
@given(
    values=made.arrays(np.float64, st.tuples(*[st.integers(1, 5)] * 3),
                       elements=st.sampled_from([np.nan, np.inf, 0.0, 1.0, 1.0 + 1e-12, 2.0, 1e9]) | st.floats(0, 3)),
    threshold=st.none() | st.sampled_from([0.0, 1.0, 1.5]),
)  # fmt: skip
def test_whatever_the_values_the_surface_is_closed_and_turned_outward(
    values: np.ndarray, threshold: float | None
) -> None:
    axes = tuple(np.arange(n) * 0.25 for n in values.shape)
    found = surface(axes, values, threshold, step=0.25, measure=measure)  # type: ignore[arg-type]
    inside = ~np.isnan(values) & (True if threshold is None else np.nan_to_num(values, nan=-1) >= threshold)
    assert (found is None) == (not inside.any())
    if found is None:
        return
    mesh = mesh_of(found)
    assert np.isfinite(found.vertices).all() and mesh.is_watertight and mesh.is_winding_consistent
    assert 0 < mesh.volume <= inside.sum() * 8 * 0.25**3
    assert not np.isnan(found.values).any()
