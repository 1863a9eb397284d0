"""A reach map with clearance and payload against the obvious way: a loop over eaik, pinocchio and coal, in Python and
in C++.

The loop asks, for each position and attitude, eaik for all solutions, keeps those within the joint limits, and for
each asks pinocchio (with coal) for the least distance, the Jacobian and the gravity torque. The same for the curve of
payload against reach, which comes with our payload map, but for the least distance, which does not count there. The
same cell, positions and attitudes; the answers are compared. The C++ loop (peers/map_peer.cpp) does the same, with
pairs of solids in the order of a lower bound."""

from __future__ import annotations

import math
import time
from functools import partial
from typing import Any

import numpy as np
import peer
from measure import Row, Size, compare, processor_time
from shared import bench_fixtures, builds, loaded

import armwright as aw
from armwright.studies import run
from cases.arms import bench_boxes, spherical_arm
from cases.chain import Array, Chain, pose

MARGIN = 0.01  # m
G = 9.80665
MOUNT = pose((1.2, 0, 0.29))
DIRECTIONS, SPINS = 12, 1
AZIMUTHS, CURVE_DIRECTIONS = 8, 72  # of the curve


def our_cell(fixtures: tuple[Any, ...] | None = None) -> Any:
    """The six-joint arm among the bench's boxes, or among others."""
    return aw.Cell(loaded(spherical_arm()), fixtures=bench_fixtures() if fixtures is None else fixtures, mount=MOUNT)


class PeerCell:
    """The same cell in the peers' own objects."""

    def __init__(self, chain: Chain):
        import coal
        import pinocchio as pin
        from eaik.pybindings import EAIK

        self.pin, self.chain = pin, chain
        self.lower, self.upper = chain.limits()
        self.effort = np.array([link.effort for link in chain.links])
        H, P, R = chain.eaik_numbers()
        self.eaik = EAIK.Robot(H.T, P.T, R, [], True)
        self.model, parent = pin.Model(), 0
        solids: list[tuple[int, Any, Array]] = []
        axes = {0: pin.JointModelRX, 1: pin.JointModelRY, 2: pin.JointModelRZ}
        for i, link in enumerate(chain.links):
            at = MOUNT @ link.placement if i == 0 else link.placement
            parent = self.model.addJoint(parent, axes[int(np.argmax(link.axis))](), pin.SE3(at), f"joint {i}")
            self.model.appendBodyToJoint(parent, pin.Inertia(link.mass, link.centre, link.inertia), pin.SE3.Identity())
            solids += [(parent, coal.Capsule(c.radius, c.length), c.pose) for c in link.capsules]
        self.tool = self.model.addFrame(pin.Frame("tool", parent, pin.SE3(chain.tool), pin.FrameType.OP_FRAME))
        self.model.gravity.linear = np.array([0.0, 0.0, -G])
        self.data = self.model.createData()
        self.solids = pin.GeometryModel()
        capsules = [
            self.solids.addGeometryObject(pin.GeometryObject(f"capsule {k}", j, pin.SE3(X), s))
            for k, (j, s, X) in enumerate(solids)
        ]
        boxes = [self.solids.addGeometryObject(pin.GeometryObject(f"box {k}", 0, pin.SE3(X), coal.Box(*size)))
                 for k, (X, size) in enumerate(zip(*bench_boxes(), strict=True))]  # fmt: skip
        for n, a in enumerate(capsules):
            for b in [*boxes, *capsules[n + 2 :]]:
                self.solids.addCollisionPair(pin.CollisionPair(a, b))
        self.solid_data = self.solids.createData()
        self.base = np.linalg.inv(MOUNT)

    def postures(self, X: Array) -> list[Array]:
        """Every posture that keeps the limits."""
        found = []
        answer = self.eaik.calculate_IK(self.base @ X)
        for solution, missed in zip(answer.Q, answer.is_LS, strict=True):
            if missed:
                continue
            q = solution + 2 * math.pi * np.round(((self.lower + self.upper) / 2 - solution) / (2 * math.pi))
            if (q >= self.lower).all() and (q <= self.upper).all():
                found.append(q)
        return found

    def mass(self, q: Array, J: Array) -> float:
        held = self.pin.computeGeneralizedGravity(self.model, self.data, q)
        per_kilogram = J[2] * G
        with np.errstate(divide="ignore", invalid="ignore"):
            masses = np.where(
                np.abs(per_kilogram) > 1e-12, (np.copysign(self.effort, per_kilogram) - held) / per_kilogram, np.inf
            )
        return max(0.0, float(masses.min()))

    def jacobian(self, q: Array) -> Array:
        J: Array = self.pin.computeFrameJacobian(self.model, self.data, q, self.tool, self.pin.LOCAL_WORLD_ALIGNED)
        return J

    def at(self, X: Array) -> list[tuple[float, float, float, float]]:
        """Margin to the limits, manipulability, clearance and mass held, of every posture that keeps limits and
        margin."""
        found = []
        for q in self.postures(X):
            least = self.pin.computeDistances(self.model, self.data, self.solids, self.solid_data, q)
            clearance = self.solid_data.distanceResults[least].min_distance
            if clearance < MARGIN:
                continue
            J = self.jacobian(q)
            half = (self.upper - self.lower) / 2
            margin = float(((half - np.abs(q - (self.lower + self.upper) / 2)) / half).min())
            found.append((margin, abs(float(np.linalg.det(J))), clearance, self.mass(q, J)))
        return found

    def curve(self, distances: Array, heights: Array, turns: Array) -> Array:
        """Greatest mass at each height and distance from axis 1."""
        found = np.full((len(heights), len(distances)), np.nan)
        root, X = MOUNT[:2, 3], np.eye(4)
        first = self.heading()
        for i, height in enumerate(heights):
            for j, distance in enumerate(distances):
                masses = []
                for k in range(AZIMUTHS):
                    turn = first + 2 * math.pi * k / AZIMUTHS
                    X[:3, 3] = *(root + distance * np.array([math.cos(turn), math.sin(turn)])), height
                    for R in turns:
                        X[:3, :3] = R
                        masses += [self.mass(q, self.jacobian(q)) for q in self.postures(X)]
                if masses:
                    found[i, j] = max(masses)
        return found

    def heading(self) -> float:
        """Where the arm points with all joints at mid-range."""
        self.pin.framesForwardKinematics(self.model, self.data, (self.lower + self.upper) / 2)
        away = self.data.oMf[self.tool].translation[:2] - MOUNT[:2, 3]
        return math.atan2(away[1], away[0]) if float(np.hypot(*away)) > 1e-6 else 0.0

    def maps(self, positions: Array, turns: Array) -> tuple[Array, Array, Array]:
        """Reach index, best clearance, greatest mass, a position each."""
        index, clearance, mass = (np.full(len(positions), value) for value in (0.0, np.nan, np.nan))
        X = np.eye(4)
        for i, p in enumerate(positions):
            best = [f for R in turns if (f := self._best(X, p, R)) is not None]
            if best:
                index[i] = len(best) / len(turns)
                clearance[i], mass[i] = np.max(best, axis=0)
        return index, clearance, mass

    def _best(self, X: Array, p: Array, R: Array) -> tuple[float, float] | None:
        X[:3, 3], X[:3, :3] = p, R
        postures = self.at(X)
        return (max(f[2] for f in postures), max(f[3] for f in postures)) if postures else None


def curve_poses(payload: Any, first: float) -> Array:
    """Where the curve of payload against reach is asked for, (height, distance, azimuth, 3)."""
    turns = first + 2 * math.pi * np.arange(AZIMUTHS) / AZIMUTHS
    h, d, t = np.meshgrid(payload["height"].values, payload["distance"].values, turns, indexing="ij")
    return np.stack([MOUNT[0, 3] + d * np.cos(t), MOUNT[1, 3] + d * np.sin(t), h], axis=-1)


def rows(size: Size) -> list[Row]:
    spacing = 0.5 if size.batch < 5000 else 0.15
    cell, loop = our_cell(), PeerCell(spherical_arm())
    asked = {"directions": DIRECTIONS, "spins": SPINS, "margin": MARGIN, "threads": 1}

    def ours() -> tuple[Any, Any]:
        return cell.reach_map(spacing, **asked), cell.payload_map(spacing, **asked)

    reach, payload = ours()
    positions = np.stack(np.meshgrid(*(reach[a].values for a in "xyz"), indexing="ij"), axis=-1).reshape(-1, 3)
    turns, finer = (np.asarray(run.attitudes_for("any", n, SPINS)) for n in (DIRECTIONS, CURVE_DIRECTIONS))
    poses = len(positions) * len(turns) + payload["curve_mass"].size * AZIMUTHS * len(finer)
    start = time.process_time()
    index, clearance, mass = loop.maps(positions, turns)
    curve = loop.curve(payload["distance"].values, payload["height"].values, finer)
    theirs = time.process_time() - start
    agree(reach, payload, index, clearance, mass)
    agree_on_curve(payload["curve_mass"].values, curve)
    mine = [processor_time(ours) for _ in range(max(2, size.repeats // 3))]
    name = f"reach, clearance and payload map with its curve, {poses} poses"
    ratios = tuple(theirs / m for m in mine)
    in_python = Row(name, "loop", 600.0, poses / float(np.median(mine)), poses / theirs, ratios)

    at = curve_poses(payload, loop.heading())
    peers = {build: peer.Map(spherical_arm(), bench_boxes(), MOUNT, build) for build in builds("map")}

    def whole(asked_peer: peer.Map) -> float:
        map_time, (reached, best) = asked_peer.positions(positions, turns, MARGIN)
        curve_time, (served, held) = asked_peer.positions(at.reshape(-1, 3), finer, None)
        index, best = reached / len(turns), np.where(reached[:, None] > 0, best, np.nan)
        agree(reach, payload, index, best[:, 2], best[:, 3])
        for variable, told in zip(("limit_margin", "manipulability"), (best[:, 0], best[:, 1]), strict=True):
            agree_where_same(reach, index, variable, told)
        found = np.where(served > 0, held[:, 3], np.nan).reshape(at.shape[:-1])
        with np.errstate(all="ignore"):
            agree_on_curve(payload["curve_mass"].values, np.fmax.reduce(found, axis=-1))
        return map_time + curve_time

    pairs = next(iter(peers.values())).solids.pair_count
    title = f"whole map: solutions, limits, least distance over {pairs} pairs, gravity"
    runs = {build: partial(whole, asked_peer) for build, asked_peer in peers.items()}
    return [in_python, compare(title, poses, ours, runs, max(2, size.repeats // 3), goal=25.0)]


def agree_where_same(reach: Any, index: Array, variable: str, told: Array) -> None:
    """One more variable, where the same attitudes are reached."""
    both = (np.abs(reach["reach_index"].values.ravel() - index) < 1e-9) & (index > 0)
    assert np.mean(np.abs(reach[variable].values.ravel()[both] - told[both]) < 1e-6) > 0.98


def agree(reach: Any, payload: Any, index: Array, clearance: Array, mass: Array) -> None:
    """The same map, but for positions where an attitude stands on an edge (a limit, the margin, the outermost
    reach)."""
    ours = reach["reach_index"].values.ravel()
    same = np.abs(ours - index) < 1e-9
    assert same.mean() > 0.98, f"{(~same).sum()} of {len(same)} positions differ"
    both = same & (index > 0)
    assert both.any()
    found = reach["clearance"].values.ravel()[both]
    assert np.mean(np.abs(found - clearance[both]) < 1e-5) > 0.98
    held = payload["mass_greatest"].values.ravel()[both]
    assert np.mean(np.abs(held - mass[both]) < 1e-6 * (1 + mass[both])) > 0.98


def agree_on_curve(ours: Array, theirs: Array) -> None:
    both = ~np.isnan(ours) & ~np.isnan(theirs)
    assert np.mean(np.isnan(ours) == np.isnan(theirs)) > 0.98 and both.any()
    assert np.mean(np.abs(ours[both] - theirs[both]) < 1e-6 * (1 + theirs[both])) > 0.98
