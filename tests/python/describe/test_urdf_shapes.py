from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import trimesh

from armwright.describe import ArmDescription, ConvexHull, Mesh, load_arm
from armwright.errors import InputError

TEXT = """<robot name="r"><link name="a"/><link name="b">
<collision><origin xyz="0 0 1"/><geometry><mesh filename="{collision}" scale="{scale}"/></geometry></collision>
<visual><geometry><mesh filename="{visual}"/></geometry></visual></link>
<joint name="j" type="continuous"><parent link="a"/><child link="b"/></joint></robot>"""


def load(folder: Path, collision: str, visual: str = "box.stl", scale: str = "0.001 0.001 0.001") -> ArmDescription:
    (folder / "arm.urdf").write_text(TEXT.format(collision=collision, visual=visual, scale=scale), encoding="utf-8")
    return load_arm(folder / "arm.urdf")


@pytest.fixture
def package(tmp_path: Path) -> Path:
    """package/urdf for the URDF and package/meshes for a mesh, and one outside."""
    (tmp_path / "package" / "urdf").mkdir(parents=True)
    (tmp_path / "package" / "meshes").mkdir()
    box = trimesh.creation.box((400, 200, 100))
    for place in ("package/urdf/box.stl", "package/meshes/box.stl", "secret.stl"):
        box.export(tmp_path / place)
    box.update_faces(np.arange(10))
    box.export(tmp_path / "package/urdf/open.stl")
    return tmp_path / "package" / "urdf"


@pytest.mark.parametrize("name", ["box.stl", "package://package/meshes/box.stl", "package://urdf/box.stl"])
def test_meshes_found(package: Path, name: str) -> None:
    shape = load(package, name).links[0].shapes[0]
    assert isinstance(shape, Mesh)
    assert np.ptp(shape.points, axis=0) == pytest.approx((0.4, 0.2, 0.1))
    assert tuple(shape.pose[:3, 3]) == (0, 0, 1)


def test_a_package_by_its_mark(package: Path) -> None:
    with pytest.raises(InputError, match=r"a mesh file in the URDF's folder"):
        load(package, "../meshes/box.stl")
    (package.parent / "package.xml").write_text("<package/>")
    assert load(package, "../meshes/box.stl").links[0].shapes


@pytest.mark.parametrize(
    "name",
    ["nothing.stl", "../../secret.stl", "package://package/../secret.stl", "package://nowhere/box.stl", "package://../secret.stl",
     "/etc/passwd", "file:///etc/passwd", "http://localhost/box.stl", "", "link.stl", "package://package/urdf/link.stl"],
)  # fmt: skip
def test_meshes_refused(package: Path, name: str) -> None:
    (package / "link.stl").symlink_to(package.parent.parent / "secret.stl")
    with pytest.raises(InputError, match=r"arm.urdf:2: link 'b' collision mesh: got "):
        load(package, name)


def test_mirrored_meshes_are_turned_right(package: Path) -> None:
    shape = load(package, "box.stl", scale="-0.001 0.001 0.001").links[0].shapes[0]
    assert isinstance(shape, Mesh)
    assert trimesh.Trimesh(shape.points, shape.triangles, process=False).volume == pytest.approx(0.008)
    with pytest.raises(InputError, match="scale"):
        load(package, "box.stl", scale="0 1 1")


def test_open_meshes_stand_for_their_hull(package: Path) -> None:
    arm = load(package, "open.stl")
    assert isinstance(arm.links[0].shapes[0], ConvexHull)
    assert any("open.stl is no closed surface, so that its convex hull stands for it" in note for note in arm.notes)


@pytest.mark.parametrize("name", ["nothing.dae", "broken.dae", "../../secret.stl"])
def test_pictures_are_no_reason_to_refuse(package: Path, name: str) -> None:
    (package / "broken.dae").write_text("<COLLADA>")
    arm = load(package, "box.stl", name)
    assert arm.links[0].pictures == ()
    assert any(note.startswith("link 'b' visual left out: ") for note in arm.notes)
    assert len(load(package, "box.stl").links[0].pictures) == 1


def test_a_mesh_in_millimetres_is_noted(package: Path) -> None:
    """Its longest edge is 400 mm, which the file tells as 400."""
    large = [note for note in load(package, "box.stl", scale="1 1 1").notes if "collision mesh" in note]
    metres = 'a URDF\'s lengths are in metres; one drawn in mm has scale="0.001 0.001 0.001"'
    assert large == [f"link 'b' collision mesh: box.stl is 400 m across: {metres}"]
    assert not any("collision" in note and "across" in note for note in load(package, "box.stl").notes)
