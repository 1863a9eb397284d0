"""What carries a joint besides its drive: one slewing bearing, or a pair of bearings at a span.

All places are told along the joint's axis, from the origin of the joint's frame, positive the way the axis points.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, TypeAlias

from armwright.describe.described import Checks, Described, put
from armwright.describe.drive_units import LINEAR_STIFFNESS, POSITIVE_FORCE, POSITIVE_TORQUE, STIFFNESS
from armwright.describe.machine_units import (
    CONTACT_ANGLE,
    LOAD_FACTOR,
    ROLLING_ELEMENTS,
    SHARE_FACTOR,
    both_or_none,
    put_told,
    refuse_told,
)
from armwright.describe.several import one_or_two, two
from armwright.describe.shapes import take_name
from armwright.describe.units import DISTANCE, FORCE, LENGTH, SIZE, TORQUE
from armwright.describe.wrong import shown
from armwright.errors import InputError

SLEWING_KINDS = ("crossed roller", "four point")
PAIR_KINDS = ("deep groove", "angular contact", "tapered")
ARRANGEMENTS = ("face to face", "back to back", "fixed and floating")
_FACTORS = ("factor_x", "factor_y", "static_factor_x", "static_factor_y")


def _read(owner: Any, checks: Checks) -> None:
    """What both kinds of bearings share."""
    put(
        owner,
        name=checks.take("name", take_name, owner.name, ""),
        offset=checks.take("offset", LENGTH.si_value, owner.offset, 0.0),
    )
    put_told(owner, checks, dict.fromkeys(_FACTORS, SHARE_FACTOR))
    both_or_none(owner, checks, "factor_x", "factor_y")
    both_or_none(owner, checks, "static_factor_x", "static_factor_y")


@dataclass(frozen=True, eq=False, repr=False)
class SlewingBearing(Described):
    """A single bearing that takes radial and axial force and tilting moment. ``kind``: "crossed roller" or "four
    point". ``offset``: of its middle along the joint's axis from the joint's frame, m. ``pitch_diameter`` of its
    rolling elements, m. ``dynamic_rating`` (C) and ``static_rating`` (C0), N. ``static_moment_rating``: the tilting
    moment that it bears alone, N m. ``limit_line``: points (axial force N, tilting moment N m) of a maker's static
    limit, by growing force. Stiffness against tilting N m/rad, along and across the axis N/m. ``factor_x``,
    ``factor_y``, ``static_factor_x``, ``static_factor_y``: of the equivalent loads, instead of the usual ones.
    ``roller_count``: of rolling elements. None: not told, and what needs it is left out by name.

    >>> aw.SlewingBearing("crossed roller", "132 mm", "27 kN", "52 kN", name="swing bearing")
    SlewingBearing 'swing bearing': crossed roller, C 27 kN, C0 52 kN
    """

    kind: str
    pitch_diameter: Any = None
    dynamic_rating: Any = None
    static_rating: Any = None
    offset: Any = 0.0
    static_moment_rating: Any = None
    limit_line: Any = None
    tilting_stiffness: Any = None
    axial_stiffness: Any = None
    radial_stiffness: Any = None
    factor_x: Any = None
    factor_y: Any = None
    static_factor_x: Any = None
    static_factor_y: Any = None
    roller_count: Any = None
    name: str = "bearing"

    def __post_init__(self) -> None:
        checks = Checks(self)
        checks.word("kind", self.kind, SLEWING_KINDS)
        _read(self, checks)
        put_told(self, checks, {
            "pitch_diameter": SIZE, "dynamic_rating": POSITIVE_FORCE, "static_rating": POSITIVE_FORCE,
            "static_moment_rating": POSITIVE_TORQUE, "tilting_stiffness": STIFFNESS,
            "axial_stiffness": LINEAR_STIFFNESS, "radial_stiffness": LINEAR_STIFFNESS,
            "roller_count": ROLLING_ELEMENTS,
        })  # fmt: skip
        put(self, limit_line=checks.take("limit_line", take_limit_line, self.limit_line, None))
        checks.done()

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        if self.factor_x is not None and self.static_factor_x is not None:
            return ()
        angle = {"crossed roller": 45, "four point": 35}[self.kind]
        text = f"factors of the equivalent loads as for two rows at a contact angle of {angle}°, usual for the kind"
        return (f"{self.name}: {text}",)

    def __repr__(self) -> str:
        return f"SlewingBearing {self.name!r}: {self.kind}" + _ratings(self)


@dataclass(frozen=True, eq=False, repr=False)
class BearingPair(Described):
    """Two bearings of one kind at a span. ``kind``: "deep groove", "angular contact" or "tapered". ``arrangement``:
    "face to face", "back to back" or "fixed and floating" (deep groove); then ``fixed`` is the one that takes axial
    force, "near" the base or "far" from it.

    ``offset``: of the middle of the pair along the joint's axis from the joint's frame, m; the bearing near the base
    stands half a span before it, against the axis. ``span``, m: between the middles of the bearings if
    ``pressure_centre`` is told (how far the pressure centre of each is from its middle, m), else between their pressure
    centres, as ``effective_span`` is. ``dynamic_rating`` (C), ``static_rating`` (C0): N, of each; one number for both,
    or two, near the base and far. ``contact_angle`` rad. ``factor_e``: the limit of axial by radial force above which
    ``factor_x`` and ``factor_y`` count; static factors likewise; None: the standard's by kind. ``factor_f0``: a
    deep groove bearing's, by which its factors are looked up. ``preload``: axial, N, not where one floats.
    ``moved_ring``: which ring the moved link carries, "inner" or "outer"; by it one of the two takes an axial push
    (None: the worse of both ways counts). Stiffness of each bearing, N/m. ``ball_count``: rolling elements of each.
    None: not told.

    >>> aw.BearingPair("tapered", "back to back", span="80 mm", dynamic_rating="48 kN", contact_angle="15 deg")
    BearingPair 'bearing pair': tapered, back to back, span 80 mm, C 48 kN, C0 not told
    """

    kind: str
    arrangement: str
    span: Any = None
    dynamic_rating: Any = None
    static_rating: Any = None
    offset: Any = 0.0
    fixed: str | None = None
    pressure_centre: Any = None
    contact_angle: Any = None
    factor_e: Any = None
    factor_x: Any = None
    factor_y: Any = None
    static_factor_x: Any = None
    static_factor_y: Any = None
    factor_f0: Any = None
    preload: Any = None
    moved_ring: str | None = None
    radial_stiffness: Any = None
    axial_stiffness: Any = None
    ball_count: Any = None
    name: str = "bearing pair"

    def __post_init__(self) -> None:
        checks = Checks(self)
        sound = checks.word("kind", self.kind, PAIR_KINDS)
        sound &= checks.word("arrangement", self.arrangement, ARRANGEMENTS)
        _read(self, checks)
        put_told(self, checks, {
            "span": SIZE, "pressure_centre": DISTANCE, "contact_angle": CONTACT_ANGLE, "factor_e": LOAD_FACTOR,
            "factor_f0": SHARE_FACTOR, "preload": FORCE, "radial_stiffness": LINEAR_STIFFNESS,
            "axial_stiffness": LINEAR_STIFFNESS, "ball_count": ROLLING_ELEMENTS,
        })  # fmt: skip
        for key in ("dynamic_rating", "static_rating"):
            put(self, **{key: checks.take(key, one_or_two(POSITIVE_FORCE), getattr(self, key), None)})
        if self.moved_ring is not None:
            checks.word("moved_ring", self.moved_ring, ("inner", "outer"))
        if sound:
            self._check_kind(checks)
        if not checks.problems and self.span is not None and not self.effective_span > 0:  # type: ignore[operator]
            checks.wrong("span", f"{1000 * self.span:.6g} mm", "more than twice the pressure_centre: face to face, the "
                         f"pressure centres are {1000 * self.effective_span:.6g} mm apart")  # type: ignore[operator]  # fmt: skip
        checks.done()

    def _check_kind(self, checks: Checks) -> None:
        floating = self.arrangement == "fixed and floating"
        if self.kind == "deep groove":
            refuse_told(self, checks, ("contact_angle", "pressure_centre"), "a deep groove bearing has none")
        else:
            refuse_told(self, checks, ("factor_f0",), "only a deep groove bearing has one")
            if floating:
                checks.wrong("arrangement", shown(self.arrangement), '"face to face" or "back to back": one bearing of '
                             f"kind {self.kind} takes axial force one way alone")  # fmt: skip
        if floating and self.preload:
            checks.wrong("preload", f"{self.preload:.6g} N", "no preload: the floating one takes no axial force")
        if self.factor_e is not None and self.factor_x is None:
            checks.wrong("factor_x", "nothing", "this key beside factor_e: what counts above that limit")
        if floating and self.fixed is None:
            checks.wrong("fixed", "nothing", 'this key: which one takes axial force, "near" (the base) or "far"')
        elif floating:
            checks.word("fixed", self.fixed, ("near", "far"))
        elif self.fixed is not None:
            checks.wrong("fixed", shown(self.fixed), f"no fixed: {self.arrangement}, each takes axial force one way")

    @property
    def effective_span(self) -> float | None:
        """Between the points where the two take load on the axis, m; None if no span was told."""
        if self.span is None:
            return None
        way = {"back to back": 2.0, "face to face": -2.0}.get(self.arrangement, 0.0)
        return float(self.span + way * (self.pressure_centre or 0.0))

    @property
    def places(self) -> tuple[float, float] | None:
        """Where the two take load on the joint's axis, from the joint's frame, m: near the base, far from it."""
        half = None if self.effective_span is None else self.effective_span / 2
        return None if half is None else (float(self.offset - half), float(self.offset + half))

    @property
    def dynamic_ratings(self) -> tuple[float, float] | None:
        """C of the bearing near the base and of the far one, N."""
        return two(self.dynamic_rating)

    @property
    def static_ratings(self) -> tuple[float, float] | None:
        """C0 of the bearing near the base and of the far one, N."""
        return two(self.static_rating)

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        assumed = []
        if self.arrangement != "fixed and floating" and self.moved_ring is None:
            assumed.append("no moved ring: of an axial push the worse way counts")
        if self.arrangement != "fixed and floating" and self.preload is None:
            assumed.append("no preload: 0 N")
        if self.kind != "deep groove" and self.span is not None and self.pressure_centre is None:
            assumed.append("no pressure centre: the span is taken as that between the pressure centres")
        return tuple(f"{self.name}: {text}" for text in assumed)

    def __repr__(self) -> str:
        span = "no span" if self.span is None else f"span {1000 * self.span:.6g} mm"
        return f"BearingPair {self.name!r}: {self.kind}, {self.arrangement}, {span}" + _ratings(self)


Bearing: TypeAlias = SlewingBearing | BearingPair


def _ratings(bearing: Any) -> str:
    text = ""
    for letter, key in (("C", "dynamic_rating"), ("C0", "static_rating")):
        both = two(getattr(bearing, key))
        told = "not told" if both is None else " and ".join(f"{v / 1000:.6g}" for v in dict.fromkeys(both)) + " kN"
        text += f", {letter} {told}"
    return text


def take_limit_line(key: str, value: Any) -> tuple[tuple[float, float], ...] | None:
    """Points (axial force, moment), by growing force."""
    if value is None:
        return None
    expected = 'points of axial force and tilting moment, as [["0 kN", "900 N*m"], ["20 kN", "400 N*m"]]'
    if isinstance(value, str | dict) or not hasattr(value, "__len__") or not 2 <= len(value) <= 50:
        raise InputError.of(key, shown(value), f"2 to 50 {expected}")
    points = []
    for i, point in enumerate(value):
        if isinstance(point, str) or not hasattr(point, "__len__") or len(point) != 2:
            raise InputError.of(f"{key}[{i}]", shown(point), expected)
        points.append((FORCE.si_value(f"{key}[{i}][0]", point[0]), TORQUE.si_value(f"{key}[{i}][1]", point[1])))
        if i and not points[i][0] > points[i - 1][0]:
            raise InputError.of(f"{key}[{i}][0]", f"{points[i][0]:.6g} N", f"more than {points[i - 1][0]:.6g} N")
    if max(moment for _, moment in points) <= 0:
        raise InputError.of(key, "no moment above 0", expected)
    return tuple(points)
