"""The C++ peers from Python: same arrays in, same arrays out, and the processor seconds that their own loop took."""

from __future__ import annotations

import ctypes
import hashlib
from collections.abc import Callable
from importlib.metadata import version
from pathlib import Path
from typing import Any

import build_peers
import numpy as np

from cases.chain import Array, Chain

G = 9.80665  # m/s²
FUNCTIONS = ["tool_pose", "jacobian", "gravity", "inverse_dynamics", "forward_dynamics", "mass_matrix", "solve"]
FUNCTIONS += ["least_distance", "least_distance_pruned", "is_clear", "is_clear_tree", "capsule_boxes", "hull_mesh"]
FUNCTIONS += ["positions"]


def _p(array: Any) -> ctypes.c_void_p:
    return ctypes.c_void_p(array.ctypes.data)


def _library(name: str) -> ctypes.CDLL:
    library = ctypes.CDLL(str(build_peers.build(name)))
    for prefix in ["pin", "eaik", "ssik", "coal", "map"]:
        for function in FUNCTIONS:
            if hasattr(library, f"{prefix}_{function}"):
                getattr(library, f"{prefix}_{function}").restype = ctypes.c_double
        if hasattr(library, f"{prefix}_open"):
            getattr(library, f"{prefix}_open").restype = ctypes.c_void_p
    if hasattr(library, "coal_hull_open"):
        library.coal_hull_open.restype = ctypes.c_void_p
    return library


class Pin:
    """pinocchio in C++, the arm told in numbers."""

    def __init__(self, chain: Chain, build: str = "pin", gravity: float = G):
        self.library, self.n, self.build = _library(build), chain.count, build
        self.handle = ctypes.c_void_p(open_pin(self.library, chain, gravity))

    def tool_pose(self, q: Array) -> tuple[float, Array]:
        out = np.empty((len(q), 4, 4))
        return self.library.pin_tool_pose(self.handle, ctypes.c_long(len(q)), _p(q), _p(out)), out

    def jacobian(self, q: Array, index: bool = False) -> tuple[float, tuple[Array, Array]]:
        out, w = np.empty((len(q), 6, self.n)), np.empty(len(q))
        asked = _p(w) if index else None
        return self.library.pin_jacobian(self.handle, ctypes.c_long(len(q)), _p(q), _p(out), asked), (out, w)

    def gravity(self, q: Array) -> tuple[float, Array]:
        out = np.empty((len(q), self.n))
        return self.library.pin_gravity(self.handle, ctypes.c_long(len(q)), _p(q), _p(out)), out

    def inverse_dynamics(self, q: Array, qd: Array, qdd: Array) -> tuple[float, Array]:
        out = np.empty((len(q), self.n))
        return self.library.pin_inverse_dynamics(
            self.handle, ctypes.c_long(len(q)), _p(q), _p(qd), _p(qdd), _p(out)
        ), out

    def set_armature(self, armature: Array) -> None:
        """Reflected inertias of the motors, one a joint."""
        self.library.pin_set_armature(self.handle, _p(np.ascontiguousarray(armature, dtype=np.float64)))

    def forward_dynamics(self, q: Array, qd: Array, tau: Array) -> tuple[float, Array]:
        out = np.empty((len(q), self.n))
        return self.library.pin_forward_dynamics(
            self.handle, ctypes.c_long(len(q)), _p(q), _p(qd), _p(tau), _p(out)
        ), out

    def mass_matrix(self, q: Array) -> tuple[float, Array]:
        out = np.empty((len(q), self.n, self.n))
        return self.library.pin_mass_matrix(self.handle, ctypes.c_long(len(q)), _p(q), _p(out)), out


def open_pin(library: ctypes.CDLL, chain: Chain, gravity: float, mount: Array | None = None) -> int:
    kinds = np.array([0 if link.kind == "revolute" else 1 for link in chain.links], np.int32)
    axes = np.array([int(np.argmax(link.axis)) for link in chain.links], np.int32)
    for link in chain.links:
        if sorted(link.axis) != [0, 0, 1]:
            raise ValueError("the peer knows joints along x, y or z of their frames: pinocchio's fastest")
    placements = np.array([link.placement for link in chain.links])
    if mount is not None:
        placements[0] = mount @ placements[0]
    bodies = np.array([_body(link) for link in chain.links])
    tool = np.ascontiguousarray(chain.tool)
    return library.pin_open(
        chain.count, _p(kinds), _p(axes), _p(placements), _p(bodies), _p(tool), ctypes.c_double(gravity)
    )


def _body(link: Any) -> list[float]:
    T = link.inertia
    return [link.mass, *link.centre, T[0, 0], T[0, 1], T[1, 1], T[0, 2], T[1, 2], T[2, 2]]


class Eaik:
    """eaik in C++: all solutions."""

    def __init__(self, chain: Chain, build: str = "eaik"):
        self.library, self.build = _library(build), build
        H, P, R = (np.ascontiguousarray(a) for a in chain.eaik_numbers())
        self.handle = ctypes.c_void_p(self.library.eaik_open(_p(H), _p(P), _p(R)))

    def solve(self, poses: Array) -> tuple[float, tuple[Array, Array]]:
        q, counts = np.empty((len(poses), 16, 6)), np.empty(len(poses), np.int32)
        return self.library.eaik_solve(self.handle, ctypes.c_long(len(poses)), _p(poses), _p(q), _p(counts)), (
            q,
            counts,
        )


class Ssik:
    """ssik in C++: all solutions of arms without a closed form. To prepare an arm it takes minutes, by symbols; what it
    makes of it is kept beside the peers' libraries."""

    def __init__(self, chain: Chain, build: str = "ssik"):
        self.library, self.build = _library(build), build
        numbers = chain.eaik_numbers()
        self.flange = np.eye(4)  # ssik's end frame at zero stands as its base does
        self.flange[:3, :3] = numbers[2].T
        kept = self._kept(chain)
        if not kept.exists():
            _tell_ssik(numbers, kept)
        self.library.ssik_data.restype = ctypes.c_void_p
        with np.load(kept) as told:
            family, schema = str(told["family"]), int(told["schema"])
            data = ctypes.c_void_p(self.library.ssik_data(family.encode(), schema))
            for name in told.files:
                if name not in ("family", "schema"):
                    self._add(data, name, told[name])
        self.handle = ctypes.c_void_p(self.library.ssik_open(data))
        if not self.handle:
            raise ValueError(f"ssik does not take this arm ({family})")

    @staticmethod
    def _kept(chain: Chain) -> Path:
        told = b"".join(np.ascontiguousarray(array).tobytes() for array in chain.eaik_numbers())
        digest = hashlib.sha256(told).hexdigest()[:12]
        return build_peers.OUT / f"ssik-{version('ssik')}-{digest}.npz"

    @classmethod
    def is_prepared(cls, chain: Chain) -> bool:
        return cls._kept(chain).exists()

    def _add(self, data: ctypes.c_void_p, name: str, array: Any) -> None:
        add = self.library.ssik_add_integers if array.dtype == np.int32 else self.library.ssik_add_numbers
        shape, numbers = np.array(array.shape, np.int64), np.ascontiguousarray(array)
        add(data, name.encode(), array.ndim, _p(shape), ctypes.c_long(array.size), _p(numbers))

    def solve(self, poses: Array) -> tuple[float, tuple[Array, Array]]:
        q, counts = np.empty((len(poses), 16, 6)), np.empty(len(poses), np.int32)
        turned = np.ascontiguousarray(poses @ self.flange)
        return self.library.ssik_solve(self.handle, ctypes.c_long(len(poses)), _p(turned), _p(q), _p(counts)), (
            q,
            counts,
        )


def _tell_ssik(numbers: tuple[Array, Array, Array], to: Path) -> None:
    import ssik
    import ssik.cpp

    told = ssik.cpp.solver_data(ssik.Manipulator.from_axes(numbers[0], numbers[1]))
    np.savez(to, schema=told.schema, family=told.family, **told.arrays)


class Coal:
    """coal in C++ on pinocchio's frames: capsules of the chain against boxes, and against each other."""

    def __init__(self, chain: Chain, boxes: tuple[Array, Array], build: str = "coal", mount: Array | None = None):
        self.library = _library(build)
        arm = open_pin(self.library, chain, G, mount)
        told = [(i, c) for i, link in enumerate(chain.links) for c in link.capsules]
        joints = np.array([i for i, _ in told], np.int32)
        poses = np.array([c.pose for _, c in told])
        sizes = np.array([[c.radius, c.length] for _, c in told])
        pairs = [(a, b) for a in range(len(told)) for b in range(a + 2, len(told))]
        self.pairs = np.array(pairs, np.int32)
        at, edges = (np.ascontiguousarray(a) for a in boxes)
        self.handle = ctypes.c_void_p(
            self.library.coal_open(
                ctypes.c_void_p(arm),
                len(told),
                _p(joints),
                _p(poses),
                _p(sizes),
                len(at),
                _p(at),
                _p(edges),
                len(pairs),
                _p(self.pairs),
            )
        )
        self.pair_count, self.box_count = len(told) * len(at) + len(pairs), len(at)

    def _distances(self, function: Callable[..., float], q: Array) -> tuple[float, Array]:
        out = np.empty(len(q))
        return function(self.handle, ctypes.c_long(len(q)), _p(q), _p(out)), out

    def least_distance(self, q: Array) -> tuple[float, Array]:
        return self._distances(self.library.coal_least_distance, q)

    def least_distance_pruned(self, q: Array) -> tuple[float, Array]:
        return self._distances(self.library.coal_least_distance_pruned, q)

    def _clear(self, function: Callable[..., float], q: Array, margin: float) -> tuple[float, Array]:
        out = np.empty(len(q), bool)
        return function(self.handle, ctypes.c_long(len(q)), _p(q), ctypes.c_double(margin), _p(out)), out

    def is_clear(self, q: Array, margin: float) -> tuple[float, Array]:
        return self._clear(self.library.coal_is_clear, q, margin)

    def is_clear_tree(self, q: Array, margin: float) -> tuple[float, Array]:
        return self._clear(self.library.coal_is_clear_tree, q, margin)

    def capsule_boxes(self, poses: Array, radius: float, length: float, cached: bool) -> tuple[float, Array]:
        """One capsule in many places from each of the boxes, (places, boxes)."""
        out = np.empty((len(poses), self.box_count))
        size = ctypes.c_double(radius), ctypes.c_double(length)
        return self.library.coal_capsule_boxes(
            self.handle, ctypes.c_long(len(poses)), _p(poses), *size, int(cached), _p(out)
        ), out


class CoalHull:
    """A convex hull against a mesh in coal."""

    def __init__(self, hull: tuple[Array, Array], mesh: tuple[Array, Array], build: str = "coal"):
        self.library = _library(build)
        told: list[Any] = []
        for points, triangles in (hull, mesh):
            told += [
                len(points),
                np.ascontiguousarray(points),
                len(triangles),
                np.ascontiguousarray(triangles, np.int32),
            ]
        self.handle = ctypes.c_void_p(self.library.coal_hull_open(*(t if isinstance(t, int) else _p(t) for t in told)))

    def distances(self, poses: Array, cached: bool) -> tuple[float, Array]:
        out = np.empty(len(poses))
        return self.library.coal_hull_mesh(self.handle, ctypes.c_long(len(poses)), _p(poses), int(cached), _p(out)), out


class Map:
    """eaik, pinocchio and coal in one C++ loop over positions and attitudes."""

    def __init__(self, chain: Chain, boxes: tuple[Array, Array], mount: Array, build: str = "map"):
        self.solids, self.build = Coal(chain, boxes, build, mount), build
        self.library = self.solids.library
        H, P, R = (np.ascontiguousarray(a) for a in chain.eaik_numbers())
        limits = np.array([*chain.limits(), [link.effort for link in chain.links]])
        base = np.ascontiguousarray(mount)
        self.handle = ctypes.c_void_p(
            self.library.map_open(self.solids.handle, _p(H), _p(P), _p(R), _p(base), _p(limits))
        )

    def positions(self, positions: Array, turns: Array, margin: float | None) -> tuple[float, tuple[Array, Array]]:
        """Attitudes reached, (n,); best limit margin, manipulability, clearance and mass, (n, 4). ``margin`` None: no
        distances."""
        positions, turns = np.ascontiguousarray(positions), np.ascontiguousarray(turns)
        reached, best = np.empty(len(positions), np.int32), np.empty((len(positions), 4))
        seconds = self.library.map_positions(
            self.handle, ctypes.c_long(len(positions)), _p(positions), len(turns), _p(turns), margin is not None,
            ctypes.c_double(margin or 0.0), _p(reached), _p(best),
        )  # fmt: skip
        return seconds, (reached, best)
