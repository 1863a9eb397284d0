"""Sag, stress and vibration against textbook closed forms (Gere and Goodno, Mechanics of Materials; Roark; Rao,
Mechanical Vibrations: all from memory), through the descriptions."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

import armwright as aw
from cases.elastic_arms import STEEL, round_numbers, soft_rod

g = 9.80665
LENGTH, OUTER, WALL = 1.0, 0.05, 0.003


def rod(**more):
    return soft_rod(LENGTH, OUTER, WALL, **more)


def numbers():
    n = round_numbers(OUTER, WALL)
    return n["A"], STEEL["E"] * n["I"], STEEL["rho"] * n["A"] * LENGTH


def test_cantilever_under_its_own_weight_and_an_end_load():
    A, EI, mass = numbers()
    cell = rod(load=aw.Load(12.0))
    sag = cell.sag([0.7])
    bending = mass * g * LENGTH**3 / (8 * EI) + 12 * g * LENGTH**3 / (3 * EI)
    # Timoshenko's shear on top, 0.5 % here: w L²/2 k G A + F L/k G A, k of a thin circle about 1/2 (Cowper, memory).
    shear = (mass * g * LENGTH / 2 + 12 * g * LENGTH) / (0.53 * STEEL["G"] * A)
    assert float(sag.sag_down) == pytest.approx(bending + shear, rel=2e-4)
    assert float(np.linalg.norm(sag.sag_load)) == pytest.approx(12 * g * LENGTH**3 / (3 * EI), rel=6e-3)
    slope = mass * g * LENGTH**2 / (6 * EI) + 12 * g * LENGTH**2 / (2 * EI)
    assert float(np.linalg.norm(sag.sag_turn)) == pytest.approx(slope, rel=1e-9)


def test_upright_and_level_arm_like_half_a_portal():
    """F L³/3EI + F L² h/EI down, and F L h²/2EI over."""
    _, EI, _ = numbers()
    arm = rod().description.arm
    height = 0.8
    base = aw.Link("post", structure=aw.Tube("round", OUTER, WALL, "steel", end=(0, 0, height)))
    light = replace(arm.links[0], mass=1e-9, inertia=None)
    joint = replace(arm.joints[0], placement=np.array([[1, 0, 0, 0], [0, 1, 0, 0], [0, 0, 1, height], [0, 0, 0, 1.0]]))
    cell = aw.Cell(replace(arm, base_link=base, joints=(joint,), links=(light,)), load=aw.Load(10.0))
    F = 10 * g
    sag = cell.sag([0.0])
    down = F * LENGTH**3 / (3 * EI) + F * LENGTH**2 * height / EI
    assert float(sag.sag_down) == pytest.approx(down, rel=4e-3)  # with shear, and the post's shortening
    assert float(sag.sag[0]) == pytest.approx(F * LENGTH * height**2 / (2 * EI), rel=1e-6)
    post = sag.sel(cause="post: tube").cause_shift.values
    assert -post[2] == pytest.approx(F * LENGTH**2 * height / EI, rel=2e-3)


def test_thin_tube_in_torsion():
    """T L / (G 2 pi r³ t)."""
    cell = soft_rod(LENGTH, 0.1, 0.001)
    radius = 0.05 - 0.0005
    turn = 100 * LENGTH / (STEEL["G"] * 2 * np.pi * radius**3 * 0.001)
    told = cell.sag([0.0], moment=(100, 0, 0)).sag_turn.values - cell.sag([0.0]).sag_turn.values
    assert told[0] == pytest.approx(turn, rel=3e-4)
    assert cell.stiffness([0.0]).stiffness_about.values[0] == pytest.approx(100 / turn, rel=3e-4)


def test_lowest_frequency_of_a_cantilever_by_itself_and_with_an_end_mass():
    """1.8751² by itself; with an end mass sqrt(3 EI / (m + 0.2357 mass) L³), Rayleigh's 33/140."""
    _, EI, mass = numbers()
    alone = float(rod().stiffness([0.2]).frequency[0])
    assert alone == pytest.approx(1.87510**2 / (2 * np.pi) * np.sqrt(EI / (mass * LENGTH**3)), rel=7e-3)  # shear: lower
    ended = float(rod(load=aw.Load(12.0)).stiffness([0.2]).frequency[0])
    whole = 12 + 33 / 140 * mass
    assert ended == pytest.approx(np.sqrt(3 * EI / (whole * LENGTH**3)) / (2 * np.pi), rel=4e-3)
    assert ended < alone


def test_bending_stress_at_the_root():
    """sigma = M / W; von Mises with the shear of a thin tube, 2 F/A, on the safe side of the two at one point."""
    from armwright.studies.load_rows import rest_part, together

    _, _, mass = numbers()
    cell = rod(load=aw.Load(12.0))
    rows = together([rest_part("level, at rest", [0.0], 0)], [cell.description.load], (), 1)
    stress = cell.link_stress(rows=rows)
    n = round_numbers(OUTER, WALL)
    wanted = (mass * g * LENGTH / 2 + 12 * g * LENGTH) / (n["I"] / (OUTER / 2))
    near = stress.sel(end="near").isel(tube=0)
    assert float(near.normal_stress) == pytest.approx(wanted, rel=1e-9)
    assert float(near.shear_stress) == pytest.approx(2 * (mass + 12) * g / n["A"], rel=5e-3)
    assert float(near.safety) == pytest.approx(235e6 / wanted, rel=1e-3)  # S235, EN 10025-2 (memory)
    far = stress.sel(end="far").isel(tube=0)
    assert float(far.normal_stress) == pytest.approx(0.0, abs=1e-3)
    assert float(far.shear_stress) == pytest.approx(2 * 12 * g / n["A"], rel=5e-3)


def test_where_the_theory_of_small_deflections_ends():
    """The elastica of a cantilever with an end force, EI θ'' = -F cos θ, integrated here: where it turns by 0.1 rad
    the linear sag is 0.5 % too much, at 0.3 rad over 4 %; only the first counts as small."""
    from scipy.integrate import solve_bvp

    _, EI, _ = numbers()
    light = soft_rod(LENGTH, OUTER, WALL, mass=1e-9)
    for turn, off, small in ((0.0999, 0.0046, True), (0.3, 0.042, False)):
        force = turn * 2 * EI / LENGTH**2
        s = np.linspace(0, LENGTH, 400)
        bent = solve_bvp(lambda _, y, f=force: np.vstack([y[1], -f * np.cos(y[0]) / EI, np.sin(y[0])]),
                         lambda a, b: np.array([a[0], b[1], a[2]]), s, np.zeros((3, 400)), tol=1e-8)  # fmt: skip
        sag = light.sag([0.0], force=(0, 0, -force))
        bending = force * LENGTH**3 / (3 * EI)
        assert bending / bent.y[2, -1] - 1 == pytest.approx(off, rel=0.1)
        assert float(sag.sag_down) == pytest.approx(bending, rel=6e-3)
        assert bool(sag.small) is small
