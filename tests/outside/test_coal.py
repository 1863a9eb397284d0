"""Source: coal (package ``coal``): distances of pairs of solids; and closed forms of the same pairs, which say how
far coal itself can be trusted (1e-10 on these). python-fcl is not asked: it is wrong at boxes turned by exactly 45
degrees (0.9374 instead of 0.7929, on the unsafe side).

Tolerances: closed forms 1e-6 m, the project's own mark; coal 2e-6 m for solids apart, for its iterative solver
stops at 1e-6 relative on curved pairs; for overlapping solids of flat faces too (both tell how far one must move to
part them)."""

from __future__ import annotations

import math
from typing import Any

import numpy as np
import pytest

coal = pytest.importorskip("coal", reason="needs the peers: pip install 'armwright[peers]'")
import armwright as aw  # noqa: E402
from cases.chain import Chain, Link, pose  # noqa: E402

APART = 2e-6  # m
KEPT: list[Any] = []  # what coal only borrows


@pytest.fixture(scope="module")
def arm(tmp_path_factory: pytest.TempPathFactory) -> Any:
    """One joint whose tool frame stands in the world's origin at zero; it carries the moving solid."""
    chain = Chain("turntable", (Link(np.eye(4), lower=-math.pi, upper=math.pi, mass=1.0),))
    return aw.load_arm(chain.write_urdf(tmp_path_factory.mktemp("one")), tool="tool")


def distance(arm: Any, moving: Any, fixed: Any) -> Any:
    cell = aw.Cell(arm, tool=aw.Tool(shapes=(moving,)), fixtures=(fixed,))
    return cell.clearance(np.zeros(1))


def of(kind: str, rng: np.random.Generator) -> tuple[Any, Any]:
    """A solid of ours (a maker that takes pose and name) and the same of coal's."""
    r, length, size = rng.uniform(0.05, 0.4), rng.uniform(0.1, 1.0), rng.uniform(0.1, 0.9, 3)
    if kind == "box":
        return (lambda X, n: aw.Box(size, X, n)), coal.Box(*size)
    if kind == "sphere":
        return (lambda X, n: aw.Sphere(r, X, n)), coal.Sphere(r)
    if kind == "capsule":
        return (lambda X, n: aw.Capsule(r, length, X, n)), coal.Capsule(r, length)
    if kind == "cylinder":
        return (lambda X, n: aw.Cylinder(r, length, X, n)), coal.Cylinder(r, length)
    points = rng.normal(0, 0.25, (30, 3))
    hull = coal.BVHModelOBBRSS()
    hull.beginModel(0, 30)
    hull.addVertices(points)
    hull.endModel()
    hull.buildConvexHull(True, "Qt")
    KEPT.append(hull)
    return (lambda X, n: aw.ConvexHull(points, X, n)), hull.convex


def at(X: np.ndarray) -> Any:
    return coal.Transform3s(X[:3, :3], X[:3, 3])


def theirs(a: Any, X: np.ndarray, b: Any, Y: np.ndarray) -> float:
    request = coal.DistanceRequest()
    request.gjk_tolerance = request.epa_tolerance = 1e-9
    request.gjk_max_iterations = request.epa_max_iterations = 1000
    return float(coal.distance(a, at(X), b, at(Y), request, coal.DistanceResult()))


KINDS = ["box", "sphere", "capsule", "cylinder", "hull"]


@pytest.mark.parametrize(("a", "b"), [(a, b) for i, a in enumerate(KINDS) for b in KINDS[i:]])
def test_random_pairs(arm: Any, a: str, b: str) -> None:
    rng = np.random.default_rng([KINDS.index(a), KINDS.index(b)])
    apart = 0
    for _ in range(60):
        (ours_a, coal_a), (ours_b, coal_b) = of(a, rng), of(b, rng)
        X, Y = (pose(rng.uniform(-0.8, 0.8, 3), rng.uniform(-math.pi, math.pi, 3)) for _ in range(2))
        found = distance(arm, ours_a(X, "moving"), ours_b(Y, "fixed"))
        ours, expected = float(found["distance"]), theirs(coal_a, X, coal_b, Y)
        if expected > 0:
            apart += 1
            assert ours == pytest.approx(expected, abs=APART)
            gap = np.linalg.norm(found["point_a"].values - found["point_b"].values)
            assert gap == pytest.approx(ours, abs=APART), "the two points are that far apart"
        else:
            assert ours <= APART
            if a in ("box", "hull") and b in ("box", "hull"):
                assert ours == pytest.approx(expected, abs=APART)
    assert apart > 10


def ring() -> tuple[np.ndarray, np.ndarray]:
    """A closed mesh that is not convex: a flat ring, as trimesh makes it."""
    import trimesh

    made = trimesh.creation.annulus(r_min=0.25, r_max=0.5, height=0.3, sections=24)
    return np.asarray(made.vertices), np.asarray(made.faces)


@pytest.mark.parametrize("kind", KINDS)
def test_mesh(arm: Any, kind: str) -> None:
    """Against a ring; coal has it as bare triangles, so that only solids outside it or in its hole are compared."""
    rng = np.random.default_rng(60 + KINDS.index(kind))
    points, triangles = ring()
    bare = coal.BVHModelOBBRSS()
    bare.beginModel(len(triangles), len(points))
    bare.addVertices(points)
    bare.addTriangles(triangles.astype(np.int64))
    bare.endModel()
    apart = 0
    for _ in range(40):
        ours, solid = of(kind, rng)
        X, Y = (pose(rng.uniform(-0.9, 0.9, 3), rng.uniform(-math.pi, math.pi, 3)) for _ in range(2))
        found = float(distance(arm, ours(X, "moving"), aw.Mesh((points, triangles), Y, "ring"))["distance"])
        expected = theirs(solid, X, bare, Y)
        if expected > 1e-4:
            centre = np.linalg.inv(Y) @ X[:, 3]  # of the moving solid, in the ring's frame
            inside = 0.25 < math.hypot(centre[0], centre[1]) < 0.5 and abs(centre[2]) < 0.15
            apart += not inside
            assert found == pytest.approx(expected, abs=1e-5) if not inside else found < 0
    assert apart > 10


@pytest.mark.parametrize("kind", KINDS)
def test_half_space(arm: Any, kind: str) -> None:
    rng = np.random.default_rng(40 + KINDS.index(kind))
    for _ in range(40):
        ours, solid = of(kind, rng)
        X, Y = (pose(rng.uniform(-0.8, 0.8, 3), rng.uniform(-math.pi, math.pi, 3)) for _ in range(2))
        found = distance(arm, ours(X, "moving"), aw.HalfSpace(Y, "wall"))
        n = Y[:3, 2]
        expected = theirs(solid, X, coal.Halfspace(n, float(n @ Y[:3, 3])), np.eye(4))
        assert float(found["distance"]) == pytest.approx(expected, abs=1e-6)


Z45 = (0, 0, math.pi / 4)


def box(x: float, y: float = 0, z: float = 0, rpy: Any = (0, 0, 0), size: float = 1.0) -> Any:
    return lambda name: aw.Box((size,) * 3, pose((x, y, z), rpy), name)


def capsule(radius: float, length: float, xyz: Any = (0, 0, 0), rpy: Any = (0, 0, 0)) -> Any:
    return lambda name: aw.Capsule(radius, length, pose(xyz, rpy), name)


def turned(x: float) -> Any:
    X = pose((x, 0, 0), (math.pi / 2, 0, 0)) @ pose(rpy=Z45)
    return lambda name: aw.Box((1, 1, 1), X, name)


CLOSED = {
    "spheres": (lambda n: aw.Sphere(0.3, None, n), lambda n: aw.Sphere(0.2, pose((1, 2, 2)), n), 2.5),
    "boxes, faces": (box(0), box(2), 1.0),
    "boxes, corners": (box(0), box(2, 3, 3), 3.0),
    "box turned 45 deg": (box(0), box(2, rpy=Z45), 0.7928932188134524),
    "box edge to edge": (box(0, rpy=Z45), turned(2.5), 2.5 - math.sqrt(2)),
    "sphere to corner": (lambda n: aw.Sphere(0.25, pose((2, 3, 3)), n), box(0, size=2), 2.75),
    "capsules crossed": (capsule(0.1, 2), capsule(0.2, 2, (1, 0, 0), (math.pi / 2, 0, 0)), 0.7),
    "capsules end to end": (capsule(0.1, 2), capsule(0.2, 2, (0, 0, 4)), 1.7),
    "capsules offset": (capsule(0.1, 2), capsule(0.2, 2, (3, 0, 6)), 4.7),
    "capsule over box": (capsule(0.1, 1, (0, 0, 2), (0, math.pi / 2, 0)), box(0), 1.4),
    "cylinder rim to sphere": (
        lambda n: aw.Cylinder(0.5, 1, None, n), lambda n: aw.Sphere(0.1, pose((2, 0, 2)), n),
        math.hypot(1.5, 1.5) - 0.1,
    ),
    "boxes overlapping": (box(0), box(0.9), -0.1),
    "boxes touching": (box(0), box(1.0), 0.0),
}  # fmt: skip


@pytest.mark.parametrize("name", CLOSED)
def test_closed_forms(arm: Any, name: str) -> None:
    a, b, expected = CLOSED[name]
    assert float(distance(arm, a("moving"), b("fixed"))["distance"]) == pytest.approx(expected, abs=1e-6)
    assert float(distance(arm, b("moving"), a("fixed"))["distance"]) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("degrees", [0, 10, 20, 30, 45, 60, 90])
def test_turned_boxes(arm: Any, degrees: float) -> None:
    """Centre distance - 0.5 - 0.5 (|cos t| + |sin t|)."""
    t = math.radians(degrees)
    expected = 2.0 - 0.5 - 0.5 * (abs(math.cos(t)) + abs(math.sin(t)))
    assert float(distance(arm, box(0)("moving"), box(2, rpy=(0, 0, t))("fixed"))["distance"]) == pytest.approx(
        expected, abs=1e-6
    )
