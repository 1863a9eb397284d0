"""Sources, each named at its check: anchor and bolt-group examples, tables of ISO 898-1 and EN 1993-1-8 (from memory),
a footing's textbook forms. Figures told as recomputed were worked out by hand."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import linprog, minimize

from armwright import _core

elements = _core.elements
NO_PLATE = np.zeros((0, 2))


def ring(count: int, diameter: float, first: float = 0.0) -> np.ndarray:
    turn = first + 2 * np.pi * np.arange(count) / count
    return diameter / 2 * np.stack([np.cos(turn), np.sin(turn)], axis=-1)


def load(fz: float = 0, mx: float = 0, my: float = 0, fx: float = 0, fy: float = 0, mz: float = 0) -> np.ndarray:
    return np.array([[fx, fy, fz, mx, my, mz]], dtype=float)


def test_anchor_bolts_of_a_vessel() -> None:
    # a steel designer's worked example of a vessel's foundation (seen): T = 4 M/(N D) - W/N = 12.581940 (recomputed)
    # tonnes; 24 bolts on 4.53 m, M 1.6 · 262.94 t m, W 0.9 · 77.24 t
    group = elements.BoltGroup(ring(24, 4.53), NO_PLATE)
    tension = group.elastic(load(-0.9 * 77.24, 1.6 * 262.94))
    assert tension.max() == pytest.approx(12.581940, abs=5e-7)


def test_the_same_vessel_is_held_by_friction() -> None:
    # same page: base shear 1.6 · 20.3 = 32.48 t; friction 0.55 · 209.73 = 115.4 t (seen): anchors need not bear shear
    group = elements.BoltGroup(ring(24, 4.53), NO_PLATE)
    held = group.slip(load(fx=1.6 * 20.3), np.full((1, 24), 209.73 / 24), 0.55)[0]
    assert held[0] * 32.48 == pytest.approx(115.4, abs=0.06)


def test_eight_bolts_and_four() -> None:
    # recomputed: sum y² = N R²/2; a bolt on the axis, and turned by 22.5°; a square of 0.4 m on a plate of 0.5 m,
    # about its edge by the far bolts
    moved = load(-4000, 5000)
    assert elements.BoltGroup(ring(8, 0.6), NO_PLATE).elastic(moved).max() == pytest.approx(3666.667, abs=5e-4)
    turned = elements.BoltGroup(ring(8, 0.6, np.pi / 8), NO_PLATE)
    assert turned.elastic(moved).max() == pytest.approx(3349.498, abs=5e-4)
    corners = np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    group = elements.BoltGroup(0.2 * corners, 0.25 * corners)
    assert group.elastic(moved).max() == pytest.approx(5250)
    assert group.far(moved).max() == pytest.approx(4444.444, abs=5e-4)


def test_shear_of_four_bolts_beside_a_load() -> None:
    # Shigley, example 8-7 (memory; recomputed): 16 kN at 425 mm beside four bolts 150 by 120 mm apart: 4 kN and 17.7 kN
    # each, together 21.0 kN in the two near the load and 14.8 kN in the others
    points = np.array([[0.075, 0.06], [0.075, -0.06], [-0.075, -0.06], [-0.075, 0.06]])
    group = elements.BoltGroup(points, NO_PLATE)
    shear = np.linalg.norm(group.shear(load(fy=-16e3, mz=-16e3 * 0.425))[0], axis=-1)
    np.testing.assert_allclose(shear, [21.0e3, 21.0e3, 14.8e3, 14.8e3], atol=50)
    twisted = np.linalg.norm(group.shear(load(mz=-16e3 * 0.425))[0], axis=-1)
    np.testing.assert_allclose(twisted, 17.7e3, atol=50)


@pytest.mark.parametrize("seed", range(12))
def test_pivot_against_a_general_minimiser(seed: int) -> None:
    # scipy's SLSQP on the energy of the bolts, the plate's corners kept above the ground
    rng = np.random.default_rng(seed)
    points = rng.uniform(-0.2, 0.2, (6, 2))
    plate = ring(9, 0.62, 0.2)
    fz, mx, my = rng.uniform(-3000, 1500), *rng.uniform(-900, 900, 2)
    force = np.array([fz, -my, mx])

    def energy(plane: np.ndarray) -> float:
        w = plane[0] + points @ plane[1:]
        return float(0.5 * w @ w - force @ plane) / 1e6

    best = minimize(energy, np.zeros(3), method="SLSQP", options={"ftol": 1e-16, "maxiter": 1000},
                    constraints={"type": "ineq", "fun": lambda plane: plane[0] + plate @ plane[1:]})  # fmt: skip
    expected = best.x[0] + points @ best.x[1:]
    found = elements.BoltGroup(points, plate).pivot(load(fz, mx, my))[0]
    np.testing.assert_allclose(found, expected, atol=2e-3 * max(np.abs(expected).max(), 1))


@pytest.mark.parametrize("seed", range(6))
def test_slip_against_linear_programming(seed: int) -> None:
    # scipy's linprog: the greatest load that friction shares within circles (as polygons of 96 sides) balance
    rng = np.random.default_rng(seed)
    points, clamp = rng.uniform(-0.3, 0.3, (7, 2)), rng.uniform(0, 9e3, 7)
    fx, fy, mz = rng.uniform(-900, 900), rng.uniform(-900, 900), rng.uniform(-300, 300)
    n, turn = len(points), 2 * np.pi * np.arange(96) / 96
    balance = np.zeros((3, 2 * n + 1))
    balance[0, :-1:2], balance[1, 1:-1:2] = 1, 1
    balance[2, :-1:2], balance[2, 1:-1:2] = -points[:, 1], points[:, 0]
    balance[:, -1] = -fx, -fy, -mz
    inside = np.zeros((96 * n, 2 * n + 1))
    for i in range(n):
        inside[96 * i : 96 * (i + 1), 2 * i : 2 * i + 2] = np.stack([np.cos(turn), np.sin(turn)], axis=-1)
    answer = linprog(-np.eye(2 * n + 1)[-1], inside, np.repeat(0.2 * clamp, 96), balance, np.zeros(3),
                     bounds=[(None, None)] * (2 * n) + [(0, None)])  # fmt: skip
    safe, bound = elements.BoltGroup(points, NO_PLATE).slip(load(fx=fx, fy=fy, mz=mz), clamp[None], 0.2)[0]
    assert safe <= -answer.fun * (1 + 1e-9) and safe == pytest.approx(-answer.fun, rel=2.5e-3)
    assert bound >= -answer.fun * math.cos(math.pi / 96) * (1 - 1e-9)


def test_proof_loads() -> None:
    # ISO 898-1, table 5 (from memory), kN
    for name, diameter, pitch, proof in (("8.8", 16, 2, 91.0), ("8.8", 20, 2.5, 147.0), ("10.9", 12, 1.75, 70.0),
                                         ("12.9", 10, 1.5, 56.3), ("4.6", 24, 3, 79.4)):  # fmt: skip
        known = elements.property_class(name, diameter / 1e3)
        assert known.proof * elements.stress_area(diameter / 1e3, pitch / 1e3) == pytest.approx(proof * 1e3, rel=2e-3)


def test_resistance_of_a_bolt_in_a_joint() -> None:
    # tables of practice to EN 1993-1-8 (from memory): M16 8.8: 90.4 kN in tension, 60.3 kN in shear through the thread
    known = elements.property_class("8.8", 0.016)
    assert elements.joint_safety(known, 157e-6, 90.4e3, 0.0) == pytest.approx(1, abs=6e-4)
    assert elements.joint_safety(known, 157e-6, 0.0, 60.3e3) == pytest.approx(1, abs=6e-4)
    stronger = elements.property_class("10.9", 0.020)  # M20 10.9: 176 kN and 98.0 kN
    assert elements.joint_safety(stronger, 245e-6, 176e3, 0.0) == pytest.approx(1, abs=3e-3)
    assert elements.joint_safety(stronger, 245e-6, 0.0, 98e3) == pytest.approx(1, abs=6e-4)


def test_footing_of_a_rectangle_and_a_circle() -> None:
    # textbook forms (from memory): N/A (1 + 6 e/b) up to e = b/6, 2 N/(3 h (b/2 - e)) beyond; a circle's kern is a
    # quarter of its radius, and at e = r/4 the greatest pressure is twice the mean
    b, h = 0.6, 0.4
    corners = np.array([[-b, -h], [b, -h], [b, h], [-b, h]]) / 2
    for e in (0.0, 0.05, 0.1, 0.15, 0.25, 0.299):
        under = elements.footings(corners, load(-1000, 0, 1000 * e))[0]
        expected = 1000 / (b * h) * (1 + 6 * e / b) if e <= b / 6 else 2000 / (3 * h * (b / 2 - e))
        assert under[3] == pytest.approx(expected, rel=1e-9)
    circle = ring(2000, 1.0)
    at_kern = elements.footings(circle, load(-1000, 0, 1000 * 0.125))[0]
    assert at_kern[3] == pytest.approx(2 * 1000 / (np.pi * 0.25), rel=1e-5) and at_kern[4] == pytest.approx(1, abs=1e-6)
    assert elements.footings(circle, load(-1000, 0, 1000 * 0.13))[0, 4] < 1


def test_tipping_ratio() -> None:
    # recomputed: 6000 N, half base 0.4 m; 40 kg times 1.5 at 1.6 m, g 9.81: 3.397893
    hull = 0.4 * np.array([[-1.0, -1], [1, -1], [1, 1], [-1, 1]])
    weight = 40 * 9.81 * 1.5
    tips = elements.tipping_moments(hull, load(-weight, 0, 1.6 * weight)).max()
    keeps = -elements.tipping_moments(hull, load(-6000)).max()
    assert keeps / tips == pytest.approx(3.397893, abs=5e-7)
