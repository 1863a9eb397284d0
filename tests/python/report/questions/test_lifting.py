"""What the section on lifting and service says is what both results hold."""

from __future__ import annotations

import numpy as np

import armwright as aw
from armwright.report.questions.lifting import LIFTING
from cases.reported import column, numbers, of, small_cell, small_results, table


def test_masses_and_eyes() -> None:
    lifting = small_results()["lifting"]
    section = LIFTING.section(of({"lifting": lifting}, scene=small_cell().scene()))
    rows = table(section, "masses")
    assert numbers(rows, "mass") == list(lifting["part_mass"].values)
    assert numbers(rows, "z") == list(lifting["part_centre"].values[:, 2])
    eyes = table(section, "eyes")
    assert numbers(eyes, "leans by") == [lifting["tilt"].values[0], lifting["level_tilt"].values[0]]
    assert column(eyes, "eye") == ["eye", "eye"] and numbers(eyes, "rated mass")[0] == 500
    assert section.pictures and lifting.attrs["caution"] in section.cautions
    held = bool(lifting["holds"].values.all()) and bool(lifting["eye_safety"].values.min() >= 1)
    assert section.good is held


def test_motors_that_come_out() -> None:
    cell = small_cell()
    room = aw.ServiceVolume(cell.joint_names[1], cell.description.arm.links[0].name,
                            aw.Box((0.1, 0.1, 0.1), (0, 0.6, 0)), direction="y", mass=2.0)  # fmt: skip
    serviced = aw.Cell(cell.arm, cell.track, tool=cell.tool, load=cell.load, service=room)
    service = serviced.service(samples=200)
    section = LIFTING.section(of({"service": service}))
    rows = table(section, "motors_out")
    assert numbers(rows, "mass") == [2.0] and np.allclose(numbers(rows, "room"), service["best_distance"].values)
    assert section.good is bool(service["best_free"].values.all())
    assert section.headline.startswith(f"{int(service['best_free'].values.sum())} of 1 motors come out")
