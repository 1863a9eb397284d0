"""What pulls a track's carriage: rack, belt or screw; how it goes with the drive stands with the drive's last stage.

The line along which it pulls is told from the carriage frame's origin, as a guide's rails and blocks are: ``across``,
and ``height`` below, m; None: not told.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any, TypeAlias

from armwright.describe.described import Checks, Described, put
from armwright.describe.drive_units import ANGULAR_SPEED, POSITIVE_FORCE
from armwright.describe.machine_units import HELIX_ANGLE, PRESSURE_ANGLE, STRESS, TEETH, put_told
from armwright.describe.material import Material, take_material
from armwright.describe.shapes import take_name
from armwright.describe.units import DISTANCE, LENGTH, SIZE

_LINE = {"across": LENGTH, "height": LENGTH}
SCREW_ENDS = ("fixed, fixed", "fixed, supported", "supported, supported", "fixed, free")


@dataclass(frozen=True, eq=False, repr=False)
class RackFeed(Described):
    """A pinion on a rack. ``module``: normal, m; ``teeth`` of the pinion (None: as the radius of the drive's rack stage
    has it); ``pressure_angle`` rad (None: 20 deg), ``helix`` rad (None: 0, straight teeth); ``face_width`` m.
    ``allowed_force``: along the track, that its teeth bear, N; or ``allowed_stress`` at the foot of a tooth, Pa.
    ``overhang``: from the middle of the pinion to the bearing that carries its shaft, m, and ``allowed_shaft_force``
    across the shaft there, N. None: not told.

    >>> aw.RackFeed(module="2 mm", teeth=20, allowed_force="3.1 kN")
    RackFeed 'rack': module 2 mm, 20 teeth
    """

    module: Any
    teeth: Any = None
    pressure_angle: Any = None
    helix: Any = None
    face_width: Any = None
    allowed_force: Any = None
    allowed_stress: Any = None
    overhang: Any = None
    allowed_shaft_force: Any = None
    across: Any = None
    height: Any = None
    name: str = "rack"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            module=checks.take("module", SIZE.si_value, self.module, 1.0),
        )
        put_told(self, checks, {
            "teeth": TEETH, "pressure_angle": PRESSURE_ANGLE, "helix": HELIX_ANGLE, "face_width": SIZE,
            "allowed_force": POSITIVE_FORCE, "allowed_stress": STRESS, "overhang": DISTANCE,
            "allowed_shaft_force": POSITIVE_FORCE, **_LINE,
        })  # fmt: skip
        checks.done()

    @property
    def numbers(self) -> dict[str, float]:
        """Angles that count, rad: as told, else as ``assumptions`` say."""
        told = math.radians(20) if self.pressure_angle is None else self.pressure_angle
        return {"pressure_angle": float(told), "helix": float(self.helix or 0.0)}

    def radius(self) -> float | None:
        """Of the pinion's pitch circle by its teeth, m; None if they were not told."""
        if self.teeth is None:
            return None
        return float(self.module * self.teeth / (2 * math.cos(self.numbers["helix"])))

    def teeth_at(self, radius: float) -> float:
        """Of a pinion whose pitch circle has this radius, m."""
        return float(2 * radius * math.cos(self.numbers["helix"]) / self.module)

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        assumed = []
        if self.pressure_angle is None:
            assumed.append("no pressure angle: 20 deg")
        if self.helix is None:
            assumed.append("no helix: straight teeth")
        return tuple(f"{self.name}: {text}" for text in assumed)

    def __repr__(self) -> str:
        teeth = "" if self.teeth is None else f", {self.teeth:.6g} teeth"
        return f"RackFeed {self.name!r}: module {1000 * self.module:.6g} mm{teeth}"


@dataclass(frozen=True, eq=False, repr=False)
class BeltFeed(Described):
    """A toothed belt along the track. ``allowed_force``: that it bears in one strand, N; ``preload`` of a strand, N;
    ``specific_stiffness``: its pull by its strain, N; ``length``: of the whole belt, m. None: not told.

    >>> aw.BeltFeed(allowed_force="2.8 kN", preload="900 N")
    BeltFeed 'belt': 2800 N
    """

    allowed_force: Any = None
    preload: Any = None
    specific_stiffness: Any = None
    length: Any = None
    across: Any = None
    height: Any = None
    name: str = "belt"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(self, name=checks.take("name", take_name, self.name, ""))
        put_told(self, checks, {
            "allowed_force": POSITIVE_FORCE, "preload": POSITIVE_FORCE, "specific_stiffness": POSITIVE_FORCE,
            "length": SIZE, **_LINE,
        })  # fmt: skip
        most = self.allowed_force
        if not checks.problems and None not in (most, self.preload) and not self.preload < most:
            checks.wrong("preload", f"{self.preload:.6g} N", f"less than the allowed force, {most:.6g} N")
        checks.done()

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given: nothing."""
        return ()

    def __repr__(self) -> str:
        told = "force not told" if self.allowed_force is None else f"{self.allowed_force:.6g} N"
        return f"BeltFeed {self.name!r}: {told}"


@dataclass(frozen=True, eq=False, repr=False)
class ScrewFeed(Described):
    """A screw along the track. ``root_diameter`` m; ``length``: between its bearings, m; ``ends``: how they hold it,
    the one at the motor first: "fixed, fixed", "fixed, supported", "supported, supported" or "fixed, free".
    ``allowed_force`` along it, N; ``max_speed`` of turning, rad/s. ``material``: a Material, or the name of a known
    one. None: not told.

    >>> aw.ScrewFeed(root_diameter="21 mm", length="1.4 m", ends="fixed, supported", allowed_force="4 kN")
    ScrewFeed 'screw': root 21 mm
    """

    root_diameter: Any = None
    length: Any = None
    ends: str | None = None
    allowed_force: Any = None
    max_speed: Any = None
    material: Any = "steel"
    across: Any = None
    height: Any = None
    name: str = "screw"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            material=checks.take("material", take_material, self.material, Material()),
        )
        put_told(self, checks, {
            "root_diameter": SIZE, "length": SIZE, "allowed_force": POSITIVE_FORCE, "max_speed": ANGULAR_SPEED,
            **_LINE,
        })  # fmt: skip
        if self.ends is not None:
            checks.word("ends", self.ends, SCREW_ENDS)
        thick, long = self.root_diameter, self.length
        if not checks.problems and None not in (thick, long) and not thick < long:
            checks.wrong("root_diameter", f"{1000 * thick:.6g} mm", f"less than the length, {1000 * long:.6g} mm")
        checks.done()

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given: nothing."""
        return ()

    def __repr__(self) -> str:
        told = "diameter not told" if self.root_diameter is None else f"root {1000 * self.root_diameter:.6g} mm"
        return f"ScrewFeed {self.name!r}: {told}"


Feed: TypeAlias = RackFeed | BeltFeed | ScrewFeed
FEEDS: dict[type, str] = {RackFeed: "rack", BeltFeed: "belt", ScrewFeed: "screw"}
