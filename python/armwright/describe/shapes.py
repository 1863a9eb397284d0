"""Solids for links, tools, loads and fixtures. Poses are in the owner's frame: a link's, the tool's, or the world's."""

from __future__ import annotations

import os
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, TypeAlias

import numpy as np

from armwright.describe.described import Checks, Described, put
from armwright.describe.mesh import METRES, Triangles, check_closed, check_count, check_points, hull, merged, read_mesh
from armwright.describe.pose import LENGTHS, Array, shown_position, take_pose
from armwright.describe.toleranced import array_of, tolerance_of, toleranced, turned
from armwright.describe.units import DISTANCE, SIZE, VectorOf
from armwright.describe.wrong import shown
from armwright.errors import InputError


def take_name(key: str, value: Any) -> str:
    if not isinstance(value, str) or not value.strip() or len(value) > 200 or not value.isprintable():
        raise InputError.of(key, shown(value), "a name: a text of 1 to 200 printable characters")
    return value.strip()


def _common(shape: Any, checks: Checks) -> None:
    """Reads the fields that every shape has."""
    put(
        shape,
        pose=checks.take("pose", take_pose, shape.pose, np.eye(4)),
        name=checks.take("name", take_name, shape.name, ""),
        clearance=checks.take("clearance", DISTANCE.si_value, shape.clearance, 0.0),
    )


def _sizes(key: str, value: Any) -> Array:
    told = array_of(VectorOf(SIZE).si_value(key, value))
    return told if tolerance_of(value) is None else toleranced(told, tolerance_of(value))


def _end(shape: Any, words: str) -> str:
    kept = f", {1000 * shape.clearance:.6g} mm to be kept" if shape.clearance else ""
    return f"{type(shape).__name__} {shape.name!r}: {words} {shown_position(shape.pose)}{kept}"


@dataclass(frozen=True, eq=False, repr=False)
class Box(Described):
    """A box with edges ``size`` (x, y, z; m) about the pose's origin.

    >>> aw.Box(("600 mm", "800 mm", "40 mm"), pose=(0.8, 0, 0.3), name="table", clearance="20 mm")
    Box 'table': 600 x 800 x 40 mm at (800, 0, 300) mm, 20 mm to be kept
    """

    size: Any
    pose: Any = None
    name: str = "box"
    clearance: Any = 0.0  # fixtures: the distance to be kept, m

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(self, size=checks.take("size", _sizes, self.size, np.ones(3)))
        _common(self, checks)
        checks.done()

    def __repr__(self) -> str:
        return _end(self, " x ".join(f"{1000 * edge:.6g}" for edge in self.size) + " mm")


@dataclass(frozen=True, eq=False, repr=False)
class _Round(Described):
    radius: Any
    length: Any
    pose: Any = None
    name: str = "round"
    clearance: Any = 0.0

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            radius=checks.take("radius", SIZE.si_value, self.radius, 1.0),
            length=checks.take("length", SIZE.si_value, self.length, 1.0),
        )
        _common(self, checks)
        checks.done()

    def __repr__(self) -> str:
        return _end(self, f"radius {1000 * self.radius:.6g} mm, length {1000 * self.length:.6g} mm")


@dataclass(frozen=True, eq=False, repr=False)
class Cylinder(_Round):
    """A cylinder along the pose's z axis, centred; ``length`` is its height, m.

    >>> aw.Cylinder(radius="60 mm", length="2.4 m", pose=(1.6, 0, 1.2), name="post")
    Cylinder 'post': radius 60 mm, length 2400 mm at (1600, 0, 1200) mm
    """

    name: str = "cylinder"


@dataclass(frozen=True, eq=False, repr=False)
class Capsule(_Round):
    """A capsule along the pose's z axis, centred; ``length`` is the distance between the centres of its caps, m.

    >>> aw.Capsule(radius="60 mm", length="400 mm", name="upper arm")
    Capsule 'upper arm': radius 60 mm, length 400 mm at (0, 0, 0) mm
    """

    name: str = "capsule"


@dataclass(frozen=True, eq=False, repr=False)
class Sphere(Described):
    """A sphere about the pose's origin; ``radius`` in m.

    >>> aw.Sphere("150 mm", pose=(0.4, 0.1, 1.2), name="lamp")
    Sphere 'lamp': radius 150 mm at (400, 100, 1200) mm
    """

    radius: Any
    pose: Any = None
    name: str = "sphere"
    clearance: Any = 0.0

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(self, radius=checks.take("radius", SIZE.si_value, self.radius, 1.0))
        _common(self, checks)
        checks.done()

    def __repr__(self) -> str:
        return _end(self, f"radius {1000 * self.radius:.6g} mm")


@dataclass(frozen=True, eq=False, repr=False)
class HalfSpace(Described):
    """All points with z <= 0 in the pose's frame: a floor as it is, a wall or a ceiling when turned.

    >>> aw.HalfSpace(pose=(0, 0, 0), name="floor")
    HalfSpace 'floor': facing (0, 0, 1) at (0, 0, 0) mm
    """

    pose: Any = None
    name: str = "half-space"
    clearance: Any = 0.0

    def __post_init__(self) -> None:
        checks = Checks(self)
        _common(self, checks)
        checks.done()

    def __repr__(self) -> str:
        normal = ", ".join(f"{v:.6g}" for v in self.pose[:3, 2] + 0.0)
        return _end(self, f"facing ({normal})")


@dataclass(frozen=True, eq=False, repr=False)
class ConvexHull(Described):
    """The convex hull of ``points`` ((n, 3), m), or of a mesh file's points. ``unit``: the length of one unit of a file
    that states none (STL, OBJ, PLY, OFF); metres unless given.

    >>> wedge = aw.ConvexHull([(0, 0, 0), (0.4, 0, 0), (0, 0.3, 0), (0, 0, 0.2)], name="wedge")
    >>> len(wedge.points)
    4
    """

    points: Any
    pose: Any = None
    name: str = "convex hull"
    clearance: Any = 0.0
    unit: Any = field(default=None, compare=False)
    triangles: Triangles = field(init=False)

    def __post_init__(self) -> None:
        checks = Checks(self)
        _common(self, checks)
        points, triangles = checks.take("points", self._made, self.points, (np.zeros((0, 3)), None))
        put(self, points=points, triangles=triangles)
        checks.done()

    def _made(self, key: str, value: Any) -> tuple[Array, Triangles]:
        if isinstance(value, str | os.PathLike):
            points, _ = read_mesh(key, Path(value), _unit(key, value, self.unit))
        else:
            points = take_points(key, value)
            check_points(key, self.name, points)
        return hull(key, self.name, points)

    def __repr__(self) -> str:
        return _end(self, f"{len(self.points)} corners")


@dataclass(frozen=True, eq=False, repr=False)
class Mesh(Described):
    """A closed triangle mesh from a file, or from a pair (points (n, 3) in m, triangles (m, 3)). ``unit``: the
    length of one unit of a file that states none (STL, OBJ, PLY, OFF); metres unless given. A file's axes are taken
    as they stand.

    >>> points = [(0, 0, 0), (0.3, 0, 0), (0, 0.3, 0), (0, 0, 0.3)]
    >>> aw.Mesh((points, [(0, 2, 1), (0, 1, 3), (1, 2, 3), (0, 3, 2)]), name="corner piece")
    Mesh 'corner piece': 4 triangles, 300 x 300 x 300 mm at (0, 0, 0) mm
    """

    path: Any = field(compare=False)
    pose: Any = None
    name: str = "mesh"
    clearance: Any = 0.0
    unit: Any = field(default=None, compare=False)
    points: Array = field(init=False)
    triangles: Triangles = field(init=False)

    def __post_init__(self) -> None:
        checks = Checks(self)
        _common(self, checks)
        points, triangles = checks.take("path", self._made, self.path, (np.zeros((0, 3)), None))
        put(
            self,
            points=points,
            triangles=triangles,
            path=str(self.path) if isinstance(self.path, str | os.PathLike) else "",
        )
        checks.done()

    def _made(self, key: str, value: Any) -> tuple[Array, Triangles]:
        if isinstance(value, str | os.PathLike):
            points, triangles = read_mesh(key, Path(value), _unit(key, value, self.unit))
            return check_closed(key, Path(value).name, points, triangles)
        return check_closed(key, self.name, *take_mesh(key, value))

    def __repr__(self) -> str:
        size = " x ".join(f"{1000 * edge:.6g}" for edge in np.ptp(self.points, axis=0))
        return _end(self, f"{len(self.triangles)} triangles, {size} mm")


Shape: TypeAlias = Box | Cylinder | Capsule | Sphere | HalfSpace | ConvexHull | Mesh
SHAPES = (Box, Cylinder, Capsule, Sphere, HalfSpace, ConvexHull, Mesh)


@dataclass(frozen=True, eq=False, repr=False)
class Picture(Described):
    """A surface for pictures only; it may be open. ``points`` (n, 3), m, and ``triangles`` in the owner's frame."""

    points: Array
    triangles: Triangles
    name: str = "picture"

    def __post_init__(self) -> None:
        points, triangles = take_mesh("Picture.points", (self.points, self.triangles))
        put(self, points=points, triangles=triangles)

    def __repr__(self) -> str:
        return f"Picture {self.name!r}: {len(self.triangles)} triangles"


def changed(shape: Shape, **values: Any) -> Shape:
    """The shape with some fields other; points and triangles are shared, not read again. ``values`` must be sound."""
    copy: Shape = object.__new__(type(shape))
    put(copy, **{name: value for name, value in shape.__dict__.items() if name != "_digest"})
    put(copy, **values)
    return copy


def moved_shape(pose: Array, shape: Shape) -> Shape:
    """The shape, told in the frame in which ``pose`` is given."""
    tolerance = turned(pose[:3, :3], tolerance_of(shape.pose))
    return changed(shape, pose=toleranced(pose @ shape.pose, None if tolerance is None else (*tolerance, 0, 0, 0)))


def take_shapes(key: str, value: Any) -> tuple[Shape, ...]:
    if isinstance(value, SHAPES):
        value = (value,)
    if isinstance(value, str | dict) or not hasattr(value, "__iter__"):
        raise InputError.of(key, shown(value), "a list of shapes")
    items = tuple(value)
    for i, item in enumerate(items):
        if not isinstance(item, SHAPES):
            raise InputError.of(f"{key}[{i}]", shown(item), "a shape: " + ", ".join(c.__name__ for c in SHAPES))
    return items


def take_points(key: str, value: Any) -> Array:
    expected = "points: an array of shape (n, 3), in m"
    if hasattr(value, "to") and hasattr(value, "magnitude"):
        return np.array([LENGTHS.si_value(key, row) for row in value], dtype=np.float64)
    try:
        points = np.asarray(value)
    except ValueError:
        raise InputError.of(key, shown(value), expected) from None
    if points.ndim != 2 or points.shape[1] != 3:
        raise InputError.of(key, f"an array of shape {points.shape}", expected)
    if points.dtype.kind not in "fiu":
        return np.array([LENGTHS.si_value(f"{key}[{i}]", row) for i, row in enumerate(value)], dtype=np.float64)
    return np.array(points, dtype=np.float64)


def take_mesh(key: str, value: Any) -> tuple[Array, Triangles]:
    """Points and triangles given as a pair of arrays."""
    expected = "the path of a mesh file, or a pair (points (n, 3), triangles (m, 3))"
    if not isinstance(value, tuple | list) or len(value) != 2:
        raise InputError.of(key, shown(value), expected)
    points = take_points(key, value[0])
    check_points(key, "mesh", points)
    try:
        triangles = np.asarray(value[1])
    except ValueError:
        raise InputError.of(key, shown(value[1]), expected) from None
    if triangles.ndim != 2 or triangles.shape[1] != 3 or triangles.dtype.kind not in "iu":
        raise InputError.of(key, f"triangles of shape {triangles.shape} of {triangles.dtype}", expected)
    check_count(key, "mesh", len(triangles))
    if len(triangles) == 0:
        raise InputError.of(key, "a mesh without triangles", "a mesh with triangles")
    if triangles.min() < 0 or triangles.max() >= len(points):
        wrong = triangles.min() if triangles.min() < 0 else triangles.max()
        raise InputError.of(
            key, f"a triangle with corner {wrong} of {len(points)} points", "corners from 0 on"
        )
    return merged(points, triangles)


def _unit(key: str, path: Any, unit: Any) -> Any:
    if unit is not None and Path(path).suffix.lower() in METRES:
        raise InputError.of(
            key.rpartition(".")[0] + ".unit", shown(unit), f"none: {Path(path).suffix} states its own unit"
        )
    return unit
