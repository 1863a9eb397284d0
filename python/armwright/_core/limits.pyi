"""
What gives out first.
"""
from __future__ import annotations
import armwright._core.elements
import armwright._core.model
import armwright._core.motion
import collections.abc
import numpy
import numpy.typing
import typing
__all__: list[str] = ['BearingDuty', 'Demand', 'DrivenMotion', 'Guide', 'Limit', 'MovingLimit', 'MovingSetup', 'RailBending', 'ScaledTorques', 'SupplySpec', 'drive_check', 'driven_motion', 'greatest_axis_speeds', 'greatest_load', 'greatest_moment', 'greatest_speed_factor', 'guide_duty', 'moving_payloads', 'needed_span', 'pair_duty', 'payload_against_slowing', 'power', 'prepare_moving', 'scaled_torques', 'setpoints', 'slewing_duty', 'static_payloads', 'worst_rail_bending']
class Limit:
    """
    Members:
    
      continuous
    
      peak
    """
    __members__: typing.ClassVar[dict[str, Limit]]
    continuous: typing.ClassVar[Limit]
    peak: typing.ClassVar[Limit]
    @typing.overload
    def __eq__(self, other: Limit) -> bool:
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
    def __ne__(self, other: Limit) -> bool:
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
class Demand:
    """
    Members:
    
      rest
    
      tool_acceleration
    
      joint_acceleration
    
      joint_speed
    """
    __members__: typing.ClassVar[dict[str, Demand]]
    joint_acceleration: typing.ClassVar[Demand]
    joint_speed: typing.ClassVar[Demand]
    rest: typing.ClassVar[Demand]
    tool_acceleration: typing.ClassVar[Demand]
    @typing.overload
    def __eq__(self, other: Demand) -> bool:
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
    def __ne__(self, other: Demand) -> bool:
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
class MovingLimit:
    """
    Members:
    
      stated_torque
    
      motor_torque
    
      stage_torque
    
      motor_speed
    
      stage_speed
    
      joint_acceleration
    
      singular
    """
    __members__: typing.ClassVar[dict[str, MovingLimit]]
    joint_acceleration: typing.ClassVar[MovingLimit]
    motor_speed: typing.ClassVar[MovingLimit]
    motor_torque: typing.ClassVar[MovingLimit]
    singular: typing.ClassVar[MovingLimit]
    stage_speed: typing.ClassVar[MovingLimit]
    stage_torque: typing.ClassVar[MovingLimit]
    stated_torque: typing.ClassVar[MovingLimit]
    @typing.overload
    def __eq__(self, other: MovingLimit) -> bool:
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
    def __ne__(self, other: MovingLimit) -> bool:
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
class MovingSetup:
    """
    What is asked of a model in motion; see cpp/armwright/limits/speed_payload.hpp.
    """
    @property
    def greatest_speed_share(self) -> tuple[float, int, str]:
        """
        Share of the joint speeds asked that motors and stages stand, and by whom: (share, axis, part).
        """
    @property
    def moves_tool_all_ways(self) -> bool:
        ...
    @property
    def part_names(self) -> list[list[str]]:
        """
        Of each axis: what is stated, the motor, the stages; a part's place is its code and 2.
        """
class BearingDuty:
    """
    What a duty does to one bearing; see cpp/armwright/limits/bearing_duty.hpp.
    """
    @property
    def beyond_table(self) -> bool:
        ...
    @property
    def greatest_equivalent(self) -> float:
        ...
    @property
    def greatest_speed(self) -> float:
        ...
    @property
    def swing(self) -> float:
        ...
    @property
    def time(self) -> float:
        ...
    @property
    def turned(self) -> float:
        ...
    @property
    def wear(self) -> float:
        ...
class DrivenMotion:
    """
    A motion with the torques that it takes; see cpp/armwright/limits/driven_motion.hpp.
    """
    def of_joints(self, name: str) -> numpy.typing.NDArray[numpy.float64]:
        """
        q, speed, acceleration, joint_torque, axis_torque, axis_speed, motor_torque or motor_speed, (rows, joints).
        """
    def of_stages(self, name: str) -> numpy.typing.NDArray[numpy.float64]:
        """
        torque (at the output) or speed (at the input), (rows, joints, stages).
        """
    @property
    def load(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def motor_peak_torque(self) -> numpy.typing.NDArray[numpy.float64]:
        """
        The peak curve at the speed of each instant, (rows, joints).
        """
    @property
    def move(self) -> numpy.typing.NDArray[numpy.int32]:
        ...
    @property
    def time(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
class ScaledTorques:
    """
    Torques of a cycle by weight, inertia and load; see cpp/armwright/limits/scaled_torques.hpp.
    """
class SupplySpec:
    """
    See cpp/armwright/limits/power.hpp.
    """
    continuous: bool
    def __init__(self) -> None:
        ...
    @property
    def breaker_current(self) -> float:
        ...
    @breaker_current.setter
    def breaker_current(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def capacitance(self) -> float:
        ...
    @capacitance.setter
    def capacitance(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def efficiency(self) -> float:
        ...
    @efficiency.setter
    def efficiency(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def mains_voltage(self) -> float:
        ...
    @mains_voltage.setter
    def mains_voltage(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def phases(self) -> int:
        ...
    @phases.setter
    def phases(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def power_factor(self) -> float:
        ...
    @power_factor.setter
    def power_factor(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def resistance(self) -> float:
        ...
    @resistance.setter
    def resistance(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def resistor_power(self) -> float:
        ...
    @resistor_power.setter
    def resistor_power(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def resistor_voltage(self) -> float:
        ...
    @resistor_voltage.setter
    def resistor_voltage(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rest_voltage(self) -> float:
        ...
    @rest_voltage.setter
    def rest_voltage(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def standing_power(self) -> float:
        ...
    @standing_power.setter
    def standing_power(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class Guide:
    """
    Blocks on a carriage; see cpp/armwright/limits/guide_duty.hpp.
    """
    def __init__(self, places: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], feed_across: typing.SupportsFloat | typing.SupportsIndex, feed_up: typing.SupportsFloat | typing.SupportsIndex, factors: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(6)"], preload: typing.SupportsFloat | typing.SupportsIndex, roller: bool) -> None:
        """
        places: (blocks, 3) along, across, up; factors: pressed, lifted, lateral, and N per N m of roll, pitch, yaw (NaN: not known).
        """
    @property
    def map(self) -> typing.Annotated[numpy.typing.NDArray[numpy.float64], "[m, n]"]:
        """
        (5 blocks, 6): radial, lateral, roll, pitch, yaw of each, from a wrench.
        """
    @property
    def own_moments(self) -> tuple[bool, bool, bool]:
        """
        Whether blocks bear a moment of their own about each axis.
        """
class RailBending:
    @property
    def deflection(self) -> float:
        ...
    @property
    def deflection_place(self) -> float:
        ...
    @property
    def deflection_row(self) -> int:
        ...
    @property
    def moment(self) -> float:
        ...
    @property
    def moment_place(self) -> float:
        ...
    @property
    def moment_row(self) -> int:
        ...
def drive_check(model: armwright._core.model.Model, loads: collections.abc.Sequence[armwright._core.model.Inertia], driven: DrivenMotion, repeated: bool) -> tuple[dict[str, numpy.typing.NDArray[numpy.float64]], dict[str, numpy.typing.NDArray[numpy.float64]], list[tuple[float, int, int, int, float]], int]:
    """
    Figures of motors (joints,), of stages (joints, stages), shares (share, axis, part, limit, time), and the place of the greatest.
    """
def driven_motion(model: armwright._core.model.Model, loads: collections.abc.Sequence[armwright._core.model.Inertia], motion: armwright._core.motion.TimedMotion, step: typing.SupportsFloat | typing.SupportsIndex) -> DrivenMotion:
    """
    Loads in the last joint frame; rows at most `step` s apart.
    """
def greatest_axis_speeds(model: armwright._core.model.Model) -> list[float]:
    """
    What motor and stages of each axis may turn at, told at the axis; infinite without a drive.
    """
def greatest_load(torques: ScaledTorques, speed_factor: typing.SupportsFloat | typing.SupportsIndex, cap: typing.SupportsFloat | typing.SupportsIndex) -> tuple[float, int, int, int, float]:
    """
    Factor on all loads, axis, part, limit, time.
    """
@typing.overload
def greatest_moment(bearing: armwright._core.elements.SlewingBearing, radial: typing.SupportsFloat | typing.SupportsIndex, axial: typing.SupportsFloat | typing.SupportsIndex, wanted_safety: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
@typing.overload
def greatest_moment(pair: armwright._core.elements.BearingPair, radial: typing.SupportsFloat | typing.SupportsIndex, axial: typing.SupportsFloat | typing.SupportsIndex, wanted_safety: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def greatest_speed_factor(model: armwright._core.model.Model, torques: ScaledTorques, cap: typing.SupportsFloat | typing.SupportsIndex) -> tuple[float, int, int, int, float]:
    """
    How many times faster, axis, part, limit, time.
    """
def guide_duty(guide: Guide, wrench: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], duty: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], dict[str, numpy.typing.NDArray[numpy.float64]], dict[str, numpy.typing.NDArray[numpy.int64]]]:
    """
    Loads (rows, blocks, 5), equivalent loads (rows, blocks); of each block its figures, and the rows of its extremes.
    """
def moving_payloads(setup: MovingSetup, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.bool]]:
    """
    (rows,) each: mass, axis or -1, part's code, MovingLimit, Demand, and whether the arm moves itself.
    """
def needed_span(pair: armwright._core.elements.BearingPair, axis: numpy.typing.NDArray[numpy.float64], offset: typing.SupportsFloat | typing.SupportsIndex, wrench: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], wanted_safety: typing.SupportsFloat | typing.SupportsIndex) -> float:
    ...
def pair_duty(pair: armwright._core.elements.BearingPair, axis: numpy.typing.NDArray[numpy.float64], offset: typing.SupportsFloat | typing.SupportsIndex, wrench: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], angle: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], duty: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[dict[str, numpy.typing.NDArray[numpy.float64]], list[BearingDuty]]:
    """
    Loads (rows, 2): near and far; and each one's duty.
    """
def payload_against_slowing(model: armwright._core.model.Model, torques: ScaledTorques, slowing: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], cap: typing.SupportsFloat | typing.SupportsIndex, threads: typing.SupportsInt | typing.SupportsIndex, report: typing.Any) -> tuple[bool, list[tuple[float, float, float, tuple[float, int, int, int, float]]]]:
    """
    Whether it came to its end; and by slowing: duration, factors by peak and continuous limits, what holds it.
    """
def power(model: armwright._core.model.Model, driven: DrivenMotion, supply: SupplySpec) -> tuple[dict[str, numpy.typing.NDArray[numpy.float64]], dict[str, float], dict[str, numpy.typing.NDArray[numpy.float64]]]:
    """
    Courses by name, numbers by name, motor currents.
    """
def prepare_moving(model: armwright._core.model.Model, unit_load: armwright._core.model.Inertia, tool_acceleration: typing.SupportsFloat | typing.SupportsIndex, turn_acceleration: typing.SupportsFloat | typing.SupportsIndex, joint_acceleration: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], joint_speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> MovingSetup:
    """
    unit_load: of 1 kg, in the tool frame.
    """
def scaled_torques(model: armwright._core.model.Model, loads: collections.abc.Sequence[armwright._core.model.Inertia], motion: armwright._core.motion.TimedMotion, step: typing.SupportsFloat | typing.SupportsIndex) -> ScaledTorques:
    ...
def setpoints(model: armwright._core.model.Model, loads: collections.abc.Sequence[armwright._core.model.Inertia], motion: armwright._core.motion.TimedMotion, rate: typing.SupportsFloat | typing.SupportsIndex) -> tuple[DrivenMotion, numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64]]:
    """
    The motion at a rate, 1/s: its course, motor positions (rows, joints), greatest motor speeds (joints,).
    """
def slewing_duty(bearing: armwright._core.elements.SlewingBearing, axis: numpy.typing.NDArray[numpy.float64], offset: typing.SupportsFloat | typing.SupportsIndex, wrench: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], angle: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], duty: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[dict[str, numpy.typing.NDArray[numpy.float64]], list[BearingDuty]]:
    """
    Loads (rows, 1), and what the duty does; see cpp/armwright/limits/bearing_duty.hpp.
    """
def static_payloads(model: armwright._core.model.Model, centre: numpy.typing.NDArray[numpy.float64], limit: Limit, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.bool], numpy.typing.NDArray[numpy.float64]]:
    """
    Largest mass (rows,), limiting joint (rows,) or -1, whether the arm holds itself (rows,), and the mass by joint (rows, joints). centre in the last joint frame.
    """
def worst_rail_bending(stiffness: typing.SupportsFloat | typing.SupportsIndex, span: typing.SupportsFloat | typing.SupportsIndex, spans: typing.SupportsInt | typing.SupportsIndex, built_in: bool, train: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], loads: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], places: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> RailBending:
    ...
