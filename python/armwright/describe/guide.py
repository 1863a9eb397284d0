"""What a track's carriage runs on: rails with blocks, and what carries the rails.

Places are told in three directions: along (the track's axis), across (up x along) and up (the track's z unless told).
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from armwright.describe.described import Checks, Described, put
from armwright.describe.drive_units import POSITIVE_FORCE, POSITIVE_TORQUE
from armwright.describe.machine_units import (
    DIRECTION_SHARE,
    SECOND_MOMENT,
    SECTION_MODULUS,
    put_told,
)
from armwright.describe.material import Material, take_material
from armwright.describe.pose import Array, take_direction
from armwright.describe.several import Numbers, is_several, list_of
from armwright.describe.shapes import take_name
from armwright.describe.structure import put_section, section_text
from armwright.describe.units import FORCE, LENGTH, SIZE
from armwright.describe.wrong import shown
from armwright.errors import InputError

GUIDE_KINDS = ("ball", "roller")
most_rails, most_blocks = 8, 16
_BASES = (50e3, 100e3)  # m


@dataclass(frozen=True, eq=False, repr=False)
class RailBeam(Described):
    """What carries each rail from support to support. ``span``: between supports, m. Of the beam under one rail, the
    rail itself included if that is wanted: ``second_moment`` m⁴ and ``section_modulus`` m³ against bending up and down;
    or a tube: ``section`` "round", "square" or "rectangular" (width across, height up), ``outer`` and ``wall`` m, as
    Tube has them. ``material``: a Material or the name of a known one. ``ends``: "simple" or "fixed" (None: simple).
    ``deflection_limit``: that is allowed, m.

    >>> aw.RailBeam(span="540 mm", material="steel", second_moment="31 cm^4", section_modulus="11 cm^3")
    RailBeam 'rail beam': 31 cm⁴, steel, 540 mm between supports
    """

    span: Any
    material: Any
    second_moment: Any = None
    section_modulus: Any = None
    section: str | None = None
    outer: Any = None
    wall: Any = None
    ends: str | None = None
    deflection_limit: Any = None
    name: str = "rail beam"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            span=checks.take("span", SIZE.si_value, self.span, 1.0),
            material=checks.take("material", take_material, self.material, Material()),
        )
        put_told(self, checks, {
            "second_moment": SECOND_MOMENT, "section_modulus": SECTION_MODULUS, "deflection_limit": SIZE,
        })  # fmt: skip
        if self.ends is not None:
            checks.word("ends", self.ends, ("simple", "fixed"))
        if self.section is not None:
            put_section(self, checks)
            for key in ("second_moment", "section_modulus"):
                if getattr(self, key) is not None:
                    checks.wrong(key, f"{key} besides section", "one of the two")
        else:
            for key in ("outer", "wall"):
                if getattr(self, key) is not None:
                    checks.wrong(key, f"{key} without section", "section beside it")
            if self.second_moment is None:
                checks.wrong("second_moment", "nothing", "second_moment, or section with outer and wall")
        checks.done()

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        assumed = list(self.material.assumptions)
        if self.ends is None:
            assumed.append("no ends: simply supported")
        return tuple(f"{self.name}: {text}" for text in assumed)

    def __repr__(self) -> str:
        section = section_text(self) if self.section is not None else f"{1e8 * self.second_moment:.6g} cm⁴"
        return f"RailBeam {self.name!r}: {section}, {self.material.name}, {1000 * self.span:.6g} mm between supports"


@dataclass(frozen=True, eq=False, repr=False)
class Guide(Described):
    """The rails and blocks of a track. ``rails``: where each is across, from the carriage frame's origin, m.
    ``blocks``: where they are along, from the same origin, m: one list for every rail, or a list for each.
    ``height``: how far the blocks' middles are below that origin, m. ``kind``: "ball" or "roller".

    Of one block: ``dynamic_rating`` (C) and ``static_rating`` (C0), N; ``rating_distance``: that C is told for, 50
    km or 100 km, m; ``lift_share``, ``side_share``: of the ratings that hold for a force that lifts it off, or from
    the side (None: 1, the same all around); ``roll_rating``, ``pitch_rating``, ``yaw_rating``: static moments that one
    block bears about along, across and up, N m; ``block_length``, m. ``preload`` N in each. ``up``: a direction in the
    track's frame.
    ``beam``: what carries the rails between supports; None: they lie on something rigid, or it is not told.

    >>> aw.Guide(rails=("-125 mm", "125 mm"), blocks=("-135 mm", "135 mm"), kind="ball", static_rating="33 kN")
    Guide 'guide': 2 rails, 4 blocks, ball
    """

    rails: Any
    blocks: Any
    height: Any = None
    kind: str | None = None
    dynamic_rating: Any = None
    static_rating: Any = None
    rating_distance: Any = None
    lift_share: Any = None
    side_share: Any = None
    roll_rating: Any = None
    pitch_rating: Any = None
    yaw_rating: Any = None
    block_length: Any = None
    preload: Any = None
    up: Any = None
    beam: RailBeam | None = None
    name: str = "guide"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            rails=checks.take("rails", list_of(LENGTH, most_rails), self.rails, ()),
            rating_distance=checks.take("rating_distance", take_distance, self.rating_distance, None),
            blocks=checks.take("blocks", take_blocks, self.blocks, ()),
            up=None if self.up is None else checks.take("up", take_direction, self.up, None),
        )
        put_told(self, checks, {
            "height": LENGTH, "dynamic_rating": POSITIVE_FORCE, "static_rating": POSITIVE_FORCE,
            "lift_share": DIRECTION_SHARE, "side_share": DIRECTION_SHARE, "roll_rating": POSITIVE_TORQUE,
            "pitch_rating": POSITIVE_TORQUE, "yaw_rating": POSITIVE_TORQUE, "preload": FORCE,
            "block_length": SIZE,
        })  # fmt: skip
        if self.kind is not None:
            checks.word("kind", self.kind, GUIDE_KINDS)
        if self.beam is not None and not isinstance(self.beam, RailBeam):
            checks.wrong("beam", shown(self.beam), "a RailBeam, or None")
        _apart(checks, "rails", self.rails)
        lists = len(self.blocks) if self.blocks and isinstance(self.blocks[0], tuple) else 0
        if lists and not checks.problems and lists != len(self.rails):
            checks.wrong("blocks", f"{lists} lists", f"one list for every rail, or {len(self.rails)} lists")
        if not checks.problems and self.block_length is not None:
            self._check_room(checks)
        checks.done()

    def _check_room(self, checks: Checks) -> None:
        """Blocks of one rail do not stand in one another."""
        for row in self.blocks if isinstance(self.blocks[0], tuple) else (self.blocks,):
            apart = np.diff(np.sort([float(place) for place in row]))
            if (apart < self.block_length - 1e-9).any():
                checks.wrong("block_length", f"{1000 * self.block_length:.6g} mm",
                             f"at most the distance of two blocks on a rail, {1000 * apart.min():.6g} mm")  # fmt: skip
                return

    @property
    def places(self) -> Array:
        """Of every block, (n, 2): along and across, m, from the carriage frame's origin; rail after rail."""
        each = self.blocks if isinstance(self.blocks[0], tuple) else [self.blocks] * len(self.rails)
        return np.array([
            [float(along), float(across)] for across, row in zip(self.rails, each, strict=True) for along in row
        ])  # fmt: skip

    @property
    def block_names(self) -> tuple[str, ...]:
        """Of every block, in the order of ``places``."""
        rails = [float(rail) for rail in self.rails]
        across = self.places[:, 1]
        numbers: dict[float, int] = {}
        names = []
        for place in across:
            numbers[place] = numbers.get(place, 0) + 1
            names.append(f"rail {rails.index(place) + 1}, block {numbers[place]}")
        return tuple(names)

    @property
    def distance(self) -> float:
        """That C holds for, m: as told, else 50 km, the shorter of the two in use."""
        return float(self.rating_distance or _BASES[0])

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        assumed = []
        if self.dynamic_rating is not None and self.rating_distance is None:
            assumed.append("no distance that the dynamic rating is told for: 50 km, the shorter of the two in use")
        for key in ("lift_share", "side_share"):
            if getattr(self, key) is None and (self.dynamic_rating or self.static_rating):
                assumed.append(f"no {key.replace('_', ' ')} of the ratings: 1")
        more = self.beam.assumptions if self.beam is not None else ()
        return (*(f"{self.name}: {text}" for text in assumed), *more)

    def __repr__(self) -> str:
        kind = "" if self.kind is None else f", {self.kind}"
        return f"Guide {self.name!r}: {len(self.rails)} rails, {len(self.places)} blocks{kind}"


def take_distance(key: str, value: Any) -> float | None:
    if value is None:
        return None
    told = SIZE.si_value(key, value)
    if float(told) not in _BASES:
        raise InputError.of(key, shown(value), '"50 km" or "100 km": the distance that the dynamic rating is told for')
    return told


def take_blocks(key: str, value: Any) -> tuple[Any, ...]:
    """Places of blocks: one list for every rail, or a list for each."""
    read, checks = list_of(LENGTH, most_blocks), Checks("")
    lists = isinstance(value, list | tuple) and any(map(is_several, value))
    if not lists:
        told: tuple[Any, ...] = read(key, value)
        _apart(checks, key, told)
    else:
        told = tuple(read(f"{key}[{i}]", item) for i, item in enumerate(value))
        for i, places in enumerate(told):
            _apart(checks, f"{key}[{i}]", places)
    checks.done()
    return told


def _apart(checks: Checks, key: str, places: Numbers) -> None:
    for i, place in enumerate(places):
        if place in places[:i]:
            checks.wrong(f"{key}[{i}]", f"{1000 * place:.6g} mm", "another place than the others")
