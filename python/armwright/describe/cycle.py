"""A cycle: moves one after the other, and what limits them all."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Any

from armwright.describe.cell import Load
from armwright.describe.described import Checks, Described, put, take_all
from armwright.describe.drive_units import CYCLE_TIME, MOTION_LIMITS, if_told
from armwright.describe.moves import (
    MOVES,
    TIMINGS,
    Dwell,
    Move,
    Moving,
    PickUp,
    SetDown,
    put_tool_limits,
    take_by_joint,
    take_goal,
)
from armwright.describe.quantity_text import quantity
from armwright.describe.shapes import take_name
from armwright.describe.units import SHARE
from armwright.describe.wrong import shown
from armwright.errors import InputError

_TOOL_UNITS = {"tool_speed": "m/s", "tool_acceleration": "m/s^2", "tool_jerk": "m/s^3", "turn_speed": "rad/s",
               "turn_acceleration": "rad/s^2"}  # fmt: skip
REDUCED_SPEED = 0.25  # m/s


@dataclass(frozen=True, eq=False, repr=False)
class CycleLimits(Described):
    """What limits all moves of a cycle, besides the limits of the arm and of each move, of which the lower counts: a
    share ``speed`` of every joint's greatest speed; ``joint_speed``, ``joint_acceleration``, ``joint_jerk`` by the
    joints' names; the tool's as in a move.

    >>> slow = aw.CycleLimits(speed=0.5, tool_speed="250 mm/s")
    >>> slow.tool_speed            # m/s
    0.25
    """

    speed: Any = 1.0
    joint_speed: Any = ()
    joint_acceleration: Any = ()
    joint_jerk: Any = ()
    tool_speed: Any = math.inf
    tool_acceleration: Any = math.inf
    tool_jerk: Any = math.inf
    turn_speed: Any = math.inf
    turn_acceleration: Any = math.inf

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(self, speed=checks.take("speed", SHARE.si_value, self.speed, 1.0))
        for what, kinds in MOTION_LIMITS.items():
            key = f"joint_{what}"
            told = getattr(self, key)
            put(self, **{key: checks.take(key, take_by_joint(kinds), () if told is None else told, ())})
        put_tool_limits(self, checks)
        checks.done()

    def __repr__(self) -> str:
        told = [] if self.speed == 1 else [f"{100 * self.speed:.6g} % of the joints' speeds"]
        told += [f"{name.replace('_', ' ')} {quantity(value, unit)}" for name, unit in _TOOL_UNITS.items()
                 if math.isfinite(value := getattr(self, name))]  # fmt: skip
        told += [f"{key.replace('_', ' ')} of {', '.join(name for name, _ in getattr(self, key))}"
                 for key in ("joint_speed", "joint_acceleration", "joint_jerk") if getattr(self, key)]  # fmt: skip
        return "CycleLimits: " + ("; ".join(told) or "none besides those of arm and moves")


@dataclass(frozen=True, eq=False, repr=False)
class Cycle(Described):
    """Moves one after the other. ``start``: a posture or a work point's name; left out: where the last move ends.
    ``period``: s from start to start; left out: as fast as it goes. A cycle that ``repeats`` ends where it begins, and
    carries then what it carried. ``loads``: that PickUp may name, besides the cell's. ``timing``: of moves that state
    none.

    >>> moves = aw.JointMove("left shelf 2", at="approach"), aw.Dwell("2 s"), aw.JointMove("over the tub")
    >>> aw.Cycle(moves, name="there and back")
    Cycle 'there and back': 3 moves, as fast as it goes
    """

    moves: tuple[Move, ...]
    start: Any = None
    period: Any = None
    limits: CycleLimits | None = None
    timing: str = "time-optimal"
    repeats: bool = True
    loads: tuple[Load, ...] = ()
    name: str = "cycle"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            moves=checks.take("moves", _moves, self.moves, ()),
            start=None if self.start is None else checks.take("start", take_goal, self.start, ""),
            period=checks.take("period", if_told(CYCLE_TIME), self.period, None),
            loads=checks.take("loads", lambda k, v: take_all(k, v, Load), self.loads, ()),
            limits=CycleLimits() if self.limits is None else self.limits,
        )
        checks.word("timing", self.timing, TIMINGS)
        put(self, repeats=checks.flag("repeats", self.repeats))
        if not isinstance(self.limits, CycleLimits):
            checks.wrong("limits", shown(self.limits), "CycleLimits, or None")
        if not checks.problems:
            if not any(isinstance(move, Moving | Dwell) for move in self.moves):
                checks.wrong("moves", f"{len(self.moves)} moves", "at least one that takes time")
            if self.period is not None and not (self.repeats and self.period > 0):
                checks.wrong("period", f"{self.period:g} s", "more than 0 s, of a cycle that repeats")
            check_carrying(self.moves, self.repeats, checks)
        checks.done()

    def first_run(self) -> Cycle:
        """The same moves for the first run with people about the controls: as fast as they go with the tool at no more
        than 250 mm/s, the reduced speed of ISO 10218-1 (from memory), and without a period."""
        limits = self.limits or CycleLimits()
        slower = replace(limits, tool_speed=min(REDUCED_SPEED, limits.tool_speed))
        return replace(self, limits=slower, period=None, name=f"{self.name}, first run")

    @property
    def jerk_left_out(self) -> str:
        """In words, which moves do not keep a jerk that was told of the cycle or of them; "" if there is none."""
        limits = self.limits or CycleLimits()
        general = bool(limits.joint_jerk) or limits.tool_jerk < math.inf
        places = [
            str(i + 1) for i, move in enumerate(self.moves)
            if isinstance(move, Moving) and (move.timing or self.timing) != "jerk-limited"
            and (general or move.tool_jerk < math.inf)
        ]  # fmt: skip
        if not places:
            return ""
        told = ", ".join(places)
        return f"jerk counts in jerk-limited moves only: what the cycle tells of it does not in moves {told}"

    def __repr__(self) -> str:
        pace = "as fast as it goes" if self.period is None else f"every {self.period:.6g} s"
        return f"Cycle {self.name!r}: {len(self.moves)} moves, {pace if self.repeats else 'once'}"


def _moves(key: str, value: Any) -> tuple[Any, ...]:
    items = (value,) if isinstance(value, MOVES) else value
    if isinstance(items, str | dict) or not hasattr(items, "__iter__"):
        raise InputError.of(key, shown(value), "a list of moves")
    items = tuple(items)
    for i, item in enumerate(items):
        if not isinstance(item, MOVES):
            raise InputError.of(f"{key}[{i}]", shown(item), "one of " + ", ".join(kind.__name__ for kind in MOVES))
    return items


def check_carrying(moves: Any, repeats: bool, checks: Checks) -> None:
    """Nothing is picked up while something is carried, nor set down while nothing is."""
    carries = False
    for i, move in enumerate(moves):
        if isinstance(move, PickUp):
            if carries:
                checks.wrong(f"moves[{i}]", "a second load picked up", "the first one set down before")
            carries = True
        elif isinstance(move, SetDown):
            if not carries:
                checks.wrong(f"moves[{i}]", "set down while nothing is carried", "a load picked up before")
            carries = False
    if carries and repeats:
        checks.wrong("moves", "a load carried at the end", "it set down: the cycle repeats, and begins with none")
