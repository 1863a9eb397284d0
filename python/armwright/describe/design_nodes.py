"""The tree of a cell's numbers: what each name of a design number leads to, and how a new value is put there."""

from __future__ import annotations

import dataclasses
import math
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np

from armwright.describe.arm import ArmDescription
from armwright.describe.body import tensor_of
from armwright.describe.cell import CellDescription
from armwright.describe.described import Described
from armwright.describe.drive_units import POSITIVE_TORQUE
from armwright.describe.motor import Motor
from armwright.describe.pose import angles_of, roll_pitch_yaw, take_pose
from armwright.describe.shapes import ConvexHull, Mesh, changed
from armwright.describe.toleranced import tolerance_of, toleranced
from armwright.describe.units import ACCELERATION, ANGLE, DISTANCE, FORCE, INERTIA, LENGTH, SIZE, TORQUE, Kind, Measured

Put = Callable[[Any], Any]  # a new value for something, to the whole with that in it

_SKIPPED = {
    "axis", "frame", "coupling", "points", "triangles", "path", "pictures", "notes", "ignored_pairs", "unit", "up",
    "direction", "limit_line", "rating_distance",
}  # fmt: skip
_SIX = ("x", "y", "z", "roll", "pitch", "yaw")
_MOMENTS = ("xx", "yy", "zz", "xy", "xz", "yz")
_PAIRS = {
    "range": ("lower", "upper"), "stroke": ("lower", "upper"), "coulomb": ("forward", "backward"),
    "dynamic_rating": ("near", "far"), "static_rating": ("near", "far"), "outer": ("width", "height"),
    "plate": ("length", "width"), **dict.fromkeys(("plate_centre", "centre"), ("x", "y")),
}  # fmt: skip
_POINTS = ("positions", "feet", "plate_outline")  # lists of points x, y
_TIED = {"torque_continuous": "torque_peak", "force_continuous": "force_peak"}
_KINDS = {kind.si: kind for kind in (LENGTH, ANGLE, INERTIA, ACCELERATION, TORQUE, FORCE)}


@dataclass(frozen=True)
class Node:
    """Something that a path leads to. ``value``: a number (Measured), a part (Described), or what is not told (None or
    infinite). ``put``: a new value to a new cell."""

    value: Any
    put: Put


def nodes_of(cell: CellDescription, wanted: str = "") -> dict[str, Node]:
    """Everything that has a name; of what leads to ``wanted``, that alone."""
    return dict(_of_described("", cell, lambda made: made, wanted))


def _of_described(path: str, owner: Described, put: Put, wanted: str) -> Iterator[tuple[str, Node]]:
    for field in dataclasses.fields(owner):  # type: ignore[arg-type]
        if not field.init or field.name in _SKIPPED or field.name in ("name", "source"):
            continue
        value, at = getattr(owner, field.name), f"{path}.{field.name}".lstrip(".")
        if wanted and not wanted.startswith(at):
            continue

        def put_field(new: Any, name: str = field.name) -> Any:
            return put(_replaced(owner, name, new))

        yield from _of_value(at, field.name, value, put_field, wanted)
    if isinstance(owner, ArmDescription):
        yield from _lengths(path, owner, put)


def _of_value(path: str, name: str, value: Any, put: Put, wanted: str) -> Iterator[tuple[str, Node]]:
    if isinstance(value, Described):
        yield path, Node(value, put)
        yield from _of_described(path, value, put, wanted)
    elif isinstance(value, np.ndarray):
        yield from _of_array(path, name, value, put)
    elif isinstance(value, tuple) and name in ("continuous", "peak"):
        yield path, _curve(value, put)
    elif isinstance(value, tuple) and name in _PAIRS and len(value) == 2:
        yield from _of_pair(path, name, value, put)
    elif isinstance(value, tuple):
        yield from _of_list(path, name, value, put, wanted)
    elif isinstance(value, float) and math.isfinite(value):
        yield path, Node(value if isinstance(value, Measured) else Measured(value), put)
    elif value is None or isinstance(value, float):
        yield path, Node(value, put)


def _of_list(path: str, name: str, items: tuple[Any, ...], put: Put, wanted: str) -> Iterator[tuple[str, Node]]:
    """Parts, numbers, points in a plane, or lists of numbers."""
    names = Counter(getattr(item, "name", "") for item in items)
    for i, item in enumerate(items):
        if not isinstance(item, Described | Measured | tuple):
            return
        own = getattr(item, "name", "")
        at = f"{path}[{own if own and names[own] == 1 else i}]"
        if wanted and not wanted.startswith(at):
            continue

        def put_item(new: Any, place: int = i) -> Any:
            return put((*items[:place], new, *items[place + 1 :]))

        if name in _POINTS and isinstance(item, tuple):
            yield from _of_pair(at, name, item, put_item)
        else:
            yield from _of_value(at, name, item, put_item, wanted)


def _of_pair(path: str, name: str, pair: tuple[float, float], put: Put) -> Iterator[tuple[str, Node]]:
    for i, own in enumerate(_PAIRS.get(name, ("x", "y"))):
        if isinstance(pair[i], Measured):

            def put_one(new: Any, place: int = i) -> Any:
                return put(tuple(new if place == k else pair[k] for k in range(2)))

            yield f"{path}.{own}", Node(pair[i], put_one)
    if name == "stroke":
        ends = [end if isinstance(end, Measured) else Measured(end, 0.0, LENGTH.si) for end in pair]
        long = Measured(pair[1] - pair[0], max(end.tolerance for end in ends), LENGTH.si)

        def put_length(new: Any) -> Any:
            told = SIZE.si_value("stroke", new)
            return put((pair[0], Measured(pair[0] + told, told.tolerance, LENGTH.si)))

        yield path, Node(long, put_length)


def _of_array(path: str, name: str, array: Any, put: Put) -> Iterator[tuple[str, Node]]:
    """The numbers of a position, a pose or an inertia."""
    words: tuple[str, ...]
    if array.shape == (4, 4):
        words, values, unit = _SIX, (*array[:3, 3], *angles_of(array[:3, :3])), "m"
    elif array.shape == (3, 3):
        words, values, unit = _MOMENTS, tuple(array[[0, 1, 2, 0, 0, 1], [0, 1, 2, 1, 2, 2]]), INERTIA.si
    elif array.shape == (3,):
        words, values, unit = _SIX[:3], tuple(array), ACCELERATION.si if name == "gravity" else LENGTH.si
    else:
        return
    known = tolerance_of(array)
    tolerances = [0.0] * len(words) if known is None else [float(value) for value in known]
    for i, word in enumerate(words):
        kind = ANGLE if i >= 3 and words == _SIX else _KINDS[unit]

        def put_one(new: Any, place: int = i, kind: Kind = kind) -> Any:
            told = kind.si_value(words[place], new)
            numbers = [told if place == k else float(value) for k, value in enumerate(values)]
            given = [told.tolerance if place == k else value for k, value in enumerate(tolerances)]
            return put(toleranced(_array_with(array, numbers, place), given))

        yield f"{path}.{word}", Node(Measured(float(values[i]), tolerances[i], kind.si), put_one)


def _array_with(array: Any, numbers: list[float], place: int) -> Any:
    """An array like the one given, of other numbers; a pose keeps the half that ``place`` is not in to the last bit."""
    if array.shape == (4, 4):
        made = np.array(array)
        if place < 3:
            made[:3, 3] = numbers[:3]
        else:
            made[:3, :3] = roll_pitch_yaw(numbers[3:])
        return made
    return tensor_of(numbers) if array.shape == (3, 3) else np.array(numbers)


def _curve(curve: tuple[tuple[float, float], ...], put: Put) -> Node:
    """The torque at rest of a motor's curve, which the whole curve goes with."""
    rest = curve[0][1]

    def put_torque(new: Any) -> Any:
        told = POSITIVE_TORQUE.si_value("torque", new)
        factor, share = told / rest, told.tolerance / told
        return put(tuple(
            (speed, Measured(torque * factor, torque * factor * share, TORQUE.si)) for speed, torque in curve
        ))  # fmt: skip

    return Node(Measured(rest, getattr(rest, "tolerance", 0.0), TORQUE.si), put_torque)


def _lengths(path: str, arm: ArmDescription, put: Put) -> Iterator[tuple[str, Node]]:
    """How long each link is: the way to the next joint's origin, or to the flange. What is beyond moves along that
    line; the link's own mass, centre of gravity, inertia and shapes stay as they are."""
    poses = [joint.placement for joint in arm.joints] + [arm.flange]
    names = [f"{path}.base_link", *(f"{path}.links[{link.name}]" for link in arm.links)]
    for i, (name, pose) in enumerate(zip(names, poses, strict=True)):
        way = np.array(pose[:3, 3])
        long = float(np.linalg.norm(way))
        if long < 1e-9:
            continue  # no telling which way it would grow
        known = tolerance_of(pose)
        unsure = 0.0 if known is None else float(np.linalg.norm(known[:3] * way / long))

        def put_length(new: Any, i: int = i, pose: Any = pose, way: Any = way, long: float = long) -> Any:
            told = SIZE.si_value("length", new)
            moved = np.array(pose)
            moved[:3, 3] = way * (told / long)
            along = np.abs(way / long) * told.tolerance
            moved = toleranced(moved, (*along, 0, 0, 0))
            if i == len(arm.joints):
                return put(_replaced(arm, "flange", moved))
            joint = _replaced(arm.joints[i], "placement", moved)
            return put(_replaced(arm, "joints", (*arm.joints[:i], joint, *arm.joints[i + 1 :])))

        yield f"{name}.length", Node(Measured(long, unsure, LENGTH.si), put_length)


def _replaced(owner: Any, name: str, value: Any) -> Any:
    """The object with another value of one field, checked as if it were new."""
    if isinstance(owner, ConvexHull | Mesh):  # not read again from their file
        read = {"pose": take_pose, "clearance": DISTANCE.si_value}[name]
        return changed(owner, **{name: read(f"{type(owner).__name__}.{name}", value)})
    values = {name: value}
    peak = _TIED.get(name)
    if peak is not None and getattr(owner, peak) == getattr(owner, name):
        values[peak] = value
    if isinstance(owner, Motor) and name in ("continuous", "peak") and isinstance(value, tuple):
        values["max_speed"] = None  # where the curve ends
    return dataclasses.replace(owner, **values)
