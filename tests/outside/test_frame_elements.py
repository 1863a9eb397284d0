"""Sag and natural frequencies of whole arms against finite elements of our own (tests/cases/frame.py, scipy's eigh):
3-D Timoshenko beams, joints as springs about and across their axes, motors as bodies on nodes. The textbook's matrices
are from memory (Przemieniecki, Theory of Matrix Structural Analysis)."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.describe.body import joined
from cases.frame import Frame

pytest.importorskip("scipy")

E, G, RHO = 70e9, 27e9, 2700.0
AXES = ["z", "y", "-y", "x", "y"]
WAYS = [(0, 0, 0.35), (0.1, 0, 0.6), (0.5, 0.05, 0.0), (0.25, 0, 0.02), (0.12, 0.0, -0.05)]


def along(way: Any, up: Any) -> np.ndarray:
    x = np.asarray(way, float) / np.linalg.norm(way)
    z = np.asarray(up, float) - x * np.dot(up, x)
    z /= np.linalg.norm(z)
    return np.stack([x, np.cross(z, x), z], axis=1)


def section(k: int) -> tuple[Any, dict[str, float], Any]:
    """A tube as it is described, and its numbers by hand: round and rectangular by turns."""
    if k % 2:
        outer, wall = 0.09 - 0.01 * k, 0.004
        inner = outer - 2 * wall
        A, second = np.pi / 4 * (outer**2 - inner**2), np.pi / 64 * (outer**4 - inner**4)
        nu, m = E / (2 * G) - 1, inner / outer
        shear = A * 6 * (1 + nu) * (1 + m**2) ** 2 / ((7 + 6 * nu) * (1 + m**2) ** 2 + (20 + 12 * nu) * m**2)
        bend = E * second
        numbers = {"EIy": bend, "EIz": bend, "GJ": G * 2 * second, "GAy": G * shear, "GAz": G * shear}
        told = numbers | {"A": A, "Iy": second, "Iz": second}
        return aw.Tube("round", outer, wall, "aluminium"), told, (0.3, 0.5, 0.8)
    b, h, t = 0.06, 0.09 - 0.01 * k, 0.004
    A = b * h - (b - 2 * t) * (h - 2 * t)
    Iy = (b * h**3 - (b - 2 * t) * (h - 2 * t) ** 3) / 12
    Iz = (h * b**3 - (h - 2 * t) * (b - 2 * t) ** 3) / 12
    inside, around = (b - t) * (h - t), 2 * (b + h - 2 * t)
    J = 4 * inside**2 * t / around + around * t**3 / 3
    nu = E / (2 * G) - 1

    def cowper(wide: float, high: float) -> float:
        n = wide / high
        below = 12 + 72 * n + 150 * n**2 + 90 * n**3 + nu * (11 + 66 * n + 135 * n**2 + 90 * n**3)
        return 10 * (1 + nu) * (1 + 3 * n) ** 2 / (below + 10 * n**2 * ((3 + nu) * n + 3 * n**2))

    numbers = {"EIy": E * Iy, "EIz": E * Iz, "GJ": G * J, "GAy": G * A * cowper(h - t, b - t),
               "GAz": G * A * cowper(b - t, h - t)}  # fmt: skip
    up = (0.3, 0.5, 0.8)
    return aw.Tube("rectangular", (b, h), t, "aluminium", up=up), numbers | {"A": A, "Iy": Iy, "Iz": Iz}, up


def an_arm(seed: int) -> tuple[aw.Cell, list[dict[str, Any]]]:
    """An arm of five tubes with a motor behind the end of each, and what of it the finite elements need."""
    rng = np.random.default_rng(seed)
    joints, links, told = [], [], []
    place: Any = (0, 0, 0)
    for k, (axis, way) in enumerate(zip(AXES, WAYS, strict=True)):
        stage = aw.Stage("gear", 100, stiffness=rng.uniform(5e3, 3e4))
        belt = aw.Stage("belt", 2, stiffness=rng.uniform(2, 20))
        tilt, radial, axial = rng.uniform(2e5, 9e5), rng.uniform(1e8, 4e8), rng.uniform(1e8, 4e8)
        bearing = aw.SlewingBearing("crossed roller", tilting_stiffness=tilt, radial_stiffness=radial,
                                    axial_stiffness=axial)  # fmt: skip
        motor = aw.Motor(2.4, 7.2, rated_speed="3000 rpm", max_speed="6000 rpm", rotor_inertia=1e-4)
        joints.append(aw.Joint(f"axis {k + 1}", placement=place, axis=axis, range=(-3, 3),
                               drive=aw.Drive(motor, (belt, stage)), bearing=bearing))  # fmt: skip
        tube, numbers, up = section(k)
        length, turned = float(np.linalg.norm(way)), along(way, up)
        m = RHO * numbers["A"]
        spin = RHO * np.array([numbers["Iy"] + numbers["Iz"], numbers["Iy"], numbers["Iz"]]) * length
        own = turned @ (np.diag(spin) + m * length**3 / 12 * np.diag([0, 1, 1])) @ turned.T
        behind = np.asarray(way) * (1 + 0.03 / length) + turned[:, 1] * 0.04
        heavy = (rng.uniform(0.5, 3), behind, np.diag([3e-3, 2e-3, 4e-3]))
        mass, centre, tensor = joined([(m * length, np.asarray(way) / 2, own), heavy])
        links.append(aw.Link(f"link {k + 1}", mass, centre, tensor, structure=tube))
        compliance = 1 / stage.stiffness + 1 / (belt.stiffness * 100**2)
        told.append({
            "EA": E * numbers["A"], "m": m, **dict(zip(("rx", "ry", "rz"), spin / length, strict=True)),
            **{key: numbers[key] for key in ("EIy", "EIz", "GJ", "GAy", "GAz")},
            "up": up, "way": np.asarray(way, float),
            "turn": 1 / compliance, "tilt": tilt, "radial": radial, "axial": axial, "motor": heavy,
        })  # fmt: skip
        place = way
    flange = np.eye(4)
    flange[:3, 3] = WAYS[-1]
    load = aw.Load(6.0, (0.02, 0.05, 0.1), np.diag([0.02, 0.03, 0.04]))
    return aw.Cell(aw.ArmDescription(tuple(joints), tuple(links), "five tubes", flange=flange), load=load), told


def frame_of(cell: aw.Cell, told: list[dict[str, Any]], q: np.ndarray) -> tuple[Frame, int, int]:
    frame, poses = Frame(), cell.link_poses(q)
    ground = here = frame.node((0, 0, 0))
    for joint, part, pose in zip(cell.description.arm.joints, told, poses, strict=True):
        R, p = pose[:3, :3], pose[:3, 3]
        near, far = frame.node(p), frame.node(p + R @ part["way"])
        axis = R @ joint.axis
        turned = along(axis, (0.3, -0.8, 0.5))
        frame.spring(here, near, turned, [part["axial"], part["radial"], part["radial"]],
                     [part["turn"], part["tilt"], part["tilt"]])  # fmt: skip
        frame.beam(near, far, R @ along(part["way"], part["up"]), part)
        mass, centre, tensor = part["motor"]
        frame.body(far, mass, p + R @ centre, R @ tensor @ R.T)
        here = far
    tool, load = cell.tool_pose(q), cell.description.load
    frame.body(here, load.mass, tool[:3, :3] @ load.centre + tool[:3, 3], tool[:3, :3] @ load.inertia @ tool[:3, :3].T)
    return frame, ground, here


@pytest.mark.parametrize("seed", range(3))
def test_sag_and_frequencies_of_an_arm_are_those_of_finite_elements(seed):
    cell, told = an_arm(seed)
    q = np.random.default_rng(seed + 100).uniform(-1, 1, (3, 5))
    sag, stiff = cell.sag(q), cell.stiffness(q, modes=4)
    for row in range(len(q)):
        frame, ground, end = frame_of(cell, told, q[row])
        wanted = frame.sag(end, ground)
        size = np.linalg.norm(wanted[:3])
        assert size > 1e-4
        assert sag.sag.values[row] == pytest.approx(wanted[:3], abs=1e-6 * size)
        assert sag.sag_turn.values[row] == pytest.approx(wanted[3:], abs=1e-6 * np.linalg.norm(wanted[3:]))
        frame.f[:] = 0
        frame.f[6 * end : 6 * end + 6] = [30, -20, 10, 4, 5, -6]
        pushed = stiff.compliance.values[row] @ [30, -20, 10, 4, 5, -6]
        assert pushed == pytest.approx(frame.sag(end, ground), rel=1e-5, abs=1e-8)
        assert stiff.frequency.values[row] == pytest.approx(frame.frequencies(4, ground), rel=5e-3)
    assert sag.cause_share.values.sum(axis=1) == pytest.approx(1.0)
    assert stiff.mode_energy.values.sum(axis=-1) == pytest.approx(1.0)
