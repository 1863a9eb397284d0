"""The plan of a cell as DXF, read back by ezdxf."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from armwright.report import plan_to_dxf
from armwright.results import Scene, SceneTarget, Solid
from cases import sample_results as sample
from cases.dxf_files import lengths, outlines_on, read_dxf, words

pytest.importorskip("ezdxf")
pytest.importorskip("shapely")


def test_fixtures_are_where_they_stand(tmp_path: Path) -> None:
    scene = sample.scene()
    space = read_dxf(plan_to_dxf(scene, tmp_path / "p.dxf"))
    boxes = [solid for solid in scene.solids if solid.role == "fixture" and solid.kind == "box"]
    told = [(line.min(axis=0), line.max(axis=0)) for line, closed in outlines_on(space, "FIXTURES") if closed]
    for box in boxes:
        middle, half = box.pose[:2, 3] * 1000, np.array(box.size[:2]) * 500
        assert any(np.allclose([low, high], [middle - half, middle + half], atol=1e-6) for low, high in told), box.name
    circles = {(c.dxf.center.x, c.dxf.center.y, c.dxf.radius) for c in space.query('CIRCLE[layer=="FIXTURES"]')}
    assert any(np.allclose(circle, (1200, -950, 300)) for circle in circles)  # the tub, upright
    assert {solid.name for solid in boxes} <= set(words(space))
    wall = space.query('LINE[layer=="WALLS"]').first
    assert wall.dxf.start.y == pytest.approx(1650) and wall.dxf.end.y == pytest.approx(1650)


def test_dimensions_measure_what_stands_fast(tmp_path: Path) -> None:
    scene = sample.scene()
    solids = tuple(s for s in scene.solids if s.kind in ("box", "cylinder") and s.role in ("fixture", "track"))
    space = read_dxf(plan_to_dxf(replace(scene, solids=solids, left_out=()), tmp_path / "p.dxf"))
    # rail from -0.25 m, kiln back wall to 3.52 m; post at -0.95 - 0.3 m, racks to 1.5 m; stroke 2 m
    assert sorted(lengths(space)) == pytest.approx(sorted([3520 + 250, 1500 + 1250, 2000]))


def test_work_points_are_told_by_layer_mark_and_words(tmp_path: Path) -> None:
    points = tuple(SceneTarget(name, sample.pose(*row[:3]), row[3], row[4]) for name, row in sample.TARGETS.items())
    points += (SceneTarget("later", sample.pose(0, 0, 1)),)
    space = read_dxf(plan_to_dxf(replace(sample.scene(), targets=points), tmp_path / "p.dxf"))
    marks = {"WORK POINTS SERVED": 5, "WORK POINTS NOT SERVED": 0, "WORK POINTS NOT CHECKED": 1}
    for layer, circles in marks.items():
        assert len(space.query(f'CIRCLE[layer=="{layer}"]')) == circles
    at = [(line.dxf.start + line.dxf.end) / 2 for line in space.query('LINE[layer=="WORK POINTS NOT SERVED"]')]
    assert {(round(p.x), round(p.y)) for p in at} == {(3350, 150), (1200, -850)}
    told = words(space)
    assert "NOT SERVED: out of reach by 38 mm" in told and "not checked" in told and told.count("served") == 5
    assert {"1, 2", "3", "8"} <= set(told)  # the two shelves of the left rack are over one another


def test_meshes_are_one_outline_with_their_holes(tmp_path: Path) -> None:
    """A square frame of triangles, twice: from above one square with a square hole."""
    outer, inner = np.array([[0, 0], [4, 0], [4, 4], [0, 4.0]]), np.array([[1, 1], [3, 1], [3, 3], [1, 3.0]])
    corners = np.column_stack([np.concatenate([outer, inner]), np.zeros(8)])
    next_one = [(k + 1) % 4 for k in range(4)]
    faces = [[k, next_one[k], 4 + k] for k in range(4)] + [[4 + k, next_one[k], 4 + next_one[k]] for k in range(4)]
    faces = np.array(faces)
    frame = Solid("mesh", "frame", "fixture", vertices=np.concatenate([corners, corners + np.array([0, 0, 1])]),
                  triangles=np.concatenate([faces, faces[:, ::-1] + 8]))  # fmt: skip
    space = read_dxf(plan_to_dxf(Scene("a", "b", (), (), (frame,)), tmp_path / "p.dxf"))
    areas = []
    for line, closed in outlines_on(space, "FIXTURES"):
        x, y = line.T / 1000
        assert closed
        areas.append(abs(np.dot(x, np.roll(y, 1)) - np.dot(y, np.roll(x, 1))) / 2)
    assert sorted(areas) == pytest.approx([4, 16])


def test_with_the_reach(tmp_path: Path) -> None:
    outlines = sample.outlines()
    space = read_dxf(plan_to_dxf(sample.scene(), tmp_path / "p.dxf", outlines=outlines))
    ((line, closed),) = outlines_on(space, "REACH")
    assert closed and np.allclose(line, 1000 * outlines["plan"].values[:-1])


@pytest.mark.parametrize("name", ['a"b\\c', "{}", "^J %%d", "Töpfer", "=1", "x" * 300])
def test_names_of_any_kind_and_a_cell_of_nothing(tmp_path: Path, name: str) -> None:
    told = words(read_dxf(plan_to_dxf(Scene(name, name, (), ()), tmp_path / "p.dxf")))
    assert f"PLAN of {name.replace('%%', '% %')}" in told
