"""The page's least distance against the core's `cell.clearance`, at many postures: the same to 0.1 mm, between the same
two, with what the core leaves out left out as well; and its overlaps."""

from __future__ import annotations

import numpy as np
import pytest
import trimesh

import armwright as aw
from armwright.pictures.page3d.template import render
from cases.described import positioner, track_cell
from cases.on_page import gap, move_axes

RNG = np.random.default_rng(8)
SMALL = (480, 360)  # little to draw


def _turned(position, *angles) -> np.ndarray:
    pose = trimesh.transformations.euler_matrix(*angles)
    pose[:3, 3] = position
    return pose


def _shaped_arm(upper, fore, hand) -> aw.ArmDescription:
    """The positioner with solids of its own on three links and on its base."""
    from dataclasses import replace

    arm = positioner()
    links = list(arm.links)
    links[1] = replace(links[1], shapes=(upper,))
    links[2] = replace(links[2], shapes=(fore,))
    links[5] = replace(links[5], shapes=(hand,))
    return replace(arm, links=tuple(links))


def _around(*kinds) -> list[aw.Shape]:
    """Solids about the arm, standing askew."""
    made = []
    for i, kind in enumerate(kinds):
        angle = 2 * np.pi * i / len(kinds) + 0.3
        at = (0.9 * np.cos(angle), 0.9 * np.sin(angle), 0.5 * np.sin(3 * angle))
        made.append(kind(_turned(at, *RNG.normal(size=3))))
    return made


HULL = RNG.normal(size=(40, 3)) * 0.12
BALL = trimesh.creation.torus(0.2, 0.07, major_sections=32, minor_sections=16)
KNOB = trimesh.creation.icosphere(2, 0.06)
CONVEX = _around(
    lambda X: aw.Box((0.3, 0.2, 0.1), X, "crate"), lambda X: aw.Cylinder(0.1, 0.4, X, "drum"),
    lambda X: aw.Capsule(0.05, 0.4, X, "pipe"), lambda X: aw.Sphere(0.13, X, "ball"),
    lambda X: aw.ConvexHull(HULL, X, "stone"),
)  # fmt: skip
ANGULAR = _shaped_arm(aw.Box((0.5, 0.1, 0.14), (0.3, 0, 0)), aw.ConvexHull(HULL * 0.6, (0.25, 0, 0)),
                      aw.Cylinder(0.04, 0.1))  # fmt: skip
FLOOR = aw.HalfSpace(_turned((0, 0, -0.95), 0.1, -0.2, 0), "slope")


def round_cell() -> aw.Cell:
    arm = _shaped_arm(aw.Capsule(0.06, 0.5, _turned((0.3, 0, 0), 0, np.pi / 2, 0)), aw.Capsule(0.05, 0.4, _turned(
        (0.25, 0, 0), 0, np.pi / 2, 0)), aw.Sphere(0.05))  # fmt: skip
    return aw.Cell(arm, fixtures=[*CONVEX, FLOOR])


def angular_cell() -> aw.Cell:
    return aw.Cell(ANGULAR, fixtures=[*CONVEX, FLOOR], ignored_pairs=[("upper arm", "stone"), ("hand", "slope")])


def mesh_cell() -> aw.Cell:
    def ring(X):
        return aw.Mesh((BALL.vertices, BALL.faces), X, f"ring at {X[0, 3]:.2f}")
    fore = aw.Capsule(0.05, 0.4, _turned((0.25, 0, 0), 0, np.pi / 2, 0))
    arm = _shaped_arm(aw.Box((0.5, 0.1, 0.14), (0.3, 0, 0)), fore,
                      aw.Mesh((KNOB.vertices, KNOB.faces), name="knob"))  # fmt: skip
    return aw.Cell(arm, fixtures=[*_around(ring, lambda X: aw.Box((0.3, 0.2, 0.1), X, "crate"), ring), FLOOR])


def loaded_cell() -> aw.Cell:
    load = aw.Load("4 kg", (0, 0, 0.1), shapes=(aw.Box((0.3, 0.3, 0.2), (0, 0, 0.1)),), name="crate of jars")
    return track_cell(load=load)


@pytest.mark.parametrize("make", [round_cell, angular_cell, mesh_cell, loaded_cell])
def test_the_least_distance_is_the_cores(opened, make):
    cell = make()
    page = opened(render(cell.scene()), size=SMALL)
    lower, upper = np.array([joint_range(joint) for joint in cell.scene().joints]).T
    postures = lower + RNG.random((40, len(lower))) * (upper - lower)
    wanted = cell.clearance(postures)
    apart = 0
    for row, q in enumerate(postures):
        distance, points, names = gap(move_axes(page, q))
        true = float(wanted["distance"][row])
        if true < 0:
            assert distance < 1e-4
            continue
        apart += 1
        assert distance == pytest.approx(true, abs=1e-4)
        assert np.linalg.norm(points[0] - points[1]) == pytest.approx(true, abs=1e-4)
        assert names == {str(wanted["name_a"][row].item()), str(wanted["name_b"][row].item())}
    assert apart > 10


def joint_range(joint) -> tuple[float, float]:
    return max(joint.lower, -np.pi), min(joint.upper, np.pi)


def test_overlaps_of_convex_solids_are_as_deep_as_the_cores(opened):
    cell = aw.Cell(ANGULAR, fixtures=CONVEX)
    page = opened(render(cell.scene()), size=SMALL)
    postures = np.pi * (2 * RNG.random((400, 6)) - 1)
    wanted = cell.clearance(postures)["distance"].values
    deep = np.flatnonzero(wanted < -0.002)[:20]
    assert len(deep) == 20
    for row in deep:
        assert gap(move_axes(page, postures[row]))[0] == pytest.approx(wanted[row], abs=1e-4)
    assert "overlap" in page.inner_text("#gap")


def test_a_load_counts_while_it_is_carried(opened):
    cell = loaded_cell()
    page = opened(render(cell.scene()), size=SMALL)
    postures = np.random.default_rng(3).normal(size=(400, 7)) * (0.2, 2, 1, 1, 1, 1, 1) + (0.5, 0, 0, 0, 0, 0, 0)
    apart = np.abs(cell.clearance(postures)["distance"] - track_cell().clearance(postures)["distance"]).values
    q = postures[np.argmax(np.where(cell.clearance(postures)["distance"] > 0, apart, 0))]
    with_load = float(cell.clearance(q)["distance"])
    without = float(track_cell().clearance(q)["distance"])
    assert abs(with_load - without) > 0.01
    assert gap(move_axes(page, q))[0] == pytest.approx(with_load, abs=1e-4)
    page.select_option("#load", label="nothing")
    assert float(page.evaluate("document.body.dataset.gap").split()[0]) == pytest.approx(without, abs=1e-4)
