# ruff: noqa: E501  messages and tables stand whole
"""Descriptions of what bears: bearings, structures, base, guide, feed, eyes and volumes, in files and in Python. The numbers
are our own."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from armwright.describe import (
    ArmDescription,
    Base,
    BearingPair,
    BeltFeed,
    BoltPattern,
    Box,
    CellDescription,
    Guide,
    LiftingEye,
    LinkStiffness,
    Material,
    RackFeed,
    RailBeam,
    ScrewFeed,
    ServiceVolume,
    SlewingBearing,
    Tube,
    load_arm,
    load_cell,
)
from cases.description_files import ARM, CELL, write_cell

BEARING = """
[joint.bearing]
kind = "crossed roller"
name = "main bearing"
offset = "25 mm"
pitch_diameter = "120 mm ± 0.5 mm"
dynamic_rating = "22 kN"
static_rating = "41 kN"
limit_line = [["0 kN", "900 N*m"], ["20 kN", "400 N*m"]]
tilting_stiffness = "180 N*m/arcmin"
roller_count = 38
"""
PAIR = """
[joint.bearing]
kind = "angular contact"
arrangement = "back to back"
span = "60 mm"
pressure_centre = "11 mm"
dynamic_rating = ["14 kN", "12 kN"]
static_rating = "9 kN"
contact_angle = "30 deg"
preload = "400 N"
"""
TUBE = """
[joint.link.structure]
section = "rectangular"
outer = "80, 60 mm"
wall = "4 mm"
material = "aluminium 6082-T6"
start = "-400, 20, 0 mm"
up = "x"
welded = true
safety = 2
"""
STIFF = """
[joint.link.structure]
bending = "90 kN*m/rad"
torsion = "70 kN*m/rad"
end = "300, 0, 0 mm"
"""
BASE = """
[base]
plate = ["300 mm", "280 mm"]
friction = 0.15
allowed_pressure = "2 MPa"

[base.bolts]
circle_diameter = "250 mm"
count = 8
first_angle = "22.5 deg"
size = "M12"
property_class = "8.8"
preload = "35 kN ± 10 %"
"""
CART = """
[base]
free_standing = true
stand_mass = "120 kg"
stand_centre = "0, 0, -300 mm"
stand_height = "600 mm"
feet = [["300 mm", "300 mm"], ["-300 mm", "300 mm"], ["0 mm", "-400 mm"]]
foot_area = "50 cm^2"
allowed_pressure = "1 MPa"
"""
GUIDE = """
[track.guide]
kind = "ball"
rails = ["-150 mm", "150 mm"]
blocks = ["-140 mm", "140 mm"]
height = "60 mm"
dynamic_rating = "17 kN"
static_rating = "30 kN"
rating_distance = "100 km"
block_length = "62 mm"
preload = "600 N"

[track.guide.beam]
span = "600 mm"
material = { name = "cast iron", elastic_modulus = "110 GPa" }
section = "square"
outer = "80 mm"
wall = "4 mm"
"""
FEED = """
[track.feed]
kind = "rack"
module = "2 mm"
teeth = 20
helix = "19.53 deg"
allowed_force = "3 kN"
across = "120 mm"
"""
CARE = """
[[lifting]]
link = "upper arm"
point = "-480, 20, 0 mm"
rated_mass = "200 kg"

[[service]]
motor = "shoulder"
link = "upper arm"
direction = "x"
mass = "3.4 kg"
shape = [{ kind = "box", size = "100, 100, 200 mm", position = "-480, 0, 0 mm" }]
"""

SLEWING = SlewingBearing("crossed roller", "120 mm", "22 kN", "41 kN", "25 mm", tilting_stiffness="180 N*m/arcmin")
BACK_TO_BACK = BearingPair("angular contact", "back to back", "60 mm", ("14 kN", "12 kN"), "9 kN", "10 mm",
                           pressure_centre="11 mm", moved_ring="inner", preload=400)  # fmt: skip
BOLTS = BoltPattern(circle_diameter="250 mm", count=8, size="M12", property_class="8.8", preload="35 kN")
PARTS: list[Any] = [
    SLEWING, BACK_TO_BACK, Material("steel"), Tube("round", "100 mm", "4 mm", "steel", (0, 0, 0.1), (0, 0, 0.5)),
    Tube("rectangular", (0.08, 0.06), 0.004, "aluminium", up="z"), LinkStiffness(9e4, end=(0, 0, 1)), BOLTS,
    BoltPattern([(0.1, 0), (-0.1, 0)]), Base(BOLTS, "300 mm"), Guide((-0.1, 0.1), ((-0.1, 0.1), 0.0), beam=RailBeam(
        0.6, "steel", second_moment="31 cm^4")), RackFeed("2 mm", 20), BeltFeed(900, 400), ScrewFeed("20 mm", "2 m"),
    LiftingEye("a", (0, 0, 0.1), "200 kg"), ServiceVolume("shoulder", "a", Box((0.1, 0.1, 0.2)), "x", 3.4),
]  # fmt: skip


def with_arm(*after: tuple[str, str]) -> str:
    """The arm of the tests with text put after others."""
    text = ARM
    for place, more in after:
        assert place in text
        text = text.replace(place, place + more, 1)
    return text


TORQUE = 'torque = { continuous = "180 N*m", peak = "400 N*m" }\n'
UPPER = 'name = "upper arm"\nmass = "6 kg"\n'


def arm_with(folder: Path, *after: tuple[str, str]) -> ArmDescription:
    """That arm, read from a file."""
    (folder / "arm.toml").write_text(with_arm(*after), encoding="utf-8")
    return load_arm(folder / "arm.toml")


def cell_with(folder: Path, more: str = "", track: str = "", base: bool = True) -> CellDescription:
    """The cell of the tests with tables more, and tables more of its track; ``base`` False: without the track."""
    text = CELL
    if not base:
        text = text[: text.index("[track]")] + text[text.index("[mount]") :]
    if track:
        text = text.replace("[mount]", track + "\n[mount]", 1)
    return load_cell(write_cell(folder, cell=text + more))
