"""Arms of any geometry, postures and loads of any kind: what must hold for all of them."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
from hypothesis import assume, given, settings
from hypothesis import strategies as st

import armwright as aw
from cases.chain import Array, pose
from cases.described import track_cell

PI = math.pi
QUICK = settings(deadline=None, max_examples=40)
angles = st.floats(-PI, PI)
lengths = st.floats(-0.6, 0.6)
poses = st.builds(pose, st.tuples(lengths, lengths, lengths), st.tuples(angles, angles, angles))
CELL = track_cell()
LOWER, UPPER = CELL.limits[:2]


@st.composite
def postures(draw: st.DrawFn, lower: Array = LOWER, upper: Array = UPPER) -> Array:
    share = np.array([draw(st.floats(0, 1)) for _ in lower])
    return lower + share * (upper - lower)


@st.composite
def arms(draw: st.DrawFn) -> aw.Arm:
    """Six turning joints: general, or with a spherical wrist, or with axes 2 to 4 parallel."""
    kind = draw(st.sampled_from(["general", "spherical", "parallel"]))
    seed = draw(st.integers(0, 10_000))
    rng = np.random.default_rng(seed)
    places: list[Any] = [pose(rng.uniform(-0.5, 0.5, 3), rng.uniform(-PI, PI, 3)) for _ in range(6)]
    axes: list[Any] = [(0, 0, 1)] * 6
    if kind == "spherical":
        for i in (4, 5):
            places[i] = pose((0, 0, 0), rng.uniform(0.5, 2.5, 3))
    elif kind == "parallel":
        for i in (2, 3):
            places[i] = pose(rng.uniform(-0.5, 0.5, 3))
    joints = [aw.Joint(f"axis {i + 1}", "revolute", places[i], axes[i]) for i in range(6)]
    links = [aw.Link(f"link {i + 1}", 1.0) for i in range(6)]
    return aw.Arm(aw.ArmDescription(tuple(joints), tuple(links), kind, flange=pose(rng.uniform(-0.2, 0.2, 3))))


@given(arms(), st.tuples(angles, angles, angles, angles, angles, angles))
@QUICK
def test_every_solution_brings_the_tool_there(arm: aw.Arm, q: Any) -> None:
    target = arm.tool_pose(q)
    found = arm.solve(target)
    assert found.count <= 16
    if found.count:
        reached = arm.tool_pose(found.q[found.valid])
        assert np.abs(reached[:, :3, 3] - target[:3, 3]).max() < 1e-9
        assert np.abs(reached[:, :3, :3] - target[:3, :3]).max() < 1e-9


@given(postures())
@QUICK
def test_the_track_posture_is_among_its_solutions(q: Array) -> None:
    """With the track where it was: a cell whose track is nearly that place alone."""
    target = CELL.tool_pose(q)
    fixed = track_cell(track=None, mount=(q[0], 0, 0.18))
    found = fixed.solve(target)
    assert found.count > 0
    reached = fixed.tool_pose(found.q[found.valid])
    assert np.abs(reached - target).max() < 1e-9
    off = found.q[found.valid] - q[1:]
    away = np.abs(off - 2 * PI * np.round(off / (2 * PI))).max(axis=1)
    free = (found.free_joint[found.valid] >= 0).any()
    # Near a singular posture neighbours of the posture solve as well: the worse told the joints, the better the pose.
    assert free or away.min() < 1e-3 or fixed.conditioning(q[1:]) < 1e-6


@given(postures(), st.tuples(lengths, lengths, lengths), st.sampled_from(["continuous", "peak"]))
@QUICK
def test_the_payload_brings_just_its_joint_to_the_limit(q: Array, centre: Any, limit: Any) -> None:
    bare = track_cell(load=None)
    answer = bare.payload(q, centre=centre, limit=limit)
    torques = bare.limits.torque_continuous if limit == "continuous" else bare.limits.torque_peak
    own = np.abs(bare.gravity_torque(q))
    assert bool(answer.holds_itself) == bool((own <= torques).all())
    if not answer.holds_itself:
        assert answer.mass == 0 and own[answer.joint] > torques[answer.joint]
        return
    assume(1e-3 < float(answer.mass) < 1e6)
    held = np.abs(bare.gravity_torque(q, aw.Load(float(answer.mass), centre)))
    assert abs(held[answer.joint] / torques[answer.joint] - 1) < 1e-9
    assert (held <= torques * (1 + 1e-9)).all()
    more = np.abs(bare.gravity_torque(q, aw.Load(1.001 * float(answer.mass), centre)))
    assert more[answer.joint] > torques[answer.joint]
    assert answer.by_joint.min() == answer.mass


@given(postures(), poses)
@QUICK
def test_moving_the_whole_cell_changes_no_distance(q: Array, X: Array) -> None:
    fixtures = (
        aw.Box((0.2, 0.3, 1.0), pose((0.7, 0.8, 0.6), (0.3, 0.2, 0.1)), "box", "10 mm"),
        aw.Cylinder(0.1, 0.8, pose((-0.3, 0.7, 0.5), (1, 0, 0)), "post"),
        aw.Capsule(0.05, 0.4, pose((0.4, -0.8, 0.9)), "pipe"),
        aw.Sphere(0.15, (0.3, 0.3, 1.4), "lamp"),
        aw.HalfSpace(pose((0, 0, -0.2)), "floor"),
    )
    here = track_cell(fixtures=fixtures)
    moved = track_cell(
        fixtures=[type(shape)(**fields(shape, X @ shape.pose)) for shape in fixtures],
        track=aw.Track("x", 1.0, X @ pose((0, 0, 0.18))),
        gravity=X[:3, :3] @ (0, 0, -9.80665),
    )
    a, b = here.clearance(q), moved.clearance(q)
    distance = float(a["distance"])
    assert abs(distance - float(b["distance"])) < 1e-6
    if abs(distance) > 1e-5:
        assert bool(here.is_clear(q, max(0.0, distance - 1e-5))) == bool(moved.is_clear(q, max(0.0, distance - 1e-5)))
    if distance > 1e-3:
        between = np.linalg.norm(b["point_a"].values - b["point_b"].values)
        assert abs(between - float(b["distance"])) < 1e-6
    np.testing.assert_allclose(moved.gravity_torque(q), here.gravity_torque(q), atol=1e-9)
    np.testing.assert_allclose(moved.tool_pose(q), X @ here.tool_pose(q), atol=1e-12)
    np.testing.assert_allclose(moved.manipulability(q), here.manipulability(q), atol=1e-9)


def fields(shape: Any, where: Array) -> dict[str, Any]:
    names = ("size", "radius", "length", "name", "clearance")
    return {name: getattr(shape, name) for name in names if hasattr(shape, name)} | {"pose": where}
