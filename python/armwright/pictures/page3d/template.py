"""Writes the three-dimensional page."""

from __future__ import annotations

import html
import os
from collections.abc import Iterable
from importlib import resources
from pathlib import Path

import xarray as xr

from armwright.errors import InputError
from armwright.pictures.page3d.pack import page_data, to_script
from armwright.pictures.page_file import page_path, write_page
from armwright.results import Scene
from armwright.results.units import UnitSystem, shown

_LIBRARY = "jupyter_threejs_sage"  # carries three.js r130 with its orbit controls, whole
_LIBRARY_FILE = "static/r130/three.min.js"
_PARTS = ("words", "chain", "solids", "cores", "gjk", "mesh", "nearest", "ground", "marks", "volume", "targets",
          "view", "panel", "maps", "cycle", "loads", "main")  # in the order they are read


def page(
    scene: Scene,
    maps: xr.Dataset | Iterable[xr.Dataset] | None = None,
    *,
    cycle: xr.Dataset | None = None,
    path: str | os.PathLike[str],
    units: UnitSystem = "si",
) -> Path:
    """Writes the cell as a single HTML file; gives its path.

    ``maps``: results of reach_map, payload_map or payload_at_speed, one of which is looked at at a time; ``cycle``: a
    result of motion, to be played. The file needs nothing beside it and no network. The arm can be moved in it by its
    own joints. InputError: another kind of result, a cycle of another arm, or a path that cannot be written.

    >>> pictures.page(cell.scene(q, cell.check_targets()), path="cell.html").name
    'cell.html'
    """
    target = page_path(path)
    return write_page(render(scene, maps, units, cycle=cycle), target)


def render(
    scene: Scene,
    maps: xr.Dataset | Iterable[xr.Dataset] | None = None,
    units: UnitSystem = "si",
    *,
    cycle: xr.Dataset | None = None,
) -> str:
    """The page's text."""
    datasets = [] if maps is None else [maps] if isinstance(maps, xr.Dataset) else list(maps)
    shown("m", units)  # refuses unknown units
    here = resources.files("armwright.pictures.page3d") / "parts"
    script = "\n".join((here / f"{name}.js").read_text(encoding="utf-8") for name in _PARTS)
    pieces = {
        "title": html.escape(scene.name),
        "style": (here / "page.css").read_text(encoding="utf-8"),
        "library": library(),
        "data": to_script(page_data(scene, datasets, cycle, units)),
        "script": f'(() => {{\n"use strict";\n{script}\n}})();',
    }
    text = (here / "page.html").read_text(encoding="utf-8")
    for name, piece in pieces.items():
        before, _, after = text.partition(f"{{{{{name}}}}}")
        text = before + piece + after
    return text


def library() -> str:
    """three.js as its package holds it."""
    try:
        text = (resources.files(_LIBRARY) / _LIBRARY_FILE).read_text(encoding="utf-8")
    except (ModuleNotFoundError, FileNotFoundError) as error:
        wanted = "three.js r130 in the environment: pip install jupyter-threejs-sage"
        raise InputError.of("jupyter-threejs-sage", "no such package or file", wanted) from error
    if "</script" in text.lower():
        raise InputError.of("jupyter-threejs-sage", "a script that ends its own element", "three.js r130 as published")
    return text
