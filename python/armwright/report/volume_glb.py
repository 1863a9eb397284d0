"""The region where a map's value is at least so much, as a GLB file: a closed surface with the value as its colour."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import numpy as np
import xarray as xr

from armwright.errors import InputError
from armwright.pictures.sections import MAPS, colour_range
from armwright.report.cautions import cautions
from armwright.report.glb import Y_UP, linear, write_glb
from armwright.report.isosurface import Surface, surface
from armwright.report.packages import package
from armwright.results import check_dataset
from armwright.results.units import shown
from armwright.results.whole_file import file_path

_GRID = ("x", "y", "z")
_FIRST = ("reach_index", "mass_greatest")  # what a map is of, if nothing else is asked


def volume_to_glb(
    dataset: xr.Dataset, path: str | os.PathLike[str], threshold: float | None = None, *, variable: str | None = None
) -> Path:
    """Writes the region of a map where ``variable`` is ``threshold`` or more, in the variable's unit (SI); without a
    threshold all that is reached.

    ``variable``: any number that the map gives at each position; by default the reach index, or the greatest mass. The
    surface is closed and runs between the positions of the map, so that it is as rough as they are far apart; its
    colours are the value of the position just inside. Metres, y up. ``extras`` tell variable, threshold, colour range
    and volume. Needs scikit-image: pip install armwright[export]. InputError where no position has so much.

    >>> reach = cell.reach_map("300 mm", directions=8, spins=1)
    >>> report.volume_to_glb(reach, "reach.glb", 0.5).name
    'reach.glb'
    """
    target = file_path(path, ".glb")
    found, name = volume_surface(dataset, threshold, variable=variable)
    import matplotlib as mpl
    import trimesh

    array = dataset[name]
    unit = str(array.attrs["units"])
    low, high = colour_range(array)
    colours = mpl.colormaps[MAPS.get(unit, "viridis")]
    seen = np.clip((np.nan_to_num(found.values, posinf=high) - low) / ((high - low) or 1.0), 0, 1)
    mesh = trimesh.Trimesh(
        found.vertices, found.faces, vertex_normals=found.normals, process=False,
        vertex_colors=np.round(255 * linear(colours(seen))).astype(np.uint8),
    )  # fmt: skip
    _ = mesh.vertex_normals  # so that they are written
    words = name.replace("_", " ") if threshold is None else f"{name.replace('_', ' ')} of at least " + (
        shown(unit, "si").number(threshold))  # fmt: skip
    about: dict[str, Any] = {
        "study": str(dataset.attrs["study"]), "arm": str(dataset.attrs["arm_name"]), "variable": name, "unit": unit,
        "meaning": str(array.attrs["long_name"]), "colours_from_to": [low, high], "volume_m3": float(mesh.volume),
        "inputs_digest": str(dataset.attrs["inputs_digest"]), "cautions": list(cautions),
        **({} if threshold is None else {"threshold": float(threshold)}),
    }  # fmt: skip
    scene: Any = trimesh.Scene(base_frame="armwright")
    scene.graph.update(frame_to="world, z up", frame_from="armwright", matrix=Y_UP)
    scene.geometry[words] = mesh
    scene.graph.update(frame_to=words, frame_from="world, z up", matrix=np.eye(4), geometry=words, metadata=about)
    return write_glb(scene, target)


def volume_surface(
    dataset: xr.Dataset, threshold: float | None = None, *, variable: str | None = None
) -> tuple[Surface, str]:
    """The surface that ``volume_to_glb`` writes, in the world (z up, m), and the name of its variable."""
    check_dataset(dataset)
    study = str(dataset.attrs["study"])
    names = [str(name) for name, array in dataset.data_vars.items() if array.dims == _GRID and array.dtype.kind == "f"]
    if not names:
        raise InputError.of("dataset", f"a result of {study}", "a map over positions, as reach_map or payload_map")
    name = next(each for each in (*_FIRST, *names) if each in names) if variable is None else variable
    if name not in names:
        raise InputError.of("variable", repr(name), "one of " + ", ".join(names))
    if threshold is not None and not np.isfinite(threshold):
        raise InputError.of("threshold", threshold, f"a number, in {dataset[name].attrs['units']}")
    values = np.array(dataset[name].values)
    if "reachable" in dataset:
        values[~dataset["reachable"].values] = np.nan
    axes = tuple(np.asarray(dataset[axis].values, dtype=np.float64) for axis in _GRID)
    steps = [float(np.diff(axis).min()) for axis in axes if len(axis) > 1]
    step = float(dataset.attrs.get("spacing", min(steps, default=0.05)))
    measure = package("skimage.measure", "the surface of a volume")
    found = surface(axes, values, threshold, step=step, measure=measure)  # type: ignore[arg-type]
    if found is None:
        most = float(values[~np.isnan(values)].max()) if not np.isnan(values).all() else None
        has = "no position is reached" if most is None else f"the most anywhere is {most:.6g}"
        raise InputError.of("threshold", threshold, f"a {name} that some position has; {has}")
    return found, name
