"""Bodies without moments of inertia are named among what was assumed, where anything can move."""

from __future__ import annotations

from dataclasses import replace

import armwright as aw
from armwright.describe.point_masses import point_masses
from cases.described import positioner
from cases.moving_cells import moving_cell


def test_only_bodies_with_a_mass_and_no_inertia_are_named() -> None:
    fork = aw.Tool(mass="2 kg", name="fork")
    heavy = aw.Load(mass="3 kg", inertia=(0.1, 0.1, 0.1), name="kiln shelf")
    assert point_masses([fork, None, heavy, aw.Tool(mass=0.0)]) == ("no inertia told, taken as point masses: fork",)
    assert point_masses([heavy, None]) == ()


def test_cells_with_drives_name_them() -> None:
    cell = moving_cell().description
    moments = (0.1, 0.1, 0.1)
    links = [replace(link, mass=1, inertia=None if k == 1 else moments) for k, link in enumerate(cell.arm.links)]
    arm = replace(cell.arm, links=tuple(links))
    told = replace(cell, arm=arm, tool=aw.Tool(mass="1 kg", name="fork"), load=None)
    assert told.assumptions[-1] == f"no inertia told, taken as point masses: {links[1].name}, fork"
    without = aw.CellDescription(positioner(), tool=aw.Tool(mass="1 kg", name="fork"))
    assert not any("point mass" in text for text in without.assumptions)
