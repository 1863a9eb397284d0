"""A row of Denavit-Hartenberg parameters in an arm file."""

from __future__ import annotations

from typing import Any

import numpy as np
from pydantic import Field

from armwright.describe.pose import Array, make_pose, turn_about
from armwright.describe.problems import FileModel, Place
from armwright.describe.toleranced import toleranced
from armwright.describe.units import Angle, Length
from armwright.errors import InputError


class DhFile(FileModel):
    """A row of Denavit-Hartenberg parameters. Revolute: theta is added to the joint's angle; prismatic: d to its
    way."""

    theta: Angle = Field(0.0, description="turn about z")
    d: Length = Field(0.0, description="shift along z")
    a: Length = Field(0.0, description="shift along x")
    alpha: Angle = Field(0.0, description="turn about x")

    def make(self, place: Place) -> Any:
        for key in ("theta", "alpha"):
            if getattr(getattr(self, key), "tolerance", 0.0):
                raise InputError.of(key, "a tolerance", "none here, or an arm by origins and axes, with roll_pitch_yaw")

    def pose(self, before_z: bool) -> Array:
        """The row's pose; ``before_z``: as modified rows have it, first along x, then along z."""
        along_z, along_x = turn_about((0, 0, 1), self.theta), turn_about((1, 0, 0), self.alpha)
        first, then = make_pose(along_z, (0, 0, self.d)), make_pose(None, (self.a, 0, 0)) @ make_pose(along_x)
        shifts, turn = [(0, 0, _unsure(self.d)), (_unsure(self.a), 0, 0)], along_z
        if before_z:
            first, then, turn = make_pose(along_x) @ make_pose(None, (self.a, 0, 0)), first, along_x
            shifts = shifts[::-1]
        tolerance = np.array(shifts[0]) + np.abs(turn) @ np.array(shifts[1])
        return toleranced(np.asarray(first) @ then, (*tolerance, 0, 0, 0))


def _unsure(value: float) -> float:
    return float(getattr(value, "tolerance", 0.0))
