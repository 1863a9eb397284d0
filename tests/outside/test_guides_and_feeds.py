"""Blocks, rails and feeds of a track against makers' tables, textbooks, and general numerical methods."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright import _core
from cases.railed_cells import rows

elements, limits = _core.elements, _core.limits
PLAIN = [1.0, 1.0, 1.0, 0.0, 0.0, 0.0]


def loads_of(places: Any, wrench: Any, across: float = 0.0, up: float = 0.0) -> Any:
    """Radial, lateral, roll, pitch, yaw of every block."""
    guide = limits.Guide(np.asarray(places, float), across, up, PLAIN, 0.0, False)
    return (guide.map @ np.asarray(wrench, float)).reshape(-1, 5)


def pushed(force: Any, at: Any) -> Any:
    return np.concatenate([force, np.cross(at, force)])


def four(c: float, d: float) -> Any:
    return [(x, y, 0.0) for x in (c / 2, -c / 2) for y in (d / 2, -d / 2)]


def test_four_blocks_by_the_makers_table() -> None:
    """P = F/4 ± (F/2)(b/c) ± (F/2)(a/d), as two makers' catalogues of linear guides print it (seen); 1000 N, 300 by 200
    mm, 500 and 100 mm beside the middle."""
    radial = loads_of(four(0.3, 0.2), pushed((0, 0, -1000), (0.5, 0.1, 0)))[:, 0]
    np.testing.assert_allclose(radial, [1333.333, 833.333, -333.333, -833.333], atol=5e-4)


def test_two_masses_on_four_blocks_speeding_up_and_braking() -> None:
    """A maker's catalogue of linear guides, worked example (memory; all recomputed by its formulas): 500 kg amid the
    blocks, 200 mm above them, and 800 kg 350 mm above, 120 mm along and 50 mm across from the middle; blocks 600
    by 400 mm apart, g 9.8 m/s², 10 m/s² one way and 3.333 m/s² braking. Through the study, from a described cell."""
    joint = aw.Joint("axis 1", axis="z", range=(-1, 1))
    arm = aw.ArmDescription((joint,), (aw.Link("load", 800.0, (0.12, 0.05, 0.35), np.zeros((3, 3))),), "table")
    guide = aw.Guide((0.2, -0.2), (-0.3, 0.3), 0.0, "ball", lift_share=1.0, side_share=1.0)
    table = aw.Link("table", 500.0, (0, 0, 0.2), np.zeros((3, 3)))
    cell = aw.Cell(arm, aw.Track("x", (-2.0, 0.0), carriage=table, guide=guide), gravity=(0, 0, -9.8))
    pulls = [[0.0, 0], [-10.0, 0], [10 / 3, 0]]
    made = rows(np.zeros((3, 2)), 0.0, pulls, kind="cycle", duty=1.0)
    out = cell.track_loads(rows=made)
    # in the catalogue's order: left and right on the far rail, right and left on the near one
    order = [0, 1, 3, 2]
    radial, lateral = out.radial.values[:, order], out.lateral.values[:, order]
    np.testing.assert_allclose(radial[0], [2891, 4459, 3479, 1911], atol=0.5)
    np.testing.assert_allclose(radial[1], [-275.6, 7625.6, 6645.6, -1255.6], atol=0.1)
    np.testing.assert_allclose(radial[2], [3946.6, 3403.4, 2423.4, 2966.6], atol=0.1)
    np.testing.assert_allclose(np.abs(lateral), [[0] * 4, [333.3] * 4, [111.1] * 4], atol=0.05)


def test_a_load_sideways_above_the_rails() -> None:
    """A maker's catalogue of linear tables (page of load examples, seen): 150 kgf, 192 mm between rails, 173 mm above:
    67.6 kgf. Its figures of side loads do not follow from its own formula, and are not used."""
    radial = loads_of(four(0.205, 0.192), pushed((0, 150, 0), (0, 0, 0.173)))[:, 0]
    np.testing.assert_allclose(np.abs(radial), 67.6, atol=0.05)


def test_loads_of_least_energy_by_a_pseudo_inverse() -> None:
    """Equal springs: of all loads in balance the ones of least sum of squares, numpy's least-norm solution."""
    random = np.random.default_rng(14728)
    for count in (3, 4, 5, 6, 9, 12):
        places = random.uniform(-0.5, 0.5, (count, 3))
        wrench, feed = random.uniform(-1000, 1000, 6), random.uniform(-0.3, 0.3, 2)
        unit = [pushed(direction, place) for place in places for direction in ((0, 0, -1.0), (0, 1.0, 0))]
        left = wrench - pushed((wrench[0], 0, 0), (0, *feed))
        least = np.linalg.lstsq(np.array(unit).T, left, rcond=None)[0].reshape(-1, 2)
        found = loads_of(places, wrench, *feed)
        np.testing.assert_allclose(found[:, :2], least, atol=1e-8)
        np.testing.assert_allclose(found[:, 2:], 0, atol=1e-8)


def test_life_and_static_safety() -> None:
    """ISO 14728-1 (memory): (C/P)³ · 50 or 100 km, (C/P)^(10/3) · 100 km; recomputed for C/P = 6."""
    km = 1000.0
    assert elements.guide_life(6.0, 50 * km, 1.0, False) == pytest.approx(10_800 * km)
    assert elements.guide_life(6.0, 100 * km, 1.0, False) == pytest.approx(21_600 * km)
    assert elements.guide_life(6.0, 100 * km, 1.0, True) == pytest.approx(39_249.8 * km, rel=2e-6)
    assert elements.rating_at_distance(1.0, 100 * km, 50 * km, False) == pytest.approx(1.2599210)
    assert elements.guide_static_safety(30e3, 12e3) == 2.5


def test_preload_by_hertz() -> None:
    """Both rows of balls by Hertz's 3/2 law, solved by scipy; the straight way between is at most 3 % above it. Makers
    print 2.8 times the preload as the load that frees the other row."""
    optimize = pytest.importorskip("scipy.optimize")
    for load in np.linspace(10, 2800, 30):
        moved = optimize.brentq(lambda d: (1 + d) ** 1.5 - max(1 - d, 0.0) ** 1.5 - load / 1000, 0, 3)  # noqa: B023
        exact = 1000 * (1 + moved) ** 1.5
        assert exact * (1 - 1e-9) <= elements.preloaded_block_load(load, 1000.0, False) <= 1.03 * exact


def finite_elements(stiffness: float, span: float, spans: int, built_in: bool, places: Any, loads: Any) -> Any:
    """Deflections under the loads, by two-node beam elements (textbook) cut at every support and load."""
    nodes = np.unique(np.round([*(span * np.arange(spans + 1)), *places], 12))
    matrix, force = np.zeros((2 * len(nodes),) * 2), np.zeros(2 * len(nodes))
    for i, h in enumerate(np.diff(nodes)):
        k = stiffness / h**3 * np.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                                         [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]])  # fmt: skip
        matrix[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += k
    where = [int(np.argmin(np.abs(nodes - place))) for place in places]
    for node, load in zip(where, loads, strict=True):
        force[2 * node] += load
    held = [2 * int(np.argmin(np.abs(nodes - span * i))) for i in range(spans + 1)]
    held += [1, 2 * len(nodes) - 1] if built_in else []
    free = np.setdiff1d(np.arange(len(force)), held)
    moved = np.zeros(len(force))
    moved[free] = np.linalg.solve(matrix[np.ix_(free, free)], force[free])
    return moved[[2 * node for node in where]]


@pytest.mark.parametrize(("spans", "built_in"), [(1, False), (1, True), (2, False), (5, False), (7, True)])
def test_rails_by_finite_elements(spans: int, built_in: bool) -> None:
    random = np.random.default_rng(spans)
    stiffness, span, train = 5200.0, 0.45, [0.0, 0.18, 0.31]
    for _ in range(8):
        first = float(random.uniform(0.01, spans * span - train[-1] - 0.01))
        loads = random.uniform(-2000, 3000, 3)
        expected = finite_elements(stiffness, span, spans, built_in, [first + x for x in train], loads)
        found = limits.worst_rail_bending(stiffness, span, spans, built_in, train, loads[None], [first])
        assert abs(found.deflection) == pytest.approx(np.abs(expected).max(), rel=1e-8)


def test_beam_tables() -> None:
    """Textbook (memory): simple P L³/48 E I, built in P L³/192 E I; long continuous beam, amid a span: 0.1708 P L."""
    one = {"train": [0.0], "loads": np.array([[800.0]]), "stiffness": 5200.0, "span": 0.5}
    simple = limits.worst_rail_bending(spans=1, built_in=False, places=[0.25], **one)
    assert simple.deflection == pytest.approx(800 * 0.5**3 / (48 * 5200))
    fixed = limits.worst_rail_bending(spans=1, built_in=True, places=[0.25], **one)
    assert fixed.deflection == pytest.approx(800 * 0.5**3 / (192 * 5200))
    long = limits.worst_rail_bending(spans=31, built_in=False, places=[15.5 * 0.5], **one)
    assert long.moment == pytest.approx(0.1708 * 800 * 0.5, rel=5e-4)


def test_two_loads_on_a_simple_span() -> None:
    """Textbook of bridges (memory): equal loads P, a apart, on a span l: P (2 l − a)²/(8 l) at the worst place."""
    places = np.linspace(-0.3, 1.0, 2601).tolist()
    found = limits.worst_rail_bending(1.0, 1.0, 1, False, [0.0, 0.3], np.array([[500.0, 500.0]]), places)
    assert found.moment == pytest.approx(500 * 1.7**2 / 8, rel=1e-6)


def test_forces_of_teeth() -> None:
    """Textbook of machine elements: radial W tan φ / cos ψ, axial W tan ψ with φ in the normal section."""
    turn = np.pi / 180
    assert elements.rack_forces(1000.0, 20 * turn, 0.0) == pytest.approx((1000, 363.970, 0, 1064.178), rel=1e-6)
    helical = (1000, 420.277, 577.350, 1084.727)
    assert elements.rack_forces(-1000.0, 20 * turn, 30 * turn) == pytest.approx(helical, rel=1e-6)
    # Lewis (Shigley's table 14-2, memory)
    assert [elements.lewis_factor(z) for z in (12, 17, 20, 50, 300)] == [0.245, 0.303, 0.322, 0.409, 0.472]


def test_belts_by_two_springs() -> None:
    """Two strands as springs between fixed ends, solved as such: k = c/l of each, pulled at the carriage."""
    c, loop, preload, force = 60e3, 5.0, 700.0, 450.0
    for share in (0.1, 0.5, 0.9):
        tight, slack = c / (share * loop), c / ((1 - share) * loop)
        moved = force / (tight + slack)
        expected = (preload + tight * moved, preload - slack * moved)
        assert elements.belt_tensions(force, preload, share) == pytest.approx(expected)
    assert elements.belt_stiffness(c, loop) == pytest.approx(2 * c / (loop / 2))


@pytest.mark.parametrize(
    ("ends", "m", "f"),
    [("fixed_free", 1.3, 3.4), ("supported_supported", 5.1, 9.7), ("fixed_supported", 10.2, 15.1),
     ("fixed_fixed", 20.3, 21.9)],
)  # fmt: skip
def test_screws_by_the_makers_tables(ends: str, m: float, f: float) -> None:
    """Makers' formulas of ball screws (memory): half the buckling force m d⁴/L² · 10⁴ N, 0.8 of the critical speed
    f d/L² · 10⁷ rpm, mm. Their m takes 2 for 2.0457 of a screw fixed and hinged; 210 GPa there, 206 GPa here."""
    how = getattr(elements.ScrewEnds, ends)
    buckles = 0.5 * elements.buckling_force(0.016, 0.9, 210e9, how)
    assert buckles == pytest.approx(m * 16**4 / 900**2 * 1e4, rel=0.026)
    whirls = 0.8 * elements.whirling_speed(0.016, 0.9, 206e9, 7850.0, how) * 30 / np.pi
    assert whirls == pytest.approx(f * 16 / 900**2 * 1e7, rel=0.015)


def test_whirling_of_a_beam_by_eigenvalues() -> None:
    """First frequency of a hinged and of a built-in round bar by finite elements (consistent mass), scipy's eigh."""
    linalg = pytest.importorskip("scipy.linalg")
    d, length, modulus, density, count = 0.02, 1.2, 206e9, 7850.0, 40
    ei, mass, h = modulus * np.pi * d**4 / 64, density * np.pi * d**2 / 4, length / count
    k = ei / h**3 * np.array([[12, 6 * h, -12, 6 * h], [6 * h, 4 * h * h, -6 * h, 2 * h * h],
                              [-12, -6 * h, 12, -6 * h], [6 * h, 2 * h * h, -6 * h, 4 * h * h]])  # fmt: skip
    m = mass * h / 420 * np.array([[156, 22 * h, 54, -13 * h], [22 * h, 4 * h * h, 13 * h, -3 * h * h],
                                   [54, 13 * h, 156, -22 * h], [-13 * h, -3 * h * h, -22 * h, 4 * h * h]])  # fmt: skip
    stiff, heavy = (np.zeros((2 * count + 2,) * 2) for _ in range(2))
    for i in range(count):
        stiff[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += k
        heavy[2 * i : 2 * i + 4, 2 * i : 2 * i + 4] += m
    last = 2 * count
    for ends, held in (("supported_supported", [0, last]), ("fixed_fixed", [0, 1, last, last + 1]),
                       ("fixed_supported", [0, 1, last]), ("fixed_free", [0, 1])):  # fmt: skip
        free = np.setdiff1d(np.arange(last + 2), held)
        values = linalg.eigh(stiff[np.ix_(free, free)], heavy[np.ix_(free, free)], eigvals_only=True)
        found = elements.whirling_speed(d, length, modulus, density, getattr(elements.ScrewEnds, ends))
        assert found == pytest.approx(np.sqrt(values[0]), rel=1e-5)
