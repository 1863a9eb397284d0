"""
What gives out first.
"""
from __future__ import annotations
import armwright._core.model
import numpy
import numpy.typing
import typing
__all__: list[str] = ['Demand', 'Limit', 'MovingLimit', 'MovingSetup', 'moving_payloads', 'prepare_moving', 'static_payloads']
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
def moving_payloads(setup: MovingSetup, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple:
    """
    (rows,) each: mass, axis or -1, part's code, MovingLimit, Demand, and whether the arm moves itself.
    """
def prepare_moving(model: armwright._core.model.Model, unit_load: armwright._core.model.Inertia, tool_acceleration: typing.SupportsFloat | typing.SupportsIndex, turn_acceleration: typing.SupportsFloat | typing.SupportsIndex, joint_acceleration: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], joint_speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> MovingSetup:
    """
    unit_load: of 1 kg, in the tool frame.
    """
def static_payloads(model: armwright._core.model.Model, centre: numpy.typing.NDArray[numpy.float64], limit: Limit, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.bool], numpy.typing.NDArray[numpy.float64]]:
    """
    Largest mass (rows,), limiting joint (rows,) or -1, whether the arm holds itself (rows,), and the mass by joint (rows, joints). centre in the last joint frame.
    """
