"""
Poses, Jacobians, margins: batches over joint vectors (rows, joints).
"""
from __future__ import annotations
import armwright._core.model
import collections.abc
import numpy
import numpy.typing
import typing
__all__: list[str] = ['ArmFamily', 'ArmInverse', 'Motion', 'SmallMove', 'all_rigid', 'jacobians', 'limit_margins', 'link_poses', 'longest_signed_sums', 'manipulabilities', 'prepare_inverse', 'redundant_joints', 'singular_values', 'solve', 'tool_errors', 'tool_poses', 'with_free_wrist', 'with_track_held']
class Motion:
    """
    Members:
    
      all
    
      translation
    
      rotation
    """
    __members__: typing.ClassVar[dict[str, Motion]]
    all: typing.ClassVar[Motion]
    rotation: typing.ClassVar[Motion]
    translation: typing.ClassVar[Motion]
    @typing.overload
    def __eq__(self, other: Motion) -> bool:
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
    def __ne__(self, other: Motion) -> bool:
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
class ArmFamily:
    """
    Members:
    
      spherical_wrist
    
      spherical_shoulder
    
      three_parallel
    
      three_parallel_mirror
    
      general
    
      few_joints
    """
    __members__: typing.ClassVar[dict[str, ArmFamily]]
    few_joints: typing.ClassVar[ArmFamily]
    general: typing.ClassVar[ArmFamily]
    spherical_shoulder: typing.ClassVar[ArmFamily]
    spherical_wrist: typing.ClassVar[ArmFamily]
    three_parallel: typing.ClassVar[ArmFamily]
    three_parallel_mirror: typing.ClassVar[ArmFamily]
    @typing.overload
    def __eq__(self, other: ArmFamily) -> bool:
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
    def __ne__(self, other: ArmFamily) -> bool:
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
class ArmInverse:
    """
    What the inverse of a model needs, made once.
    """
    @property
    def family(self) -> ArmFamily:
        ...
    @property
    def freedoms(self) -> int:
        """
        How many freedoms the tool has, 1 to 6.
        """
    @property
    def model(self) -> armwright._core.model.Model:
        ...
    @property
    def most_solutions(self) -> int:
        ...
    @property
    def redundant(self) -> list[int]:
        ...
class SmallMove:
    """
    A cause that the tool stands elsewhere than it should.
    """
    point: numpy.typing.NDArray[numpy.float64]
    shift: numpy.typing.NDArray[numpy.float64]
    turn: numpy.typing.NDArray[numpy.float64]
    def __init__(self) -> None:
        ...
    @property
    def frame(self) -> int:
        ...
    @frame.setter
    def frame(self, arg0: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    @property
    def joints(self) -> list[float]:
        ...
    @joints.setter
    def joints(self, arg1: collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]) -> None:
        ...
def all_rigid(poses: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], tolerance: typing.SupportsFloat | typing.SupportsIndex, farthest: typing.SupportsFloat | typing.SupportsIndex) -> bool:
    """
    Whether all poses (rows, 4, 4) are rigid: a right-handed rotation within the tolerance, a position within the farthest, m, a last row of 0, 0, 0, 1.
    """
def jacobians(model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Jacobians of the tool point in world axes, (rows, 6, joints).
    """
def limit_margins(model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Distance to the joint limits as a share of half the range, (rows,).
    """
def link_poses(model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Link frames in the world, (rows, joints, 4, 4).
    """
def longest_signed_sums(vectors: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], most_exact: typing.SupportsInt | typing.SupportsIndex) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.bool]]:
    """
    Length of the longest sum over all signs, or a bound of it, (rows,); the sum, (rows, 3); whether it is exact, (rows,).
    """
def manipulabilities(model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], motion: Motion) -> numpy.typing.NDArray[numpy.float64]:
    """
    Yoshikawa's manipulability, (rows,).
    """
def prepare_inverse(model: armwright._core.model.Model) -> ArmInverse:
    ...
def redundant_joints(model: armwright._core.model.Model) -> list[int]:
    """
    Joints to be given, so that at most six are left to be solved.
    """
def singular_values(model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], length: typing.SupportsFloat | typing.SupportsIndex) -> numpy.typing.NDArray[numpy.float64]:
    """
    Least and greatest singular value of the Jacobian, angular rows times length, (rows, 2).
    """
def solve(inverse: ArmInverse, poses: typing.Annotated[numpy.typing.ArrayLike, numpy.float64], samples: collections.abc.Sequence[collections.abc.Sequence[typing.SupportsFloat | typing.SupportsIndex]], within_limits: bool) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.bool], numpy.typing.NDArray[numpy.int8]]:
    """
    All solutions: q (rows, k, joints), valid (rows, k), free_joint (rows, k).
    """
def tool_errors(model: armwright._core.model.Model, moves: collections.abc.Sequence[SmallMove], q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Shift and turn of the tool by each cause alone, world axes, (rows, moves, 6).
    """
def tool_poses(model: armwright._core.model.Model, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> numpy.typing.NDArray[numpy.float64]:
    """
    Tool poses in the world, (rows, 4, 4).
    """
def with_free_wrist(model: armwright._core.model.Model) -> armwright._core.model.Model:
    """
    The model with three endless joints in its tool point: a target then asks for a position alone.
    """
def with_track_held(inverse: ArmInverse) -> ArmInverse:
    """
    The same with the track, if there is one, at the middle of its stroke.
    """
