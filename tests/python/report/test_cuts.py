"""Where maps are cut: through the base, square to the track at its middle, and where most is reached."""

from __future__ import annotations

import numpy as np
import xarray as xr

from armwright.report.cuts import richest, upright_cut


def grid(nx: int = 5, ny: int = 5, **attrs: object) -> xr.Dataset:
    coords = {"x": np.linspace(0, 4, nx), "y": np.linspace(-2, 2, ny), "z": np.array([0.0, 1.0, 2.0])}
    return xr.Dataset({"v": (("x", "y", "z"), np.zeros((nx, ny, 3)))}, coords, attrs)


def test_through_the_base_or_square_to_the_track() -> None:
    assert upright_cut(grid()) == (None, 0.0)
    assert upright_cut(grid(base_position=[0, 1.2, 0])) == (None, 1.0)
    assert upright_cut(grid(track_span=[0, 0, 0, 4.2, 0, 0])) == (2.0, None)
    assert upright_cut(grid(track_span=[1, -2, 0, 1, 1.8, 0])) == (None, 0.0)
    assert upright_cut(grid(ny=1, track_span=[0, 0, 0, 4, 0, 0])) == (None, -2.0)


def test_the_plane_with_most() -> None:
    made = grid()
    made["v"][:, :, 1] = 1.0
    assert richest(made["v"], "z") == 1.0
