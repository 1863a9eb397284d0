from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh

from armwright.describe import Box, Capsule, ConvexHull, Cylinder, HalfSpace, Mesh, Picture, Sphere
from armwright.describe.shapes import changed, moved_shape, take_shapes
from armwright.errors import InputError
from cases.description_files import tetrahedron


def test_order_of_arguments_and_words() -> None:
    pose = np.eye(4)
    shown = [repr(shape) for shape in (
        Box(("1 m", 0.2, "300 mm"), pose, "post"), Cylinder("50 mm", 1, pose, "pipe"), Capsule(0.05, 1, pose, "arm"),
        Sphere("2 in", (0, 0, 1), "ball"), HalfSpace(pose, "floor"), ConvexHull(tetrahedron()[0], pose, "wedge"),
        Mesh(tetrahedron(), pose, "rack", "20 mm"),
    )]  # fmt: skip
    assert shown == [
        "Box 'post': 1000 x 200 x 300 mm at (0, 0, 0) mm",
        "Cylinder 'pipe': radius 50 mm, length 1000 mm at (0, 0, 0) mm",
        "Capsule 'arm': radius 50 mm, length 1000 mm at (0, 0, 0) mm",
        "Sphere 'ball': radius 50.8 mm at (0, 0, 1000) mm",
        "HalfSpace 'floor': facing (0, 0, 1) at (0, 0, 0) mm",
        "ConvexHull 'wedge': 4 corners at (0, 0, 0) mm",
        "Mesh 'rack': 4 triangles, 1000 x 1000 x 1000 mm at (0, 0, 0) mm, 20 mm to be kept",
    ]


def test_files(tmp_path: Path) -> None:
    trimesh.creation.box((400, 200, 100)).export(tmp_path / "box.stl")
    trimesh.creation.box((0.4, 0.2, 0.1)).export(tmp_path / "box.glb")
    mesh = Mesh(tmp_path / "box.stl", name="rack", unit="mm")
    assert np.ptp(mesh.points, axis=0) == pytest.approx((0.4, 0.2, 0.1))
    assert np.ptp(ConvexHull(str(tmp_path / "box.glb")).points, axis=0) == pytest.approx((0.4, 0.2, 0.1))
    with pytest.raises(InputError, match=r'^Mesh.unit: got "mm", expected none: .glb states its own unit$'):
        Mesh(tmp_path / "box.glb", unit="mm")


@pytest.mark.parametrize(
    ("make", "key"),
    [
        (lambda: Box((1, 2)), "Box.size"),
        (lambda: Box((0, 1, 1)), "Box.size"),
        (lambda: Box("1 m"), "Box.size"),
        (lambda: Box((1, 1, 1), "here"), "Box.pose"),
        (lambda: Box((1, 1, 1), None, 7), "Box.name"),
        (lambda: Box((1, 1, 1), clearance=-1), "Box.clearance"),
        (lambda: Cylinder(0, 1), "Cylinder.radius"),
        (lambda: Capsule(1, float("nan")), "Capsule.length"),
        (lambda: Sphere("-1 m"), "Sphere.radius"),
        (lambda: ConvexHull(np.zeros((3, 2))), "ConvexHull.points"),
        (lambda: ConvexHull([[0, 0, np.inf]] * 4), "ConvexHull.points"),
        (lambda: ConvexHull(5), "ConvexHull.points"),
        (lambda: ConvexHull("nothing.stl"), "ConvexHull.points"),
        (lambda: Mesh("nothing.stl"), "Mesh.path"),
        (lambda: Mesh("nothing.doc"), "Mesh.path"),
        (lambda: Mesh(None), "Mesh.path"),
        (lambda: Mesh((tetrahedron()[0], [[0, 1, 9]])), "Mesh.path"),
        (lambda: Mesh((tetrahedron()[0], [[0.5, 1, 2]])), "Mesh.path"),
        (lambda: Mesh((tetrahedron()[0], np.zeros((0, 3), int))), "Mesh.path"),
        (lambda: Mesh((tetrahedron()[0], tetrahedron()[1][:3])), "Mesh.path"),
    ],
)
def test_refusals(make: Any, key: str) -> None:
    with pytest.raises(InputError) as caught:
        make()
    assert [p.key for p in caught.value.problems] == [key]


def test_lists_of_shapes() -> None:
    assert take_shapes("fixtures", Sphere(1)) == (Sphere(1),)
    with pytest.raises(InputError, match=r"^fixtures\[1\]: got 5, expected a shape: Box, "):
        take_shapes("fixtures", [Sphere(1), 5])
    with pytest.raises(InputError, match=r"^fixtures: "):
        take_shapes("fixtures", "box")


def test_moved_and_changed() -> None:
    mesh = Mesh(tetrahedron(), (0, 0, 1), "rack")
    moved = moved_shape(np.array([[0, -1, 0, 2], [1, 0, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1.0]]), mesh)
    assert (moved.pose[:3, 3] == (2, 0, 1)).all()
    assert moved.points is mesh.points  # type: ignore[union-attr]
    assert changed(mesh, clearance=0.0) == mesh
    assert changed(mesh, clearance=0.1) != mesh


def test_pictures_may_be_open() -> None:
    points, triangles = tetrahedron()
    assert repr(Picture(points, triangles[:2], "cover")) == "Picture 'cover': 2 triangles"
