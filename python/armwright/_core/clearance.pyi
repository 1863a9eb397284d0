"""
Distances between the arm and everything else.
"""
from __future__ import annotations
import armwright._core.model
import numpy
import numpy.typing
import typing
__all__: list[str] = ['Scene', 'are_clear', 'build_scene', 'least_distances', 'spare_scene']
class Scene:
    """
    All solids of a cell, made ready for distances.
    """
    @property
    def solid_names(self) -> list[str]:
        ...
    @property
    def touching_pairs(self) -> list[tuple[str, str]]:
        ...
def are_clear(scene: Scene, model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], margin: typing.SupportsFloat | typing.SupportsIndex) -> numpy.typing.NDArray[numpy.bool]:
    """
    Whether every pair keeps its distance, (rows,).
    """
def build_scene(cell: armwright._core.model.CellSpec, model: armwright._core.model.Model) -> Scene:
    """
    Raises Refused for a solid without volume, an open mesh, numbers that are not finite.
    """
def least_distances(scene: Scene, model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.int32]]:
    """
    Least distance (rows,), nearest points (rows, 3) twice, and the two solids' places in solid_names (rows, 2).
    """
def spare_scene(scene: Scene, margin: typing.SupportsFloat | typing.SupportsIndex) -> Scene:
    """
    The same solids, with every distance told less what its pair is to keep. For least_distances alone.
    """
