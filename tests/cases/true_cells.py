"""A cell that tells what its tool may be off by, and what it is lifted and serviced by; our own numbers."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np

import armwright as aw
from cases.described import positioner
from cases.driven_cells import motor

POSTURE = np.array([0.3, 0.7, -1.1, 0.4, 0.8, -0.5])


def unsure_arm(coupled: bool = False) -> aw.ArmDescription:
    """The positioner, each axis with a belt and a gear that have play, an encoder, and tolerances of some places."""
    arm = positioner(offset=0.12)
    joints = []
    for i, joint in enumerate(arm.joints):
        belt = aw.Stage("belt", 2.5, efficiency=0.95, backlash=f"{6 + i} arcmin")
        gear = aw.Stage("cycloidal", -40.0 - i, efficiency=0.8, backlash="1.5 arcmin")
        place = joint.placement
        if i in (1, 2):
            place = [f"{1000 * place[0, 3]} mm ± 0.2 mm", "0 mm ± 0.1 mm", "0 mm ± 0.15 mm"]
        drive = aw.Drive(motor(encoder_counts=4096), (belt, gear), brake=aw.Brake("1.2 N*m"))
        joints.append(replace(joint, drive=drive, placement=place))
    coupling = None
    if coupled:
        matrix = np.eye(6)
        matrix[5, 4], matrix[4, 3] = -1.0, 0.4
        coupling = matrix
    return replace(arm, joints=tuple(joints), coupling=coupling)


def unsure_cell(coupled: bool = False, **more: Any) -> aw.Cell:
    """That arm on a mount with a tool point told with tolerances."""
    tool = aw.Tool(("20 mm ± 0.05 mm", "-10 mm", "180 mm ± 0.3 mm"), 1.5, (0, 0, 0.08))
    return aw.Cell(unsure_arm(coupled), tool=tool, mount=(0.2, -0.1, 0.4), **more)


def weighed_arm(brake: str = "2 N*m", eye: Any = (0.3, 0.0, 0.12), rated: Any = "60 kg") -> aw.CellDescription:
    """An arm on a pedestal with an eye on its upper arm, capsules, and brakes on all axes but the last."""
    arm = unsure_arm()
    shapes = {
        1: (aw.Capsule(0.06, 0.6, [[0, 0, 1, 0.3], [0, 1, 0, 0], [-1, 0, 0, 0], [0, 0, 0, 1]]),),
        2: (aw.Capsule(0.05, 0.4, [[0, 0, 1, 0.25], [0, 1, 0, 0], [-1, 0, 0, 0], [0, 0, 0, 1]]),),
    }
    links = [replace(link, shapes=shapes.get(i, link.shapes)) for i, link in enumerate(arm.links)]
    joints = [
        replace(joint, drive=replace(joint.drive, brake=None if i == 5 else aw.Brake(brake)))
        for i, joint in enumerate(arm.joints)
    ]
    links[0] = replace(links[0], mass=6.0, centre=(0.05, 0, -0.1))
    base = aw.Link("pedestal", 14.0, (0, 0.01, -0.35), shapes=(aw.Cylinder(0.12, 0.5, (0, 0, -0.45)),))
    arm = replace(arm, joints=tuple(joints), links=tuple(links), base_link=base)
    foot = aw.LiftingEye("pedestal", (0.1, 0, -0.1), None, "foot eye")
    eyes = (aw.LiftingEye("upper arm", eye, rated, "shoulder eye"), foot)
    return aw.CellDescription(arm, tool=aw.Tool((0, 0, 0.1), 1.5, (0, 0, 0.05)), lifting=eyes, mount=(0, 0, 0.7))


def serviced_cell() -> aw.Cell:
    """That arm among two fixtures, with room for three of its motors."""
    described = weighed_arm()
    wide = aw.Box((0.2, 0.2, 0.3), (0, 0.25, 0))
    service = (
        aw.ServiceVolume("axis 1", "pedestal", (aw.Cylinder(0.1, 0.3, (0, 0, -0.3)),), "-z", "4 kg"),
        aw.ServiceVolume("axis 2", "link 1", (wide,), "y", "3 kg"),
        aw.ServiceVolume("axis 4", "forearm", (aw.Sphere(0.1, (0.1, 0, 0.2)),), None, None),
    )
    fixtures = (aw.Box((2, 2, 0.02), (0, 0, -0.1), name="floor"), aw.Sphere(0.2, (0.7, 0.4, 0.9), name="lamp"))
    return aw.Cell.from_description(replace(described, service=service, fixtures=fixtures))


def swung_beam() -> aw.Cell:
    """A heavy foot with one boom and two eyes: little to be sought."""
    joint = aw.Joint("axis", axis="-y", range=(-3, 3))
    foot = aw.Link("foot", 30.0, (0, 0, -0.6))
    arm = aw.ArmDescription((joint,), (aw.Link("boom", 10.0, (0.8, 0, 0)),), base_link=foot)
    eyes = (aw.LiftingEye("foot", (0, 0, 0.05)), aw.LiftingEye("boom", (0.3, 0, 0.1), "80 kg", "boom eye"))
    return aw.Cell.from_description(aw.CellDescription(arm, lifting=eyes))
