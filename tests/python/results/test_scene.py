"""A scene goes to JSON and back unchanged; wrong ones are refused."""

import json
from dataclasses import replace

import numpy as np
import pytest

from armwright.errors import InputError
from armwright.results import Scene, SceneJoint, ScenePicture, SceneTarget, Solid
from cases import sample_results as sample


def test_round_trip():
    scene = sample.scene()
    scene = replace(scene, pictures=(ScenePicture("turret", np.eye(3), [[0, 1, 2]], link=1),))
    again = Scene.from_json(scene.to_json())
    assert again == scene and hash(again) == hash(scene)
    assert again.solids[-1].triangles.tolist() == scene.solids[-1].triangles.tolist()
    assert [s.pose.tobytes() for s in again.solids] == [s.pose.tobytes() for s in scene.solids]
    assert again.pictures[0].vertices.tolist() == np.eye(3).tolist() and again.pictures[0].link == 1
    assert json.loads(scene.to_json())["has_track"] is True


def test_unlimited_joints_survive():
    joint = SceneJoint("roll", "revolute", np.eye(4), (0, 0, 1), -np.inf, np.inf)
    scene = Scene("a", "b", (joint,), (0.3,))
    assert "Infinity" not in scene.to_json()
    assert Scene.from_json(scene.to_json()).joints[0].upper == np.inf


def test_scenes_that_differ_are_not_equal():
    a = sample.scene()
    data = a.to_dict()
    data["q"][1] += 1e-12
    assert Scene.from_dict(data) != a and a != "scene"


JOINT = SceneJoint("a", "revolute", np.eye(4), (0, 0, 1), -1, 1)


@pytest.mark.parametrize(("make", "words"), [
    (lambda: Solid("cube", "a", "link"), "kind.*'cube'.*one of box"),
    (lambda: Solid("box", "a", "links"), "role.*one of link"),
    (lambda: Solid("box", "a", "link", np.eye(3)), "shape"),
    (lambda: Solid("box", "a", "link", 2 * np.eye(4)), "a rotation"),
    (lambda: Solid("box", "a", "link", np.diag([1, 1, -1, 1])), "a rotation"),
    (lambda: Solid("sphere", "a", "link", radius=np.nan), "finite"),
    (lambda: Solid("mesh", "a", "link", vertices=np.zeros((3, 3)), triangles=[[0, 1, 3]]), "among the vertices"),
    (lambda: ScenePicture("a", np.zeros((3, 3)), [[0, 1, -1]]), "among the vertices"),
    (lambda: Scene("a", "b", (JOINT,), (0,), pictures=(ScenePicture("p", np.eye(3), [], link=1),)), "pictures.*to 0"),
    (lambda: SceneJoint("a", "helical", np.eye(4), (0, 0, 1), 0, 1), "revolute, prismatic"),
    (lambda: SceneJoint("a", "revolute", np.eye(4), (0, 0, 2), 0, 1), "length 1"),
    (lambda: SceneJoint("a", "revolute", np.eye(4), (0, 0, 1), 2, 1), "no more than the upper"),
    (lambda: Scene("a", "b", (JOINT,), (0, 0)), "shape"),
    (lambda: Scene("a", "b", (JOINT,), (0,), (Solid("box", "c", "link", link=1),)), "-1 .the world. to 0"),
    (lambda: Scene("a", "b", (JOINT,), (0,), targets=(SceneTarget("t", np.eye(4), q=(1, 2)),)), "1 values"),
    (lambda: Scene("a", "b", (JOINT,), (0,), has_track=True), "track"),
    (lambda: Scene.from_json("{"), "no JSON"),
    (lambda: Scene.from_json("[]"), "JSON object"),
    (lambda: Scene.from_json('{"format": 9}'), "format"),
    (lambda: Scene.from_json('{"format": 1}'), "keys"),
])
def test_refused(make, words):
    with pytest.raises(InputError, match=words):
        make()
