"""Cell.page and the scene it is drawn from: what is held against what is what the core holds."""

from __future__ import annotations

import json
import re
from pathlib import Path

import numpy as np
import pytest

import armwright as aw
from armwright.errors import InputError
from cases.described import positioner, track_cell
from cases.moving_cells import moving_cell


def embedded(path: Path) -> dict:
    return json.loads(re.search(r'id="data">(.*?)</script>', path.read_text(encoding="utf-8"), re.S).group(1))


def test_what_the_core_leaves_out_is_left_out() -> None:
    load = aw.Load(1.0, shapes=(aw.Box((0.1, 0.1, 0.1), name="lid"), aw.Sphere(0.05)), name="jar")
    cell = track_cell(load=load, tool=aw.Tool(shapes=(aw.Box((0.1, 0.1, 0.1)),)), ignored_pairs=[("lid", "post")])
    scene = cell.scene()
    out = {frozenset((scene.solids[i].name, scene.solids[j].name)) for i, j in scene.left_out}
    bodies = {frozenset((scene.solids[i].body, scene.solids[j].body)) for i, j in scene.left_out}
    with_shapes = {solid.body for solid in scene.solids}
    assert {frozenset(pair) for pair in cell.touching_pairs if set(pair) <= with_shapes} <= bodies
    assert frozenset(("lid", "post")) in out and frozenset(("jar", "post")) not in out
    assert scene.load == "jar" and {s.name for s in scene.solids if s.body == "jar"} == {"lid", "jar"}
    assert type(scene).from_json(scene.to_json()) == scene


def test_loads_of_work_points_and_cycles_are_in_the_page(tmp_path: Path) -> None:
    pot = aw.Load(2.0, shapes=(aw.Sphere(0.06),), name="pot")
    vase = aw.Load(1.0, shapes=(aw.Cylinder(0.05, 0.2),), name="vase")
    near = aw.Target((0.6, 0, 0.1), "near", load=vase)
    far = aw.Target((3, 0, 0.1), "far")
    cell = aw.Cell(positioner(), load=pot, targets=(near, far))
    scene = embedded(cell.page(tmp_path / "cell.html"))["scene"]
    assert [s["body"] for s in scene["solids"] if s["role"] == "load"] == ["pot", "vase"]
    assert [t["load"] for t in scene["targets"]] == ["vase", "pot"]
    assert [t["served"] for t in scene["targets"]] == [True, False] and "out of reach" in scene["targets"][1]["reason"]
    assert scene["q"] == scene["targets"][0]["q"] and scene["targets"][0]["found"]["payload_wanted"] == 1.0
    assert scene["load"] == "pot"


def test_a_cycle_or_its_motion_goes_in(tmp_path: Path) -> None:
    cell = moving_cell()
    cycle = aw.Cycle([aw.PickUp("pot"), aw.JointMove("tub"), aw.SetDown()], start="rack", repeats=False)
    motion = cell.motion(cycle)
    first = embedded(cell.page(tmp_path / "a.html", cycle=cycle, checked=cell.check_targets()))
    second = embedded(cell.page(tmp_path / "b.html", cycle=motion, q=np.zeros(6), units="us"))
    assert first["cycle"] == second["cycle"] and first["cycle"]["loads"] == ["pot"]
    assert second["units"] == "us" and second["scene"]["q"] == [0.0] * 6


def test_maps_go_in(tmp_path: Path) -> None:
    cell = aw.Cell(positioner())
    maps = [cell.reach_map("400 mm", directions=6, spins=1), cell.payload_map("400 mm", directions=6, spins=1)]
    inside = embedded(cell.page(tmp_path / "a.html", maps=maps))["maps"]
    assert [one["study"] for one in inside] == ["reach_map", "payload_map"]


def test_refused_before_any_work(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    cell = track_cell(targets=(aw.Target((0.6, 0, 0.1), "near"),))
    monkeypatch.setattr(aw.Cell, "check_targets", lambda *_, **__: pytest.fail("worked first"))
    with pytest.raises(InputError, match=r"ends in \.html"):
        cell.page(tmp_path / "cell.pdf")
    with pytest.raises(InputError, match="checked: got another dataset"):
        cell.page(tmp_path / "cell.html", checked=cell.clearance(np.zeros(7)))
    assert list(tmp_path.iterdir()) == []
