"""
Distances between the arm and everything else.
"""
from __future__ import annotations
import armwright._core.model
import collections.abc
import numpy
import numpy.typing
import typing
__all__: list[str] = ['Scene', 'Volume', 'are_clear', 'build_scene', 'build_volume', 'capsule_box_distances', 'least_distances', 'spare_scene', 'spread_postures', 'volume_distances']
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
class Volume:
    """
    Room that has to be free beside a link.
    """
    @property
    def solid_names(self) -> list[str]:
        ...
def are_clear(scene: Scene, model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], margin: typing.SupportsFloat | typing.SupportsIndex) -> numpy.typing.NDArray[numpy.bool]:
    """
    Whether every pair keeps its distance, (rows,).
    """
def build_scene(cell: armwright._core.model.CellSpec, model: armwright._core.model.Model) -> Scene:
    """
    Raises Refused for a solid without volume, an open mesh, numbers that are not finite.
    """
def build_volume(cell: armwright._core.model.CellSpec, model: armwright._core.model.Model, link: str, shapes: collections.abc.Sequence[armwright._core.model.ShapeSpec]) -> Volume:
    """
    Raises Refused as build_scene does, and for a link that is not there.
    """
def capsule_box_distances(capsules: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], boxes: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Signed distances of capsules (rows, 7: both ends of the core, the radius) from boxes (boxes, 15: centre, three axes, half edges), (rows, boxes).
    """
def least_distances(scene: Scene, model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.int32]]:
    """
    Least distance (rows,), nearest points (rows, 3) twice, and the two solids' places in solid_names (rows, 2).
    """
def spare_scene(scene: Scene, margin: typing.SupportsFloat | typing.SupportsIndex) -> Scene:
    """
    The same solids, with every distance told less what its pair is to keep. For least_distances alone.
    """
def spread_postures(model: armwright._core.model.Model, count: typing.SupportsInt | typing.SupportsIndex) -> numpy.typing.NDArray[numpy.float64]:
    """
    Joint vectors spread evenly over the joint ranges, always the same ones, (count, joints).
    """
def volume_distances(volume: Volume, model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.int32]]:
    """
    Least distance to anything but its own link (rows,), nearest points (rows, 3) twice, and the two solids' places in solid_names (rows, 2).
    """
