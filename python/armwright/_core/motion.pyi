"""
Profiles, ways and timing of moves; SI.
"""
from __future__ import annotations
import armwright._core.kinematics
import armwright._core.model
import collections.abc
import numpy
import numpy.typing
import typing
__all__: list[str] = ['CyclePlan', 'CycleSpec', 'MotionLimit', 'MoveKind', 'MoveSpec', 'PlanProblem', 'PlanRefusal', 'Profile', 'TimedMotion', 'Timing', 'ToolLimits', 'TrackOrder', 'double_s', 'drive_parts', 'make_timed_motion', 'motion_at', 'motor_torques', 'plan_cycle', 'sample_motion', 'synchronised', 'time_path', 'trapezoid']
class MoveKind:
    """
    Members:
    
      joints
    
      line
    
      arc
    
      dwell
    """
    __members__: typing.ClassVar[dict[str, MoveKind]]
    arc: typing.ClassVar[MoveKind]
    dwell: typing.ClassVar[MoveKind]
    joints: typing.ClassVar[MoveKind]
    line: typing.ClassVar[MoveKind]
    @typing.overload
    def __eq__(self, other: MoveKind) -> bool:
        ...
    @typing.overload
    def __eq__(self, other: typing.Any) -> bool:
        ...
    def __getstate__(self) -> int:
        ...
    def __hash__(self) -> int:
        ...
    def __index__(self) -> int:
        ...
    def __init__(self, value: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __int__(self) -> int:
        ...
    @typing.overload
    def __ne__(self, other: MoveKind) -> bool:
        ...
    @typing.overload
    def __ne__(self, other: typing.Any) -> bool:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, state: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __str__(self) -> str:
        ...
    @property
    def name(self) -> str:
        ...
    @property
    def value(self) -> int:
        ...
class TrackOrder:
    """
    Members:
    
      with_arm
    
      before_arm
    """
    __members__: typing.ClassVar[dict[str, TrackOrder]]
    before_arm: typing.ClassVar[TrackOrder]
    with_arm: typing.ClassVar[TrackOrder]
    @typing.overload
    def __eq__(self, other: TrackOrder) -> bool:
        ...
    @typing.overload
    def __eq__(self, other: typing.Any) -> bool:
        ...
    def __getstate__(self) -> int:
        ...
    def __hash__(self) -> int:
        ...
    def __index__(self) -> int:
        ...
    def __init__(self, value: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __int__(self) -> int:
        ...
    @typing.overload
    def __ne__(self, other: TrackOrder) -> bool:
        ...
    @typing.overload
    def __ne__(self, other: typing.Any) -> bool:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, state: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __str__(self) -> str:
        ...
    @property
    def name(self) -> str:
        ...
    @property
    def value(self) -> int:
        ...
class Timing:
    """
    Members:
    
      time_optimal
    
      trapezoidal
    
      jerk_limited
    """
    __members__: typing.ClassVar[dict[str, Timing]]
    jerk_limited: typing.ClassVar[Timing]
    time_optimal: typing.ClassVar[Timing]
    trapezoidal: typing.ClassVar[Timing]
    @typing.overload
    def __eq__(self, other: Timing) -> bool:
        ...
    @typing.overload
    def __eq__(self, other: typing.Any) -> bool:
        ...
    def __getstate__(self) -> int:
        ...
    def __hash__(self) -> int:
        ...
    def __index__(self) -> int:
        ...
    def __init__(self, value: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __int__(self) -> int:
        ...
    @typing.overload
    def __ne__(self, other: Timing) -> bool:
        ...
    @typing.overload
    def __ne__(self, other: typing.Any) -> bool:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, state: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __str__(self) -> str:
        ...
    @property
    def name(self) -> str:
        ...
    @property
    def value(self) -> int:
        ...
class ToolLimits:
    """
    Of the tool point (m/s, m/s², m/s³) and its turning (rad/s, rad/s²); infinite: none.
    """
    def __init__(self) -> None:
        ...
    @property
    def acceleration(self) -> float:
        ...
    @acceleration.setter
    def acceleration(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def jerk(self) -> float:
        ...
    @jerk.setter
    def jerk(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def speed(self) -> float:
        ...
    @speed.setter
    def speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def turn_acceleration(self) -> float:
        ...
    @turn_acceleration.setter
    def turn_acceleration(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def turn_speed(self) -> float:
        ...
    @turn_speed.setter
    def turn_speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class MoveSpec:
    """
    A move; see cpp/armwright/model/cycle_spec.hpp.
    """
    kind: MoveKind
    name: str
    timing: Timing
    to: numpy.typing.NDArray[numpy.float64]
    tool: ToolLimits
    track_order: TrackOrder
    via: numpy.typing.NDArray[numpy.float64]
    def __init__(self) -> None:
        ...
    @property
    def blend(self) -> float:
        ...
    @blend.setter
    def blend(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def duration(self) -> float:
        ...
    @duration.setter
    def duration(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def load(self) -> int:
        ...
    @load.setter
    def load(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def q(self) -> list[float]:
        ...
    @q.setter
    def q(self, arg0: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
    @property
    def speed_share(self) -> float:
        ...
    @speed_share.setter
    def speed_share(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def track_to(self) -> float:
        ...
    @track_to.setter
    def track_to(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class CycleSpec:
    """
    Moves one after the other from a posture; loads in the tool frame.
    """
    def __init__(self) -> None:
        ...
    @property
    def loads(self) -> list[armwright._core.model.Inertia]:
        ...
    @loads.setter
    def loads(self, arg0: collections.abc.Sequence[armwright._core.model.Inertia]) -> None:
        ...
    @property
    def moves(self) -> list[MoveSpec]:
        ...
    @moves.setter
    def moves(self, arg0: collections.abc.Sequence[MoveSpec]) -> None:
        ...
    @property
    def period(self) -> float:
        ...
    @period.setter
    def period(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def start(self) -> list[float]:
        ...
    @start.setter
    def start(self, arg0: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
class MotionLimit:
    """
    Members:
    
      none
    
      joint_speed
    
      joint_acceleration
    
      joint_jerk
    
      tool_speed
    
      tool_acceleration
    
      tool_jerk
    
      tool_turn_speed
    
      tool_turn_acceleration
    
      motor_speed
    
      motor_torque
    
      stage_torque
    
      stage_speed
    
      duration
    """
    __members__: typing.ClassVar[dict[str, MotionLimit]]
    duration: typing.ClassVar[MotionLimit]
    joint_acceleration: typing.ClassVar[MotionLimit]
    joint_jerk: typing.ClassVar[MotionLimit]
    joint_speed: typing.ClassVar[MotionLimit]
    motor_speed: typing.ClassVar[MotionLimit]
    motor_torque: typing.ClassVar[MotionLimit]
    none: typing.ClassVar[MotionLimit]
    stage_speed: typing.ClassVar[MotionLimit]
    stage_torque: typing.ClassVar[MotionLimit]
    tool_acceleration: typing.ClassVar[MotionLimit]
    tool_jerk: typing.ClassVar[MotionLimit]
    tool_speed: typing.ClassVar[MotionLimit]
    tool_turn_acceleration: typing.ClassVar[MotionLimit]
    tool_turn_speed: typing.ClassVar[MotionLimit]
    @typing.overload
    def __eq__(self, other: MotionLimit) -> bool:
        ...
    @typing.overload
    def __eq__(self, other: typing.Any) -> bool:
        ...
    def __getstate__(self) -> int:
        ...
    def __hash__(self) -> int:
        ...
    def __index__(self) -> int:
        ...
    def __init__(self, value: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __int__(self) -> int:
        ...
    @typing.overload
    def __ne__(self, other: MotionLimit) -> bool:
        ...
    @typing.overload
    def __ne__(self, other: typing.Any) -> bool:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, state: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __str__(self) -> str:
        ...
    @property
    def name(self) -> str:
        ...
    @property
    def value(self) -> int:
        ...
class TimedMotion:
    """
    A motion row by row; see cpp/armwright/motion/timed_motion.hpp. Arrays are views, not to be written.
    """
    @property
    def acceleration(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def joint_count(self) -> int:
        ...
    @property
    def limit(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def limit_axis(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def load(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def move(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def q(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def speed(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def time(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
class Profile:
    """
    From rest to rest along one axis; see cpp/armwright/motion/profile.hpp.
    """
    def at(self, time: typing.SupportsFloat | typing.SupportsIndex) -> tuple[float, float, float, float]:
        """
        Position, speed, acceleration and jerk at a time, s.
        """
    def stretched(self, duration: typing.SupportsFloat | typing.SupportsIndex) -> Profile:
        ...
    @property
    def accelerating(self) -> float:
        ...
    @property
    def acceleration(self) -> float:
        ...
    @property
    def cruise(self) -> float:
        ...
    @property
    def distance(self) -> float:
        ...
    @property
    def duration(self) -> float:
        ...
    @property
    def jerk(self) -> float:
        ...
    @property
    def ramp(self) -> float:
        ...
    @property
    def speed(self) -> float:
        ...
class PlanProblem:
    """
    Members:
    
      none
    
      joint_range
    
      out_of_reach
    
      singular
    
      branch_lost
    
      no_circle
    
      cannot_stand
    
      cannot_move
    
      too_much
    
      no_limit
    
      mixed_timing
    
      duration
    
      period
    
      not_closed
    """
    __members__: typing.ClassVar[dict[str, PlanProblem]]
    branch_lost: typing.ClassVar[PlanProblem]
    cannot_move: typing.ClassVar[PlanProblem]
    cannot_stand: typing.ClassVar[PlanProblem]
    duration: typing.ClassVar[PlanProblem]
    joint_range: typing.ClassVar[PlanProblem]
    mixed_timing: typing.ClassVar[PlanProblem]
    no_circle: typing.ClassVar[PlanProblem]
    no_limit: typing.ClassVar[PlanProblem]
    none: typing.ClassVar[PlanProblem]
    not_closed: typing.ClassVar[PlanProblem]
    out_of_reach: typing.ClassVar[PlanProblem]
    period: typing.ClassVar[PlanProblem]
    singular: typing.ClassVar[PlanProblem]
    too_much: typing.ClassVar[PlanProblem]
    @typing.overload
    def __eq__(self, other: PlanProblem) -> bool:
        ...
    @typing.overload
    def __eq__(self, other: typing.Any) -> bool:
        ...
    def __getstate__(self) -> int:
        ...
    def __hash__(self) -> int:
        ...
    def __index__(self) -> int:
        ...
    def __init__(self, value: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __int__(self) -> int:
        ...
    @typing.overload
    def __ne__(self, other: PlanProblem) -> bool:
        ...
    @typing.overload
    def __ne__(self, other: typing.Any) -> bool:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, state: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __str__(self) -> str:
        ...
    @property
    def name(self) -> str:
        ...
    @property
    def value(self) -> int:
        ...
class PlanRefusal:
    """
    Why a cycle cannot be planned; see cpp/armwright/motion/cycle.hpp.
    """
    @property
    def allowed(self) -> float:
        ...
    @property
    def axis(self) -> int:
        ...
    @property
    def limit(self) -> MotionLimit:
        ...
    @property
    def move(self) -> int:
        ...
    @property
    def problem(self) -> PlanProblem:
        ...
    @property
    def share(self) -> float:
        ...
    @property
    def value(self) -> float:
        ...
class CyclePlan:
    @property
    def motion(self) -> TimedMotion:
        ...
    @property
    def move_end(self) -> list[float]:
        ...
    @property
    def move_start(self) -> list[float]:
        ...
    @property
    def refusal(self) -> PlanRefusal:
        ...
def double_s(distance: typing.SupportsFloat | typing.SupportsIndex, speed: typing.SupportsFloat | typing.SupportsIndex, acceleration: typing.SupportsFloat | typing.SupportsIndex, jerk: typing.SupportsFloat | typing.SupportsIndex) -> Profile:
    ...
def drive_parts(model: armwright._core.model.Model) -> list[dict[str, typing.Any]]:
    """
    What each axis' drive is made of: present, stages' names and momentary_peaks, curves (speeds, torques), encoder_counts, ratio.
    """
def make_timed_motion(time: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], acceleration: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], load: typing.Annotated[numpy.typing.ArrayLike, numpy.int32], move: typing.Annotated[numpy.typing.ArrayLike, numpy.int32]) -> TimedMotion:
    ...
def motion_at(motion: TimedMotion, times: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> TimedMotion:
    """
    The motion at rising times, s.
    """
def motor_torques(model: armwright._core.model.Model, load: armwright._core.model.Inertia, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], acceleration: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Torques of the motors for a motion, (rows, joints).
    """
def plan_cycle(model: armwright._core.model.Model, cycle: CycleSpec, inverse: armwright._core.kinematics.ArmInverse | None = None, leg_intervals: typing.SupportsInt | typing.SupportsIndex = 64, corner_intervals: typing.SupportsInt | typing.SupportsIndex = 48) -> CyclePlan:
    """
    Plans all moves; `inverse` of the same model is needed for tool moves.
    """
def sample_motion(motion: TimedMotion, rate: typing.SupportsFloat | typing.SupportsIndex) -> TimedMotion:
    """
    The motion at a fixed rate, 1/s, and at its end.
    """
def synchronised(start: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], end: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], speed: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], acceleration: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], jerk: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex] = []) -> tuple[Profile, MotionLimit, int]:
    """
    Joints in step: the profile of the share 0 to 1, the limit that decides and its joint.
    """
def time_path(model: armwright._core.model.Model, s: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], first: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], second: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], move: MoveSpec, loads: collections.abc.Sequence[armwright._core.model.Inertia] = []) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], float]:
    """
    Time-optimal along given rows of a path (q by s with two derivatives), by the limits of `move`: squared rate of s at the rows, its change between them, and the duration, s.
    """
def trapezoid(distance: typing.SupportsFloat | typing.SupportsIndex, speed: typing.SupportsFloat | typing.SupportsIndex, acceleration: typing.SupportsFloat | typing.SupportsIndex) -> Profile:
    ...
