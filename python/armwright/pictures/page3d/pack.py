"""What the page is given: the scene as plain lists, big arrays as base64 of little-endian bytes."""

from __future__ import annotations

import base64
import json
from dataclasses import replace
from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import NDArray

from armwright.errors import InputError
from armwright.pictures.page3d.hull import hull_faces
from armwright.pictures.sections import MAPS, colour_range
from armwright.results import Scene, Solid, check_dataset
from armwright.results.units import UnitSystem

_STUDIES = ("reach_map", "payload_map")


def pack_scene(scene: Scene) -> dict[str, Any]:
    """The scene's dictionary, with the corners and faces of hulls and meshes packed."""
    data = replace(scene, pictures=()).to_dict()
    for solid, item in zip(scene.solids, data["solids"], strict=True):
        if solid.kind in ("convex_hull", "mesh"):
            item["vertices"] = pack(solid.vertices, "<f4")
            item["triangles"] = pack(_faces(solid), "<u4")
    return data


def pack_volume(dataset: xr.Dataset) -> dict[str, Any]:
    """The reached positions of a map, and every number that it gives at each of them.

    ``index`` counts positions in the order of x, then y, then z (the last runs fastest); values are float32.
    """
    what = check_dataset(dataset)
    if what.name not in _STUDIES:
        raise InputError.of("dataset", f"a result of {what.name}", "a result of " + " or ".join(_STUDIES))
    variables = [v for v in dataset.data_vars.values() if v.dims == ("x", "y", "z") and v.dtype.kind == "f"]
    known = dataset["reachable"].values if "reachable" in dataset else ~np.isnan(variables[0].values)
    index = np.flatnonzero(known)
    steps = np.concatenate([np.diff(dataset[name].values) for name in "xyz"])
    fallback = float(steps.min()) if steps.size else 0.05
    return {
        "study": what.name,
        "terms": _terms(dataset),
        "spacing": float(dataset.attrs.get("spacing", fallback)),
        "axes": [pack(dataset[name].values, "<f4") for name in "xyz"],
        "index": pack(index, "<u4"),
        "variables": [_pack_variable(variable, index) for variable in variables],
    }


def pack_colours(name: str) -> str:
    """256 colours, red, green and blue, a byte each."""
    import matplotlib as mpl

    return pack(mpl.colormaps[name](np.linspace(0, 1, 256))[:, :3] * 255 + 0.5, "u1")


def pack(values: NDArray[Any], kind: str) -> str:
    """Base64 of the values' bytes, as that kind of number."""
    return base64.b64encode(np.ascontiguousarray(values).astype(kind).tobytes()).decode("ascii")


def to_script(data: dict[str, Any]) -> str:
    """JSON that may stand in a script element, whatever names are in it."""
    text = json.dumps(data, allow_nan=False, ensure_ascii=True, separators=(",", ":"))
    for mark in "<>&":
        text = text.replace(mark, f"\\u{ord(mark):04x}")
    return text


def volume_colours(volume: dict[str, Any] | None) -> dict[str, str]:
    """The colour tables that the volume's variables use."""
    names = {variable["colours"] for variable in volume["variables"]} if volume else set()
    return {name: pack_colours(name) for name in sorted(names)}


def page_data(scene: Scene, dataset: xr.Dataset | None, units: UnitSystem) -> dict[str, Any]:
    """Everything that the page is drawn from."""
    volume = None if dataset is None else pack_volume(dataset)
    return {"units": units, "scene": pack_scene(scene), "volume": volume, "colours": volume_colours(volume)}


def _pack_variable(variable: xr.DataArray, index: NDArray[np.int64]) -> dict[str, Any]:
    low, high = colour_range(variable)
    unit = str(variable.attrs["units"])
    return {
        "name": str(variable.name), "unit": unit, "words": str(variable.attrs["long_name"]), "low": low, "high": high,
        "colours": MAPS.get(unit, "viridis"), "values": pack(variable.values.ravel()[index], "<f4"),
    }


def _terms(dataset: xr.Dataset) -> dict[str, Any] | None:
    """What masses hold for, of a payload map."""
    if "load_centre" not in dataset.attrs:
        return None
    return {"load_centre": [float(value) for value in dataset.attrs["load_centre"]],
            "attitude": dataset.attrs["attitude"], "limit": dataset.attrs["limit"]}


def _faces(solid: Solid) -> NDArray[np.int64]:
    return solid.triangles if len(solid.triangles) else hull_faces(solid.vertices)
