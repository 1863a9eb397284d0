# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

import math
from pathlib import Path

import pytest

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
