"""What the arm's base is bolted to, or stands on.

All is told in the arm's base frame: its mounting face is the plane z = 0, and z points from the face into the arm.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from armwright.describe.bolts import BoltPattern
from armwright.describe.described import Checks, Described, put
from armwright.describe.machine_units import AREA, FRICTION_SHARE, PRESSURE, put_told
from armwright.describe.outline import crosses_itself, holds, points_of
from armwright.describe.pose import Array, take_position
from armwright.describe.several import one_or_two, points_in_plane
from armwright.describe.shapes import take_name
from armwright.describe.units import DISTANCE, LENGTH, MASS, SIZE, VectorOf, replace_bounds
from armwright.describe.wrong import shown

_STAND = ("stand_mass", "stand_centre", "stand_height", "feet", "foot_area")


@dataclass(frozen=True, eq=False, repr=False)
class Base(Described):
    """How the arm stands, on the floor or on a carriage. ``bolts``: a BoltPattern in the mounting face. ``plate``: its
    diameter, if it is round, or (length along x, width along y), m; ``plate_centre``: (x, y), m (None: 0, 0); or
    ``plate_outline``: the corners (x, y) of a plate of another form, one after the other, m.
    ``friction``: coefficient of the face.

    ``free_standing``: on a pedestal or cart that is not bolted down. Then ``stand_mass`` kg and ``stand_centre`` m of
    what is below the face, ``stand_height``: how far the floor is below it, m; ``feet``: (x, y) of each, m, in any
    order; ``foot_area``: of one, m². ``allowed_pressure``: on what the plate, or the feet, stand on, Pa. None: not
    told.

    >>> bolts = aw.BoltPattern(circle_diameter="236 mm", count=8, size="M12", property_class="8.8")
    >>> aw.Base(bolts, plate="260 mm", friction=0.15)
    Base 'base': BoltPattern 'bolts': 8 bolts, M12, 8.8
    """

    bolts: BoltPattern | None = None
    plate: Any = None
    plate_centre: Any = None
    plate_outline: Any = None
    friction: Any = None
    free_standing: bool = False
    stand_mass: Any = None
    stand_centre: Any = None
    stand_height: Any = None
    feet: Any = None
    foot_area: Any = None
    allowed_pressure: Any = None
    name: str = "base"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            plate=checks.take("plate", one_or_two(SIZE), self.plate, None),
            free_standing=checks.flag("free_standing", self.free_standing),
            plate_outline=checks.take("plate_outline", points_in_plane(3), self.plate_outline, None),
            feet=checks.take("feet", points_in_plane(3), self.feet, None),
        )
        put_told(self, checks, {
            "friction": FRICTION_SHARE, "stand_mass": replace_bounds(MASS, above=0.0), "stand_height": DISTANCE,
            "foot_area": AREA, "allowed_pressure": PRESSURE,
        })  # fmt: skip
        if self.plate_centre is not None:
            put(self, plate_centre=checks.take("plate_centre", VectorOf(LENGTH, 2).si_value, self.plate_centre, None))
            if self.plate is None:
                checks.wrong("plate", "nothing", "this key beside plate_centre")
        if self.plate is not None and self.plate_outline is not None:
            checks.wrong("plate_outline", "plate_outline besides plate", "one of the two")
        if self.stand_centre is not None:
            put(self, stand_centre=checks.take("stand_centre", take_position, self.stand_centre, np.zeros(3)))
        if self.bolts is not None and not isinstance(self.bolts, BoltPattern):
            checks.wrong("bolts", shown(self.bolts), "a BoltPattern, or None")
        if not self.free_standing:
            for key in _STAND:
                if getattr(self, key) is not None:
                    checks.wrong(key, f"{key} of a base that is not free_standing", "free_standing beside it")
        if not checks.problems:
            self._check_places(checks)
        checks.done()

    def _check_places(self, checks: Checks) -> None:
        """Bolts go through the plate, and feet stand around something."""
        if self.plate_outline is not None and crosses_itself(points_of(self.plate_outline)):
            checks.wrong("plate_outline", "an outline that crosses itself",
                         "corners one after the other, around the plate")  # fmt: skip
        elif self.bolts is not None and (self.plate is not None or self.plate_outline is not None):
            beside = [i for i, point in enumerate(self.bolts.points) if not self._on_plate(point)]
            if beside:
                x, y = 1000 * self.bolts.points[beside[0]]
                checks.wrong("plate" if self.plate is not None else "plate_outline",
                             f"bolt {beside[0] + 1} at ({x:.6g}, {y:.6g}) mm, beside the plate",
                             "a plate that the bolts go through")  # fmt: skip
        if self.stand_centre is not None and self.stand_height is not None:
            below = -float(self.stand_centre[2]) - float(self.stand_height)
            if below > 1e-9:
                checks.wrong("stand_centre", f"{1000 * below:.6g} mm below the floor, where stand_height has it",
                             "a centre of gravity above the floor")  # fmt: skip
        if self.feet is not None:
            points = points_of(self.feet)
            spread = np.linalg.svd(points - points.mean(axis=0), compute_uv=False)
            if not spread[-1] > 1e-6 * spread[0]:
                checks.wrong("feet", "feet in one line", "three or more that are not in one line")

    def _on_plate(self, point: Array) -> bool:
        if self.plate_outline is not None:
            return holds(points_of(self.plate_outline), point)
        away = np.abs(point - np.array(self.centre))
        if isinstance(self.plate, tuple):
            return bool((away <= np.array([float(edge) for edge in self.plate]) / 2 + 1e-9).all())
        return bool(np.hypot(*away) <= float(self.plate) / 2 + 1e-9)

    @property
    def centre(self) -> tuple[float, float]:
        """Of the plate, x and y, m: as told, else 0."""
        return (0.0, 0.0) if self.plate_centre is None else (float(self.plate_centre[0]), float(self.plate_centre[1]))

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        return tuple(f"{self.name}: {text}" for text in (self.bolts.assumptions if self.bolts is not None else ()))

    def __repr__(self) -> str:
        how = "free standing" if self.free_standing else repr(self.bolts) if self.bolts is not None else "no bolts told"
        return f"Base {self.name!r}: {how}"
