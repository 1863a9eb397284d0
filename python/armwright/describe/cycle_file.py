"""The cycle file."""

from __future__ import annotations

import difflib
from typing import Any, ClassVar, Literal

from pydantic import Field, ValidationInfo, field_validator

from armwright.describe.cell_file import LoadFile
from armwright.describe.common_file import PoseFile, different_names
from armwright.describe.cycle import Cycle, CycleLimits
from armwright.describe.described import Checks
from armwright.describe.drive_units import (
    MOTION_LIMITS,
    AngularAcceleration,
    AngularSpeed,
    CycleTime,
    LinearAcceleration,
    LinearJerk,
    LinearSpeed,
)
from armwright.describe.file_kinds import CYCLE
from armwright.describe.moves import (
    TOOL_LIMITS,
    ArcMove,
    Dwell,
    JointMove,
    LineMove,
    PickUp,
    SetDown,
    take_by_joint,
    take_goal,
)
from armwright.describe.problems import FileModel, Place
from armwright.describe.units import Distance, Length, Lengths, Share
from armwright.describe.wrong import shown
from armwright.errors import InputError

Timing = Literal["time-optimal", "trapezoidal", "jerk-limited"]
_MOVING = ("to", "posture", "pose", "at", "blend", "speed", *TOOL_LIMITS, "timing", "duration", "name")
_TAKES = {
    "joints": (*_MOVING, "through", "stops", "track", "via_approach"),
    "line": (*_MOVING, "track_to"),
    "arc": (*_MOVING, "track_to", "via"),
    "dwell": ("time", "name"),
    "pick up": ("load",),
    "set down": (),
}
_POSTURE: Any = {"type": "array", "items": {"type": "string"}}


def _by_name(unit: str) -> Any:
    return {"type": "object", "additionalProperties": {"type": "string"}, "x-si-unit": unit}


class _ToolLimitsFile(FileModel):
    speed: Share | None = Field(
        None,
        description="share of every joint's greatest speed; acceleration goes with its square, jerk with its cube",
    )
    tool_speed: LinearSpeed | None = Field(None, description="of the tool point; left out: no limit")
    tool_acceleration: LinearAcceleration | None = Field(None, description="of the tool point, likewise")
    tool_jerk: LinearJerk | None = Field(None, description="of the tool point, likewise")
    turn_speed: AngularSpeed | None = Field(None, description="of the tool's turning, likewise", examples=["90 deg/s"])
    turn_acceleration: AngularAcceleration | None = Field(None, description="of the tool's turning, likewise")

    def given(self, *keys: str) -> dict[str, Any]:
        """What stands in the file, by key."""
        return {key: getattr(self, key) for key in keys if getattr(self, key) is not None}


class CycleLimitsFile(_ToolLimitsFile):
    """What limits all moves, besides the arm's own limits; of several limits the lower counts."""

    joint_speed: Any = Field(
        None, description="the greatest speed of single joints, by their names", examples=[{"axis 1": "90 deg/s"}],
        json_schema_extra=_by_name("rad/s; m/s if prismatic"),
    )  # fmt: skip
    joint_acceleration: Any = Field(
        None, description="the greatest acceleration of single joints, by their names",
        examples=[{"axis 1": "200 deg/s^2"}], json_schema_extra=_by_name("rad/s^2; m/s^2 if prismatic"),
    )  # fmt: skip
    joint_jerk: Any = Field(
        None, description="the greatest jerk of single joints, by their names", examples=[{"axis 1": "2000 deg/s^3"}],
        json_schema_extra=_by_name("rad/s^3; m/s^3 if prismatic"),
    )  # fmt: skip

    @field_validator("joint_speed", "joint_acceleration", "joint_jerk")
    @classmethod
    def _by_joint(cls, value: Any, info: ValidationInfo) -> Any:
        place: Place = info.context  # type: ignore[assignment]
        checks = Checks("")
        if not isinstance(value, dict):
            checks.wrong("", shown(value), "a table of values by the joints' names")
            value = {}
        for name, item in value.items():
            if not isinstance(item, str):
                checks.wrong(f".{name}", shown(item), "a quantity with its unit, in quotes")
            known_name(checks, f".{name}", name, place.known, "joint")
        if not checks.problems:
            kinds = MOTION_LIMITS[str(info.field_name).removeprefix("joint_")]
            value = dict(checks.take("", take_by_joint(kinds), value, ()))
        _done(cls, checks)
        return value

    def make(self, place: Place) -> Any:
        return CycleLimits(**self.given("speed", *TOOL_LIMITS, "joint_speed", "joint_acceleration", "joint_jerk"))


def known_name(checks: Checks, key: str, name: Any, known: dict[str, tuple[str, ...]] | None, kind: str) -> None:
    """Refuses a name that the cell has not, with the nearest; without a cell all names pass."""
    if known is None or name in known[kind]:
        return
    near = difflib.get_close_matches(str(name), known[kind], 1, 0.5)
    names = ", ".join(f'"{item}"' for item in known[kind][:30]) or "none"
    checks.wrong(key, shown(name), f"the name of a {kind}: {names}", f'"{near[0]}"' if near else "")


def _done(model: type[FileModel], checks: Checks) -> None:
    try:
        checks.done()
    except InputError as error:
        raise model.told(error) from None


def _goal(model: type[FileModel], value: Any, info: ValidationInfo, listed: bool) -> Any:
    """A work point's name; where ``listed``, several, or postures as lists of texts."""
    place: Place = info.context  # type: ignore[assignment]
    checks = Checks("")
    told = value if listed and isinstance(value, list) else [value]
    for i, item in enumerate(told):
        key = f"[{i}]" if listed and isinstance(value, list) else ""
        if isinstance(item, str):
            known_name(checks, key, item, place.known, "work point")
        elif not (isinstance(item, list) and item and all(isinstance(part, str) for part in item)):
            checks.wrong(key, shown(item), "the name of a work point, or a posture: a text with unit for each joint")
        else:
            checks.take(key, take_goal, item, ())
    _done(model, checks)
    return tuple(told) if listed else value


class MoveFile(_ToolLimitsFile):
    """A move. Which keys it takes depends on its kind; joints, line and arc take exactly one of to, posture, pose."""

    kind: Literal["joints", "line", "arc", "dwell", "pick up", "set down"] = Field(
        description="joints: to a posture, all joints in step; line, arc: the tool point straight, or on a circle; "
        "dwell: stands still; pick up, set down: what is carried from here on",
        examples=["joints"],
    )
    name: str | None = Field(None, description="what it is called in results", examples=["over the post"])
    to: Any = Field(None, description="the name of a work point", examples=["rack, shelf 2"],
                    json_schema_extra={"type": "string"})  # fmt: skip
    posture: Any = Field(None, description="joints: instead of to, a value for each joint, the track first",
                         examples=[["1.2 m", "90 deg", "-20 deg"]], json_schema_extra=_POSTURE)  # fmt: skip
    pose: PoseFile | None = Field(None, description="instead of to: the tool's frame in the world")
    at: Literal["point", "approach", "retract"] | None = Field(
        None, description="with to: the work point, or the far end of its approach or retract way; left out: the point"
    )
    via_approach: bool | None = Field(
        None, description="joints: to the far end of the work point's approach way, then straight to the point",
        examples=[True],
    )  # fmt: skip
    through: Any = Field(None, description="joints: work points (or postures) on the way, passed within blend",
                         examples=[["over the post"]], json_schema_extra={"type": "array"})  # fmt: skip
    blend: Distance | None = Field(
        None,
        description="how far the tool may pass from the points on the way, and from the end if it does not stop there; "
        "left out: it stops",
        examples=["50 mm"],
    )
    stops: bool | None = Field(
        None,
        description="joints: whether it stops at its end; left out: it does, unless blend is told without through",
        examples=[False],
    )
    track: Literal["with arm", "before arm"] | None = Field(
        None, description="joints: when the track goes; left out: with arm"
    )
    track_to: Length | None = Field(None, description="line, arc: where the track ends; left out: it stays")
    via: Lengths | None = Field(None, description="arc: a position that the tool point passes")
    timing: Timing | None = Field(None, description="left out: as the cycle states")
    duration: CycleTime | None = Field(
        None, description="how long it takes, at least; refused if it cannot be so short"
    )
    time: CycleTime | None = Field(None, description="dwell: how long")
    load: Any = Field(
        None, description="pick up: the name of the cell's load, a work point's or the cycle's; left out: the cell's",
        examples=["board of ware"], json_schema_extra={"type": "string"},
    )  # fmt: skip
    keys: ClassVar[dict[str, str]] = {}

    @field_validator("to")
    @classmethod
    def _to(cls, value: Any, info: ValidationInfo) -> Any:
        if not isinstance(value, str):
            raise cls.told(InputError.of("", shown(value), "the name of a work point, in quotes"))
        return _goal(cls, value, info, False)

    @field_validator("posture")
    @classmethod
    def _posture(cls, value: Any, info: ValidationInfo) -> Any:
        if not isinstance(value, list):
            raise cls.told(InputError.of("", shown(value), "a list of texts with units, one for each joint"))
        return _goal(cls, value, info, False)

    @field_validator("through")
    @classmethod
    def _through(cls, value: Any, info: ValidationInfo) -> Any:
        return _goal(cls, value, info, True)

    @field_validator("load")
    @classmethod
    def _load(cls, value: Any, info: ValidationInfo) -> Any:
        place: Place = info.context  # type: ignore[assignment]
        checks = Checks("")
        known_name(checks, "", value, place.known, "load")
        _done(cls, checks)
        return value

    def make(self, place: Place) -> Any:
        checks = Checks("")
        takes = _TAKES[self.kind]
        keys = [key for key in type(self).model_fields if key != "kind"]
        for key in keys:
            if getattr(self, key) is not None and key not in takes:
                checks.wrong(key, shown(getattr(self, key)), f"no {key}: a move of kind {self.kind} has none")
        goals = [key for key in ("to", "posture", "pose") if getattr(self, key) is not None]
        if "to" in takes and len(goals) != 1:
            checks.wrong(goals[1] if goals else "to", " and ".join(goals) or "nothing", "one of to, posture and pose")
        if self.kind == "dwell" and self.time is None:
            checks.wrong("time", "nothing", "this key: how long it stands still")
        checks.done()
        told = self.given(*(key for key in takes if key not in ("to", "posture", "pose")))
        goal = None if not goals else self.pose.made if self.pose is not None else getattr(self, goals[0])
        made = {"joints": JointMove, "line": LineMove, "arc": ArcMove}
        if self.kind in made:
            return made[self.kind](goal, **told)
        return Dwell(**told) if self.kind == "dwell" else PickUp(**told) if self.kind == "pick up" else SetDown()


class CycleFile(FileModel):
    """A cycle: moves one after the other, each headed [[move]]."""

    file_kind = CYCLE

    name: str | None = Field(None, description="what it is called", examples=["rack to kiln"])
    start: Any = Field(None, description="a work point's name, or a posture; left out: where the last move ends",
                       examples=["rack, shelf 2"],
                       json_schema_extra={"anyOf": [{"type": "string"}, _POSTURE]})  # fmt: skip
    period: CycleTime | None = Field(
        None, description="from start to start; left out: as fast as it goes", examples=["40 s"]
    )
    repeats: bool = Field(True, description="whether it begins again where it ends", examples=[True])
    timing: Timing = Field(
        "time-optimal",
        description="of moves that state none: as fast as speed, acceleration, torque and reducers allow; with even "
        "acceleration; with acceleration that ramps too",
    )
    limits: CycleLimitsFile | None = Field(None, description="what limits all moves")
    load: tuple[LoadFile, ...] = Field((), description="loads that moves may pick up, besides the cell's")
    move: tuple[MoveFile, ...] = Field(description="the moves")
    keys: ClassVar[dict[str, str]] = {"moves": "move", "loads": "load"}

    @field_validator("start")
    @classmethod
    def _start(cls, value: Any, info: ValidationInfo) -> Any:
        return _goal(cls, value, info, False)

    @field_validator("load")
    @classmethod
    def _loads(cls, value: tuple[LoadFile, ...], info: ValidationInfo) -> tuple[LoadFile, ...]:
        place: Place = info.context  # type: ignore[assignment]
        different_names(cls, value, [item.made.name for item in value])
        if place.known is not None:
            names = tuple(dict.fromkeys((*place.known["load"], *(item.made.name for item in value))))
            place.known = {**place.known, "load": names}
        return value

    def make(self, place: Place) -> Any:
        return Cycle(
            tuple(move.made for move in self.move), self.start, self.period, self.limits.made if self.limits else None,
            self.timing, self.repeats, tuple(load.made for load in self.load), self.name or "cycle",
        )  # fmt: skip
