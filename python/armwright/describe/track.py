"""A linear track: what slides, on what, and what pulls it."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from armwright.describe.arm import Link, check_drive, put_motion_limits, range_text
from armwright.describe.described import Checks, Described, put
from armwright.describe.drive import Drive
from armwright.describe.feed import FEEDS, BeltFeed, Feed, RackFeed, ScrewFeed
from armwright.describe.guide import Guide
from armwright.describe.pose import Array, shown_position, take_direction, take_pose
from armwright.describe.several import is_several
from armwright.describe.shapes import Shape, take_shapes
from armwright.describe.units import FORCE, LENGTH, Measured, VectorOf
from armwright.describe.wrong import shown
from armwright.errors import InputError

_RADII_APART = 0.02  # of the radius: less than a tooth of any pinion that is in use


@dataclass(frozen=True, eq=False, repr=False)
class Track(Described):
    """A linear track: a carriage that slides along ``axis`` (a direction in the track's frame). ``stroke``: a length
    (from 0), or (lower, upper), m. ``pose``: the track's frame in the world. ``carriage``: mass and shapes, in a frame
    parallel to the track's that moves along; ``rails``: shapes that stand still, in the track's frame. ``drive``: what
    moves it; forces stated here hold besides. ``speed``, ``acceleration``, ``jerk``: the greatest allowed, m/s, m/s²,
    m/s³. ``guide``: the rails and blocks; ``feed``: the rack, belt or screw that pulls it; None: not told.

    >>> aw.Track(axis="x", stroke="2.4 m", speed="1.1 m/s")
    Track: 0 to 2400 mm along (1, 0, 0), at (0, 0, 0) mm
    """

    axis: Any
    stroke: Any
    pose: Any = None
    carriage: Link = field(default_factory=lambda: Link("carriage"))
    rails: tuple[Shape, ...] = ()
    force_continuous: Any = math.inf
    force_peak: Any = None
    drive: Drive | None = None
    speed: Any = math.inf
    acceleration: Any = math.inf
    jerk: Any = math.inf
    guide: Guide | None = None
    feed: Feed | None = None

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            axis=checks.take("axis", take_direction, self.axis, np.array((1.0, 0, 0))),
            stroke=checks.take("stroke", take_stroke, self.stroke, (0.0, 1.0)),
            pose=checks.take("pose", take_pose, self.pose, np.eye(4)),
            rails=checks.take("rails", take_shapes, self.rails, ()),
            force_continuous=checks.take("force_continuous", _force, self.force_continuous, math.inf),
        )
        peak = self.force_continuous if self.force_peak is None else self.force_peak
        put(self, force_peak=checks.take("force_peak", _force, peak, math.inf))
        if not isinstance(self.carriage, Link):
            checks.wrong("carriage", shown(self.carriage), "a Link")
        if self.force_peak < self.force_continuous and not checks.problems:
            checks.wrong(
                "force_peak", f"{self.force_peak:.6g} N", f"at least the continuous one, {self.force_continuous:.6g} N"
            )
        put_motion_limits(self, checks, True)
        check_drive(self.drive, checks, True)
        self._check_guide(checks)
        self._check_feed(checks)
        checks.done()

    def _check_guide(self, checks: Checks) -> None:
        if isinstance(self.carriage, Link) and self.carriage.structure is not None:
            checks.wrong("carriage.structure", shown(self.carriage.structure.name), "none: a carriage counts as rigid")
        if self.guide is None:
            return
        if not isinstance(self.guide, Guide):
            checks.wrong("guide", shown(self.guide), "a Guide, or None")
        elif not checks.problems and np.linalg.norm(np.cross(self._up, self.axis)) < 0.1:
            checks.wrong("guide.up", "nothing" if self.guide.up is None else shown(self.guide.up.tolist()),
                         "a direction across the track's axis: where the carriage stands off its rails")  # fmt: skip

    def _check_feed(self, checks: Checks) -> None:
        """The feed is what the drive's last stage is, and its pinion as large as that has it."""
        if self.feed is None:
            return
        if not isinstance(self.feed, RackFeed | BeltFeed | ScrewFeed):
            checks.wrong("feed", shown(self.feed), "a RackFeed, a BeltFeed, a ScrewFeed, or None")
            return
        if not isinstance(self.drive, Drive) or not self.drive.stages or checks.problems:
            return
        last, kind = self.drive.stages[-1], FEEDS[type(self.feed)]
        if last.kind != kind:
            checks.wrong("feed.kind", shown(kind), f"what the last stage of the drive is: {last.kind}")
        elif isinstance(self.feed, RackFeed):
            radius = self.feed.radius()
            if radius is not None and abs(radius - last.radius) > _RADII_APART * last.radius:
                checks.wrong("feed.teeth", f"{self.feed.teeth:.6g}, which make a radius of {1000 * radius:.6g} mm",
                             f"the drive's, {1000 * last.radius:.6g} mm: {self.feed.teeth_at(last.radius):.4g} teeth, "
                             "or no teeth told")  # fmt: skip

    @property
    def lower(self) -> float:
        """Lower end of the stroke, m."""
        return float(self.stroke[0])

    @property
    def upper(self) -> float:
        """Upper end of the stroke, m."""
        return float(self.stroke[1])

    @property
    def _up(self) -> Array:
        told = self.guide.up if self.guide is not None else None
        return np.array((0.0, 0, 1)) if told is None else np.asarray(told)

    @property
    def guide_axes(self) -> Array:
        """The directions in which a guide is told, as columns, in the track's frame: along its axis, across (up x
        along), and up, made square to the axis."""
        across = np.cross(self._up, self.axis)
        across = across / np.linalg.norm(across)
        return np.column_stack((self.axis, across, np.cross(self.axis, across)))

    @property
    def pinion_radius(self) -> float | None:
        """Of the pitch circle of a rack's pinion, m: by the teeth told, else the drive's; None if neither is."""
        if not isinstance(self.feed, RackFeed):
            return None
        last = self.drive.stages[-1] if self.drive is not None and self.drive.stages else None
        return self.feed.radius() or (None if last is None or last.radius is None else float(last.radius))

    @property
    def pinion_teeth(self) -> float | None:
        """Of a rack's pinion, as told, else as its radius has it; None if neither is told."""
        if not isinstance(self.feed, RackFeed) or self.pinion_radius is None:
            return None
        return float(self.feed.teeth) if self.feed.teeth is not None else self.feed.teeth_at(self.pinion_radius)

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed of its drive, guide and feed because it was not given."""
        parts = (self.drive, self.guide, self.feed)
        return tuple(text for part in parts if part is not None for text in part.assumptions)

    def __repr__(self) -> str:
        axis = ", ".join(f"{v:.6g}" for v in self.axis + 0.0)
        return f"Track: {range_text('prismatic', *self.stroke)} along ({axis}), {shown_position(self.pose)}"


def _force(key: str, value: Any) -> float:
    return math.inf if isinstance(value, float) and value == math.inf else FORCE.si_value(key, value)


def take_stroke(key: str, value: Any) -> tuple[float, float]:
    lower: float
    upper: float
    if is_several(value):
        lower, upper = VectorOf(LENGTH, 2).si_value(key, value)
    else:
        lower, upper = Measured(0.0, 0.0, LENGTH.si), LENGTH.si_value(key, value)
    if not lower < upper:
        raise InputError.of(
            key, range_text("prismatic", lower, upper), "a length above 0, or a lower end and a higher one"
        )
    return lower, upper
