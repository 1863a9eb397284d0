from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest
import trimesh
from pydantic import ValidationError

from armwright.describe import Box, ConvexHull, Mesh
from armwright.describe.common_file import BodyFile, PoseFile, ShapeFile
from armwright.describe.pose import roll_pitch_yaw
from armwright.describe.problems import Place


def taken(model: type[Any], folder: Path = Path("."), **tables: Any) -> Any:
    return model.model_validate(tables, context=Place(folder))


def test_ways_to_tell_a_pose() -> None:
    quarter = roll_pitch_yaw((0, 0, np.pi / 2))
    for told in (
        {"roll_pitch_yaw": "0, 0, 90 deg"}, {"roll_pitch_yaw": ["0 deg", "0 deg", "0.25 turn"]},
        {"turn": {"axis": "z", "angle": "90 deg"}}, {"turn": {"axis": [0, 0, -2], "angle": "-90 deg"}},
        {"quaternion_xyzw": [0, 0, 1, 1]}, {"direction": "up", "spin": "90 deg"},
    ):  # fmt: skip
        pose = taken(PoseFile, position="0, 0, 410 mm", **told).made
        assert pose[:3, :3] == pytest.approx(quarter, abs=1e-15)
        assert (pose[:3, 3] == (0, 0, 0.41)).all()


@pytest.mark.parametrize(
    "told",
    [
        {"direction": "up", "roll_pitch_yaw": "0, 0, 1 deg"}, {"spin": "3 deg"}, {"quaternion_xyzw": [0, 0, 0, 0]},
        {"turn": {"axis": "z"}}, {"roll_pitch_yaw": [0, 0, 1]}, {"direction": [0, 0, 0]}, {"position": 5}, {"x": 1},
    ],
)  # fmt: skip
def test_poses_refused(told: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        taken(PoseFile, **told)


def test_shapes(tmp_path: Path) -> None:
    trimesh.creation.box((400, 200, 100)).export(tmp_path / "box.stl")
    assert taken(ShapeFile, kind="box", size="1, 2, 3 m", name="post").made == Box((1, 2, 3), None, "post")
    for kind, made in (("mesh", Mesh), ("convex hull", ConvexHull)):
        shape = taken(ShapeFile, tmp_path, kind=kind, file="box.stl", unit="mm").made
        assert isinstance(shape, made)
        assert np.ptp(shape.points, axis=0) == pytest.approx((0.4, 0.2, 0.1))
    hull = taken(ShapeFile, kind="convex hull", points=["0, 0, 0 m", "1, 0, 0 m", "0, 1, 0 m", "0, 0, 1 m"]).made
    assert len(hull.points) == 4


@pytest.mark.parametrize(
    ("told", "key", "expected"),
    [
        ({"kind": "box"}, "size", "this key: a box has one"),
        ({"kind": "box", "size": "1, 1, 1 m", "radius": "1 m"}, "radius", "no radius: a box has none"),
        ({"kind": "mesh", "file": "box.stl"}, "unit", "this key: .stl files state no unit"),
        ({"kind": "mesh"}, "file", "this key: a mesh has one"),
        ({"kind": "convex hull"}, "file", "one of file and points"),
        ({"kind": "mesh", "file": "../box.stl", "unit": "mm"}, "file", "inside the description's folder"),
        ({"kind": "sphere", "radius": "1 m", "name": ""}, "Sphere.name", "a name"),
    ],
)
def test_shapes_refused(tmp_path: Path, told: dict[str, Any], key: str, expected: str) -> None:
    trimesh.creation.box((400, 200, 100)).export(tmp_path / "box.stl")
    with pytest.raises(ValidationError) as caught:
        taken(ShapeFile, tmp_path, **told)
    problems = caught.value.errors()[0]["ctx"]["problems"]
    assert [p.key for p in problems] == [key]
    assert expected in problems[0].expected


def test_a_body_needs_its_mass() -> None:
    with pytest.raises(ValidationError, match="mass"):
        taken(BodyFile)
