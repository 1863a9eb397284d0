"""Volumes as GLB, read back by pygltflib and trimesh, and held to the volume that the result itself tells."""

from __future__ import annotations

from pathlib import Path

import matplotlib as mpl
import numpy as np
import pytest
import trimesh

from armwright.errors import InputError
from armwright.report import volume_to_glb
from cases import sample_results as sample
from cases.described import track_cell
from cases.glb_files import GlbFile, z_up

pytest.importorskip("skimage")


def mesh_of(read: GlbFile, name: str) -> trimesh.Trimesh:
    return trimesh.Trimesh(z_up(read.vertices(name)), read.faces(name), process=False)


def test_the_reach_has_the_volume_that_the_study_counts(tmp_path: Path) -> None:
    dataset = track_cell().reach_map("250 mm", directions=6, spins=1)
    read = GlbFile(volume_to_glb(dataset, tmp_path / "reach.glb"))
    mesh = mesh_of(read, "reach index")
    told, error = dataset.attrs["reachable_volume"], dataset.attrs["reachable_volume_error"]
    assert mesh.is_watertight and mesh.is_winding_consistent
    assert abs(mesh.volume - told) < max(error, 0.05 * told)
    assert read.extras("reach index")["volume_m3"] == pytest.approx(mesh.volume, rel=1e-5)


def test_colours_are_the_values(tmp_path: Path) -> None:
    dataset = sample.payload_map(0.2)
    read = GlbFile(volume_to_glb(dataset, tmp_path / "p.glb", 6.0))
    name = "mass greatest of at least 6 kg"
    about, colours = read.extras(name), read.attribute(name, "COLOR_0") / 255
    assert about["threshold"] == 6.0 and about["unit"] == "kg" and any("first use" in c for c in about["cautions"])
    low, high = about["colours_from_to"]
    # Back to what a screen shows (IEC 61966-2-1), and to the value by the nearest of the map's colours.
    screen = np.where(colours <= 0.0031308, 12.92 * colours, 1.055 * colours ** (1 / 2.4) - 0.055)[:, :3]
    table = mpl.colormaps["cividis"](np.linspace(0, 1, 256))[:, :3]
    nearest = np.linalg.norm(screen[:, None] - table, axis=2)
    assert nearest.min(axis=1).max() < 0.02
    values = low + (high - low) * nearest.argmin(axis=1) / 255
    assert values.min() > 6.0 - 0.03 * (high - low) and values.max() > 10
    assert len(read.attribute(name, "NORMAL")) == len(colours)


def test_what_is_asked_and_what_is_not_there(tmp_path: Path) -> None:
    dataset, path = sample.reach_map(0.25), tmp_path / "r.glb"
    read = GlbFile(volume_to_glb(dataset, path, 0.1, variable="clearance"))
    assert "clearance of at least 0.1 m" in read.places
    for given, words in (
        ({"threshold": 1.5}, "some position has; the most anywhere is 1"),
        ({"threshold": float("nan")}, "a number, in 1"),
        ({"variable": "clearence"}, "one of reach_index"),
    ):
        with pytest.raises(InputError, match=words):
            volume_to_glb(dataset, path, **given)  # type: ignore[arg-type]
    with pytest.raises(InputError, match="got a result of outlines, expected a map"):
        volume_to_glb(sample.outlines(), path)
    with pytest.raises(InputError, match=r"ends in .glb"):
        volume_to_glb(dataset, tmp_path / "r.gltf")
    assert [each.name for each in tmp_path.iterdir()] == ["r.glb"]
