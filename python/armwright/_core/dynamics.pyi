"""
Joint torques: batches over joint vectors (rows, joints). Loads are told in the last joint frame.
"""
from __future__ import annotations
import armwright._core.model
import numpy
import numpy.typing
import typing
__all__: list[str] = ['gravity_torques', 'inverse_dynamics', 'mass_matrices']
def gravity_torques(model: armwright._core.model.Model, load: armwright._core.model.Inertia, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Torques held against gravity, (rows, joints).
    """
def inverse_dynamics(model: armwright._core.model.Model, load: armwright._core.model.Inertia, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], speed: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], acceleration: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Torques of a motion, (rows, joints).
    """
def mass_matrices(model: armwright._core.model.Model, load: armwright._core.model.Inertia, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Joint-space mass matrices, (rows, joints, joints).
    """
