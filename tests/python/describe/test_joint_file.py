# ruff: noqa: E501  messages and tables stand whole
"""Joints' tables beside what test_arm_file.py, test_bearing_file.py and test_structure_file.py say of them: what is carried
from a row's frame to the axis."""

from __future__ import annotations

import numpy as np
import pytest

from armwright.describe import Box, Link, LinkStiffness
from armwright.describe.joint_file import carried_link


def test_all_of_a_link_is_carried() -> None:
    pose = np.array([[0, -1, 0, 1], [1, 0, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1.0]])
    told = Link("a", 2, (0.1, 0, 0), (1, 2, 2.5), (Box((1, 2, 3), (0.1, 0, 0)),),
                structure=LinkStiffness(9e4, start=(0.1, 0, 0)))  # fmt: skip
    link = carried_link(pose, told)
    for point in (link.centre, link.shapes[0].pose[:3, 3], link.structure.start):  # type: ignore[union-attr]
        assert point == pytest.approx((1, 0.1, 0))
    assert np.diag(link.inertia) == pytest.approx((2, 1, 2.5)) and (link.frame == pose).all()
    assert carried_link(np.eye(4), told) is told
