"""Moves of a cycle: of all joints in step, of the tool along a way; dwells; what is picked up and set down."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from armwright.describe.cell import Load
from armwright.describe.described import Checks, Described, put
from armwright.describe.drive_units import (
    ANGULAR_ACCELERATION,
    ANGULAR_SPEED,
    CYCLE_TIME,
    LINEAR_ACCELERATION,
    LINEAR_JERK,
    LINEAR_SPEED,
    if_told,
    or_unlimited,
)
from armwright.describe.pose import take_pose, take_position
from armwright.describe.shapes import take_name
from armwright.describe.units import ANGLE, DISTANCE, LENGTH, SHARE, Kind
from armwright.describe.wrong import Wrong, shown
from armwright.errors import InputError

TIMINGS = ("time-optimal", "trapezoidal", "jerk-limited")
PLACES = ("point", "approach", "retract")
TRACK_ORDERS = ("with arm", "before arm")
TOOL_LIMITS: dict[str, Kind] = {
    "tool_speed": LINEAR_SPEED,
    "tool_acceleration": LINEAR_ACCELERATION,
    "tool_jerk": LINEAR_JERK,
    "turn_speed": ANGULAR_SPEED,
    "turn_acceleration": ANGULAR_ACCELERATION,
}
Value = tuple[str, float]  # the SI unit that was told ("rad", "m"; "" if none was), and the value in it


def take_value(turning: Kind, sliding: Kind) -> Any:
    """A reader of a quantity of a joint that is not known yet: a number in SI, or a text with a unit of either kind."""

    def take(key: str, value: Any) -> Value:
        if isinstance(value, tuple) and len(value) == 2 and isinstance(value[0], str) and isinstance(value[1], float):
            kinds = {"": turning, turning.si: turning, sliding.si: sliding}  # read already: a copy is made
            if value[0] in kinds:
                return value[0], kinds[value[0]].si_value(key, value[1])
        told = isinstance(value, str) or hasattr(value, "magnitude")
        if not told:
            return "", turning.si_value(key, value)
        try:
            return turning.si, turning.from_python(value)
        except Wrong as wrong:
            try:
                return sliding.si, sliding.from_python(value)
            except Wrong:
                raise wrong.at(key, value) from None

    return take


def is_matrix(value: Any) -> bool:
    """Whether it is a matrix, as a pose is, and no list of anything else."""
    try:
        return bool(np.shape(value) == (4, 4))
    except ValueError:  # rows of different lengths
        return False


def take_goal(key: str, value: Any) -> Any:
    """Where a move goes: a work point's name, a 4x4 pose of the tool in the world, or a posture (a value a joint)."""
    if isinstance(value, str):
        return take_name(key, value)
    expected = "a work point's name, a 4x4 pose, or a posture: a value for each joint, the track first"
    if is_matrix(value):
        return take_pose(key, value)
    if isinstance(value, dict | set | bytes) or not hasattr(value, "__iter__") or not len(value):
        raise InputError.of(key, shown(value), expected)
    take = take_value(ANGLE, LENGTH)
    return tuple(take(f"{key}[{i}]", item) for i, item in enumerate(value))


@dataclass(frozen=True, eq=False, repr=False)
class Moving(Described):
    """What all moves share. ``to``: a work point's name, a 4x4 pose of the tool in the world, or (joint moves) a
    posture. ``at``: "point", or the work point's "approach" or "retract" way's far end. ``blend``: 0 m, it stops at
    its end; else it goes over into the next move without stopping and passes its end within this distance. Limits,
    besides the cycle's, of which the lower counts: ``speed``, a share of every joint's greatest speed (acceleration
    goes with its square, jerk with its cube); of the tool point ``tool_speed`` m/s, ``tool_acceleration`` m/s²,
    ``tool_jerk`` m/s³; of its turning ``turn_speed`` rad/s, ``turn_acceleration`` rad/s². ``timing``: "time-optimal",
    "trapezoidal" or "jerk-limited"; left out: the cycle's. ``duration``: how long it takes, s; 0: as fast as it goes.
    It is slowed evenly, never hurried: one that is too short is refused. Moves that go over into one another are
    slowed alike, so that each takes its own duration or longer."""

    to: Any
    at: str = "point"
    blend: Any = 0.0
    speed: Any = 1.0
    tool_speed: Any = math.inf
    tool_acceleration: Any = math.inf
    tool_jerk: Any = math.inf
    turn_speed: Any = math.inf
    turn_acceleration: Any = math.inf
    timing: str | None = None
    duration: Any = 0.0
    name: str | None = None

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            to=checks.take("to", take_goal, self.to, ""),
            blend=checks.take("blend", DISTANCE.si_value, self.blend, 0.0),
            speed=checks.take("speed", SHARE.si_value, self.speed, 1.0),
            duration=checks.take("duration", CYCLE_TIME.si_value, self.duration, 0.0),
            name=None if self.name is None else checks.take("name", take_name, self.name, None),
        )
        put_tool_limits(self, checks)
        if checks.word("at", self.at, PLACES) and self.at != "point" and not isinstance(self.to, str):
            checks.wrong("at", shown(self.at), "a work point's name in to: only that has ways to and from it")
        if self.timing is not None:
            checks.word("timing", self.timing, TIMINGS)
        self._check(checks)
        checks.done()

    def _check(self, checks: Checks) -> None:
        if isinstance(self.to, tuple):
            checks.wrong("to", "a posture", "a work point's name or a pose: the tool moves along a way")

    @property
    def goal_text(self) -> str:
        """Where it goes, in words."""
        if isinstance(self.to, str):
            return self.to if self.at == "point" else f"{self.at} of {self.to}"
        return "a posture" if isinstance(self.to, tuple) else "a pose"

    def __repr__(self) -> str:
        return f"{type(self).__name__} to {self.goal_text}"


@dataclass(frozen=True, eq=False, repr=False)
class JointMove(Moving):
    """To a posture, all joints in step. ``through``: work points, poses or postures on the way, each passed within
    ``blend``, which then has to be above 0; ``stops`` False: the end is passed so too. ``track``: goes "with arm" or
    "before arm". ``via_approach``: to the far end of the work point's approach way, then straight to the point.

    >>> aw.JointMove("over the tub", speed=0.5)
    JointMove to over the tub
    """

    through: Any = ()
    stops: bool | None = None
    track: str = "with arm"
    via_approach: bool = False

    def _check(self, checks: Checks) -> None:
        told = self.through
        single = isinstance(told, str) or is_matrix(told)
        goals = (told,) if single else tuple(told) if hasattr(told, "__iter__") else None
        if goals is None:
            checks.wrong("through", shown(told), "a list of work points' names, poses or postures")
            goals = ()
        put(self, through=tuple(checks.take(f"through[{i}]", take_goal, goal, "") for i, goal in enumerate(goals)))
        if self.through and not self.blend > 0:
            checks.wrong("blend", f"{self.blend:g} m", "more than 0 m: how far from the points on the way it may pass")
        usual = bool(self.through) or not self.blend > 0
        put(self, stops=usual if self.stops is None else checks.flag("stops", self.stops))
        if not self.stops and not self.blend > 0:
            checks.wrong("blend", f"{self.blend:g} m", "more than 0 m: how far from its end it may pass")
        if self.duration > 0 and (self.through or self.via_approach):
            checks.wrong("duration", f"{self.duration:g} s", "none: a move with parts takes the time of its parts")
        checks.word("track", self.track, TRACK_ORDERS)
        put(self, via_approach=checks.flag("via_approach", self.via_approach))
        if self.via_approach and (not isinstance(self.to, str) or self.at != "point"):
            checks.wrong("via_approach", "True", "a work point's name in to, and at left out")


@dataclass(frozen=True, eq=False, repr=False)
class LineMove(Moving):
    """The tool point straight to a pose, its attitude turning evenly about one axis. ``track_to``: where the track
    ends, m; left out: it stays.

    >>> aw.LineMove("left shelf 2", at="approach", tool_speed="0.4 m/s")
    LineMove to approach of left shelf 2
    """

    track_to: Any = None

    def _check(self, checks: Checks) -> None:
        super()._check(checks)
        put(self, track_to=checks.take("track_to", if_told(LENGTH), self.track_to, None))


@dataclass(frozen=True, eq=False, repr=False)
class ArcMove(LineMove):
    """The tool point on a circle through ``via`` (a position in the world, m) to a pose.

    >>> aw.ArcMove("over the tub", via=("0.9 m", "0.2 m", "0.9 m"), tool_speed="0.3 m/s")
    ArcMove to over the tub
    """

    via: Any = None

    def _check(self, checks: Checks) -> None:
        super()._check(checks)
        if self.via is None:
            checks.wrong("via", "nothing", "a position that the arc passes")
        else:
            put(self, via=checks.take("via", take_position, self.via, np.zeros(3)))


@dataclass(frozen=True, eq=False, repr=False)
class Dwell(Described):
    """Stands still for ``time`` s.

    >>> aw.Dwell("2.5 s", name="glazes")
    Dwell 2.5 s
    """

    time: Any
    name: str | None = None

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(self, time=checks.take("time", CYCLE_TIME.si_value, self.time, 0.0),
            name=None if self.name is None else checks.take("name", take_name, self.name, None))  # fmt: skip
        checks.done()

    def __repr__(self) -> str:
        return f"Dwell {self.time:.6g} s"


@dataclass(frozen=True, eq=False, repr=False)
class PickUp(Described):
    """From here on the load is carried: a Load, or the name of the cell's, a work point's or the cycle's; None: the
    cell's. It takes no time; a Dwell does.

    >>> aw.PickUp("board of ware")
    PickUp board of ware
    """

    load: Load | str | None = None

    def __post_init__(self) -> None:
        checks = Checks(self)
        if isinstance(self.load, str):
            put(self, load=checks.take("load", take_name, self.load, ""))
        elif self.load is not None and not isinstance(self.load, Load):
            checks.wrong("load", shown(self.load), "a Load, a load's name, or None: the cell's")
        checks.done()

    def __repr__(self) -> str:
        name = self.load.name if isinstance(self.load, Load) else self.load
        return f"PickUp {name or 'the load of the cell'}"


@dataclass(frozen=True, eq=False, repr=False)
class SetDown(Described):
    """From here on nothing is carried. It takes no time; a Dwell does.

    >>> aw.SetDown()
    SetDown
    """

    def __repr__(self) -> str:
        return "SetDown"


Move = JointMove | LineMove | ArcMove | Dwell | PickUp | SetDown
MOVES = (JointMove, LineMove, ArcMove, Dwell, PickUp, SetDown)


def put_tool_limits(owner: Any, checks: Checks) -> None:
    """Reads the limits of the tool's motion, which moves and cycles share."""
    put(owner, **{key: checks.take(key, or_unlimited(kind), getattr(owner, key), math.inf)
                  for key, kind in TOOL_LIMITS.items()})  # fmt: skip


def take_by_joint(kinds: tuple[Kind, Kind]) -> Any:
    """A reader of values by joints' names, from a mapping; as (name, value) pairs in the names' order."""

    def take(key: str, value: Any) -> tuple[tuple[str, Value], ...]:
        try:
            pairs = dict(value) if isinstance(value, dict | tuple) else None
        except (TypeError, ValueError):
            pairs = None
        if pairs is None:
            raise InputError.of(key, shown(value), "values by the joints' names")
        read = take_value(*kinds)
        return tuple(
            (take_name(f"{key}.{name}", name), read(f"{key}.{name}", item))
            for name, item in sorted(pairs.items(), key=lambda pair: str(pair[0]))
        )

    return take
