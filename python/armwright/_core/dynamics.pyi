"""
Joint torques: batches over joint vectors (rows, joints). Loads are told in the last joint frame.
"""
from __future__ import annotations
import armwright._core.model
import collections.abc
import numpy
import numpy.typing
import typing
__all__: list[str] = ['base_wrenches', 'forward_dynamics', 'gravity_torques', 'hang', 'inverse_dynamics', 'joint_wrenches', 'mass_matrices', 'mount_wrenches', 'spring_states']
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
def section_wrenches(model: armwright._core.model.Model, chain: ElasticChain, load: armwright._core.model.Inertia, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], acceleration: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Force and moment in a cut at both ends of every tube, along it, its width and its height, (rows, tubes, 2, 6).
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
