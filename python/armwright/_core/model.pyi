"""
Specifications, and the constant Model made of them.
"""
from __future__ import annotations
import collections.abc
import numpy
import numpy.typing
import typing
__all__: list[str] = ['ArmSpec', 'CellSpec', 'Inertia', 'JointKind', 'JointSpec', 'LinkSpec', 'LoadSpec', 'Model', 'ShapeKind', 'ShapeSpec', 'TargetSpec', 'ToolSpec', 'TrackSpec', 'compile', 'held_on_track', 'load_in_last_joint']
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
    kind: JointKind
    name: str
    placement: numpy.typing.NDArray[numpy.float64]
    def __init__(self) -> None:
        ...
    @property
    def lower(self) -> float:
        ...
    @lower.setter
    def lower(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
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
class TrackSpec:
    axis: numpy.typing.NDArray[numpy.float64]
    carriage: LinkSpec
    pose: numpy.typing.NDArray[numpy.float64]
    def __init__(self) -> None:
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
    def base(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def flange(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def gravity(self) -> numpy.typing.NDArray[numpy.float64]:
        ...
    @property
    def has_track(self) -> bool:
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
