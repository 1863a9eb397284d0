"""A cell: the arm, where it stands, what it carries, what stands about, and the work points."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from typing import Any

import numpy as np

from armwright.describe.arm import ArmDescription, assumptions_text, put_body, range_text
from armwright.describe.base import Base
from armwright.describe.described import Checks, Described, check_names, put, take_all
from armwright.describe.lifting import LiftingEye
from armwright.describe.point_masses import point_masses
from armwright.describe.pose import make_pose, pointing, shown_position, take_direction, take_pose, take_position
from armwright.describe.service import ServiceVolume
from armwright.describe.shape_names import numbered
from armwright.describe.shapes import Shape, take_name, take_shapes
from armwright.describe.supply import Supply
from armwright.describe.toleranced import array_of
from armwright.describe.track import Track
from armwright.describe.units import ACCELERATION, ANGLE, DISTANCE, MASS, TILT, VectorOf
from armwright.describe.wrong import Wrong, shown
from armwright.errors import InputError

standard_gravity = (0.0, 0.0, -9.80665)  # m/s²
LOAD_MASS = replace(MASS, least=None, above=0.0)


@dataclass(frozen=True, eq=False, repr=False)
class Tool(Described):
    """What is bolted to the flange. ``tool_point``: the tool frame in the flange's frame; its z axis is the tool's
    axis. ``mass``, ``centre``, ``inertia`` (about the centre) and ``shapes`` in the flange's frame.

    >>> aw.Tool((0, 0, 0.15), mass="1.2 kg", centre=(0, 0, 0.06))
    Tool 'tool': 1.2 kg, tool point at (0, 0, 150) mm
    """

    tool_point: Any = None
    mass: Any = 0.0
    centre: Any = (0.0, 0.0, 0.0)
    inertia: Any = None
    shapes: tuple[Shape, ...] = ()
    name: str = "tool"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(self, tool_point=checks.take("tool_point", take_pose, self.tool_point, np.eye(4)))
        put_body(self, checks)
        checks.done()

    def __repr__(self) -> str:
        return f"Tool {self.name!r}: {self.mass:.6g} kg, tool point {shown_position(self.tool_point)}"


@dataclass(frozen=True, eq=False, repr=False)
class Load(Described):
    """What the tool carries, told in the tool's frame: ``mass`` kg (above 0), ``centre`` of gravity m, ``inertia``
    about that centre (none given: a point mass).

    >>> aw.Load("6 kg", centre=("0 mm", "60 mm", "0 mm"), name="board of ware")
    Load 'board of ware': 6 kg, centre of gravity at (0, 60, 0) mm
    """

    mass: Any
    centre: Any = (0.0, 0.0, 0.0)
    inertia: Any = None
    shapes: tuple[Shape, ...] = ()
    name: str = "load"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put_body(self, checks, LOAD_MASS)
        checks.done()

    def __repr__(self) -> str:
        centre = ", ".join(f"{1000 * v:.6g}" for v in self.centre + 0.0)
        return f"Load {self.name!r}: {self.mass:.6g} kg, centre of gravity at ({centre}) mm"


@dataclass(frozen=True, eq=False, repr=False)
class Target(Described):
    """A work point: where the tool's frame must be, in the world, and what is free. ``free_spin``: any turn about the
    tool's z axis will do. ``tilt``: that axis may lean up to this half-angle (rad). ``position_tolerance``: m.
    ``load``: what is carried there instead of the cell's load. ``approach``, ``retract``: the straight ways to and from
    the point along the tool's axis, m.

    >>> aw.Target((0.7, 0, 0.4), name="on the table", free_spin=True, approach="100 mm")
    Target 'on the table': at (700, 0, 400) mm, free spin
    """

    pose: Any
    name: str = "target"
    free_spin: bool = False
    tilt: Any = 0.0
    position_tolerance: Any = 0.0
    load: Load | None = None
    approach: Any = 0.0
    retract: Any = 0.0

    def __post_init__(self) -> None:
        checks = Checks(self)
        if self.pose is None:
            checks.wrong("pose", "none", "a pose")
        put(
            self,
            pose=checks.take("pose", take_pose, self.pose, np.eye(4)),
            name=checks.take("name", take_name, self.name, ""),
            tilt=checks.take("tilt", TILT.si_value, self.tilt, 0.0),
            position_tolerance=checks.take("position_tolerance", DISTANCE.si_value, self.position_tolerance, 0.0),
            approach=checks.take("approach", DISTANCE.si_value, self.approach, 0.0),
            retract=checks.take("retract", DISTANCE.si_value, self.retract, 0.0),
        )
        if not isinstance(self.free_spin, bool | np.bool_):
            checks.wrong("free_spin", shown(self.free_spin), "True or False")
        put(self, free_spin=bool(self.free_spin))
        if self.load is not None and not isinstance(self.load, Load):
            checks.wrong("load", shown(self.load), "a Load")
        checks.done()

    @classmethod
    def pointing(
        cls, position: Any, direction: Any = "down", name: str = "target", spin: Any = None, **more: Any
    ) -> Target:
        """With the tool's z axis along ``direction``; its spin is free unless ``spin`` (rad) is given, counted from
        where the tool's x axis is as near as it can be to the world's."""
        checks = Checks("Target")
        at = checks.take("position", take_position, position, np.zeros(3))
        along = checks.take("direction", take_direction, direction, np.array((0.0, 0, 1)))
        turn = 0.0
        if spin is not None:
            try:
                turn = float(ANGLE.from_python(spin))
            except Wrong as wrong:
                checks.wrong("spin", shown(spin), wrong.expected, wrong.meant)
        checks.done()
        return cls(make_pose(pointing(along, turn), at), name, free_spin=spin is None, **more)

    def __repr__(self) -> str:
        freedom = ["free spin"] if self.free_spin else []
        freedom += [f"tilt up to {math.degrees(self.tilt):.6g} deg"] if self.tilt else []
        return f"Target {self.name!r}: {shown_position(self.pose)}" + "".join(f", {text}" for text in freedom)


@dataclass(frozen=True, eq=False, repr=False)
class CellDescription(Described):
    """A cell. ``mount``: the arm's base in the world, or on the carriage if there is a track; any attitude.
    ``fixtures``: shapes in the world. ``gravity``: m/s², in the world. ``ignored_pairs``: names of links and
    fixtures that are never checked against each other. ``base``: how the arm is bolted down, or stands; ``lifting``:
    eyes by which the arm is lifted; ``service``: room that motors need to be reached and taken out.

    >>> bolted = aw.Cell.from_description(replace(cell.description, track=None, mount=(1, 0, 0.12)))
    >>> cell.joint_count, bolted.joint_count
    (7, 6)
    """

    arm: ArmDescription
    track: Track | None = None
    fixtures: tuple[Shape, ...] = ()
    tool: Tool | None = None
    load: Load | None = None
    targets: tuple[Target, ...] = ()
    mount: Any = None
    gravity: Any = standard_gravity
    ignored_pairs: tuple[tuple[str, str], ...] = ()
    name: str = "cell"
    supply: Supply | None = None
    base: Base | None = None
    lifting: tuple[LiftingEye, ...] = ()
    service: tuple[ServiceVolume, ...] = ()
    source: str = field(default="", compare=False)

    def __post_init__(self) -> None:
        checks = Checks(self)
        parts = {"arm": ArmDescription, "track": Track, "tool": Tool, "load": Load, "supply": Supply,
                 "base": Base}
        for name, kind in parts.items():
            value = getattr(self, name)
            if not isinstance(value, kind) and (value is not None or name == "arm"):
                checks.wrong(name, shown(value), f"a {kind.__name__}" + ("" if name == "arm" else " or None"))
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            fixtures=numbered(checks.take("fixtures", take_shapes, self.fixtures, ())),
            targets=checks.take("targets", lambda k, v: take_all(k, v, Target), self.targets, ()),
            lifting=checks.take("lifting", lambda k, v: take_all(k, v, LiftingEye), self.lifting, ()),
            service=checks.take("service", lambda k, v: take_all(k, v, ServiceVolume), self.service, ()),
            mount=checks.take("mount", take_pose, self.mount, np.eye(4)),
            ignored_pairs=checks.take("ignored_pairs", _pairs, self.ignored_pairs, ()),
            gravity=array_of(checks.take("gravity", VectorOf(ACCELERATION).si_value, self.gravity, standard_gravity)),
        )
        if not checks.problems:
            check_names(checks, "fixtures", [shape.name for shape in self.fixtures])
            check_names(checks, "targets", [target.name for target in self.targets])
            if self.track is not None and "track" in self.arm.joint_names:
                checks.wrong("arm", 'a joint named "track"', "another name: the track's joint has this one")
            self._check_parts(checks)
        checks.done()

    def _check_parts(self, checks: Checks) -> None:
        """Eyes and service volumes are on links of the arm; a base on a carriage does not stand freely."""
        check_names(checks, "lifting", [eye.name for eye in self.lifting])
        check_names(checks, "service", [str(volume.name) for volume in self.service])
        for i, eye in enumerate(self.lifting):
            checks.take(f"lifting[{i}]", eye.check_links, self.arm.link_names, None)
        for i, volume in enumerate(self.service):
            checks.take(f"service[{i}]", self._check_volume, volume, None)
        if self.track is not None and self.base is not None and self.base.free_standing:
            checks.wrong("base.free_standing", "True", "False: the arm stands on the track's carriage")

    def _check_volume(self, key: str, volume: ServiceVolume) -> None:
        # "track" and "carriage" hold without a track too: what is on it comes back with it.
        carriage = () if self.track is None or self.track.carriage.name == "carriage" else (self.track.carriage.name,)
        volume.check_names(key, (*self.arm.link_names, "carriage", *carriage), (*self.arm.joint_names, "track"))

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given: of the arm, the track and the base; what was decided while the
        arm's file was read, before all."""
        track = self.track.assumptions if self.track is not None else ()
        base = self.base.assumptions if self.base is not None else ()
        told = (*self.arm.notes, *self.arm.assumptions, *(f"track: {text}" for text in track), *base)
        return told + (point_masses((*self.arm.links, self.tool, self.load)) if self._driven else ())

    @property
    def _driven(self) -> bool:
        """Whether any drive is told, so that how it moves is asked too."""
        own = self.track is not None and self.track.drive is not None
        return own or any(joint.drive is not None for joint in self.arm.joints)

    def __repr__(self) -> str:
        track = f", track {range_text('prismatic', *self.track.stroke)}" if self.track else ""
        return (
            f"CellDescription {self.name!r}: {self.arm.name!r}{track}, {len(self.fixtures)} fixtures, "
            f"{len(self.targets)} targets{assumptions_text(self.assumptions)}"
        )


def _pairs(key: str, value: Any) -> tuple[tuple[str, str], ...]:
    expected = "pairs of names"
    if isinstance(value, str) or not hasattr(value, "__iter__"):
        raise InputError.of(key, shown(value), expected)
    pairs = []
    for i, pair in enumerate(value):
        if isinstance(pair, str) or not hasattr(pair, "__iter__") or len(names := tuple(pair)) != 2:
            raise InputError.of(f"{key}[{i}]", shown(pair), expected)
        pairs.append((take_name(f"{key}[{i}][0]", names[0]), take_name(f"{key}[{i}][1]", names[1])))
    return tuple(pairs)
