"""Tubes, a tank on a column and a chain of tolerances as textbooks work them out: Shigley's Mechanical Engineering
Design and Rao, Mechanical Vibrations. All figures from memory; US units as printed there."""

from __future__ import annotations

import numpy as np
import pytest

import armwright as aw
from armwright.studies.load_rows import rest_part, together

INCH, POUND, FORCE = 0.0254, 0.45359237, 4.4482216152605
PSI = FORCE / INCH**2
NOTHING = 1e-9  # kg


def one_link(tube: aw.Tube, flange: tuple[float, float, float], **more: object) -> aw.Cell:
    joint = aw.Joint("axis", axis="z", range=(-1, 1))
    arm = aw.ArmDescription((joint,), (aw.Link("bar", NOTHING, structure=tube),), flange=flange)
    return aw.Cell(arm, **more)  # type: ignore[arg-type]


def test_a_force_on_a_lever_bends_and_twists_a_bar() -> None:
    """Shigley, example 5-3: a bar of 1 in, cut 14 in from the force, that the force twists by a lever of 15 in. By F:
    142.6 of bending, 76.4 of torsion, von Mises 194.5 (1/in²); 81 kpsi of yield bear 416 lbf. Here 4 F/3 A of shear
    force stands on top of the torsion at one point, 1.7 in 76.4, which the book leaves out: 1 % more."""
    steel = aw.Material("steel", elastic_modulus=30e6 * PSI, shear_modulus=11.5e6 * PSI, yield_strength=81e3 * PSI)
    rod = aw.Tube("round", INCH, 0.4999 * INCH, steel, end=(14 * INCH, 0, 0))
    load = aw.Load(416 * FORCE / 9.80665)
    cell = one_link(rod, (14 * INCH, 15 * INCH, 0), load=load)
    found = cell.link_stress(rows=together([rest_part("held", [0.0], 0)], [load], (), 1)).sel(end="near").isel(tube=0)
    force = 416 * PSI
    assert float(found.normal_stress) / force == pytest.approx(142.6, abs=0.05)
    torsion = float(found.shear_stress) / force - 4 / 3 / (np.pi / 4)
    assert torsion == pytest.approx(76.4, abs=0.05)
    assert float(found.von_mises) / force == pytest.approx(194.5, rel=0.011)
    assert float(found.safety) == pytest.approx(1.0, rel=0.011)


def test_a_welded_rectangular_tube_is_twisted() -> None:
    """Shigley, chapter 3: 2.5 x 3.6 in, wall 1/8 in, 40 in long: 11.5 kpsi of shear by 23 730 lbf in, which twist it by
    0.0284 rad (1.62°). EN 10210-2 counts the torsion of the open wall besides, t² perimeter²/12 (area)² = 0.26 %."""
    steel = aw.Material("steel", elastic_modulus=30e6 * PSI, shear_modulus=11.5e6 * PSI, yield_strength=11.5e3 * PSI)
    tube = aw.Tube("rectangular", (2.5 * INCH, 3.6 * INCH), 0.125 * INCH, steel, end=(40 * INCH, 0, 0), up="z")
    torque = 23_730 * FORCE * INCH
    load = aw.Load(10.0, (0, torque / (10 * 9.80665), 0))  # beside the tube, so that it twists
    cell = one_link(tube, (40 * INCH, 0, 0), load=load)
    assert 1.0026 * abs(float(cell.sag([0.0]).sag_turn[0])) == pytest.approx(0.0284, abs=5e-5)
    rows = together([rest_part("held", [0.0], 0)], [load], (), 1)
    shear = float(cell.link_stress(rows=rows).sel(end="far").isel(tube=0).shear_stress)
    # The book tells the mean through the wall; at its face EN 10210-2 adds t perimeter/2 area, 8.86 %, and 98 N of
    # shear force add below 0.3 %.
    assert shear / PSI / (1.0886 / 1.0026) == pytest.approx(11_500, rel=0.003)


def test_a_water_tank_on_a_column_swings() -> None:
    """Rao, example 2.1: 600 000 lb on a concrete column of 300 ft, 10 and 8 ft wide, 4e6 psi: 1545.67 lb/in, and
    0.9977 rad/s, the column without mass and without give in shear."""
    foot = 12 * INCH
    concrete = aw.Material("concrete", elastic_modulus=4e6 * PSI)
    column = aw.Tube("round", 10 * foot, foot, concrete, end=(0, 0, 300 * foot))
    joint = aw.Joint("axis", axis="z", range=(-1, 1))
    arm = aw.ArmDescription((joint,), (aw.Link("column", NOTHING, structure=column),), flange=(0, 0, 300 * foot))
    cell = aw.Cell(arm, load=aw.Load(6e5 * POUND))
    found = cell.stiffness([0.0])
    assert float(found.stiffness_along[0]) / (FORCE / INCH) == pytest.approx(1545.67, abs=0.01)
    # The book rounds g to 386.4 in/s² and weighs the tank by it.
    swing = 2 * np.pi * float(found.frequency[0]) * np.sqrt(386.4 * INCH / 9.80665)
    assert swing == pytest.approx(0.9977, abs=5e-5)


def test_tolerances_of_a_chain_add_up() -> None:
    """Shigley, chapter 1: a gap of 1.750 - 0.750 - 0.120 - 0.875 in, ± 0.003, 0.001, 0.005, 0.001: 0.005 ± 0.010 in.
    The root of squares, which the book names beside it: 0.006 in."""
    joint = aw.Joint("axis", axis="x", range=(-1, 1), placement=("-0.750 in ± 0.001 in", "0 in", "0 in"))
    arm = aw.ArmDescription((joint,), (aw.Link("bolt", 1.0),), flange=("-0.120 in ± 0.005 in", "0 in", "0 in"))
    tool = aw.Tool(("-0.875 in ± 0.001 in", "0 in", "0 in"))
    cell = aw.Cell(arm, tool=tool, mount=("1.750 in ± 0.003 in", "0 in", "0 in"))
    assert float(cell.tool_pose([0.0])[0, 3]) / INCH == pytest.approx(0.005, abs=1e-12)
    found = cell.tool_error([0.0])
    assert float(found.position_worst) / INCH == pytest.approx(0.010, rel=1e-9)
    assert float(found.position_rss) / INCH == pytest.approx(0.006, rel=1e-9)
    loose = cell.with_numbers({"arm.flange.x": "-0.120 in"})
    assert float(loose.tool_error([0.0]).position_worst) / INCH == pytest.approx(0.005, rel=1e-9)
