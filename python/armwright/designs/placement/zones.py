"""Zones in plan where nothing of the stand may be."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from armwright._core import model
from armwright.describe.units import LENGTH, VectorOf
from armwright.describe.wrong import shown
from armwright.errors import InputError

Floats = NDArray[np.float64]
_LEAST_AREA = 1e-6  # m²
_TALL = 20.0  # m above and below all heights allowed


class Zone(NamedTuple):
    """A zone: its name and the corners of a polygon, counter-clockwise, (n, 2), m."""

    name: str
    corners: tuple[tuple[float, float], ...]


def take_zones(value: Any) -> tuple[Zone, ...]:
    """Zones from a dict of names and corners, or a list of corners: two opposite corners of a box along x and y, or
    three and more of a polygon."""
    if value is None:
        return ()
    if not isinstance(value, Mapping):
        if isinstance(value, str) or not hasattr(value, "__iter__"):
            raise InputError.of("forbidden", shown(value), _EXPECTED)
        value = {f"zone {i + 1}": zone for i, zone in enumerate(value)}
    return tuple(Zone(str(name), _corners(f"forbidden[{name}]", zone)) for name, zone in value.items())


_EXPECTED = "zones, as {'walkway': ((0, 0), (2, 1))} or {'walkway': [(0, 0), (2, 0), (1, 1)]}, m"


def _corners(key: str, value: Any) -> tuple[tuple[float, float], ...]:
    if isinstance(value, str) or not hasattr(value, "__iter__"):
        raise InputError.of(key, shown(value), _EXPECTED)
    two = VectorOf(LENGTH, 2)
    points = [tuple(float(v) for v in two.si_value(f"{key}[{i}]", point)) for i, point in enumerate(value)]
    if len(points) < 2:
        raise InputError.of(key, f"{len(points)} points", "two corners of a box, or three and more of a polygon")
    if len(points) == 2:
        (a, b), (c, d) = points
        points = [(min(a, c), min(b, d)), (max(a, c), min(b, d)), (max(a, c), max(b, d)), (min(a, c), max(b, d))]
    around = np.array(points)
    area = 0.5 * float(np.sum(_cross(around, np.roll(around, -1, axis=0))))
    if abs(area) < _LEAST_AREA:
        raise InputError.of(key, f"an area of {abs(area):.3g} m²", "corners that enclose an area")
    if area < 0:
        around = around[::-1]
    if _crosses_itself(around):
        raise InputError.of(key, "sides that cross each other", "corners in their order around the zone")
    return tuple((float(x), float(y)) for x, y in around)


def inside(zones: tuple[Zone, ...], points: Floats) -> NDArray[np.bool_]:
    """Whether points (n, 2) lie in a zone; on its border they do not, but for rounding."""
    found = np.zeros(len(points), dtype=bool)
    for zone in zones:
        a = np.array(zone.corners)
        b = np.roll(a, -1, axis=0)
        x, y = points[:, :1], points[:, 1:]
        passes = (a[:, 1] > y) != (b[:, 1] > y)
        with np.errstate(divide="ignore", invalid="ignore"):
            across = a[:, 0] + (y - a[:, 1]) / (b[:, 1] - a[:, 1]) * (b[:, 0] - a[:, 0])
        odd = np.count_nonzero(passes & (x < across), axis=1) % 2 == 1
        found |= odd & (_to_border(points, a, b) > 1e-9)
    return found


def crossed(zones: tuple[Zone, ...], first: Floats, last: Floats) -> NDArray[np.bool_]:
    """Whether stretches between points (n, 2) pass through a zone."""
    found = inside(zones, first) | inside(zones, last) | inside(zones, 0.5 * (first + last))
    for zone in zones:
        a = np.array(zone.corners)
        for p, q in zip(a, np.roll(a, -1, axis=0), strict=True):
            found |= _cross_at(first, last, p, q)
    return found


def prisms(zones: tuple[Zone, ...], lowest: float, highest: float) -> list[model.ShapeSpec]:
    """The zones as upright solids, cut into triangles, far higher and lower than any stand."""
    specs = []
    for zone in zones:
        for triangle in triangles(np.array(zone.corners)):
            spec = model.ShapeSpec()
            spec.kind, spec.name, spec.pose = model.ShapeKind.convex_hull, zone.name, np.eye(4)
            spec.set_points(np.array([(*corner, z) for z in (lowest - _TALL, highest + _TALL) for corner in triangle]))
            specs.append(spec)
    return specs


def triangles(corners: Floats) -> list[Floats]:
    """A polygon, counter-clockwise, cut into triangles: an ear (a corner whose triangle holds no other) at a time."""
    left, found = list(range(len(corners))), []
    while len(left) > 3:
        for k in range(len(left)):
            i, j, m = left[k - 1], left[k], left[(k + 1) % len(left)]
            ear = corners[[i, j, m]]
            others = corners[[n for n in left if n not in (i, j, m)]]
            if _turn(*ear) > 0 and not any(_in_triangle(ear, point) for point in others):
                break
        else:  # corners that touch: the flattest goes
            ears = [corners[[left[k - 1], left[k], left[(k + 1) % len(left)]]] for k in range(len(left))]
            k = min(range(len(left)), key=lambda k: abs(_turn(*ears[k])))
            ear = ears[k]
        found.append(ear)
        del left[k]
    found.append(corners[left])
    return [ear for ear in found if abs(_turn(*ear)) > _LEAST_AREA**2]


def _cross(a: Floats, b: Floats) -> Floats:
    return np.asarray(a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0])


def _turn(a: Floats, b: Floats, c: Floats) -> float:
    return float(_cross(b - a, c - b))


def _in_triangle(ear: Floats, point: Floats) -> bool:
    return all(_turn(ear[i], ear[(i + 1) % 3], point) >= 0 for i in range(3))


def _cross_at(first: Floats, last: Floats, p: Floats, q: Floats) -> NDArray[np.bool_]:
    way = last - first
    sides = _cross(way, p - first) * _cross(way, q - first)
    ends = _cross(q - p, first - p) * _cross(q - p, last - p)
    return np.asarray((sides < 0) & (ends < 0))


def _crosses_itself(around: Floats) -> bool:
    ends = np.roll(around, -1, axis=0)
    return any(bool(_cross_at(around, ends, p, q).any()) for p, q in zip(around, ends, strict=True))


def _to_border(points: Floats, a: Floats, b: Floats) -> Floats:
    way = b - a
    share = np.clip(np.sum((points[:, None] - a) * way, axis=2) / np.maximum(np.sum(way * way, axis=1), 1e-300), 0, 1)
    return np.asarray(np.linalg.norm(points[:, None] - (a + share[..., None] * way), axis=2).min(axis=1))
