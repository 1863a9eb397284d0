"""What the page is given: the scene as plain lists, big arrays as base64 of little-endian bytes."""

from __future__ import annotations

import base64
import json
from collections.abc import Iterable
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

_STUDIES = ("reach_map", "payload_map", "payload_at_speed")
_USUAL = 0.95  # of the positions
_MOST_ROWS = 20_000  # of a cycle: 20 a second are 16 minutes of moving


def pack_scene(scene: Scene) -> dict[str, Any]:
    """The scene's dictionary, with the corners and faces of hulls and meshes packed."""
    data = replace(scene, pictures=()).to_dict()
    for solid, item in zip(scene.solids, data["solids"], strict=True):
        if solid.kind in ("convex_hull", "mesh"):
            item["vertices"] = pack(solid.vertices, "<f4")
            item["triangles"] = pack(_faces(solid), "<u4")
    data["pictures"] = [
        {"kind": "mesh", "name": picture.name, "body": picture.name, "role": "link", "link": picture.link,
         "pose": picture.pose.tolist(), "vertices": pack(picture.vertices, "<f4"),
         "triangles": pack(picture.triangles, "<u4")}
        for picture in scene.pictures
    ]  # fmt: skip
    return data


def pack_volume(dataset: xr.Dataset) -> dict[str, Any]:
    """The reached positions of a map, and every number that it gives at each of them.

    ``index`` counts positions in the order of x, then y, then z (the last runs fastest); values are float32.
    """
    what = check_dataset(dataset)
    if what.name not in _STUDIES:
        raise InputError.of("maps", f"a result of {what.name}", "a result of " + " or ".join(_STUDIES))
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
        "variables": [_pack_variable(variable, index, dataset) for variable in variables],
        "joints": _words(dataset, "joint_names"), "parts": _words(dataset, "part_names"),
    }


def pack_cycle(dataset: xr.Dataset, scene: Scene) -> dict[str, Any]:
    """A cycle's rows: time s, as float64, and as float32 q, tool_speed m/s, clearance m; loads by their places.

    Where there are very many rows, all that begin or end a move or a load stay, and of the others every so many.
    """
    what = check_dataset(dataset)
    if what.name != "motion":
        raise InputError.of("cycle", f"a result of {what.name}", "a result of motion")
    names = [str(name) for name in dataset["joint"].values]
    if names != [joint.name for joint in scene.joints]:
        raise InputError.of("cycle", "joints " + ", ".join(names), "the scene's: "
                            + ", ".join(joint.name for joint in scene.joints))  # fmt: skip
    rows = _kept_rows(dataset)
    packed = {name: pack(dataset[name].values[rows], "<f4") for name in ("q", "tool_speed")}
    packed["time"] = pack(dataset["time"].values[rows], "<f8")
    if "clearance" in dataset:
        packed["clearance"] = pack(dataset["clearance"].values[rows], "<f4")
    return packed | {
        "name": str(dataset.attrs["cycle_name"]), "duration": float(dataset.attrs["duration"]),
        "load": pack(dataset["load_index"].values[rows], "<i4"),
        "moves": [
            {"name": str(name), "start": float(start), "end": float(end)}
            for name, start, end in zip(dataset["move"].values, dataset["move_start"].values,
                                        dataset["move_end"].values, strict=True)
        ],
        "loads": _words(dataset, "load_name"),
    }  # fmt: skip


def _kept_rows(dataset: xr.Dataset) -> NDArray[np.int64]:
    count = dataset.sizes["time_point"]
    step = -(-count // _MOST_ROWS) if count else 1
    kept = np.arange(count) % step == 0
    for name in ("move_index", "load_index"):
        changes = np.flatnonzero(np.diff(dataset[name].values))
        kept[changes] = kept[changes + 1] = True
    kept[-1:] = True
    return np.flatnonzero(kept)


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


def page_data(scene: Scene, maps: Iterable[xr.Dataset], cycle: xr.Dataset | None, units: UnitSystem) -> dict[str, Any]:
    """Everything that the page is drawn from."""
    volumes = [pack_volume(dataset) for dataset in maps]
    names = {variable["colours"] for volume in volumes for variable in volume["variables"]}
    return {
        "units": units, "scene": pack_scene(scene), "maps": volumes,
        "cycle": None if cycle is None else pack_cycle(cycle, scene),
        "colours": {name: pack_colours(name) for name in sorted(names)},
    }  # fmt: skip


def _pack_variable(variable: xr.DataArray, index: NDArray[np.int64], dataset: xr.Dataset) -> dict[str, Any]:
    low, most = colour_range(variable)
    unit, name = str(variable.attrs["units"]), str(variable.name)
    packed = {
        "name": name, "unit": unit, "words": str(variable.attrs["long_name"]),
        "low": low, "high": _last_colour(variable, low, most), "most": most,
        "colours": MAPS.get(unit, "viridis"), "values": pack(variable.values.ravel()[index], "<f4"),
    }  # fmt: skip
    for what, code in zip(("joint", "part"), _GIVES_OUT.get((str(dataset.attrs["study"]), name), ()), strict=False):
        if code in dataset:
            packed[what] = pack(dataset[code].values.ravel()[index], "<i2")
    return packed


def _last_colour(variable: xr.DataArray, low: float, most: float) -> float:
    """Where the colours end: at the greatest value, unless few positions have far more than all the others (close to
    the base an arm holds many times what it holds elsewhere), which would leave one colour for the others."""
    values = variable.values[np.isfinite(variable.values)]
    usual = float(np.quantile(values, _USUAL)) if values.size else most
    return usual if 0 < 2 * (usual - low) < most - low else most


# What gives out first, where a mass is told: the places of joint and part.
_GIVES_OUT = {
    ("payload_map", "mass_greatest"): ("limiting_joint", "limiting_part"),
    ("payload_map", "mass_least"): ("limiting_joint_least", "limiting_part_least"),
    ("payload_at_speed", "mass_greatest"): ("limiting_joint", "limiting_part"),
    ("payload_at_speed", "mass_least"): ("limiting_joint_least", "limiting_part_least"),
    ("payload_at_speed", "rest_mass_greatest"): ("rest_joint", "rest_part"),
    ("payload_at_speed", "rest_mass_least"): ("rest_joint_least",),
}


def _words(dataset: xr.Dataset, name: str) -> list[str]:
    return [str(word) for word in dataset[name].values] if name in dataset else []


def _terms(dataset: xr.Dataset) -> dict[str, Any] | None:
    """What masses hold for, of a payload map."""
    if "load_centre" not in dataset.attrs:
        return None
    return {"load_centre": [float(value) for value in dataset.attrs["load_centre"]],
            "attitude": dataset.attrs["attitude"], "limit": dataset.attrs["limit"]}


def _faces(solid: Solid) -> NDArray[np.int64]:
    return solid.triangles if len(solid.triangles) else hull_faces(solid.vertices)
