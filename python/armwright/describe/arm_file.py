"""The arm file: DH rows or origins and axes, links, what each joint holds; or a URDF file."""

from __future__ import annotations

import math
from typing import Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, ValidationInfo, field_validator
from pydantic_core import PydanticCustomError

from armwright.describe.arm import ArmDescription, Joint, Link, check_drive, joint_limit
from armwright.describe.body import moved_body
from armwright.describe.common_file import BodyFile, Direction, PoseFile, different_names
from armwright.describe.counterbalance_file import CounterbalanceFile
from armwright.describe.coupling import take_coupling
from armwright.describe.described import Checks
from armwright.describe.dh_file import DhFile
from armwright.describe.drive_file import DriveFile
from armwright.describe.drive_units import MOTION_LIMITS
from armwright.describe.held_file import ForceFile, HoldingMotorFile, TorqueFile, as_table, motion_limit
from armwright.describe.parts_file import take_parts
from armwright.describe.pose import Array
from armwright.describe.problems import FileModel, Place
from armwright.describe.shapes import moved_shape
from armwright.describe.toleranced import tolerance_of, toleranced, turned
from armwright.describe.units import ANGLE, LENGTH, TORQUE, Measured, VectorOf
from armwright.describe.wrong import shown, told_to_pydantic
from armwright.errors import InputError


class LinkFile(BodyFile):
    """The part that a joint moves. Its frame: by DH rows, the row's frame; by origin and axis, the joint's frame."""

    def make(self, place: Place) -> Any:
        return Link(**self.parts(self.name or "link"))


class BaseFile(LinkFile):
    """The part that stands still, in the arm's base frame."""


class JointFile(FileModel):
    """A joint, from the base out."""

    name: str | None = Field(None, description='its name in results; left out: "axis 1", "axis 2" ...')
    kind: Literal["revolute", "prismatic"] = Field("revolute", description="whether it turns or slides")
    dh: DhFile | None = Field(None, description="its row of DH parameters")
    origin: PoseFile | None = Field(None, description="its frame in the frame of the joint before, at zero")
    axis: Direction | None = Field(None, description='with origin: its axis in its own frame; left out: "z"')
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


class UrdfFile(FileModel):
    """A URDF file, and between which of its links the arm is."""

    file: str = Field(description="the URDF file, inside the folder", examples=["arm.urdf"])
    base: str | None = Field(None, description="the link that stands still; left out: the first")
    tool: str | None = Field(None, description="the link that is the tool flange")


class ArmFile(FileModel):
    """An arm. Joints stand from the base out, each headed [[joint]]."""

    name: str | None = Field(None, description="what the arm is called", examples=["kiln loader"])
    dh_convention: Literal["standard", "modified"] | None = Field(
        None,
        description="how the dh rows are meant: standard, Rz(theta) Tz(d) Tx(a) Rx(alpha); modified, Rx(alpha) Tx(a) "
        "Rz(theta) Tz(d); needed with dh rows",
    )
    parts: Any = Field(
        None,
        description="a file of parts inside the folder, whose motors, stages and brakes drives refer to by name",
        examples=["parts.toml"],
        json_schema_extra={"type": "string"},
    )
    base: BaseFile | None = Field(None, description="the part that stands still")
    joint: tuple[JointFile, ...] = Field((), description="the joints from the base out")
    flange: PoseFile | None = Field(None, description="the tool flange in the last link's frame")
    coupling: Any = Field(
        None,
        description="where drives run through one another (belts through a wrist): rows of numbers, joint positions = "
        "coupling x drive positions; left out: each drive turns its own joint",
        examples=[[[1, 0], [-1, 1]]],
        json_schema_extra={"type": "array", "items": {"type": "array", "items": {"type": "number"}}},
    )
    counterbalance: tuple[CounterbalanceFile, ...] = Field(
        (), description="springs and masses that take weight off the drives"
    )
    urdf: Annotated[UrdfFile | None, as_table("file")] = Field(None, description="a URDF file instead of all that")

    keys: ClassVar[dict[str, str]] = {
        "joints": "joint", "links": "joint", "base_link": "base", "counterbalances": "counterbalance",
    }  # fmt: skip

    @field_validator("parts")
    @classmethod
    def _parts(cls, value: Any, info: ValidationInfo) -> Any:
        return take_parts(cls, value, info.context)  # type: ignore[arg-type]

    @field_validator("counterbalance")
    @classmethod
    def _counterbalance_names(cls, value: tuple[CounterbalanceFile, ...]) -> tuple[CounterbalanceFile, ...]:
        return different_names(cls, value, [item.made.name for item in value])

    @field_validator("coupling")
    @classmethod
    def _square(cls, value: Any) -> Any:
        try:
            return take_coupling(tuple("?" for _ in value) if isinstance(value, list) else ("?",))("", value)
        except InputError as error:
            raise cls.told(error) from None

    @field_validator("joint")
    @classmethod
    def _names(cls, value: tuple[JointFile, ...]) -> tuple[JointFile, ...]:
        return different_names(cls, value, [joint.name or f"axis {i}" for i, joint in enumerate(value, 1)])

    def make(self, place: Place) -> Any:
        if self.urdf is not None:
            return self._from_urdf(place)
        checks = Checks("")
        if not 1 <= len(self.joint) <= joint_limit:
            checks.wrong("joint", f"{len(self.joint)} joints", f"1 to {joint_limit}, each headed [[joint]], or urdf")
        by_dh = [joint.dh is not None for joint in self.joint]
        if any(by_dh) and self.dh_convention is None:
            checks.wrong("dh_convention", "nothing", 'this key, with dh rows: "standard" or "modified"')
        if any(by_dh) and not all(by_dh):
            checks.wrong(f"joint[{by_dh.index(False)}].dh", "nothing", "this key: the other joints have dh rows")
        if self.dh_convention is not None and not any(by_dh):
            checks.wrong("dh_convention", shown(self.dh_convention), "dh rows in the joints, or no dh_convention")
        checks.done()
        joints, links, end = self._chain()
        notes = [
            f"{joint.name}: no torque stated, so it limits no load"
            for joint in joints
            if joint.torque_peak == math.inf and joint.drive is None
        ]
        frames = {link.name: link.frame for link in links}
        springs = tuple(item.made.carried(frames) for item in self.counterbalance)
        base = self.base.made if self.base else Link("base")
        return ArmDescription(
            joints, links, self.name or "arm", base if self.base is None or self.base.name else _named(base, "base"),
            _joined(end, self.flange.made if self.flange else np.eye(4)), self.coupling, springs, tuple(notes),
        )  # fmt: skip

    def _from_urdf(self, place: Place) -> ArmDescription:
        from armwright.describe.urdf import read_urdf

        assert self.urdf is not None
        for key in ("dh_convention", "base", "flange", "coupling", "counterbalance"):
            if getattr(self, key) not in (None, ()):
                raise InputError.of(key, f"{key} besides urdf", "one of the two")
        if self.joint:
            raise InputError.of("joint", "joints besides urdf", "one of the two")
        path = place.inside("urdf.file", self.urdf.file)
        return read_urdf(path, self.urdf.base, self.urdf.tool, root=place.root, name=self.name)

    def _chain(self) -> tuple[tuple[Joint, ...], tuple[Link, ...], Array]:
        """Joints, links, and the pose of the last row's frame in the last link's frame.

        A link's frame here is the joint's frame, moved: it lies on the axis. A standard DH row ends in a frame
        beyond the link, at A = Rz(theta) Tz(d) Tx(a) Rx(alpha), so that what stands in that frame is carried over
        to the axis."""
        joints, links = [], []
        before = np.eye(4)  # of the frame in which the next joint is told, in the last link's frame
        for number, told in enumerate(self.joint, 1):
            placement, beyond = before, np.eye(4)
            if told.dh is not None and self.dh_convention == "standard":
                beyond = told.dh.pose(before_z=False)
            elif told.dh is not None:
                placement = told.dh.pose(before_z=True)
            elif told.origin is not None:
                placement = told.origin.made
            name = told.name or f"axis {number}"
            axis = "z" if told.axis is None else told.axis
            drive = told.drive.made if told.drive else None
            limits = {key: getattr(told, key) for key in MOTION_LIMITS}
            joints.append(Joint(name, told.kind, placement, axis, told.range, *told.holds(), drive, **limits))
            link = _carried(beyond, told.link.made)
            links.append(link if told.link.name else _named(link, f"link {number}"))
            before = beyond
        return tuple(joints), tuple(links), before


def _joined(first: Array, then: Array) -> Array:
    """The pose of one after the other; tolerances of both positions add up."""
    if np.array_equal(first, np.eye(4)) and tolerance_of(first) is None:
        return then
    more = turned(first[:3, :3], tolerance_of(then))
    six = np.zeros(6) if (own := tolerance_of(first)) is None else own.copy()
    if more is not None:
        six[:3] += more
    return toleranced(first @ then, six)


def _carried(pose: Array, link: Link) -> Link:
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
    )  # fmt: skip


def _named(link: Link, name: str) -> Link:
    return Link(name, link.mass, link.centre, link.inertia, link.shapes, link.pictures, link.frame)
