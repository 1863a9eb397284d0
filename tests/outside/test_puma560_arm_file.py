"""The PUMA 560 written as an arm file: published model in, published gravity torques and places out.

Model: Corke and Armstrong-Helouvry, "A search for consensus among model parameters reported for the PUMA 560
robot", ICRA 1994 (standard DH; centres and inertias in the rows' frames). Torques at the nominal posture and the
place of the tool as printed in the tests and pages of the Robotics Toolboxes of P. Corke (g = 9.81 m/s²); half a
unit of the last digit.
"""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import numpy.typing
import pytest

from armwright import compile as door
from armwright._core import dynamics, kinematics, model
from armwright.describe import CellDescription, load_arm
from armwright.errors import InputError

# d, a (m), alpha (deg), mass (kg), centre (m), moments (kg m²)
ROWS = [
    (
        0,
        0,
        90,
        0,
        (0, 0, 0),
        (0, 0, 0),
    ),  # link 1: published with an inertia about its axis but no mass; at rest it does not count
    (0, 0.4318, 0, 17.4, (-0.3638, 0.006, 0.2275), (0.13, 0.524, 0.539)),
    (0.15005, 0.0203, -90, 4.8, (-0.0203, -0.0141, 0.070), (0.066, 0.086, 0.0125)),
    (0.4318, 0, 90, 0.82, (0, 0.019, 0), (1.8e-3, 1.3e-3, 1.8e-3)),
    (0, 0, -90, 0.34, (0, 0, 0), (0.3e-3, 0.4e-3, 0.3e-3)),
    (0, 0, 0, 0.09, (0, 0, 0.032), (0.15e-3, 0.15e-3, 0.04e-3)),
]


def arm_file(published: bool = False) -> str:
    text = 'name = "puma 560"\ndh_convention = "standard"\n'
    for d, a, alpha, mass, centre, moments in ROWS:
        text += (
            f'[[joint]]\nrange = ["-180 deg", "180 deg"]\ndh = {{ d = "{d} m", a = "{a} m", alpha = "{alpha} deg" }}\n'
        )
        text += f'[joint.link]\nmass = "{mass} kg"\ncentre = "{centre[0]}, {centre[1]}, {centre[2]} m"\n'
        xx, yy, zz = moments if published or mass != 4.8 else (0, 0, 0)  # at rest it does not count; see below
        text += f'inertia = {{ xx = "{xx} kg*m^2", yy = "{yy} kg*m^2", zz = "{zz} kg*m^2" }}\n'
    return text


@pytest.fixture
def puma(tmp_path: Path) -> model.Model:
    (tmp_path / "puma.toml").write_text(arm_file(), encoding="utf-8")
    return door.compile_cell(CellDescription(load_arm(tmp_path / "puma.toml"), gravity=(0, 0, -9.81)))


def gravity(puma: model.Model, *q: float) -> np.typing.NDArray[np.float64]:
    return np.asarray(dynamics.gravity_torques(puma, model.Inertia(), np.array([q]))).reshape(6)


def test_gravity_torques(puma: model.Model) -> None:
    quarter = math.pi / 4
    assert gravity(puma, 0, quarter, math.pi, 0, quarter, 0) == pytest.approx(
        (0, 31.6399, 6.0351, 0, 0.0283, 0), abs=6e-5
    )
    assert gravity(puma, 0, quarter, -math.pi, 1, quarter, 0) == pytest.approx(
        (0, 31.6334, 6.0286, -0.0119, 0.0218, 0), abs=6e-5
    )
    assert gravity(puma, 0, 2 * quarter, -math.pi, 1, 2 * quarter, 0) == pytest.approx(
        (0, 7.7198, 8.7439, -0.0238, 0, 0), abs=6e-5
    )


def test_place_of_the_tool(puma: model.Model) -> None:
    pose = np.asarray(kinematics.tool_poses(puma, np.zeros((1, 6)))).reshape(4, 4)
    assert pose[:3, 3] == pytest.approx((0.4521, -0.15005, 0.4318), abs=5e-5)
    assert pose[:3, :3] == pytest.approx(np.eye(3), abs=1e-12)


def test_the_published_inertia_of_link_3_is_no_body(tmp_path: Path) -> None:
    """0.0125 + 0.066 < 0.086: measured, and 9 % over what any body can have. It is refused, with its line."""
    (tmp_path / "puma.toml").write_text(arm_file(published=True), encoding="utf-8")
    with pytest.raises(
        InputError, match=r"puma\.toml:\d+: joint\[2\]\.link\.inertia: got principal moments 0\.0125, 0\.066, 0\.086"
    ):
        load_arm(tmp_path / "puma.toml")
