# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

import armwright as aw
from armwright.describe import load_arm
from cases.description_files import ARM

SPRING = """
[[counterbalance]]
kind = "gas"
link_a = "base"
point_a = "0, 0, 300 mm"
link_b = "upper arm"
point_b = "-480, 20, 0 mm"
force_extended = "300 N"
force_compressed = "390 N"
stroke = "150 mm"
extended_length = "400 mm"
"""


def test_points_stand_in_the_frame_of_the_row(tmp_path: Path) -> None:
    """The row of the upper arm is Rz(-90 deg) Tx(480 mm): (-480, 20, 0) in it is (20, 0, 0) on the axis, turned back."""
    (tmp_path / "arm.toml").write_text(ARM + SPRING, encoding="utf-8")
    spring = load_arm(tmp_path / "arm.toml").counterbalances[0]
    assert spring.point_a == pytest.approx((0, 0, 0.3))
    turned = (math.cos(-math.pi / 2) * 0.0 + 0.02, 0.0, 0.0)
    assert spring.point_b == pytest.approx(turned, abs=1e-12)
    assert spring.spring["rate"] == pytest.approx(600)


def test_what_it_takes_off_the_drives(tmp_path: Path) -> None:
    """Against the energy of the spring between its two points, carried by plain products of poses: torque is minus what
    the energy grows by with the angle. The row's frame of the upper arm is Rz(q - 90 deg) Tx(480 mm) beyond its joint."""
    texts = {"with": ARM + SPRING.replace("-480, 20, 0 mm", "-260, 20, 0 mm"), "without": ARM}
    arms = {}
    for name, text in texts.items():
        (tmp_path / f"{name}.toml").write_text(text, encoding="utf-8")
        arms[name] = aw.load_arm(tmp_path / f"{name}.toml")

    def energy(q: Any) -> float:
        frames = arms["with"].link_poses(np.asarray(q))
        a, b = np.array((0, 0, 0.3)), frames[1] @ (-0.26, 0.02, 0, 1)
        length = float(np.linalg.norm(b[:3] - a))
        assert 0.25 < length < 0.4
        return 300 * (0.4 - length) + 600 * (0.4 - length) ** 2 / 2  # a push of 300 N + 600 N/m, 0.4 m long

    q, step = np.array((0.3, 0.4, 0.2)), 1e-6
    taken = arms["without"].gravity_torque(q) - arms["with"].gravity_torque(q)
    grown = [(energy(q + step * e) - energy(q - step * e)) / (2 * step) for e in np.eye(3)]
    assert np.abs(grown).max() > 0.5
    assert taken == pytest.approx([-slope for slope in grown], abs=1e-6)
