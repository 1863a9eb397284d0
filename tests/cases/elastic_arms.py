"""Arms whose stages, bearings and links give way, of our own numbers."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

import armwright as aw
from cases.described import positioner
from cases.driven_cells import driven_arm

STEEL = {"E": 210e9, "G": 81e9, "rho": 7850.0}  # as the descriptions have steel; EN 1993-1-1 (memory)


def soft_rod(length: float = 1.0, outer: float = 0.05, wall: float = 0.003, mass: float | None = None,
             axis: str = "z", **more: Any) -> aw.Cell:  # fmt: skip
    """One upright axis with a round steel tube along x, as heavy as the tube unless told; nothing else gives way."""
    area = np.pi / 4 * (outer**2 - (outer - 2 * wall) ** 2)
    weight = STEEL["rho"] * area * length if mass is None else mass
    tube = aw.Tube("round", outer, wall, "steel")
    joint = aw.Joint("axis 1", axis=axis, range=(-3, 3))
    spin = np.diag([weight * outer**2 / 5, weight * length**2 / 12, weight * length**2 / 12])
    link = aw.Link("rod", weight, (length / 2, 0, 0), spin, structure=tube)
    flange = np.eye(4)
    flange[0, 3] = length
    return aw.Cell(aw.ArmDescription((joint,), (link,), "rod", flange=flange), **more)


def round_numbers(outer: float, wall: float) -> dict[str, float]:
    """Area and second moment of a round tube, worked out beside the program."""
    inner = outer - 2 * wall
    return {"A": np.pi / 4 * (outer**2 - inner**2), "I": np.pi / 64 * (outer**4 - inner**4)}


def elastic_arm(**more: Any) -> aw.Cell:
    """The driven positioner with a stiffness in every stage, bearings at axes 1 to 3, tubes as upper arm and forearm;
    nothing told of the wrist's bearings and links."""
    cell = driven_arm()
    arm = cell.description.arm
    stiff = [25e3, 20e3, 12e3, 4e3, 4e3, 2e3]
    joints = []
    for k, joint in enumerate(arm.joints):
        stage = replace(joint.drive.stages[0], stiffness=stiff[k])
        bearing = None
        if k == 0:
            bearing = aw.SlewingBearing("crossed roller", tilting_stiffness=8e5, radial_stiffness=4e8,
                                        axial_stiffness=5e8)  # fmt: skip
        elif k < 3:
            bearing = aw.BearingPair("deep groove", "fixed and floating", 0.1, fixed="near", radial_stiffness=1e8)
        joints.append(replace(joint, drive=replace(joint.drive, stages=(stage,)), bearing=bearing))
    box = aw.Tube("rectangular", (0.08, 0.12), 0.005, "aluminium", up="z", welded=True, name="box")
    upper = replace(arm.links[1], structure=box, inertia=np.diag([0.05, 0.4, 0.4]))
    tube = aw.Tube("round", 0.09, 0.004, "aluminium", safety=2.0)
    fore = replace(arm.links[2], inertia=np.diag([0.02, 0.1, 0.1]), structure=tube)
    links = (arm.links[0], upper, fore, *arm.links[3:])
    tool = {"tool": aw.Tool((0.1, 0, 0), 0.5, (0.05, 0, 0)), "load": aw.Load(5.0, (0.05, 0, 0))}
    return aw.Cell(replace(arm, joints=tuple(joints), links=links), **(tool | more))


def stiff_arm() -> aw.Cell:
    """The positioner, of which nothing is told that gives way."""
    return aw.Cell(positioner())
