"""A frame of straight beams by finite elements, written for the tests alone, in the usual textbook matrices: 3-D beams
of two nodes with six freedoms each, Timoshenko's shear, consistent mass; springs between nodes; masses on nodes."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np

Array = np.ndarray


def skew(v: Any) -> Array:
    x, y, z = v
    return np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]], float)


class Frame:
    """Nodes, their stiffness and mass, freedoms along and about the world's axes."""

    def __init__(self) -> None:
        self.places: list[Array] = []
        self.K: Array = np.zeros((0, 0))
        self.M: Array = np.zeros((0, 0))
        self.f: Array = np.zeros(0)
        self.gravity = np.array([0, 0, -9.80665])

    def node(self, place: Any) -> int:
        self.places.append(np.asarray(place, float))
        size = 6 * len(self.places)
        for name in ("K", "M"):
            grown = np.zeros((size, size))
            grown[: size - 6, : size - 6] = getattr(self, name)
            setattr(self, name, grown)
        self.f = np.concatenate([self.f, np.zeros(6)])
        return len(self.places) - 1

    def _dofs(self, *nodes: int) -> Array:
        return np.concatenate([np.arange(6 * node, 6 * node + 6) for node in nodes])

    def _add(self, name: str, nodes: tuple[int, ...], matrix: Array) -> None:
        at = self._dofs(*nodes)
        getattr(self, name)[np.ix_(at, at)] += matrix

    def beam(self, a: int, b: int, turned: Array, numbers: dict[str, float], parts: int = 8) -> None:
        """Beams in a row between two nodes. ``turned``: columns along, width, height. ``numbers``: EA, EIy, EIz, GJ,
        GAy, GAz, m (kg/m), rx, ry, rz (rotary inertia of a metre)."""
        start, end = self.places[a], self.places[b]
        nodes = [a, *(self.node(start + (end - start) * k / parts) for k in range(1, parts)), b]
        length = float(np.linalg.norm(end - start)) / parts
        spread = np.kron(np.eye(4), turned)
        stiff, mass = beam_matrices(length, numbers)
        for near, far in pairwise(nodes):
            self._add("K", (near, far), spread @ stiff @ spread.T)
            self._add("M", (near, far), spread @ mass @ spread.T)
            # Weight evenly spread: half at each node, and the fixed end moments w L²/12.
            w = numbers["m"] * (turned.T @ self.gravity)
            local = np.zeros(12)
            local[0:3] = local[6:9] = w * length / 2
            local[4], local[10] = -w[2] * length**2 / 12, w[2] * length**2 / 12
            local[5], local[11] = w[1] * length**2 / 12, -w[1] * length**2 / 12
            self.f[self._dofs(near, far)] += spread @ local

    def spring(self, a: int, b: int, turned: Array, shifts: Any, turns: Any) -> None:
        """Springs between two nodes at one place, along and about the columns of ``turned``."""
        k = np.kron(np.eye(2), turned) @ np.diag([*shifts, *turns]) @ np.kron(np.eye(2), turned).T
        self._add("K", (a, b), np.block([[k, -k], [-k, k]]))

    def body(self, node: int, mass: float, centre: Any, tensor: Array) -> None:
        """A rigid body on a node, its centre of gravity anywhere."""
        r = np.asarray(centre, float) - self.places[node]
        move = np.block([[np.eye(3), -skew(r)], [np.zeros((3, 3)), np.eye(3)]])
        own = np.zeros((6, 6))
        own[:3, :3], own[3:, 3:] = mass * np.eye(3), tensor
        self._add("M", (node,), move.T @ own @ move)
        self.f[self._dofs(node)] += move.T @ np.concatenate([mass * self.gravity, np.zeros(3)])

    def _free(self, fixed: int) -> Array:
        return np.setdiff1d(np.arange(len(self.f)), self._dofs(fixed))

    def sag(self, node: int, fixed: int) -> Array:
        free = self._free(fixed)
        moved = np.zeros(len(self.f))
        moved[free] = np.linalg.solve(self.K[np.ix_(free, free)], self.f[free])
        return moved[self._dofs(node)]

    def frequencies(self, count: int, fixed: int) -> Array:
        from scipy.linalg import eigh

        # Some nodes have no mass, so the inverse problem is asked: M x = mu K x, mu = 1/omega².
        at = np.ix_(self._free(fixed), self._free(fixed))
        mu = eigh(self.M[at], self.K[at], eigvals_only=True)[::-1][:count]
        return 1 / (2 * np.pi * np.sqrt(mu))


def beam_matrices(L: float, n: dict[str, float]) -> tuple[Array, Array]:
    """Stiffness (Timoshenko) and consistent mass (Euler-Bernoulli shapes, with rotary inertia) of a beam along x
    (Przemieniecki, Theory of Matrix Structural Analysis, memory)."""
    K, M = np.zeros((12, 12)), np.zeros((12, 12))
    K[np.ix_([0, 6], [0, 6])] = n["EA"] / L * np.array([[1, -1], [-1, 1]])
    K[np.ix_([3, 9], [3, 9])] = n["GJ"] / L * np.array([[1, -1], [-1, 1]])
    M[np.ix_([0, 6], [0, 6])] = n["m"] * L / 6 * np.array([[2, 1], [1, 2]])
    M[np.ix_([3, 9], [3, 9])] = n["rx"] * L / 6 * np.array([[2, 1], [1, 2]])
    level, upright = ("EIz", "GAy", "rz", [1, 5, 7, 11], 1), ("EIy", "GAz", "ry", [2, 4, 8, 10], -1)
    for bend, give, spin, at, s in (level, upright):
        EI, GA, r = n[bend], n[give], n[spin]
        p = 12 * EI / (GA * L**2)
        turn = np.diag([1, s, 1, s])
        k = EI / ((1 + p) * L**3) * np.array([
            [12, 6 * L, -12, 6 * L], [6 * L, (4 + p) * L**2, -6 * L, (2 - p) * L**2],
            [-12, -6 * L, 12, -6 * L], [6 * L, (2 - p) * L**2, -6 * L, (4 + p) * L**2],
        ])  # fmt: skip
        m = n["m"] * L / 420 * np.array([
            [156, 22 * L, 54, -13 * L], [22 * L, 4 * L**2, 13 * L, -3 * L**2],
            [54, 13 * L, 156, -22 * L], [-13 * L, -3 * L**2, -22 * L, 4 * L**2],
        ])  # fmt: skip
        m += r / (30 * L) * np.array([
            [36, 3 * L, -36, 3 * L], [3 * L, 4 * L**2, -3 * L, -(L**2)],
            [-36, -3 * L, 36, -3 * L], [3 * L, -(L**2), -3 * L, 4 * L**2],
        ])  # fmt: skip
        K[np.ix_(at, at)] = turn @ k @ turn
        M[np.ix_(at, at)] = turn @ m @ turn
    return K, M
