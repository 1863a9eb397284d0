"""
Joint torques: batches over joint vectors (rows, joints). Loads are told in the last joint frame.
"""
from __future__ import annotations
import armwright._core.elements
import armwright._core.model
import collections.abc
import numpy
import numpy.typing
import typing
__all__: list[str] = ['ElasticChain', 'ElasticSpec', 'LinkBeam', 'RoundSpring', 'StageSpring', 'base_wrenches', 'elastic_chain', 'forward_dynamics', 'gravity_torques', 'hang', 'inverse_dynamics', 'joint_wrenches', 'mass_matrices', 'mount_wrenches', 'natural_frequencies', 'referred_compliance', 'section_wrenches', 'spring_states', 'tool_compliance', 'tool_sag']
class StageSpring:
    def __init__(self) -> None:
        ...
    @property
    def axis(self) -> int:
        ...
    @axis.setter
    def axis(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def cause(self) -> int:
        ...
    @cause.setter
    def cause(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def compliance(self) -> float:
        ...
    @compliance.setter
    def compliance(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class RoundSpring:
    axis: numpy.typing.NDArray[numpy.float64]
    point: numpy.typing.NDArray[numpy.float64]
    def __init__(self) -> None:
        ...
    @property
    def across(self) -> float:
        ...
    @across.setter
    def across(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def along(self) -> float:
        ...
    @along.setter
    def along(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def cause(self) -> int:
        ...
    @cause.setter
    def cause(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def link(self) -> int:
        ...
    @link.setter
    def link(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def tilt(self) -> float:
        ...
    @tilt.setter
    def tilt(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def twist(self) -> float:
        ...
    @twist.setter
    def twist(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class LinkBeam:
    beam: armwright._core.elements.Beam
    end: numpy.typing.NDArray[numpy.float64]
    start: numpy.typing.NDArray[numpy.float64]
    up: numpy.typing.NDArray[numpy.float64]
    def __init__(self) -> None:
        ...
    @property
    def cause(self) -> int:
        ...
    @cause.setter
    def cause(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def link(self) -> int:
        ...
    @link.setter
    def link(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def mass(self) -> float:
        ...
    @mass.setter
    def mass(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def spin_x(self) -> float:
        ...
    @spin_x.setter
    def spin_x(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def spin_y(self) -> float:
        ...
    @spin_y.setter
    def spin_y(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
    @property
    def spin_z(self) -> float:
        ...
    @spin_z.setter
    def spin_z(self, arg0: typing.SupportsFloat | typing.SupportsIndex) -> None:
        ...
class ElasticSpec:
    """
    What gives way in an arm; see cpp/armwright/dynamics/elastic_spec.hpp.
    """
    def __init__(self) -> None:
        ...
    @property
    def beams(self) -> list[LinkBeam]:
        ...
    @beams.setter
    def beams(self, arg0: collections.abc.Sequence[LinkBeam]) -> None:
        ...
    @property
    def causes(self) -> list[str]:
        ...
    @causes.setter
    def causes(self, arg0: collections.abc.Sequence[str]) -> None:
        ...
    @property
    def pieces(self) -> int:
        ...
    @pieces.setter
    def pieces(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def springs(self) -> list[RoundSpring]:
        ...
    @springs.setter
    def springs(self, arg0: collections.abc.Sequence[RoundSpring]) -> None:
        ...
    @property
    def stages(self) -> list[StageSpring]:
        ...
    @stages.setter
    def stages(self, arg0: collections.abc.Sequence[StageSpring]) -> None:
        ...
class ElasticChain:
    """
    What gives way and what weighs on it, from the base out: constant.
    """
    @property
    def causes(self) -> list[str]:
        ...
    @property
    def coordinates(self) -> int:
        ...
    @property
    def tube_frames(self) -> list[tuple[int, numpy.typing.NDArray[numpy.float64]]]:
        """
        Of every tube: the joint whose frame it moves with (-1: none), and in it the frame at its near end, x along it, z along its height.
        """
def base_wrenches(model: armwright._core.model.Model, load: armwright._core.model.Inertia, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], acceleration: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Force and moment on what the arm stands on, about the world's origin, world axes, (rows, 6).
    """
def elastic_chain(cell: armwright._core.model.CellSpec, model: armwright._core.model.Model, spec: ElasticSpec) -> ElasticChain:
    ...
def forward_dynamics(model: armwright._core.model.Model, load: armwright._core.model.Inertia, drives: bool, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], torque: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.int32]]:
    """
    Joint accelerations (rows, joints), and for each row a joint without inertia or -1.
    """
def gravity_torques(model: armwright._core.model.Model, load: armwright._core.model.Inertia, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Torques held against gravity, (rows, joints).
    """
def hang(model: armwright._core.model.Model, still: armwright._core.model.Inertia, frame: typing.SupportsInt | typing.SupportsIndex, point: numpy.typing.NDArray[numpy.float64], up: numpy.typing.NDArray[numpy.float64], q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64]]:
    """
    An arm hung by one point: tilt (rows,), centre of gravity and point in the world as it stands (rows, 3), holding torques (rows, joints).
    """
def inverse_dynamics(model: armwright._core.model.Model, load: armwright._core.model.Inertia, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], acceleration: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], drives: bool = False) -> numpy.typing.NDArray[numpy.float64]:
    """
    Torques of a motion, (rows, joints); with drives those that accelerate rotors and stages too.
    """
def joint_wrenches(model: armwright._core.model.Model, load: armwright._core.model.Inertia, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], acceleration: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Force and moment that every joint gives to the link that it moves, in that link's described frame about its origin, (rows, joints, 6).
    """
def mass_matrices(model: armwright._core.model.Model, load: armwright._core.model.Inertia, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], drives: bool = False) -> numpy.typing.NDArray[numpy.float64]:
    """
    Joint-space mass matrices, (rows, joints, joints).
    """
def mount_wrenches(model: armwright._core.model.Model, load: armwright._core.model.Inertia, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], acceleration: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Force and moment that the arm with its base link puts on what it is bolted to, in the mount's frame about its origin, (rows, 6).
    """
def natural_frequencies(model: armwright._core.model.Model, chain: ElasticChain, load: armwright._core.model.Inertia, modes: typing.SupportsInt | typing.SupportsIndex, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], threads: typing.SupportsInt | typing.SupportsIndex = 0, report: typing.Any = None) -> tuple[bool, numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64]]:
    """
    Whether it was not cancelled; frequencies (rows, modes) Hz; shares of strain energy (rows, modes, causes); the tool's motion (rows, modes, 6).
    """
def referred_compliance(stiffness: typing.SupportsFloat | typing.SupportsIndex, ratio_beyond: typing.SupportsFloat | typing.SupportsIndex) -> float:
    """
    A stage's compliance at the axis, 1/(k N²).
    """
def section_wrenches(model: armwright._core.model.Model, chain: ElasticChain, load: armwright._core.model.Inertia, spans: collections.abc.Sequence[typing.SupportsInt | typing.SupportsIndex], stations: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], acceleration: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Force and moment in cuts through tubes (span, station 0 to 1), along the tube, its width and its height, (rows, cuts, 6).
    """
def spring_states(model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64]]:
    """
    Length, m, and pull, N, of every spring, (rows, springs) each.
    """
def tool_compliance(model: armwright._core.model.Model, chain: ElasticChain, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Shift and turn of the tool by a unit force or moment there, by each cause, (rows, causes, 6, 6).
    """
def tool_sag(model: armwright._core.model.Model, chain: ElasticChain, load: armwright._core.model.Inertia, push: typing.Annotated[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex], "FixedSize(6)"], q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Shift and turn of the tool by each cause, (rows, causes, 6).
    """
