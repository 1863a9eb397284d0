"""Against coal: least distance and the yes/no of a 7-joint arm of capsules among twenty boxes, self pairs included; a
capsule and the boxes alone; a hull and a mesh alone."""

from __future__ import annotations

import numpy as np
import peer
from measure import Row, Size, compare
from shared import batch, builds, loaded, surrounded

import armwright as aw
from armwright import _core
from cases.arms import bench_boxes, track_arm
from cases.chain import Array, Chain, Link

MARGIN = 0.02  # m
RADIUS, LENGTH = 0.06, 0.4  # m, of the capsule alone


def gantry() -> Chain:
    """Three joints that slide and three that turn about one point: any place and attitude."""
    axes = np.eye(3, dtype=int)
    slides = [Link(np.eye(4), tuple(axes[i]), "prismatic", -3.0, 3.0, mass=1.0) for i in (0, 1, 2)]
    return Chain("gantry", (*slides, *(Link(np.eye(4), tuple(axes[i]), mass=1.0) for i in (2, 1, 0))))


def sweep(count: int, reach: tuple[float, float, float]) -> Array:
    """Places of the gantry along a smooth way: a search that begins where the last one ended has its advantage."""
    t = np.linspace(0, 0.002 * count, count)[:, None]
    q = np.sin(t * np.array([1.0, 1.37, 1.71, 0.83, 0.59, 1.13]) + np.arange(6.0))
    return np.ascontiguousarray(q * np.array([*reach, 3.0, 1.5, 3.0]))


def wavy_ring(around: int = 50, across: int = 20) -> tuple[Array, Array]:
    """A ring with a wavy rim: a mesh of 2 around across triangles that has hollows."""
    i, j = (a.ravel() for a in np.meshgrid(np.arange(around), np.arange(across), indexing="ij"))
    a, b = 2 * np.pi * i / around, 2 * np.pi * j / across
    r = 0.5 + 0.15 * np.cos(b) * (1 + 0.2 * np.sin(5 * a))
    points = np.stack([r * np.cos(a), r * np.sin(a), 0.15 * np.sin(b)], axis=1)
    at, on = i * across, (i + 1) % around * across
    up = (j + 1) % across
    return points, np.concatenate([np.stack([at + j, on + j, on + up], 1), np.stack([at + j, on + up, at + up], 1)])


def alone(size: Size) -> list[Row]:
    """A capsule from each of the boxes; a hull of 100 points from a mesh of 2000 triangles."""
    _, coal = surrounded()
    places = aw.Cell(loaded(gantry())).tool_pose(sweep(size.cut(0.1), (1.5, 1.5, 1.0)))
    half = LENGTH / 2 * places[:, :3, 2]
    ends = [places[:, :3, 3] - half, places[:, :3, 3] + half, np.full((len(places), 1), RADIUS)]
    capsules = np.ascontiguousarray(np.hstack(ends))
    poses, edges = bench_boxes()
    axes = poses[:, :3, :3].transpose(0, 2, 1).reshape(-1, 9)
    boxes = np.ascontiguousarray(np.hstack([poses[:, :3, 3], axes, edges / 2]))
    found = _core.clearance.capsule_box_distances(capsules, boxes)
    for cached in (False, True):
        _, told = coal.capsule_boxes(places, RADIUS, LENGTH, cached)
        apart = told > 0
        np.testing.assert_allclose(found[apart], told[apart], rtol=1e-6, atol=2e-6)
        assert (found[~apart] <= 2e-6).all()

    rng = np.random.default_rng(7)
    cloud = rng.normal(size=(100, 3))
    hull = aw.ConvexHull(cloud / np.linalg.norm(cloud, axis=1)[:, None] * [0.15, 0.1, 0.25], name="hull")
    mesh = wavy_ring()
    fixed = aw.Mesh(mesh, name="ring")
    cell = aw.Cell(loaded(gantry()), tool=aw.Tool(shapes=(hull,)), fixtures=(fixed,))
    q = sweep(4 * size.cut(0.05), (1.0, 1.0, 0.6))
    distance = cell.clearance(q)["distance"].values
    q = np.ascontiguousarray(q[distance > 0.002][: size.cut(0.05)])
    at = cell.tool_pose(q)
    other = peer.CoalHull((hull.points, hull.triangles), mesh, builds("coal")[0])
    for cached in (False, True):
        np.testing.assert_allclose(
            cell.clearance(q)["distance"].values, other.distances(at, cached)[1], rtol=1e-6, atol=2e-6
        )
    return [
        compare("distance of a capsule from a box", found.size,
                lambda: _core.clearance.capsule_box_distances(capsules, boxes),
                {"coal": lambda: coal.capsule_boxes(places, RADIUS, LENGTH, False)[0],
                 "coal, guess kept": lambda: coal.capsule_boxes(places, RADIUS, LENGTH, True)[0]}, size.repeats, 25),
        compare("distance of a hull, 100 points, from a mesh, 2000 triangles", len(q), lambda: cell.clearance(q),
                {"coal": lambda: other.distances(at, False)[0],
                 "coal, guess kept": lambda: other.distances(at, True)[0]}, size.repeats, 3),
    ]  # fmt: skip


def agree(count: int) -> None:
    cell, coal = surrounded()
    q = batch(track_arm(), count, seed=5)
    ours = cell.clearance(q)["distance"].values
    _, naive = coal.least_distance(q)
    _, pruned = coal.least_distance_pruned(q)
    apart = naive > 0
    np.testing.assert_allclose(ours[apart], naive[apart], atol=2e-6)
    np.testing.assert_allclose(pruned[apart], naive[apart], atol=2e-6)
    assert (ours[~apart] <= 2e-6).all()
    sure = np.abs(naive - MARGIN) > 1e-5
    for _, clear in (coal.is_clear(q, MARGIN), coal.is_clear_tree(q, MARGIN)):
        np.testing.assert_array_equal(clear[sure], (naive > MARGIN)[sure])
    np.testing.assert_array_equal(np.asarray(cell.is_clear(q, MARGIN))[sure], (naive > MARGIN)[sure])


def rows(size: Size) -> list[Row]:
    cell, coal = surrounded()
    agree(min(2000, size.batch))
    q = batch(track_arm(), size.batch, seed=6)
    few = np.ascontiguousarray(q[: size.cut(0.1)])
    pairs = coal.pair_count

    def distances(rows: np.ndarray) -> object:
        return cell.clearance(rows)

    return [
        compare(f"least distance, {pairs} pairs, peer asks every pair", len(few), lambda: distances(few),
                {"coal": lambda: coal.least_distance(few)[0]}, size.repeats),
        compare(f"least distance, {pairs} pairs, peer best first", len(q), lambda: distances(q),
                {"coal": lambda: coal.least_distance_pruned(q)[0]}, size.repeats, 20),
        compare(f"clear or not, {pairs} pairs, peer stops early", len(q), lambda: cell.is_clear(q, MARGIN),
                {"coal": lambda: coal.is_clear(q, MARGIN)[0]}, size.repeats),
        compare(f"clear or not, {pairs} pairs, peer with its tree", len(q), lambda: cell.is_clear(q, MARGIN),
                {"coal": lambda: coal.is_clear_tree(q, MARGIN)[0]}, size.repeats, 10),
        *alone(size),
    ]  # fmt: skip
