"""Rows of DH parameters: where they lead, and what becomes of their tolerances."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import armwright as aw
from armwright import describe
from armwright.describe.design_numbers import design_numbers
from armwright.describe.toleranced import tolerance_of

DH = """
name = "rows"
dh_convention = "{convention}"
[[joint]]
dh = {{ d = "400 mm ± 1 mm", a = "80 mm ± 2 mm", theta = "90 deg", alpha = "90 deg" }}
range = "endless"
link = {{ name = "one", mass = "2 kg", centre = "10 mm ± 3 mm, 0 mm, 0 mm" }}
[[joint]]
dh = {{ d = "0 mm", a = "300 mm ± 4 mm" }}
range = "endless"
link = {{ name = "two", mass = "1 kg" }}
"""


def arm_of(text: str, folder: Path) -> aw.CellDescription:
    file = folder / "arm.toml"
    file.write_text(text, encoding="utf-8")
    return aw.CellDescription(describe.load_arm(file))


def told(cell: aw.CellDescription) -> dict[str, float]:
    return {number.path: number.tolerance for number in design_numbers(cell) if number.tolerance}


@pytest.mark.parametrize(
    ("convention", "first", "second"),
    [
        # Row 1 is Rz(90) Tz(d) Tx(a) Rx(90): its end is a along y, d along z; axis 2 points along x.
        ("standard", (0, 0, 0), (0, 0.08, 0.4)),
        # Rx(90) Tx(a) Rz(90) Tz(d): axis 1 points along -y, d along it.
        ("modified", (0.08, -0.4, 0), (0.3, 0, 0)),
    ],
)
def test_where_rows_lead(convention: str, first: tuple[float, ...], second: tuple[float, ...], tmp_path: Path) -> None:
    joints = arm_of(DH.format(convention=convention), tmp_path).arm.joints
    for joint, wanted in zip(joints, (first, second), strict=True):
        assert joint.placement[:3, 3] == pytest.approx(np.array(wanted), abs=1e-15)
    assert joints[1 if convention == "standard" else 0].placement[:3, 2] == pytest.approx(
        (1, 0, 0) if convention == "standard" else (0, -1, 0), abs=1e-15)  # fmt: skip


@pytest.mark.parametrize(
    ("convention", "first", "second"),
    [
        # Row 1 ends at Rz(90) (a, 0, 0) + (0, 0, d): its a along y, its d along z.
        ("standard", [0, 0, 0], [0, 0.002, 0.001]),
        # Modified: (a, 0, 0), then d along z turned by alpha to -y.
        ("modified", [0.002, 0.001, 0], [0.004, 0, 0]),
    ],
)
def test_rows_carry_them_along(convention: str, first: list[float], second: list[float], tmp_path: Path) -> None:
    joints = arm_of(DH.format(convention=convention), tmp_path).arm.joints
    for joint, wanted in zip(joints, (first, second), strict=True):
        known = tolerance_of(joint.placement)
        assert (np.zeros(6) if known is None else known) == pytest.approx(np.array([*wanted, 0, 0, 0]))


def test_a_link_of_a_row_carries_them_along(tmp_path: Path) -> None:
    """The row's frame is turned by Rz(90) Rx(90): its x axis is the joint's y axis."""
    cell = arm_of(DH.format(convention="standard"), tmp_path)
    assert told(cell)["arm.links[one].centre.y"] == pytest.approx(0.003)


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('theta = "90 deg"', 'theta = "90 deg ± 1 deg"', "theta"),
        ('alpha = "90 deg"', 'alpha = "90 deg ± 1 deg"', "alpha"),
        ('mass = "2 kg"', 'mass = "2 kg", inertia = { xx = "1 kg*m^2 ± 1 %", yy = "1 kg*m^2", zz = "1 kg*m^2" }',
         "inertia"),
    ],
)  # fmt: skip
def test_where_they_would_be_lost_they_are_refused(old: str, new: str, key: str, tmp_path: Path) -> None:
    with pytest.raises(aw.InputError, match=f"{key}.*a tolerance"):
        arm_of(DH.format(convention="standard").replace(old, new), tmp_path)
