"""The posed cell as GLB, read back by pygltflib and trimesh: every link stands where the core puts it."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import trimesh

import armwright as aw
from armwright.report import cell_to_glb
from armwright.report.glb import linear
from armwright.results import Scene, SceneJoint, ScenePicture, SceneTarget, Solid
from cases import sample_results as sample
from cases.chain import pose
from cases.described import track_cell
from cases.glb_files import GlbFile, z_up

Q = np.array([0.5, 0.3, 0.4, -0.6, 0.3, 0.5, 0.2])
BOX = (0.1, 0.2, 0.3)


def corners(frame: np.ndarray) -> np.ndarray:
    signs = np.array(np.meshgrid((-1, 1), (-1, 1), (-1, 1))).reshape(3, -1).T
    return signs * np.array(BOX) / 2 @ frame[:3, :3].T + frame[:3, 3]


def as_rows(points: np.ndarray) -> np.ndarray:
    """In an order of their own."""
    rounded = points.round(5) + 0.0
    return rounded[np.lexsort(rounded.T)]


def boxed_cell() -> aw.Cell:
    """A box on every link, each another turn off its frame."""
    described = track_cell(mount=pose((0.1, 0, 0.2), (0, 0, 0.4))).description
    links = [
        aw.Link(f"link {k}", 1, shapes=(aw.Box(BOX, pose((0.05 * k, 0, 0.1), (0.1 * k, 0.2, 0)), name=f"box {k}"),))
        for k in range(6)
    ]  # fmt: skip
    arm = aw.ArmDescription(described.arm.joints, links, "boxes", flange=described.arm.flange)
    return aw.Cell(arm, track=described.track, mount=described.mount,
                   tool=aw.Tool(shapes=(aw.Box(BOX, name="grip"),)))  # fmt: skip


def test_a_vertex_of_every_link_is_where_the_core_has_it(tmp_path: Path) -> None:
    cell = boxed_cell()
    read = GlbFile(cell_to_glb(cell.scene(Q), tmp_path / "cell.glb"))
    poses = cell.link_poses(Q)
    assert len(poses) == cell.joint_count == 7
    shapes = [shape for link in cell.description.arm.links for shape in link.shapes]
    assert len(shapes) == 6
    for frame, shape in zip(poses[1:], shapes, strict=True):
        np.testing.assert_allclose(as_rows(z_up(read.vertices(shape.name))), as_rows(corners(frame @ shape.pose)),
                                   atol=2e-5)  # fmt: skip
    flange = cell.description.arm.flange
    np.testing.assert_allclose(as_rows(z_up(read.vertices("grip"))), as_rows(corners(poses[-1] @ flange)), atol=2e-5)


def test_the_tree_and_what_it_says(tmp_path: Path) -> None:
    scene = sample.scene()
    path = cell_to_glb(scene, tmp_path / "cell.glb")
    read = GlbFile(path)
    chain = [scene.name, *(joint.name for joint in scene.joints)]
    assert [read.parent(name) for name in chain[1:]] == chain[:-1]
    for solid in scene.solids:
        assert read.parent(solid.name) == (scene.name if solid.link < 0 else scene.joints[solid.link].name)
        assert read.extras(solid.name)["role"] == solid.role
    about = read.extras("axis 2")
    assert about["joint"] == "revolute" and about["position"] == scene.q[2] and about["lower"] == scene.joints[2].lower
    assert any("first use" in words for words in read.extras(scene.name)["cautions"])
    assert read.gltf.asset.version == "2.0" and read.gltf.asset.generator.startswith("armwright")
    # Metres, y up: the highest of the racks, 1.5 m high, is along y.
    assert read.vertices("rack-left")[:, 1].max() == pytest.approx(1.5, abs=1e-6)
    assert read.vertices("floor")[:, 1].max() == pytest.approx(0, abs=1e-9)


def test_solids_have_their_size(tmp_path: Path) -> None:
    """By trimesh, with the volumes of the shapes in closed form; round ones have 48 sides, inscribed."""
    scene = sample.scene()
    loaded = trimesh.load(cell_to_glb(scene, tmp_path / "cell.glb"))
    graph = {name: loaded.geometry[loaded.graph[name][1]] for name in loaded.graph.nodes_geometry}
    for solid in scene.solids:
        r, length = solid.radius, solid.length
        volume = {"box": np.prod(solid.size), "cylinder": np.pi * r**2 * length, "sphere": 4 / 3 * np.pi * r**3,
                  "capsule": np.pi * r**2 * (length + 4 / 3 * r)}.get(solid.kind)  # fmt: skip
        mesh = graph[solid.name]
        assert mesh.is_watertight and mesh.volume > 0
        if volume is not None:
            assert mesh.volume == pytest.approx(volume, rel=1e-6 if solid.kind == "box" else 0.02)
    wall = graph["wall"].copy().apply_transform(loaded.graph["wall"][0])
    assert z_up(wall.vertices)[:, 1].min() == pytest.approx(1.65, abs=1e-6)  # solid behind y = 1.65 m


def test_pictures_take_the_place_of_shapes(tmp_path: Path) -> None:
    joint = SceneJoint("turn", "revolute", pose((0, 0, 0.5), (0, 0, 0)), (0, 0, 1), -1, 1)
    solids = (Solid("sphere", "rough", "link", link=0, radius=0.1), Solid("sphere", "foot", "link", radius=0.1),
              Solid("sphere", "tool", "tool", link=0, radius=0.1))  # fmt: skip
    seen = ScenePicture("fine", [[0, 0, 0], [1, 0, 0], [0, 1, 0]], [[0, 1, 2]], link=0)
    scene = Scene("a", "b", (joint,), (np.pi / 2,), solids, pictures=(seen,))
    read = GlbFile(cell_to_glb(scene, tmp_path / "a.glb"))
    assert "rough" not in read.places and {"foot", "tool", "fine"} <= set(read.places)
    np.testing.assert_allclose(z_up(read.vertices("fine")), [[0, 0, 0.5], [0, 1, 0.5], [-1, 0, 0.5]], atol=1e-6)


def test_work_points_differ_by_shape(tmp_path: Path) -> None:
    points = [SceneTarget("good", pose((1, 2, 3), (0, 0, 0)), True), SceneTarget("bad", np.eye(4), False, "too far"),
              SceneTarget("open", np.eye(4))]  # fmt: skip
    read = GlbFile(cell_to_glb(Scene("a", "b", (), (), targets=tuple(points)), tmp_path / "a.glb"))
    assert [read.extras(name)["told"] for name in ("good", "bad", "open")] == ["served", "not served", "not checked"]
    assert read.extras("bad")["reason"] == "too far" and "reason" not in read.extras("good")
    assert len({len(read.faces(name)) for name in ("good", "bad", "open")}) == 3
    np.testing.assert_allclose(z_up(read.vertices("good")).mean(axis=0), (1, 2, 3), atol=1e-6)


@pytest.mark.parametrize("name", ["armwright", "cell", "", "a/b\\c", 'q"uo"te', "Töpfer 左", "=1+1", "world"])
def test_names_of_any_kind_twice(tmp_path: Path, name: str) -> None:
    solids = tuple(Solid("box", name, "fixture", size=(1, 1, 1)) for _ in range(2))
    joint = SceneJoint(name, "revolute", np.eye(4), (0, 0, 1), -np.inf, np.inf)
    read = GlbFile(cell_to_glb(Scene(name, name, (joint,), (0,), solids), tmp_path / "a.glb"))
    names = [node.name for node in read.gltf.nodes if node.name is not None]
    assert len(set(names)) == len(names)
    assert sum(node.mesh is not None for node in read.gltf.nodes) == 2
    assert sum((node.name or "").startswith(name) for node in read.gltf.nodes) >= 3


def test_light() -> None:
    """sRGB by IEC 61966-2-1: middle grey, 0.5, is 0.2140 in linear light (value from memory)."""
    np.testing.assert_allclose(linear(np.array([0, 0.5, 1, 0.5])), [0, 0.2140, 1, 0.5], atol=5e-5)
