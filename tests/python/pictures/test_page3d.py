"""The page's text: whole in itself, and its numbers are the result's."""

import base64
import dataclasses
import json
import re

import numpy as np
import pytest
from scipy.spatial import ConvexHull

from armwright.errors import InputError
from armwright.pictures.page3d import page
from armwright.pictures.page3d.hull import hull_faces
from armwright.pictures.page3d.template import library, render
from armwright.results import Scene, SceneTarget
from cases import sample_results as sample


def embedded(text: str) -> dict:
    return json.loads(re.search(r'<script type="application/json" id="data">(.*?)</script>', text, re.S).group(1))


def unpack(text: str, kind: str) -> np.ndarray:
    return np.frombuffer(base64.b64decode(text), dtype=kind)


def test_the_scene_in_the_page_is_the_scene():
    scene = sample.scene()
    data = embedded(render(scene))
    packed = data["scene"]
    for solid, item in zip(scene.solids, packed["solids"], strict=True):
        if solid.kind in ("mesh", "convex_hull"):
            item["vertices"] = unpack(item["vertices"], "<f4").reshape(-1, 3).astype(float).tolist()
            item["triangles"] = unpack(item["triangles"], "<u4").reshape(-1, 3).tolist()
            assert item["triangles"]
            if solid.kind == "convex_hull":
                item["triangles"] = []
    again = Scene.from_dict(packed)
    assert again.joints[2].placement.tobytes() == scene.joints[2].placement.tobytes() and again.q == scene.q
    assert [t.reason for t in again.targets] == [t.reason for t in scene.targets]
    assert np.allclose(again.solids[-1].vertices, scene.solids[-1].vertices, rtol=1e-7)
    assert again.solids[-1].triangles.tolist() == scene.solids[-1].triangles.tolist()
    assert data["maps"] == [] and data["cycle"] is None


@pytest.mark.parametrize("make", [sample.reach_map, sample.payload_map])
def test_the_volume_in_the_page_is_the_datasets(make):
    dataset = make(0.25)
    volume = embedded(render(sample.scene(), dataset))["maps"][0]
    index = unpack(volume["index"], "<u4")
    inside = dataset.reachable.values if "reachable" in dataset else ~np.isnan(dataset.mass_greatest.values)
    assert np.array_equal(index, np.flatnonzero(inside))
    for name, line in zip("xyz", volume["axes"], strict=True):
        assert np.array_equal(unpack(line, "<f4"), dataset[name].values.astype(np.float32))
    names = [variable["name"] for variable in volume["variables"]]
    assert names == [n for n, v in dataset.data_vars.items() if v.dims == ("x", "y", "z") and v.dtype.kind == "f"]
    for variable in volume["variables"]:
        values = dataset[variable["name"]]
        assert np.array_equal(unpack(variable["values"], "<f4"), values.values[inside].astype(np.float32))
        assert variable["unit"] == values.attrs["units"] and variable["low"] < variable["high"]


def test_a_payload_map_says_what_gives_out():
    dataset = sample.payload_map(0.5)
    volume = embedded(render(sample.scene(), [sample.reach_map(0.5), dataset]))["maps"][1]
    inside = ~np.isnan(dataset["mass_greatest"].values)
    mass = next(v for v in volume["variables"] if v["name"] == "mass_greatest")
    assert volume["joints"] == list(sample.JOINTS)
    assert unpack(mass["joint"], "<i2").tolist() == dataset["limiting_joint"].values[inside].tolist()


def test_a_long_cycle_is_thinned_and_keeps_its_changes():
    dataset = sample.motion(50_002)
    packed = embedded(render(sample.scene(), cycle=dataset))["cycle"]
    time, load = unpack(packed["time"], "<f8"), unpack(packed["load"], "<i4")
    assert 15_000 < len(time) < 25_000 and time[-1] == dataset["time"].values[-1]
    changes = dataset["time"].values[1:][np.diff(dataset["load_index"].values) != 0]
    assert len(changes) == 2 and np.array_equal(time[1:][np.diff(load) != 0], changes)
    q = unpack(packed["q"], "<f4").reshape(-1, 7)
    assert np.allclose(q[:, 1], np.interp(time, dataset["time"].values, dataset["q"].values[:, 1]), atol=1e-5)


def test_nothing_is_fetched():
    text = render(sample.scene(), sample.reach_map(0.5))
    without_library = text.replace(library(), "")
    a_name = {"http://www.w3.org/2000/svg"}  # and no place
    assert set(re.findall(r"https?://[^\"'\s]*", without_library)) == a_name
    assert not re.search(r"<(script|img|iframe|object|embed|audio|video)[^>]*\ssrc=", text, re.I)
    assert re.findall(r"<link[^>]*>", without_library) == ['<link rel="icon" href="data:,">']
    assert not re.search(r"@import|url\(|fetch\(|XMLHttpRequest|WebSocket|importScripts", without_library)
    assert "default-src 'none'" in text


def test_names_cannot_end_the_script():
    evil = '</script><script>document.title="x"</script>'
    scene = dataclasses.replace(sample.scene(), name=evil, targets=(SceneTarget(evil, np.eye(4), False, evil),))
    text = render(scene)
    assert evil not in text
    assert embedded(text)["scene"]["targets"][0]["reason"] == evil


def test_the_file_is_written_whole(tmp_path):
    path = page(sample.scene(), sample.reach_map(0.5), path=tmp_path / "cell.html")
    assert path.read_text(encoding="utf-8").endswith("</html>\n")
    assert [p.name for p in tmp_path.iterdir()] == ["cell.html"]
    assert path.stat().st_size < 1_000_000
    assert page(sample.scene(), path=path) == path


def test_refused(tmp_path):
    scene = sample.scene()
    with pytest.raises(InputError, match=r"ends in \.html"):
        page(scene, path=tmp_path / "cell.pdf")
    with pytest.raises(InputError, match="make"):
        page(scene, path=tmp_path / "no" / "cell.html")
    with pytest.raises(InputError, match="reach_map or payload_map or payload_at_speed"):
        page(scene, sample.check_targets(), path=tmp_path / "cell.html")
    with pytest.raises(InputError, match="a result of motion"):
        page(scene, cycle=sample.reach_map(0.5), path=tmp_path / "cell.html")
    other = dataclasses.replace(scene, joints=tuple(dataclasses.replace(j, name="other") for j in scene.joints))
    with pytest.raises(InputError, match="the scene's: other"):
        page(other, cycle=sample.motion(20), path=tmp_path / "cell.html")
    with pytest.raises(InputError, match='"si" or "us"'):
        page(scene, path=tmp_path / "cell.html", units="cm")
    assert list(tmp_path.iterdir()) == []


def test_the_missing_library_is_named(monkeypatch, tmp_path):
    monkeypatch.setattr("armwright.pictures.page3d.template._LIBRARY", "no_such_package")
    with pytest.raises(InputError, match="pip install jupyter-threejs-sage"):
        page(sample.scene(), path=tmp_path / "cell.html")


def test_library_is_the_release_that_is_meant():
    assert 'const e="130"' in library()[:600] and "OrbitControls" in library()


CUBE = np.array(np.meshgrid((0, 1), (0, 1), (0, 1)), float).reshape(3, -1).T
RANDOM = np.random.default_rng(3).normal(size=(200, 3))


@pytest.mark.parametrize(
    "points", [CUBE, np.vstack([CUBE, CUBE / 2 + 0.2]), RANDOM, RANDOM * 1e-3 + 5, CUBE[[0, 1, 2, 4]]])
def test_hull_against_scipy(points):
    """Volume and area against Qhull (scipy.spatial.ConvexHull)."""
    a, b, c = (points - points.mean(axis=0))[hull_faces(points)].transpose(1, 0, 2)
    reference = ConvexHull(points)
    assert np.isclose(np.einsum("ij,ij->", a, np.cross(b, c)) / 6, reference.volume, rtol=1e-6)
    assert np.isclose(np.linalg.norm(np.cross(b - a, c - a), axis=1).sum() / 2, reference.area, rtol=1e-6)


@pytest.mark.parametrize("points", [np.zeros((0, 3)), np.zeros((5, 3)), CUBE * (1, 1, 0), CUBE * (1, 0, 0)])
def test_flat_hulls_are_refused(points):
    with pytest.raises(InputError, match="in one plane"):
        hull_faces(points)
