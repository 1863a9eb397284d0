"""What a scene is made of: solids, joints, work points; see scene.py for the frames. SI throughout: m and rad."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, Literal, get_args

import numpy as np
from numpy.typing import ArrayLike, NDArray

from armwright.errors import InputError

Array = NDArray[np.float64]
SolidKind = Literal["box", "cylinder", "capsule", "sphere", "half_space", "convex_hull", "mesh"]
Role = Literal["link", "tool", "load", "fixture", "track"]
JointKind = Literal["revolute", "prismatic"]


def identity() -> Array:
    return np.eye(4)


@dataclass(frozen=True, eq=False)
class Solid:
    """A shape. Box: edges ``size`` about the origin. Cylinder, capsule: along z, centred; ``length`` is the cylinder's
    height or the distance of the capsule's cap centres. Half-space: all with z <= 0. Convex hull: of ``vertices``.
    Mesh: ``triangles`` over ``vertices``, counter-clockwise from outside. ``pose`` is in the frame of ``link``.
    ``body``: the link, tool, load or fixture that it is a part of; a load's is there only while that load is carried.

    >>> solid = cell.scene(q).solids[0]
    >>> solid.name, solid.kind, solid.role
    ('track bed', 'box', 'track')
    """

    kind: SolidKind
    name: str
    role: Role
    pose: Array = field(default_factory=identity)
    link: int = -1
    size: tuple[float, float, float] = (0.0, 0.0, 0.0)
    radius: float = 0.0
    length: float = 0.0
    vertices: Array = field(default_factory=lambda: np.zeros((0, 3)))
    triangles: NDArray[np.int64] = field(default_factory=lambda: np.zeros((0, 3), dtype=np.int64))
    clearance: float = 0.0
    body: str = ""

    def __post_init__(self) -> None:
        key = f"scene.solids[{self.name!r}]"
        one_of(f"{key}.kind", self.kind, get_args(SolidKind))
        one_of(f"{key}.role", self.role, get_args(Role))
        take(self, pose=pose_of(f"{key}.pose", self.pose), vertices=array_of(f"{key}.vertices", self.vertices, (-1, 3)),
             size=tuple(array_of(f"{key}.size", self.size, (3,)).tolist()))
        take(self, triangles=triangles_of(key, self.triangles, len(self.vertices)))
        for name in ("radius", "length", "clearance"):
            take(self, **{name: float(array_of(f"{key}.{name}", getattr(self, name), ()))})


@dataclass(frozen=True, eq=False)
class ScenePicture:
    """What a link looks like, which may be more than it is for clearance: ``triangles`` over ``vertices``,
    counter-clockwise from outside, in the frame of ``link`` moved by ``pose``; the surface may be open.

    >>> shown = results.ScenePicture("cover", [(0, 0, 0), (0.2, 0, 0), (0, 0.2, 0)], [(0, 1, 2)])
    >>> shown.vertices.shape
    (3, 3)
    """

    name: str
    vertices: Array
    triangles: NDArray[np.int64]
    pose: Array = field(default_factory=identity)
    link: int = -1

    def __post_init__(self) -> None:
        key = f"scene.pictures[{self.name!r}]"
        vertices = array_of(f"{key}.vertices", self.vertices, (-1, 3))
        take(self, pose=pose_of(f"{key}.pose", self.pose), vertices=vertices,
             triangles=triangles_of(key, self.triangles, len(vertices)))


@dataclass(frozen=True, eq=False)
class SceneJoint:
    """One joint of the chain. ``lower`` and ``upper`` may be infinite.

    >>> joint = cell.scene(q).joints[0]
    >>> joint.name, joint.kind, joint.upper
    ('track', 'prismatic', 2.1)
    """

    name: str
    kind: JointKind
    placement: Array
    axis: tuple[float, float, float]
    lower: float
    upper: float

    def __post_init__(self) -> None:
        key = f"scene.joints[{self.name!r}]"
        one_of(f"{key}.kind", self.kind, get_args(JointKind))
        axis = array_of(f"{key}.axis", self.axis, (3,))
        if abs(np.linalg.norm(axis) - 1) > 1e-9:
            raise InputError.of(f"{key}.axis", axis.tolist(), "a vector of length 1")
        take(self, placement=pose_of(f"{key}.placement", self.placement), axis=tuple(axis.tolist()))
        if not self.lower <= self.upper:
            raise InputError.of(f"{key}.lower", self.lower, f"no more than the upper limit, {self.upper}")


@dataclass(frozen=True, eq=False)
class SceneTarget:
    """A work point in the world. ``served`` is None before it is checked; ``q`` is the posture that serves it, or the
    nearest one that was found, or None. ``load``: the body of the load carried there. ``found``: what else the check
    tells of it: clearance (m), nearest_a, nearest_b, payload, payload_wanted (kg), payload_part, limit_margin.

    >>> target = cell.scene(q, cell.check_targets()).targets[0]
    >>> target.name, target.served
    ('left shelf 2', True)
    """

    name: str
    pose: Array
    served: bool | None = None
    reason: str = ""
    q: tuple[float, ...] | None = None
    load: str = ""
    found: dict[str, float | str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        key = f"scene.targets[{self.name!r}]"
        take(self, pose=pose_of(f"{key}.pose", self.pose))
        if self.q is not None:
            take(self, q=tuple(array_of(f"{key}.q", self.q, (-1,)).tolist()))


def take(thing: object, **values: Any) -> None:
    for name, value in values.items():
        object.__setattr__(thing, name, value)


def one_of(key: str, value: str, choices: tuple[str, ...]) -> None:
    if value not in choices:
        raise InputError.of(key, repr(value), "one of " + ", ".join(choices))


def array_of(key: str, values: ArrayLike, shape: tuple[int, ...]) -> Array:
    """A finite float64 array of that shape; -1 stands for any length."""
    words = "(" + ", ".join("n" if n < 0 else str(n) for n in shape) + ")"
    try:
        array = np.array(values, dtype=np.float64)
    except (TypeError, ValueError) as error:
        raise InputError.of(key, repr(values), f"numbers of shape {words}") from error
    fits = array.ndim == len(shape) and all(w in (-1, n) for w, n in zip(shape, array.shape, strict=True))
    if not fits or not np.isfinite(array).all():
        raise InputError.of(key, array.tolist(), f"finite numbers of shape {words}")
    return array


def triangles_of(key: str, values: ArrayLike, count: int) -> NDArray[np.int64]:
    triangles = np.asarray(values, dtype=np.int64).reshape(-1, 3)
    if triangles.size and (triangles.min() < 0 or triangles.max() >= count):
        raise InputError.of(f"{key}.triangles", "a corner that is not among the vertices", f"0 to {count - 1}")
    return triangles


def pose_of(key: str, values: ArrayLike) -> Array:
    pose = array_of(key, values, (4, 4))
    turn = pose[:3, :3]
    if np.abs(turn @ turn.T - np.eye(3)).max() > 1e-6 or np.linalg.det(turn) < 0 or np.any(pose[3] != (0, 0, 0, 1)):
        raise InputError.of(key, pose.tolist(), "a pose: a rotation and a position, last row 0, 0, 0, 1")
    return pose
