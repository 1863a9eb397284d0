# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from pathlib import Path

import numpy as np
import numpy.typing
import pytest
import trimesh

from armwright.describe import mesh
from armwright.errors import InputError
from cases.description_files import tetrahedron


@pytest.mark.parametrize("suffix", [".stl", ".obj", ".glb", ".ply", ".off"])
def test_a_box_comes_back(tmp_path: Path, suffix: str) -> None:
    path = tmp_path / f"box{suffix}"
    trimesh.creation.box((0.4, 0.2, 0.1)).export(path)
    points, triangles = mesh.read_mesh("path", path)
    points, triangles = mesh.check_closed("path", "box", points, triangles)
    assert (len(points), len(triangles)) == (8, 12)
    assert np.ptp(points, axis=0) == pytest.approx((0.4, 0.2, 0.1), rel=1e-6)
    assert trimesh.Trimesh(points, triangles).volume == pytest.approx(0.008, rel=1e-6)


def test_units_of_a_file(tmp_path: Path) -> None:
    path = tmp_path / "box.stl"
    trimesh.creation.box((400, 200, 100)).export(path)
    for unit in ("mm", 0.001, "1 mm"):
        assert np.ptp(mesh.read_mesh("path", path, unit)[0], axis=0) == pytest.approx((0.4, 0.2, 0.1))
    for wrong in ("kg", "furlongish", 0, -1, "0 mm", True):
        with pytest.raises(InputError, match="a unit of length"):
            mesh.read_mesh("unit", path, wrong)


def refused(path: Path, said: str) -> None:
    with pytest.raises(InputError, match=said) as caught:
        mesh.check_closed("path", path.name, *mesh.read_mesh("path", path))
    assert caught.value.problems[0].key == "path"


def test_open_mesh(tmp_path: Path) -> None:
    box = trimesh.creation.box((1, 1, 1))
    box.update_faces(np.arange(10))
    box.export(tmp_path / "open.stl")
    refused(tmp_path / "open.stl", r"open.stl: an open mesh \(4 open edges\), expected a closed surface")


def test_empty_broken_missing(tmp_path: Path) -> None:
    for name, data in (
        ("empty.stl", b""), ("words.stl", b"not a mesh at all, but words"), ("head.stl", b"\0" * 84), ("empty.obj", b""),
        ("bad.obj", b"v 1 2 x\nf 1 2 3\n"), ("bad.glb", b"glTF\x02\0\0\0\xff\xff\xff\xff"), ("bad.ply", b"ply\nformat"),
        ("far.obj", b"v 0 0 0\nv 1 0 0\nf 1 2 99\n"), ("bad.3mf", b"PK\x03\x04"), ("points.obj", b"v 0 0 0\nv 1 0 0\n"),
    ):  # fmt: skip
        (tmp_path / name).write_bytes(data)
        refused(tmp_path / name, name)
    refused(tmp_path / "nothing.stl", "a mesh file that exists")
    refused(tmp_path, "a mesh file: ")
    (tmp_path / "folder.stl").mkdir()
    refused(tmp_path / "folder.stl", "a mesh file that exists")


def test_not_finite(tmp_path: Path) -> None:
    box = trimesh.creation.box((1, 1, 1))
    data = bytearray(box.export(file_type="stl"))
    data[84 + 12 : 84 + 16] = np.float32(np.nan).tobytes()
    (tmp_path / "nan.stl").write_bytes(bytes(data))
    refused(tmp_path / "nan.stl", "points that are not finite")


def test_too_many_triangles(tmp_path: Path) -> None:
    """Refused by the head of the file, before its triangles are read."""
    path = tmp_path / "huge.stl"
    count = 2_000_001
    with path.open("wb") as file:
        file.write(b"\0" * 80 + count.to_bytes(4, "little"))
        file.truncate(84 + 50 * count)
    refused(path, "2000001 triangles, expected at most 2000000")


def test_inside_out_is_turned() -> None:
    points, triangles = tetrahedron()
    _, turned = mesh.check_closed("path", "t", points, triangles[:, ::-1].astype(np.int32))
    assert trimesh.Trimesh(points, turned, process=False).volume == pytest.approx(1 / 6)


def test_neighbours_that_disagree_are_mended() -> None:
    points, triangles = tetrahedron()
    wrong = triangles.astype(np.int32)
    wrong[1] = wrong[1][::-1]
    _, mended = mesh.check_closed("path", "t", points, wrong)
    assert trimesh.Trimesh(points, mended, process=False).volume == pytest.approx(1 / 6)


def test_flat_mesh_encloses_nothing() -> None:
    points = np.array([[0, 0, 0], [1, 0, 0], [0, 1, 0.0]])
    with pytest.raises(InputError, match="encloses nothing"):
        mesh.check_closed("path", "flat", points, np.array([[0, 1, 2], [0, 2, 1]], dtype=np.int32))


def test_hull_of_a_cloud() -> None:
    rng = np.random.default_rng(2)
    points = np.concatenate(
        (rng.uniform(-0.5, 0.5, (500, 3)), [[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)])
    )
    corners, triangles = mesh.hull("points", "cloud", points)
    assert sorted(map(tuple, corners)) == sorted((x, y, z) for x in (-1, 1) for y in (-1, 1) for z in (-1, 1))
    assert trimesh.Trimesh(corners, triangles, process=False).volume == pytest.approx(8)


@pytest.mark.parametrize("points", [np.zeros((10, 3)), np.eye(3), np.random.default_rng(1).random((9, 3)) * (1, 1, 0)])
def test_flat_hulls(points: np.typing.NDArray[np.float64]) -> None:
    with pytest.raises(InputError, match="4 or more points that do not lie in one plane"):
        mesh.hull("points", "flat", points)


def test_merging_agrees_with_trimesh() -> None:
    ball = trimesh.creation.icosphere(3)
    loose = ball.triangles.reshape(-1, 3)
    points, triangles = mesh.merged(loose, np.arange(len(loose)).reshape(-1, 3))
    assert len(points) == len(ball.vertices)
    assert mesh.closed(triangles)
    assert trimesh.Trimesh(points, triangles, process=False).volume == pytest.approx(ball.volume)
