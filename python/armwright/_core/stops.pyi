"""
Motion after a stop is asked for.
"""
from __future__ import annotations
import armwright._core.model
import collections.abc
import numpy
import numpy.typing
import typing
__all__: list[str] = ['StopBatch', 'StopCategory', 'StopEnd', 'StopOptions', 'WorstHolding', 'brake_energy_ratings', 'brake_hold', 'closing_delays', 'downward', 'full_speed', 'most_stop_steps', 'stop_postures', 'stops', 'worst_holding']
class StopCategory:
    """
    Members:
    
      power_off
    
      controlled
    """
    __members__: typing.ClassVar[dict[str, StopCategory]]
    controlled: typing.ClassVar[StopCategory]
    power_off: typing.ClassVar[StopCategory]
    @typing.overload
    def __eq__(self, other: StopCategory) -> bool:
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
    def __ne__(self, other: StopCategory) -> bool:
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
class StopEnd:
    """
    Members:
    
      rest
    
      still_moving
    
      joint_end
    
      no_inertia
    
      gave_up
    """
    __members__: typing.ClassVar[dict[str, StopEnd]]
    gave_up: typing.ClassVar[StopEnd]
    joint_end: typing.ClassVar[StopEnd]
    no_inertia: typing.ClassVar[StopEnd]
    rest: typing.ClassVar[StopEnd]
    still_moving: typing.ClassVar[StopEnd]
    @typing.overload
    def __eq__(self, other: StopEnd) -> bool:
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
    def __ne__(self, other: StopEnd) -> bool:
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
class StopOptions:
    """
    See cpp/armwright/motion/stop.hpp.
    """
    category: StopCategory
    every_step: bool
    def __init__(self) -> None:
        ...
    @property
    def deceleration(self) -> list[float]:
        ...
    @deceleration.setter
    def deceleration(self, arg1: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
    @property
    def hold(self) -> float:
        ...
    @hold.setter
    def hold(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def longest_control(self) -> float:
        ...
    @longest_control.setter
    def longest_control(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def reaction(self) -> float:
        ...
    @reaction.setter
    def reaction(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def row_step(self) -> float:
        ...
    @row_step.setter
    def row_step(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def time_limit(self) -> float:
        ...
    @time_limit.setter
    def time_limit(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def tolerance(self) -> float:
        ...
    @tolerance.setter
    def tolerance(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class StopBatch:
    """
    Answers of many stops, a row each; see StopAnswer in cpp/armwright/motion/stop.hpp.
    """
    def every_step(self, stop: typing.SupportsInt | typing.SupportsIndex) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64]]:
        """
        Time (steps, 1), joints, their speeds and accelerations (steps, joints) of one stop, where it was asked for.
        """
    def rows(self, stop: typing.SupportsInt | typing.SupportsIndex) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64]]:
        """
        Time (rows, 1), joints and their speeds (rows, joints), tool point (rows, 3) of one stop.
        """
    @property
    def brake_energy(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def complete(self) -> bool:
        ...
    @property
    def end(self) -> list[StopEnd]:
        ...
    @property
    def impact_speed(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def impact_time(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def joint(self) -> list[int]:
        ...
    @property
    def power_off(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def q(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def saturated(self) -> list[bool]:
        ...
    @property
    def stage_torque(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def stage_torque_time(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def steps(self) -> list[int]:
        ...
    @property
    def time(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def tool_drop(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def tool_path(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def tool_top_speed(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def tool_travel(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def top_speed(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def travel(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
class WorstHolding:
    """
    See cpp/armwright/limits/holding.hpp.
    """
    @property
    def bound(self) -> float:
        ...
    @property
    def boxes(self) -> int:
        ...
    @property
    def found(self) -> float:
        ...
    @property
    def q(self) -> list[float]:
        ...
    @property
    def springs_counted(self) -> bool:
        ...
def brake_energy_ratings(model: armwright._core.model.Model) -> list[float]:
    """
    What each axis' brake bears in a stop, J; infinite without a brake or a rating.
    """
def brake_hold(model: armwright._core.model.Model, axis: typing.SupportsInt | typing.SupportsIndex) -> tuple[float, float] | None:
    """
    What the brake holds at its axis: by ratio, and driven back; None without one.
    """
def closing_delays(model: armwright._core.model.Model) -> list[float]:
    """
    How long each axis' brake takes to close, s; NaN without a brake.
    """
def downward(model: armwright._core.model.Model, centre: numpy.typing.NDArray[numpy.float64], q: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], joint: typing.SupportsInt | typing.SupportsIndex) -> int:
    """
    Which way a joint brings the load down.
    """
def full_speed(model: armwright._core.model.Model, joint: typing.SupportsInt | typing.SupportsIndex) -> float:
    """
    Greatest speed of a joint, rad/s (m/s).
    """
def stop_postures(model: armwright._core.model.Model, centre: numpy.typing.NDArray[numpy.float64], shares: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> list[tuple[list[float], float]]:
    """
    Postures at shares of the greatest extension, each with its extension, m.
    """
def stops(model: armwright._core.model.Model, loads: collections.abc.Sequence[armwright._core.model.Inertia], q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], options: StopOptions, threads: typing.SupportsInt | typing.SupportsIndex = 0, report: typing.Any = None) -> StopBatch:
    """
    One stop a row; loads in the last joint frame.
    """
def worst_holding(model: armwright._core.model.Model, load: armwright._core.model.Inertia, axes: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex], gap: typing.SupportsFloat | typing.SupportsIndex, most_boxes: typing.SupportsInt | typing.SupportsIndex, threads: typing.SupportsInt | typing.SupportsIndex = 0, report: typing.Any = None) -> tuple[bool, list[WorstHolding]]:
    """
    Whether it was complete, and for each of the axes the worst torque at rest.
    """
most_stop_steps: int = 500000
