"""The bearings of an arm as the core calculates them, and what is not told of them, in words."""

from __future__ import annotations

import math
from typing import Any, NamedTuple

import numpy as np

from armwright import _core
from armwright.studies.run import Floats

_elements = _core.elements
_Kind, _Arrangement, _Ring = _elements.BearingKind, _elements.Arrangement, _elements.MovedRing
_KINDS = {
    "crossed roller": _Kind.crossed_roller, "four point": _Kind.four_point, "deep groove": _Kind.deep_groove,
    "angular contact": _Kind.angular_contact, "tapered": _Kind.tapered,
}  # fmt: skip
_USUAL_ANGLES = {"crossed roller": math.radians(45), "four point": math.radians(35)}  # common practice, no source
_RINGS = {None: _Ring.unknown, "inner": _Ring.inner, "outer": _Ring.outer}


class Part(NamedTuple):
    """The bearing, or pair, of one joint."""

    joint: int  # place in the model
    name: str
    kind: str
    core: Any  # SlewingBearing or BearingPair of the core
    places: tuple[str, ...]  # "single", or "near" and "far"
    ratings: tuple[tuple[float, float], ...]  # C and C0 of each place, N; NaN: not told
    axis: Floats
    offset: float
    element_count: int | None
    limit_line: tuple[tuple[float, float], ...] | None
    moment_rating: float

    @property
    def rolling_kind(self) -> Any:
        return _KINDS[self.kind]


class Parts(NamedTuple):
    """All bearings that are told, what is left out for want of data, and what is assumed."""

    parts: list[Part]
    missing: list[str]
    assumed: list[str]


def bearing_parts(arm: Any, first_joint: int) -> Parts:
    """``first_joint``: the place of the arm's first joint in the model, behind a track."""
    found = Parts([], [], [])
    for i, joint in enumerate(arm.joints):
        bearing = joint.bearing
        if bearing is None:
            found.missing.append(
                f"{joint.name}: no bearing is described" if joint.kind == "revolute"
                else f"{joint.name}: it slides; what guides it is not looked at"
            )  # fmt: skip
        elif hasattr(bearing, "pitch_diameter"):  # a single one
            found.parts.append(_slewing(first_joint + i, joint, bearing, found))
        else:
            part = _pair(first_joint + i, joint, bearing, found)
            if part is not None:
                found.parts.append(part)
    return found


def _told(value: Any) -> float:
    return math.nan if value is None else float(value)


def _slewing(place: int, joint: Any, told: Any, found: Parts) -> Part:
    name = f"{joint.name}: {told.name}"
    own = (math.nan, *2 * (_told(told.factor_x), _told(told.factor_y)))
    own_static = (_told(told.static_factor_x), _told(told.static_factor_y))
    angle = _USUAL_ANGLES[told.kind]
    rolling = _elements.RollingBearing(
        _KINDS[told.kind], angle, _told(told.dynamic_rating), _told(told.static_rating), own, own_static
    )
    core = _elements.SlewingBearing(rolling, _told(told.pitch_diameter), _told(told.static_moment_rating))
    if told.pitch_diameter is None:
        found.missing.append(f"{name}: no pitch diameter: equivalent loads and life are left out")
    elif told.dynamic_rating is None:
        found.missing.append(f"{name}: no dynamic rating: life is left out")
    if told.static_rating is None:
        found.missing.append(f"{name}: no static rating: C0/P0 of ISO 76 is left out")
    count = _count(name, told.roller_count, "roller", found)
    ratings = ((_told(told.dynamic_rating), _told(told.static_rating)),)
    return Part(place, name, told.kind, core, ("single",), ratings, np.asarray(joint.axis), float(told.offset), count,
                told.limit_line, _told(told.static_moment_rating))  # fmt: skip


def _pair(place: int, joint: Any, told: Any, found: Parts) -> Part | None:
    name = f"{joint.name}: {told.name}"
    if told.span is None:
        found.missing.append(f"{name}: no span: all of it is left out")
        return None
    dynamic = told.dynamic_ratings or (math.nan, math.nan)
    static = told.static_ratings or (math.nan, math.nan)
    angle = _contact_angle(name, told, found)
    own = (_told(told.factor_e), 1.0 if told.factor_x is not None else math.nan,
           0.0 if told.factor_x is not None else math.nan, _told(told.factor_x), _told(told.factor_y))  # fmt: skip
    own_static = (_told(told.static_factor_x), _told(told.static_factor_y))
    near, far = (
        _elements.RollingBearing(_KINDS[told.kind], angle, c, c0, own, own_static, _told(told.factor_f0))
        for c, c0 in zip(dynamic, static, strict=True)
    )
    core = _elements.BearingPair(near, far, _arrangement(told), _RINGS[told.moved_ring], float(told.span),
                                 float(told.pressure_centre or 0.0), float(told.preload or 0.0))  # fmt: skip
    if told.dynamic_rating is None:
        found.missing.append(f"{name}: no dynamic rating: life is left out")
    if told.static_rating is None:
        found.missing.append(f"{name}: no static rating: static safety and the span needed are left out")
        if told.kind == "deep groove" and told.factor_x is None:
            found.assumed.append(f"{name}: no static rating to look Fa/C0 up by: the greatest Y of ISO 281's table")
    count = _count(name, told.ball_count, "ball", found)
    ratings = tuple((float(c), float(c0)) for c, c0 in zip(dynamic, static, strict=True))
    return Part(place, name, told.kind, core, ("near", "far"), ratings, np.asarray(joint.axis), float(told.offset),
                count, None, math.nan)  # fmt: skip


def _contact_angle(name: str, told: Any, found: Parts) -> float:
    """rad, within what ISO 281 and ISO 76 tell factors for; else NaN, and what then is left out is said."""
    if told.kind == "deep groove":
        return 0.0
    needed = told.factor_x is None or told.static_factor_x is None
    left_out = "equivalent loads are left out" if told.factor_x is None else "static safety is left out"
    if told.contact_angle is None and told.kind == "tapered" and told.factor_y:
        if told.static_factor_x is None:
            found.assumed.append(f"{name}: contact angle from factor_y, Y = 0.4 cot α (ISO 281)")
        return math.atan(0.4 / float(told.factor_y))
    if told.contact_angle is None:
        if needed:
            found.missing.append(f"{name}: neither a contact angle nor all factors: {left_out}")
        return math.nan
    angle = float(told.contact_angle)
    least, greatest = _elements.contact_angles(_KINDS[told.kind])
    if not least - 1e-9 <= angle <= greatest + 1e-9:
        if needed:
            found.missing.append(
                f"{name}: contact angle {math.degrees(angle):.4g}°, outside the {math.degrees(least):.0f}° to "
                f"{math.degrees(greatest):.0f}° for which ISO 281 (tables of X and Y for radial bearings) and ISO 76 "
                f"have factors here: {left_out}; give the maker's factors"
            )
        return math.nan
    return angle


def _arrangement(told: Any) -> Any:
    if told.arrangement == "fixed and floating":
        return _Arrangement.fixed_near if told.fixed == "near" else _Arrangement.fixed_far
    return _Arrangement.back_to_back if told.arrangement == "back to back" else _Arrangement.face_to_face


def _count(name: str, count: Any, word: str, found: Parts) -> int | None:
    if count is None:
        found.missing.append(f"{name}: no {word} count: whether small swings let their paths overlap is not looked at")
        return None
    return int(count)
