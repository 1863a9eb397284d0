"""A pattern of bolts in a flat face."""

from __future__ import annotations

import difflib
import math
import re
from dataclasses import dataclass
from typing import Any

import numpy as np

from armwright.describe.described import Checks, Described, put
from armwright.describe.drive_units import POSITIVE_FORCE
from armwright.describe.machine_units import AREA, BOLTS, PRYING, STRESS, put_told
from armwright.describe.pose import Array
from armwright.describe.several import points_in_plane
from armwright.describe.shapes import take_name
from armwright.describe.units import ANGLE, LENGTH, SIZE, VectorOf
from armwright.describe.wrong import shown
from armwright.errors import InputError

# Coarse pitches of ISO 261, mm, by nominal diameter (memory).
COARSE = {
    "M3": 0.5, "M4": 0.7, "M5": 0.8, "M6": 1.0, "M8": 1.25, "M10": 1.5, "M12": 1.75, "M14": 2.0, "M16": 2.0,
    "M18": 2.5, "M20": 2.5, "M22": 2.5, "M24": 3.0, "M27": 3.0, "M30": 3.5, "M33": 3.5, "M36": 4.0, "M39": 4.0,
}  # fmt: skip
PROPERTY_CLASSES = ("4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9")  # of ISO 898-1
_FINE = re.compile(r"(M\d+)\s*[x×]\s*(\d+(?:\.\d+)?)")


def take_size(key: str, value: Any) -> str:
    """The size of a metric thread: "M16", or with a fine pitch "M16x1.5"."""
    expected = f'a metric thread, as "M16" or "M16x1.5", of {", ".join(COARSE)}'
    if not isinstance(value, str):
        meant = f'"M{value:g}"' if isinstance(value, int | float) and f"M{value:g}" in COARSE else ""
        raise InputError.of(key, shown(value), expected, meant)
    text = value.strip()
    fine = _FINE.fullmatch(text)
    size = fine[1] if fine else text
    if size not in COARSE:
        plain = text.upper().replace("MM", "").replace(" ", "")
        near = [plain] if plain in COARSE else difflib.get_close_matches(plain, COARSE, 1, 0.6)
        raise InputError.of(key, shown(value), expected, f'"{near[0]}"' if near else "")
    if not fine:
        return size
    pitch = float(fine[2])
    if not 0.2 <= pitch <= COARSE[size]:
        raise InputError.of(key, shown(value), f"a pitch up to the coarse one, {COARSE[size]:g} mm")
    return f"{size}x{pitch:g}"


@dataclass(frozen=True, eq=False, repr=False)
class BoltPattern(Described):
    """Bolts, all alike, in a face: the plane z = 0 of the frame in which they are told. Either ``positions``: (x, y)
    of each, m; or ``circle_diameter`` m and ``count``, evenly about ``centre`` (x, y; m), the first at ``first_angle``
    rad from the x axis. ``size``: "M16", "M16x1.5". ``property_class`` of ISO 898-1, as "8.8"; or the
    ``proof_strength`` Pa of what else they are. ``preload`` N in each. ``prying_factor``: by how much levering of the
    plate raises their tension (None: not at all, 1). ``stress_area`` m², of one (None: by its size).
    ``allowed_tension``, ``allowed_shear``: N a bolt, where something else than its thread decides (an anchor's
    approval, a stainless bolt).

    >>> aw.BoltPattern(circle_diameter="236 mm", count=8, size="M12", property_class="8.8", preload="35 kN")
    BoltPattern 'bolts': 8 bolts, M12, 8.8
    """

    positions: Any = None
    circle_diameter: Any = None
    count: Any = None
    first_angle: Any = None
    centre: Any = None
    size: str | None = None
    property_class: str | None = None
    proof_strength: Any = None
    preload: Any = None
    prying_factor: Any = None
    stress_area: Any = None
    allowed_tension: Any = None
    allowed_shear: Any = None
    name: str = "bolts"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            positions=checks.take("positions", points_in_plane(1), self.positions, None),
        )
        put_told(self, checks, {
            "circle_diameter": SIZE, "count": BOLTS, "first_angle": ANGLE, "proof_strength": STRESS,
            "preload": POSITIVE_FORCE, "prying_factor": PRYING, "stress_area": AREA,
            "allowed_tension": POSITIVE_FORCE, "allowed_shear": POSITIVE_FORCE,
        })  # fmt: skip
        if self.centre is not None:
            put(self, centre=checks.take("centre", VectorOf(LENGTH, 2).si_value, self.centre, (0.0, 0.0)))
        if self.size is not None:
            put(self, size=checks.take("size", take_size, self.size, None))
        self._check_class(checks)
        if not checks.problems:
            self._check_places(checks)
        checks.done()

    def _check_class(self, checks: Checks) -> None:
        told = self.property_class
        if told is not None and told not in PROPERTY_CLASSES:
            near = f"{told:g}" if isinstance(told, int | float) and not isinstance(told, bool) else str(told)
            meant = difflib.get_close_matches(near, PROPERTY_CLASSES, 1, 0.6)
            checks.wrong("property_class", shown(told), "one of " + ", ".join(f'"{one}"' for one in PROPERTY_CLASSES),
                         f'"{meant[0]}"' if meant else "")  # fmt: skip
        if told is not None and self.proof_strength is not None:
            checks.wrong("proof_strength", "a proof strength besides property_class", "one of the two")

    def _check_places(self, checks: Checks) -> None:
        circle = ("circle_diameter", "count", "first_angle", "centre")
        if self.positions is not None:
            for key in circle:
                if getattr(self, key) is not None:
                    checks.wrong(key, f"{key} besides positions", "one way to tell where the bolts are")
        else:
            for key in circle[:2]:
                if getattr(self, key) is None:
                    checks.wrong(key, "nothing", "positions, or circle_diameter and count")

    @property
    def points(self) -> Array:
        """Where the bolts are, (n, 2), m."""
        if self.positions is not None:
            return np.array([[float(x), float(y)] for x, y in self.positions])
        angles = float(self.first_angle or 0.0) + 2 * math.pi * np.arange(int(self.count)) / int(self.count)
        centre = np.zeros(2) if self.centre is None else np.array([float(v) for v in self.centre])
        return centre + float(self.circle_diameter) / 2 * np.column_stack((np.cos(angles), np.sin(angles)))

    @property
    def diameter(self) -> float | None:
        """Nominal, m."""
        return None if self.size is None else float(self.size.partition("x")[0][1:]) / 1000

    @property
    def pitch(self) -> float | None:
        """Of the thread, m."""
        if self.size is None:
            return None
        size, _, fine = self.size.partition("x")
        return (float(fine) if fine else COARSE[size]) / 1000

    @property
    def prying(self) -> float:
        """The factor that counts: as told, else 1."""
        return float(self.prying_factor or 1.0)

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        return (f"{self.name}: no prying factor: 1",) if self.prying_factor is None else ()

    def __repr__(self) -> str:
        told = [str(text) for text in (self.size, self.property_class) if text is not None]
        return f"BoltPattern {self.name!r}: {len(self.points)} bolts" + "".join(f", {text}" for text in told)
