"""
Specifications, and the constant Model made of them.
"""
from __future__ import annotations
import collections.abc
import numpy
import numpy.typing
import typing
__all__: list[str] = ['ArmSpec', 'BrakeSide', 'BrakeSpec', 'CellSpec', 'DriveSpec', 'FrictionSpec', 'Inertia', 'JointKind', 'JointSpec', 'LinkSpec', 'LoadSpec', 'Model', 'MotorSpec', 'ShapeKind', 'ShapeSpec', 'SpringSpec', 'StageSpec', 'TargetSpec', 'ToolSpec', 'TrackSpec', 'compile', 'held_on_track', 'load_in_last_joint']
class ShapeKind:
    """
    Members:
    
      box
    
      cylinder
    
      capsule
    
      sphere
    
      half_space
    
      convex_hull
    
      mesh
    """
    __members__: typing.ClassVar[dict[str, ShapeKind]]
    box: typing.ClassVar[ShapeKind]
    capsule: typing.ClassVar[ShapeKind]
    convex_hull: typing.ClassVar[ShapeKind]
    cylinder: typing.ClassVar[ShapeKind]
    half_space: typing.ClassVar[ShapeKind]
    mesh: typing.ClassVar[ShapeKind]
    sphere: typing.ClassVar[ShapeKind]
    @typing.overload
    def __eq__(self, other: ShapeKind) -> bool:
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
    def __ne__(self, other: ShapeKind) -> bool:
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
class ShapeSpec:
    """
    A solid; see cpp/armwright/model/shape_spec.hpp.
    """
    kind: ShapeKind
    name: str
    pose: numpy.typing.NDArray[numpy.float64]
    size: numpy.typing.NDArray[numpy.float64]
    def __init__(self) -> None:
        ...
    def set_points(self, points: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> None:
        ...
    def set_triangles(self, triangles: typing.Annotated[numpy.typing.ArrayLike, numpy.int32]) -> None:
        ...
    @property
    def clearance(self) -> float:
        ...
    @clearance.setter
    def clearance(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def length(self) -> float:
        ...
    @length.setter
    def length(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def radius(self) -> float:
        ...
    @radius.setter
    def radius(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class MotorSpec:
    """
    See cpp/armwright/model/drive_spec.hpp; curves are (rad/s, N m) pairs.
    """
    name: str
    def __init__(self) -> None:
        ...
    @property
    def continuous(self) -> list[tuple[float, float]]:
        ...
    @continuous.setter
    def continuous(self, arg1: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]]) -> None:
        ...
    @property
    def encoder_counts(self) -> float:
        ...
    @encoder_counts.setter
    def encoder_counts(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def peak(self) -> list[tuple[float, float]]:
        ...
    @peak.setter
    def peak(self, arg1: collections.abc.Sequence[tuple[typing.SupportsFloat | typing.SupportsIndex, typing.SupportsFloat | typing.SupportsIndex]]) -> None:
        ...
    @property
    def rotor_inertia(self) -> float:
        ...
    @rotor_inertia.setter
    def rotor_inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def torque_constant(self) -> float:
        ...
    @torque_constant.setter
    def torque_constant(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def winding_loss(self) -> float:
        ...
    @winding_loss.setter
    def winding_loss(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class StageSpec:
    name: str
    def __init__(self) -> None:
        ...
    @property
    def backlash(self) -> float:
        ...
    @backlash.setter
    def backlash(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def efficiency(self) -> float:
        ...
    @efficiency.setter
    def efficiency(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def efficiency_back(self) -> float:
        ...
    @efficiency_back.setter
    def efficiency_back(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def inertia(self) -> float:
        ...
    @inertia.setter
    def inertia(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def life_exponent(self) -> float:
        ...
    @life_exponent.setter
    def life_exponent(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def max_input_speed(self) -> float:
        ...
    @max_input_speed.setter
    def max_input_speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def mean_input_speed(self) -> float:
        ...
    @mean_input_speed.setter
    def mean_input_speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def momentary_peak_torque(self) -> float:
        ...
    @momentary_peak_torque.setter
    def momentary_peak_torque(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rated_input_speed(self) -> float:
        ...
    @rated_input_speed.setter
    def rated_input_speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rated_life(self) -> float:
        ...
    @rated_life.setter
    def rated_life(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rated_torque(self) -> float:
        ...
    @rated_torque.setter
    def rated_torque(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def ratio(self) -> float:
        ...
    @ratio.setter
    def ratio(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def repeated_peak_torque(self) -> float:
        ...
    @repeated_peak_torque.setter
    def repeated_peak_torque(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def stiffness(self) -> float:
        ...
    @stiffness.setter
    def stiffness(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class BrakeSide:
    """
    Members:
    
      motor
    
      joint
    """
    __members__: typing.ClassVar[dict[str, BrakeSide]]
    joint: typing.ClassVar[BrakeSide]
    motor: typing.ClassVar[BrakeSide]
    @typing.overload
    def __eq__(self, other: BrakeSide) -> bool:
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
    def __ne__(self, other: BrakeSide) -> bool:
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
class BrakeSpec:
    side: BrakeSide
    def __init__(self) -> None:
        ...
    @property
    def delay(self) -> float:
        ...
    @delay.setter
    def delay(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def energy_per_stop(self) -> float:
        ...
    @energy_per_stop.setter
    def energy_per_stop(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def torque(self) -> float:
        ...
    @torque.setter
    def torque(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class FrictionSpec:
    def __init__(self) -> None:
        ...
    @property
    def coulomb_backward(self) -> float:
        ...
    @coulomb_backward.setter
    def coulomb_backward(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def coulomb_forward(self) -> float:
        ...
    @coulomb_forward.setter
    def coulomb_forward(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def viscous(self) -> float:
        ...
    @viscous.setter
    def viscous(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class DriveSpec:
    brake: BrakeSpec | None
    joint_friction: FrictionSpec
    motor: MotorSpec
    motor_friction: FrictionSpec
    def __init__(self) -> None:
        ...
    @property
    def stages(self) -> list[StageSpec]:
        ...
    @stages.setter
    def stages(self, arg0: collections.abc.Sequence[StageSpec]) -> None:
        ...
class SpringSpec:
    name: str
    point_a: numpy.typing.NDArray[numpy.float64]
    point_b: numpy.typing.NDArray[numpy.float64]
    pulls_only: bool
    def __init__(self) -> None:
        ...
    @property
    def length(self) -> float:
        ...
    @length.setter
    def length(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def link_a(self) -> int:
        ...
    @link_a.setter
    def link_a(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def link_b(self) -> int:
        ...
    @link_b.setter
    def link_b(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def longest(self) -> float:
        ...
    @longest.setter
    def longest(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def pull(self) -> float:
        ...
    @pull.setter
    def pull(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rate(self) -> float:
        ...
    @rate.setter
    def rate(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def shortest(self) -> float:
        ...
    @shortest.setter
    def shortest(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class Inertia:
    """
    Mass (kg), centre of gravity (m), inertia tensor about it (kg m²), in one frame.
    """
    centre: numpy.typing.NDArray[numpy.float64]
    @typing.overload
    def __init__(self) -> None:
        ...
    @typing.overload
    def __init__(self, mass: typing.SupportsFloat | typing.SupportsIndex, centre: numpy.typing.NDArray[numpy.float64], tensor: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> None:
        ...
    @property
    def mass(self) -> float:
        ...
    @mass.setter
    def mass(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def tensor(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
class JointKind:
    """
    Members:
    
      revolute
    
      prismatic
    """
    __members__: typing.ClassVar[dict[str, JointKind]]
    prismatic: typing.ClassVar[JointKind]
    revolute: typing.ClassVar[JointKind]
    @typing.overload
    def __eq__(self, other: JointKind) -> bool:
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
    def __ne__(self, other: JointKind) -> bool:
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
class JointSpec:
    axis: numpy.typing.NDArray[numpy.float64]
    drive: DriveSpec | None
    kind: JointKind
    name: str
    placement: numpy.typing.NDArray[numpy.float64]
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
    def lower(self) -> float:
        ...
    @lower.setter
    def lower(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def speed(self) -> float:
        ...
    @speed.setter
    def speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def torque_continuous(self) -> float:
        ...
    @torque_continuous.setter
    def torque_continuous(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def torque_peak(self) -> float:
        ...
    @torque_peak.setter
    def torque_peak(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def upper(self) -> float:
        ...
    @upper.setter
    def upper(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class LinkSpec:
    inertia: Inertia
    name: str
    told_frame: numpy.typing.NDArray[numpy.float64]
    def __init__(self) -> None:
        ...
    @property
    def shapes(self) -> list[ShapeSpec]:
        ...
    @shapes.setter
    def shapes(self, arg0: collections.abc.Sequence[ShapeSpec]) -> None:
        ...
class ArmSpec:
    base_link: LinkSpec
    flange: numpy.typing.NDArray[numpy.float64]
    name: str
    def __init__(self) -> None:
        ...
    @property
    def coupling(self) -> list[float]:
        ...
    @coupling.setter
    def coupling(self, arg0: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
    @property
    def joints(self) -> list[JointSpec]:
        ...
    @joints.setter
    def joints(self, arg0: collections.abc.Sequence[JointSpec]) -> None:
        ...
    @property
    def links(self) -> list[LinkSpec]:
        ...
    @links.setter
    def links(self, arg0: collections.abc.Sequence[LinkSpec]) -> None:
        ...
    @property
    def springs(self) -> list[SpringSpec]:
        ...
    @springs.setter
    def springs(self, arg0: collections.abc.Sequence[SpringSpec]) -> None:
        ...
class TrackSpec:
    axis: numpy.typing.NDArray[numpy.float64]
    carriage: LinkSpec
    drive: DriveSpec | None
    pose: numpy.typing.NDArray[numpy.float64]
    def __init__(self) -> None:
        ...
    @property
    def acceleration(self) -> float:
        ...
    @acceleration.setter
    def acceleration(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def force_continuous(self) -> float:
        ...
    @force_continuous.setter
    def force_continuous(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def force_peak(self) -> float:
        ...
    @force_peak.setter
    def force_peak(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def jerk(self) -> float:
        ...
    @jerk.setter
    def jerk(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def lower(self) -> float:
        ...
    @lower.setter
    def lower(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def rails(self) -> list[ShapeSpec]:
        ...
    @rails.setter
    def rails(self, arg0: collections.abc.Sequence[ShapeSpec]) -> None:
        ...
    @property
    def speed(self) -> float:
        ...
    @speed.setter
    def speed(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def upper(self) -> float:
        ...
    @upper.setter
    def upper(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class ToolSpec:
    inertia: Inertia
    name: str
    tool_point: numpy.typing.NDArray[numpy.float64]
    def __init__(self) -> None:
        ...
    @property
    def shapes(self) -> list[ShapeSpec]:
        ...
    @shapes.setter
    def shapes(self, arg0: collections.abc.Sequence[ShapeSpec]) -> None:
        ...
class LoadSpec:
    inertia: Inertia
    name: str
    def __init__(self) -> None:
        ...
    @property
    def shapes(self) -> list[ShapeSpec]:
        ...
    @shapes.setter
    def shapes(self, arg0: collections.abc.Sequence[ShapeSpec]) -> None:
        ...
class TargetSpec:
    free_spin: bool
    load_centre: numpy.typing.NDArray[numpy.float64]
    name: str
    pose: numpy.typing.NDArray[numpy.float64]
    def __init__(self) -> None:
        ...
    @property
    def mass(self) -> float:
        ...
    @mass.setter
    def mass(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def tilt(self) -> float:
        ...
    @tilt.setter
    def tilt(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def tolerance(self) -> float:
        ...
    @tolerance.setter
    def tolerance(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class CellSpec:
    arm: ArmSpec
    gravity: numpy.typing.NDArray[numpy.float64]
    load: LoadSpec | None
    mount: numpy.typing.NDArray[numpy.float64]
    tool: ToolSpec
    track: TrackSpec | None
    def __init__(self) -> None:
        ...
    @property
    def fixtures(self) -> list[ShapeSpec]:
        ...
    @fixtures.setter
    def fixtures(self, arg0: collections.abc.Sequence[ShapeSpec]) -> None:
        ...
    @property
    def ignored_pairs(self) -> list[tuple[str, str]]:
        ...
    @ignored_pairs.setter
    def ignored_pairs(self, arg0: collections.abc.Sequence[tuple[str, str]]) -> None:
        ...
class Model:
    """
    What the kernels compute on: SI, checked, constant.
    """
    @property
    def acceleration(self) -> list[float]:
        ...
    @property
    def base(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def base_link(self) -> Inertia:
        ...
    @property
    def continuous_parts(self) -> list[str]:
        ...
    @property
    def flange(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def gravity(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def has_drives(self) -> bool:
        ...
    @property
    def has_track(self) -> bool:
        ...
    @property
    def is_coupled(self) -> bool:
        ...
    @property
    def jerk(self) -> list[float]:
        ...
    @property
    def joint_count(self) -> int:
        ...
    @property
    def joint_kinds(self) -> list[JointKind]:
        ...
    @property
    def joint_names(self) -> list[str]:
        ...
    @property
    def link_frames(self) -> list[numpy.typing.NDArray[numpy.float64]]:
        ...
    @property
    def link_names(self) -> list[str]:
        ...
    @property
    def load(self) -> Inertia:
        ...
    @property
    def lower(self) -> list[float]:
        ...
    @property
    def mount(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def peak_parts(self) -> list[str]:
        ...
    @property
    def speed(self) -> list[float]:
        ...
    @property
    def spring_names(self) -> list[str]:
        ...
    @property
    def spring_ranges(self) -> list[tuple[float, float]]:
        """
        Shortest and longest that each spring may be, m.
        """
    @property
    def tool(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def torque_continuous(self) -> list[float]:
        ...
    @property
    def torque_peak(self) -> list[float]:
        ...
    @property
    def upper(self) -> list[float]:
        ...
def compile(cell: CellSpec) -> Model:
    """
    Checks a cell and turns it into a Model; raises Refused with key, value and what was expected.
    """
def held_on_track(model: Model, at: typing.SupportsFloat | typing.SupportsIndex) -> Model:
    """
    The model with its track, if it has one, held at one place, m.
    """
def load_in_last_joint(model: Model, load: Inertia) -> Inertia:
    """
    A load told in the tool frame, told in the last joint frame, where the kernels want it.
    """
