"""The arm file: DH rows or origins and axes, links, what each joint holds; or a URDF file."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import Field, ValidationInfo, field_validator

from armwright.describe.arm import ArmDescription, Joint, Link, joint_limit
from armwright.describe.common_file import PoseFile, different_names
from armwright.describe.counterbalance_file import CounterbalanceFile
from armwright.describe.coupling import take_coupling
from armwright.describe.described import Checks
from armwright.describe.drive_units import MOTION_LIMITS
from armwright.describe.file_kinds import ARM
from armwright.describe.held_file import as_table
from armwright.describe.joint_file import BaseFile, JointFile, carried_link
from armwright.describe.parts_file import take_parts
from armwright.describe.pose import Array, angle_axes
from armwright.describe.problems import FileModel, Place
from armwright.describe.toleranced import tolerance_of, toleranced, turned
from armwright.describe.wrong import shown
from armwright.errors import InputError, Problem


class UrdfFile(FileModel):
    """A URDF file, and between which of its links the arm is."""

    file: str = Field(description="the URDF file, inside the folder", examples=["arm.urdf"])
    base: str | None = Field(
        None, description="the link that stands still; left out: the first", examples=["base_link"]
    )
    tool: str | None = Field(None, description="the link that is the tool flange", examples=["tool0"])


class ArmFile(FileModel):
    """An arm. Joints stand from the base out, each headed [[joint]]."""

    file_kind = ARM

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
        flange = _joined(end, self.flange.made if self.flange else np.eye(4))
        base = base if self.base is None or self.base.name else _named(base, "base")
        try:
            return ArmDescription(joints, links, self.name or "arm", base, flange, self.coupling, springs, tuple(notes))
        except InputError as error:
            raise InputError(map(_as_in_the_file, error.problems)) from None

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
            bearing = told.bearing.made if told.bearing else None
            joints.append(
                Joint(name, told.kind, placement, axis, told.range, *told.holds(), drive, bearing=bearing, **limits)
            )
            link = carried_link(beyond, told.link.made)
            links.append(link if told.link.name else _named(link, f"link {number}"))
            before = beyond
        return tuple(joints), tuple(links), before


def _joined(first: Array, then: Array) -> Array:
    """The pose of a DH row and of the flange behind it; tolerances of both positions add up, and those of the flange's
    roll, pitch and yaw are carried over: exactly behind a row of quarter turns, otherwise each has its greatest."""
    if np.array_equal(first, np.eye(4)) and tolerance_of(first) is None:
        return then
    more = turned(first[:3, :3], tolerance_of(then))
    six = np.zeros(6) if (own := tolerance_of(first)) is None else own.copy()
    pose = np.asarray(first) @ np.asarray(then)
    if more is not None:
        six[:3] += more
        six[3:] = _angles_behind(first[:3, :3], np.asarray(then)[:3, :3], tolerance_of(then)[3:])  # type: ignore[index]
    return toleranced(pose, six)


def _angles_behind(turn: Array, then: Array, angles: Array) -> Array:
    """Tolerances of roll, pitch and yaw of ``turn @ then``, of which ``then`` has these."""
    if turn[2, 2] == 1 or not angles.any():  # about z alone, which adds to the yaw
        return angles
    axes = angle_axes(turn @ then)
    if abs(np.linalg.det(axes)) < 1e-6:
        found = "a tolerance behind a DH row that makes a quarter turn of the pitch"
        raise InputError.of("flange.roll_pitch_yaw", found, "none here, or an arm by origins and axes")
    return np.asarray(np.abs(np.linalg.solve(axes, turn @ angle_axes(then))) @ angles)


def _named(link: Link, name: str) -> Link:
    return replace(link, name=name)


def _as_in_the_file(problem: Problem) -> Problem:
    """A problem of a link that was found on the whole arm, with the key under which the link stands in the file."""
    key = re.sub(r"^ArmDescription\.links\[(\d+)\]\.", r"joint[\1].link.", problem.key)
    return replace(problem, key=re.sub(r"^ArmDescription\.base_link\.", "base.", key))
