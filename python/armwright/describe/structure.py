"""A link as a spring and a bearer of stress: a tube, or stiffnesses that are known.

Both lie along a straight line of the link, from ``start`` to ``end``: points in the link's frame, by default the link's
own joint and the next one (the flange, of the last link).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any, TypeAlias

import numpy as np

from armwright.describe.described import Checks, Described, put
from armwright.describe.drive_units import STIFFNESS
from armwright.describe.links import moved_point
from armwright.describe.machine_units import SAFETY, put_told
from armwright.describe.material import Material, take_material
from armwright.describe.pose import Array, take_direction, take_position
from armwright.describe.several import one_or_two
from armwright.describe.shapes import take_name
from armwright.describe.units import SHARE, SIZE
from armwright.describe.wrong import shown

SECTIONS = ("round", "square", "rectangular")


def put_section(owner: Any, checks: Checks) -> None:
    """Reads ``section``, ``outer`` and ``wall``, which tubes and beams of rails share."""
    sound = checks.word("section", owner.section, SECTIONS)
    put(
        owner,
        outer=checks.take("outer", one_or_two(SIZE), owner.outer, None),
        wall=checks.take("wall", SIZE.si_value, owner.wall, None),
    )
    if not sound or checks.problems:
        return
    both = owner.section == "rectangular"
    if owner.outer is None or both != isinstance(owner.outer, tuple):
        found = "nothing" if owner.outer is None else "two sizes" if isinstance(owner.outer, tuple) else "one size"
        words = {"round": "the outer diameter", "square": "the outer side", "rectangular": "two: width, height"}
        checks.wrong("outer", found, words[owner.section])
        return
    least = min(owner.outer) if both else owner.outer
    if not 2 * owner.wall < least:
        checks.wrong("wall", f"{1000 * owner.wall:.6g} mm",
                     f"less than half the outer size, {1000 * least:.6g} mm")  # fmt: skip


def section_text(owner: Any) -> str:
    sizes = owner.outer if isinstance(owner.outer, tuple) else (owner.outer,)
    return f"{owner.section} " + " x ".join(f"{1000 * size:.6g}" for size in (*sizes, owner.wall)) + " mm"


def _put_line(owner: Any, checks: Checks) -> None:
    """Reads the two ends of the line; None stays None."""
    for key in ("start", "end"):
        if getattr(owner, key) is not None:
            put(owner, **{key: checks.take(key, take_position, getattr(owner, key), np.zeros(3))})
    if owner.start is not None and owner.end is not None and not checks.problems:
        check_line(checks, owner.start, owner.end, owner, "")


def check_line(checks: Checks, start: Array, end: Array, told: Any, key: str) -> None:
    """Refuses a line without a length, and a section whose height points along it."""
    way = np.asarray(end) - start
    long = float(np.linalg.norm(way))
    if long < 1e-6:
        checks.wrong(f"{key}.end".lstrip("."), "the same point as the start",
                     "another point: a link is as long as from start to end")  # fmt: skip
    elif getattr(told, "up", None) is not None and np.linalg.norm(np.cross(told.up, way)) < 0.01 * long:
        checks.wrong(f"{key}.up".lstrip("."), shown(told.up.tolist()), "a direction across the line from start to end")


@dataclass(frozen=True, eq=False, repr=False)
class Tube(Described):
    """A tube of one section along a link. ``section``: "round", "square" or "rectangular"; ``outer``: its diameter, its
    side, or its (width, height), m; ``wall`` m. ``material``: a Material, or the name of a known one. ``start``,
    ``end``: m, in the link's frame (None: its joint, the next one). ``up``: where the height of a rectangular section
    points, in the link's frame, made square to the line. ``welded``: at both ends; ``weld_factor``: the share of
    the yield strength that is left there (None: the material's). ``safety``: wanted against yield.

    >>> aw.Tube("round", outer="120 mm", wall="4 mm", material="steel S235", end=(0, 0, 0.5), welded=True)
    Tube 'tube': round 120 x 4 mm, steel S235, welded
    """

    section: str
    outer: Any
    wall: Any
    material: Any
    start: Any = None
    end: Any = None
    up: Any = None
    welded: bool = False
    weld_factor: Any = None
    safety: Any = None
    name: str = "tube"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            material=checks.take("material", take_material, self.material, Material()),
            welded=checks.flag("welded", self.welded),
        )
        put_section(self, checks)
        put_told(self, checks, {"weld_factor": SHARE, "safety": SAFETY})
        if self.section == "rectangular":
            if self.up is None:
                checks.wrong("up", "nothing", "this key: where the height of a rectangular section points")
            else:
                put(self, up=checks.take("up", take_direction, self.up, None))
        elif self.up is not None:
            checks.wrong("up", shown(self.up), "no up: only a rectangular section has one")
        _put_line(self, checks)
        if self.weld_factor is not None and not self.welded:
            checks.wrong("weld_factor", shown(self.weld_factor), "welded beside it, or no weld_factor")
        checks.done()

    @property
    def weld_share(self) -> float | None:
        """The share of the yield strength that counts at the ends: 1 where nothing is welded; None: not known."""
        if not self.welded:
            return 1.0
        told = self.material.weld_share if self.weld_factor is None else self.weld_factor
        return None if told is None else float(told)

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        assumed = list(self.material.assumptions)
        if self.welded and self.weld_factor is None and self.weld_share is not None:
            share = f"{self.weld_share:g} of the yield taken beside welds of {self.material.name}"
            assumed.append(f"no weld factor: {share}")
        return tuple(f"{self.name}: {text}" for text in assumed)

    def __repr__(self) -> str:
        return f"Tube {self.name!r}: {section_text(self)}, {self.material.name}{', welded' if self.welded else ''}"


@dataclass(frozen=True, eq=False, repr=False)
class LinkStiffness(Described):
    """A link whose stiffness is known, by test or by another calculation, as that of an even bar from ``start`` to
    ``end``. ``bending``: the moment that bends its end by 1 rad while it acts all along (E I / length), N m/rad;
    ``torsion``: the moment that twists it by 1 rad (G J / length), N m/rad. None: not told, and not counted.

    >>> aw.LinkStiffness(bending="900 kN*m/rad", torsion="700 kN*m/rad", name="turret")
    LinkStiffness 'turret': bending 900 kN m/rad, torsion 700 kN m/rad
    """

    bending: Any = None
    torsion: Any = None
    start: Any = None
    end: Any = None
    name: str = "link"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(self, name=checks.take("name", take_name, self.name, ""))
        put_told(self, checks, {"bending": STIFFNESS, "torsion": STIFFNESS})
        _put_line(self, checks)
        if self.bending is None and self.torsion is None and not checks.problems:
            checks.wrong("bending", "nothing", "bending, torsion or both")
        checks.done()

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given: nothing; what is missing is left out by name."""
        return ()

    def __repr__(self) -> str:
        told = [f"{key} {value / 1000:.6g} kN m/rad" for key in ("bending", "torsion") if (value := getattr(self, key))]
        return f"LinkStiffness {self.name!r}: " + ", ".join(told)


Structure: TypeAlias = Tube | LinkStiffness


def carried_structure(pose: Array, told: Structure) -> Structure:
    """The same, told in a frame at ``pose`` in the link's frame. Ends that are not told stay so: they are joints."""
    moved: dict[str, Any] = {}
    for key in ("start", "end"):
        point = getattr(told, key)
        if point is not None:
            moved[key] = moved_point(pose, point)
    if isinstance(told, Tube) and told.up is not None:
        moved["up"] = pose[:3, :3] @ told.up
    return replace(told, **moved)
