"""An arm: joints from the base out, and the link that each of them moves."""

from __future__ import annotations

import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from armwright.describe.bearing import Bearing, BearingPair, SlewingBearing
from armwright.describe.body import Body, take_inertia
from armwright.describe.counterbalance import Counterbalance
from armwright.describe.coupling import take_coupling
from armwright.describe.described import Checks, Described, check_names, put, take_all
from armwright.describe.drive import Drive
from armwright.describe.drive_units import MOTION_LIMITS, or_unlimited
from armwright.describe.pose import Array, take_direction, take_pose, take_position
from armwright.describe.quantity_text import counted
from armwright.describe.shapes import Picture, Shape, take_name, take_shapes
from armwright.describe.structure import LinkStiffness, Structure, Tube, check_line
from armwright.describe.units import ANGLE, FORCE, LENGTH, MASS, TORQUE, Kind, VectorOf
from armwright.describe.wrong import shown
from armwright.errors import InputError

joint_limit = 12
KINDS = ("revolute", "prismatic")


@dataclass(frozen=True, eq=False, repr=False)
class Link(Described):
    """A rigid part. ``mass`` kg; ``centre`` its centre of gravity, m, and ``inertia`` (3x3, kg m², about that centre,
    axes parallel to the link's frame) in the link's frame: the joint's frame, moved. No inertia given means a point
    mass at the centre. ``frame``: the frame that link poses are told of, in the link's frame; a DH row's frame, say.
    ``structure``: a Tube or LinkStiffness, by which it bends; None: not told.

    >>> aw.Link("forearm", mass="4.2 kg ± 5 %", centre=("0 mm", "0 mm", "180 mm"))
    Link 'forearm': 4.2 kg, 0 shapes
    """

    name: str = "link"
    mass: Any = 0.0
    centre: Any = (0.0, 0.0, 0.0)
    inertia: Any = None
    shapes: tuple[Shape, ...] = ()
    pictures: tuple[Picture, ...] = ()
    frame: Any = None
    structure: Structure | None = None

    def __post_init__(self) -> None:
        checks = Checks(self)
        put_body(self, checks)
        if self.structure is not None and not isinstance(self.structure, Tube | LinkStiffness):
            checks.wrong("structure", shown(self.structure), "a Tube, a LinkStiffness, or None")
        put(self, frame=checks.take("frame", take_pose, self.frame, np.eye(4)))
        checks.done()

    @property
    def body(self) -> Body:
        """Mass, centre of gravity and inertia about it, in the link's frame."""
        return float(self.mass), self.centre, self.inertia

    def __repr__(self) -> str:
        return f"Link {self.name!r}: {self.mass:.6g} kg, {counted(len(self.shapes), 'shape')}"


def put_body(owner: Any, checks: Checks, mass: Kind = MASS) -> None:
    """Reads name, mass, centre, inertia and shapes, which links, tools and loads share."""
    put(
        owner,
        name=checks.take("name", take_name, owner.name, ""),
        mass=checks.take("mass", mass.si_value, owner.mass, 1.0),
        centre=checks.take("centre", take_position, owner.centre, np.zeros(3)),
        inertia=checks.take("inertia", take_inertia, owner.inertia, np.zeros((3, 3))),
        shapes=checks.take("shapes", take_shapes, owner.shapes, ()),
    )
    if owner.mass == 0 and owner.inertia.any():
        checks.wrong("inertia", "moments of inertia of a mass of 0 kg", "a mass above 0, or no inertia")


@dataclass(frozen=True, eq=False, repr=False)
class Joint(Described):
    """A joint and what it can hold. ``placement`` is the joint's frame in the frame of the link before, at zero;
    ``axis`` a direction in the joint's frame. ``range`` (lower, upper) and torques: rad and N m for a revolute joint,
    m and N for a prismatic one. ``range`` None: turns without end (revolute only). A torque left out is no limit.
    ``drive``: what turns it; torques stated here hold besides. ``speed``, ``acceleration``, ``jerk``: the greatest
    allowed, rad/s, rad/s², rad/s³ (m/s and so on); left out: no limit but the drive's. ``bearing``: what carries a
    revolute joint, a SlewingBearing or BearingPair; None: not told.

    >>> aw.Joint("axis 1", placement=(0, 0, 0.4), axis="z", range=("-170 deg", "170 deg"), torque_continuous="180 N*m")
    Joint 'axis 1': revolute, -170 to 170 deg, holds 180 N m, peak 180 N m
    """

    name: str = "axis"
    kind: str = "revolute"
    placement: Any = None
    axis: Any = "z"
    range: Any = None
    torque_continuous: Any = math.inf
    torque_peak: Any = None
    drive: Drive | None = None
    speed: Any = math.inf
    acceleration: Any = math.inf
    jerk: Any = math.inf
    bearing: Bearing | None = None

    def __post_init__(self) -> None:
        checks = Checks(self)
        if self.kind not in KINDS:
            checks.wrong("kind", shown(self.kind), " or ".join(KINDS))
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            placement=checks.take("placement", take_pose, self.placement, np.eye(4)),
            axis=checks.take("axis", take_direction, self.axis, np.array((0.0, 0, 1))),
            range=checks.take("range", self._range, self.range, (-1.0, 1.0)),
            torque_continuous=checks.take("torque_continuous", self._torque, self.torque_continuous, math.inf),
        )
        peak = self.torque_continuous if self.torque_peak is None else self.torque_peak
        put(self, torque_peak=checks.take("torque_peak", self._torque, peak, math.inf))
        if self.torque_peak < self.torque_continuous and not checks.problems:
            unit = "N" if self.kind == "prismatic" else "N m"
            checks.wrong("torque_peak", f"{self.torque_peak:.6g} {unit}",
                         f"at least the continuous one, {self.torque_continuous:.6g} {unit}")  # fmt: skip
        put_motion_limits(self, checks, self.kind == "prismatic")
        check_drive(self.drive, checks, self.kind == "prismatic")
        check_bearing(self.bearing, checks, self.kind == "prismatic")
        checks.done()

    def _torque(self, key: str, value: Any) -> float:
        if isinstance(value, float) and value == math.inf:
            return math.inf
        return (FORCE if self.kind == "prismatic" else TORQUE).si_value(key, value)

    def _range(self, key: str, value: Any) -> tuple[float, float]:
        sliding = self.kind == "prismatic"
        if value is None:
            if sliding:
                raise InputError.of(key, "none", "two lengths: a prismatic joint needs a stroke")
            return -math.inf, math.inf
        if isinstance(value, tuple) and value == (-math.inf, math.inf) and not sliding:
            return value
        lower, upper = VectorOf(LENGTH if sliding else ANGLE, 2).si_value(key, value)
        if not lower < upper:
            raise InputError.of(key, range_text(self.kind, lower, upper), "a lower limit below the upper one")
        return lower, upper

    @property
    def lower(self) -> float:
        """Lower limit, rad or m; minus infinity if it turns without end."""
        return float(self.range[0])

    @property
    def upper(self) -> float:
        """Upper limit, rad or m; infinity if it turns without end."""
        return float(self.range[1])

    def __repr__(self) -> str:
        unit = "N" if self.kind == "prismatic" else "N m"
        held = f"{self.torque_continuous:.6g} {unit}, peak {self.torque_peak:.6g} {unit}"
        held = "no limit" if self.torque_peak == math.inf else held
        drive = f", {self.drive!r}" if self.drive is not None else ""
        return f"Joint {self.name!r}: {self.kind}, {range_text(self.kind, *self.range)}, holds {held}{drive}"


def put_motion_limits(owner: Any, checks: Checks, sliding: bool) -> None:
    """Reads speed, acceleration and jerk limits, which joints and tracks share."""
    put(owner, **{key: checks.take(key, or_unlimited(kinds[sliding]), getattr(owner, key), math.inf)
                  for key, kinds in MOTION_LIMITS.items()})  # fmt: skip


def check_drive(drive: Any, checks: Checks, sliding: bool) -> None:
    """Refuses a drive whose output turns where the joint slides, and the reverse."""
    if drive is None:
        return
    if not isinstance(drive, Drive):
        checks.wrong("drive", shown(drive), "a Drive, or None")
    elif drive.slides != sliding:
        last = f"stages[{len(drive.stages) - 1}].kind" if drive.stages else "stages"
        checks.wrong(f"drive.{last}", shown(drive.stages[-1].kind) if drive.stages else "none",
                     "a last stage that slides: a screw, a rack, or a belt with the radius of its pulley"
                     if sliding else "a last stage that turns, because the joint does")  # fmt: skip


def check_bearing(bearing: Any, checks: Checks, sliding: bool) -> None:
    """Refuses what is no bearing, and a bearing of a joint that slides."""
    if bearing is None:
        return
    if not isinstance(bearing, SlewingBearing | BearingPair):
        checks.wrong("bearing", shown(bearing), "a SlewingBearing, a BearingPair, or None")
    elif sliding:
        checks.wrong("bearing", shown(bearing.name), "none: the bearings here are those of joints that turn")


def range_text(kind: str, lower: float, upper: float) -> str:
    if lower == -math.inf:
        return "turns without end"
    if kind == "prismatic":
        return f"{1000 * lower:.6g} to {1000 * upper:.6g} mm"
    return f"{math.degrees(lower):.6g} to {math.degrees(upper):.6g} deg"


@dataclass(frozen=True, eq=False, repr=False)
class ArmDescription(Described):
    """An arm. Joint i moves link i; ``base_link`` stands still. ``flange`` is the tool flange in the last link's
    frame. ``coupling``: n rows of n numbers, where the drives run through one another (a belt through a wrist): joint
    positions = coupling · drive positions; None: each drive turns its own joint. ``counterbalances``: springs and
    masses. ``notes`` tell what was decided while a file was read; ``source`` is that file.

    >>> arm.description.joints[0].name, round(arm.description.mass, 1)   # kg
    ('axis 1', 79.0)
    """

    joints: tuple[Joint, ...]
    links: tuple[Link, ...]
    name: str = "arm"
    base_link: Link = field(default_factory=lambda: Link("base"))
    flange: Any = None
    coupling: Any = None
    counterbalances: tuple[Counterbalance, ...] = ()
    notes: tuple[str, ...] = field(default=(), compare=False)
    source: str = field(default="", compare=False)

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            joints=checks.take("joints", lambda k, v: take_all(k, v, Joint), self.joints, ()),
            links=checks.take("links", lambda k, v: take_all(k, v, Link), self.links, ()),
            flange=checks.take("flange", take_pose, self.flange, np.eye(4)),
            counterbalances=checks.take(
                "counterbalances", lambda k, v: take_all(k, v, Counterbalance), self.counterbalances, ()
            ),
            notes=tuple(self.notes),
        )
        if not isinstance(self.base_link, Link):
            checks.wrong("base_link", shown(self.base_link), "a Link")
        if not checks.problems:
            if not 1 <= len(self.joints) <= joint_limit:
                checks.wrong("joints", f"{len(self.joints)} joints", f"1 to {joint_limit}")
            if len(self.links) != len(self.joints):
                checks.wrong("links", f"{len(self.links)} links", f"one for each of {len(self.joints)} joints")
            check_names(checks, "joints", [joint.name for joint in self.joints])
            check_names(checks, "links", [link.name for link in (self.base_link, *self.links)])
            check_names(checks, "counterbalances", [item.name for item in self.counterbalances])
            for i, item in enumerate(self.counterbalances):
                checks.take(f"counterbalances[{i}]", item.check_links, self.link_names, None)
            self._check_structures(checks)
            put(self, coupling=checks.take("coupling", take_coupling(self.joint_names), self.coupling, None))
        checks.done()

    def _check_structures(self, checks: Checks) -> None:
        """Each has a length, from its start, or the link's joint, to its end, or the next joint (the flange); and the
        height of a section is across it."""
        for i, link in enumerate((self.base_link, *self.links)):
            key = "base_link.structure" if i == 0 else f"links[{i - 1}].structure"
            if link.structure is not None:
                check_line(checks, *self.structure_line(i - 1), link.structure, key)

    def structure_line(self, link: int) -> tuple[Array, Array]:
        """The two ends of the structure of a link (-1: the base's), m, in the link's frame: as told, else its joint and
        the next one's origin (the flange's, of the last link)."""
        told = (self.base_link if link < 0 else self.links[link]).structure
        following = self.joints[link + 1].placement if link + 1 < len(self.joints) else self.flange
        start, end = getattr(told, "start", None), getattr(told, "end", None)
        return (np.zeros(3) if start is None else np.array(start),
                np.array(following[:3, 3]) if end is None else np.array(end))  # fmt: skip

    @property
    def joint_names(self) -> tuple[str, ...]:
        """From the base out."""
        return tuple(joint.name for joint in self.joints)

    @property
    def link_names(self) -> tuple[str, ...]:
        """The base first."""
        return self.base_link.name, *(link.name for link in self.links)

    @property
    def tubes(self) -> tuple[Link, ...]:
        """The links that are described as tubes, the base among them."""
        return tuple(link for link in (self.base_link, *self.links) if isinstance(link.structure, Tube))

    @property
    def mass(self) -> float:
        """Of the links that move and the base, and of counterbalance masses, kg."""
        links = sum(link.mass for link in (self.base_link, *self.links))
        return float(links + sum(item.mass or 0.0 for item in self.counterbalances))

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed of drives, bearings, links and counterbalances because it was not given."""
        owners: list[tuple[str, Any]] = []
        for joint in self.joints:
            owners += [(joint.name, joint.drive), (joint.name, joint.bearing)]
        owners += [(link.name, link.structure) for link in (self.base_link, *self.links)]
        assumed = [f"{name}: {text}" for name, part in owners if part is not None for text in part.assumptions]
        return tuple(assumed + [text for item in self.counterbalances for text in item.assumptions])

    def __repr__(self) -> str:
        text = f"ArmDescription {self.name!r}: {len(self.joints)} joints, {self.mass:.6g} kg"
        return text + assumptions_text(self.assumptions)


def assumptions_text(assumptions: tuple[str, ...]) -> str:
    """For a repr: how many things were assumed, if any were."""
    count = len(assumptions)
    return f", {count} assumption{'s' if count > 1 else ''} (see .assumptions)" if count else ""
