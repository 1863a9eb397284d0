"""The tables of a joint and its link in an arm file."""

from __future__ import annotations

import math
from typing import Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, ValidationInfo, field_validator
from pydantic_core import PydanticCustomError

from armwright.describe.arm import Link, check_bearing, check_drive
from armwright.describe.bearing_file import BearingFile
from armwright.describe.body import moved_body
from armwright.describe.common_file import BodyFile, Direction, PoseFile
from armwright.describe.described import Checks
from armwright.describe.dh_file import DhFile
from armwright.describe.drive_file import DriveFile
from armwright.describe.drive_units import MOTION_LIMITS
from armwright.describe.held_file import ForceFile, HoldingMotorFile, TorqueFile, as_table, motion_limit
from armwright.describe.pose import Array
from armwright.describe.problems import FileModel, Place
from armwright.describe.shapes import moved_shape
from armwright.describe.structure import carried_structure
from armwright.describe.structure_file import StructureFile
from armwright.describe.toleranced import tolerance_of, toleranced, turned
from armwright.describe.units import ANGLE, LENGTH, TORQUE, Measured, VectorOf
from armwright.describe.wrong import told_to_pydantic
from armwright.errors import InputError


class LinkFile(BodyFile):
    """The part that a joint moves. Its frame: by DH rows, the row's frame; by origin and axis, the joint's frame."""

    structure: StructureFile | None = Field(
        None, description="by what it bends and what it bears; left out: not known, and said so"
    )

    def make(self, place: Place) -> Any:
        return Link(**self.parts(self.name or "link"), structure=self.structure.made if self.structure else None)


class BaseFile(LinkFile):
    """The part that stands still, in the arm's base frame."""


class JointFile(FileModel):
    """A joint, from the base out."""

    name: str | None = Field(
        None, description='its name in results; left out: "axis 1", "axis 2" ...', examples=["axis 2"]
    )
    kind: Literal["revolute", "prismatic"] = Field("revolute", description="whether it turns or slides")
    dh: DhFile | None = Field(None, description="its row of DH parameters")
    origin: PoseFile | None = Field(None, description="its frame in the frame of the joint before, at zero")
    axis: Direction | None = Field(
        None, description='with origin: its axis in its own frame; left out: "z"', examples=["z"]
    )
    range: Any = Field(
        description='lower and upper limit; a revolute joint may be "endless"',
        examples=[["-170 deg", "170 deg"]],
        json_schema_extra={
            "x-si-unit": "rad; m if prismatic",
            "anyOf": [{"type": "string"}, {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2}],
        },
    )
    torque: Annotated[TorqueFile | None, as_table("continuous")] = Field(
        None,
        description="what it holds, at the joint",
        examples=["180 N*m", {"continuous": "180 N*m", "peak": "400 N*m"}],
    )
    force: Annotated[ForceFile | None, as_table("continuous")] = Field(
        None, description="what a prismatic joint holds", examples=["850 N"]
    )
    motor: HoldingMotorFile | None = Field(
        None, description="what it holds, from its motor, instead of torque; what its drive is made of belongs in drive"
    )
    drive: DriveFile | None = Field(None, description="what turns or slides it; torque or force told besides limit too")
    speed: Any = motion_limit("speed", "180 deg/s")
    acceleration: Any = motion_limit("acceleration", "400 deg/s^2")
    jerk: Any = motion_limit("jerk", "4000 deg/s^3")
    bearing: BearingFile | None = Field(None, description="what carries it, if it turns; left out: not known")
    link: LinkFile = Field(description="the part that it moves")

    keys: ClassVar[dict[str, str]] = {
        "placement": "origin",
        "torque_continuous": "torque",
        "torque_peak": "torque.peak",
        "drive.stages": "drive.stage",
    }

    def make(self, place: Place) -> Any:
        checks = Checks("")
        if self.dh is not None and (self.origin is not None or self.axis is not None):
            checks.wrong("dh", "dh besides origin or axis", "one of the two")
        sliding = self.kind == "prismatic"
        for key in ("torque", "motor") if sliding else ("force",):
            if getattr(self, key) is not None:
                checks.wrong(
                    key, f"a {key}", "force" if sliding else "torque or motor", "force" if sliding else "torque"
                )
        if self.torque is not None and self.motor is not None:
            checks.wrong("motor", "a motor besides torque", "one of the two")
        if self.motor is not None and self.drive is not None:
            checks.wrong("motor", "a motor besides drive", "the motor in drive alone")
        if self.drive is not None:
            check_drive(self.drive.made, checks, sliding)
        check_bearing(self.bearing.made if self.bearing else None, checks, sliding)
        checks.done()

    @field_validator("speed", "acceleration", "jerk")
    @classmethod
    def _motion(cls, value: Any, info: ValidationInfo) -> Any:
        kinds = MOTION_LIMITS[str(info.field_name)]
        return told_to_pydantic(kinds[info.data.get("kind") == "prismatic"].from_file)(value)

    @field_validator("range")
    @classmethod
    def _limits(cls, value: Any, info: ValidationInfo) -> tuple[float, float] | None:
        sliding = info.data.get("kind") == "prismatic"
        if value == "endless" and not sliding:
            return None
        told = told_to_pydantic(VectorOf(LENGTH if sliding else ANGLE, 2).from_file)(value)
        if not told[0] < told[1]:
            expected = "a lower limit below the upper one"
            raise PydanticCustomError("armwright", "{expected}", {"expected": expected, "meant": ""})
        return told[0], told[1]

    def holds(self) -> tuple[float, float]:
        """Continuous and peak torque at the joint, N m (N)."""
        told = self.torque or self.force or self.motor
        if told is None:
            return math.inf, math.inf
        continuous, peak = told.made
        if self.motor is None:
            return continuous, peak
        gain = self.motor.ratio * self.motor.efficiency
        unsure = sum(told.tolerance / told for told in (self.motor.ratio, self.motor.efficiency))  # type: ignore[attr-defined]
        return tuple(  # type: ignore[return-value]
            Measured(torque * gain, torque.tolerance * gain + torque * gain * unsure, TORQUE.si)
            for torque in (continuous, peak)
        )


def carried_link(pose: Array, link: Link) -> Link:
    """A link told in a frame at ``pose``."""
    if np.array_equal(pose, np.eye(4)):
        return link
    if tolerance_of(link.inertia) is not None:
        raise InputError.of("link.inertia", "a tolerance", "none here, or an arm by origins and axes")
    _, centre, inertia = moved_body(pose, link.body)
    centre = toleranced(centre, turned(pose[:3, :3], tolerance_of(link.centre)))
    return Link(
        link.name, link.mass, centre, inertia,  # the mass as it was told, with its tolerance
        tuple(moved_shape(pose, shape) for shape in link.shapes), frame=pose,
        structure=None if link.structure is None else carried_structure(pose, link.structure),
    )  # fmt: skip
