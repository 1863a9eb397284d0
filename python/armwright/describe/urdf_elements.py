"""The links and joints of a URDF file, read off the XML with every number checked."""

from __future__ import annotations

import difflib
import math
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from armwright.describe.body import Body, check_inertia, moved_body
from armwright.describe.pose import Array, make_pose, roll_pitch_yaw
from armwright.describe.units import LARGEST
from armwright.describe.wrong import shown
from armwright.errors import InputError, Problem

MOVING = ("revolute", "continuous", "prismatic")
_KINDS = (*MOVING, "fixed", "floating", "planar")


@dataclass
class UrdfJoint:
    name: str
    kind: str
    parent: str
    child: str
    pose: Array
    axis: Array
    lower: float
    upper: float
    effort: float
    speed: float
    rubs: bool
    mimics: str
    line: int


@dataclass
class UrdfLink:
    name: str
    line: int
    element: Any
    body: Body = field(default_factory=lambda: (0.0, np.zeros(3), np.zeros((3, 3))))
    children: list[UrdfJoint] = field(default_factory=list)
    parent: UrdfJoint | None = None


class Reader:
    """Reads numbers and names off XML elements, keeping what is wrong with its line."""

    def __init__(self, file: str):
        self.file = file
        self.problems: list[Problem] = []
        self.notes: list[str] = []

    def wrong(self, element: Any, key: str, value: str, expected: str, meant: str = "") -> None:
        line = getattr(element, "sourceline", None) if element is not None else None
        self.problems.append(Problem(key, value, expected, meant, self.file, line))

    def numbers(self, element: Any, key: str, attribute: str, count: int, otherwise: tuple[float, ...] | None) -> Array:
        """``count`` finite numbers; ``otherwise`` if the attribute is missing (None: it is needed)."""
        text = element.get(attribute) if element is not None else None
        blank = np.array(otherwise if otherwise is not None else (0.0,) * count, dtype=np.float64)
        if text is None:
            if otherwise is None:
                self.wrong(element, f"{key} {attribute}", "nothing", f"{count} numbers" if count > 1 else "a number")
            return blank
        try:
            values = np.array([float(part) for part in text.split()], dtype=np.float64)
        except ValueError:
            values = np.zeros(0)
        if len(values) != count or not (np.abs(values) <= LARGEST).all():
            what = f"{count} finite numbers, separated by blanks" if count > 1 else "a finite number"
            self.wrong(element, f"{key} {attribute}", shown(text), what)
            return blank
        return values

    def number(self, element: Any, key: str, attribute: str, otherwise: float | None) -> float:
        return float(self.numbers(element, key, attribute, 1, None if otherwise is None else (otherwise,))[0])

    def pose(self, element: Any, key: str) -> Array:
        """The pose of an element's <origin>; the identity if there is none."""
        origin = element.find("origin") if element is not None else None
        if origin is None:
            return np.eye(4)
        angles = self.numbers(origin, f"{key} origin", "rpy", 3, (0.0,) * 3)
        return make_pose(roll_pitch_yaw(list(angles)), self.numbers(origin, f"{key} origin", "xyz", 3, (0.0,) * 3))

    def done(self) -> None:
        if self.problems:
            raise InputError(self.problems)


def _named(reader: Reader, element: Any, what: str, known: dict[str, Any]) -> str:
    name = (element.get("name") or "").strip()
    if not name:
        reader.wrong(element, what, "no name", "a name")
    elif name in known:
        reader.wrong(element, f"{what} {name!r}", f"a second {what} of this name", "a different name for each")
    return name


def read_links(reader: Reader, root: Any) -> dict[str, UrdfLink]:
    links: dict[str, UrdfLink] = {}
    for element in root.findall("link"):
        name = _named(reader, element, "link", links)
        links[name] = UrdfLink(name, element.sourceline, element, _body(reader, element, f"link {name!r}"))
    if not links:
        reader.wrong(root, "link", "no links", "at least two links")
    return links


def _body(reader: Reader, link: Any, key: str) -> Body:
    inertial = link.find("inertial")
    none = (0.0, np.zeros(3), np.zeros((3, 3)))
    if inertial is None:
        return none
    mass_element = inertial.find("mass")
    if mass_element is None:
        reader.wrong(inertial, f"{key} mass", "nothing", "a mass")
        return none
    mass = reader.number(mass_element, f"{key} mass", "value", None)
    if mass < 0:
        reader.wrong(mass_element, f"{key} mass", f"{mass:g} kg", "0 kg or more")
    tensor = np.zeros((3, 3))
    element = inertial.find("inertia")
    if element is not None:
        xx, yy, zz = (reader.number(element, f"{key} inertia", a, None) for a in ("ixx", "iyy", "izz"))
        xy, xz, yz = (reader.number(element, f"{key} inertia", a, 0.0) for a in ("ixy", "ixz", "iyz"))
        tensor = np.array([[xx, xy, xz], [xy, yy, yz], [xz, yz, zz]])
        try:
            check_inertia(f"{key} inertia", tensor)
        except InputError as error:
            reader.wrong(element, error.problems[0].key, error.problems[0].value, error.problems[0].expected)
    else:
        reader.notes.append(f"{key} has no inertia: it counts as a point mass")
    if mass == 0 and tensor.any():
        reader.notes.append(f"{key} has moments of inertia but no mass: they do not count")
    return moved_body(reader.pose(inertial, f"{key} inertial"), (mass, np.zeros(3), tensor))


def read_joints(reader: Reader, root: Any) -> list[UrdfJoint]:
    joints: dict[str, UrdfJoint] = {}
    for element in root.findall("joint"):
        name = _named(reader, element, "joint", joints)
        key = f"joint {name!r}"
        kind = (element.get("type") or "").strip()
        if kind not in _KINDS:
            near = difflib.get_close_matches(kind.lower(), _KINDS, 1, 0.6)
            reader.wrong(element, f"{key} type", shown(kind), f"one of {', '.join(_KINDS)}", near[0] if near else "")
        ends = []
        for what in ("parent", "child"):
            found = element.find(what)
            link = (found.get("link") or "").strip() if found is not None else ""
            if not link:
                reader.wrong(element, f"{key} {what}", "nothing", "the name of a link")
            ends.append(link)
        axis = reader.numbers(element.find("axis"), f"{key} axis", "xyz", 3, (1.0, 0.0, 0.0))
        length = float(np.linalg.norm(axis))
        if kind in MOVING and length < 1e-9:
            reader.wrong(element.find("axis"), f"{key} axis", "0 0 0", "a direction, not all 0")
        lower, upper, effort = _limits(reader, element, key, kind)
        speed = _speed(reader, element, key, kind)
        mimic = element.find("mimic")
        mimics = (mimic.get("joint") or "?") if mimic is not None else ""
        joints[name] = UrdfJoint(
            name,
            kind,
            ends[0],
            ends[1],
            reader.pose(element, key),
            axis / (length or 1.0),
            lower,
            upper,
            effort,
            speed,
            _rubs(reader, element, key),
            mimics,
            element.sourceline,
        )
    return list(joints.values())


def _limits(reader: Reader, element: Any, key: str, kind: str) -> tuple[float, float, float]:
    """Lower, upper, effort; without end for continuous joints; an effort of 0 or none is no limit, and noted."""
    limit = element.find("limit")
    lower, upper, effort = -math.inf, math.inf, math.inf
    if kind not in MOVING:
        return lower, upper, effort
    if kind != "continuous":
        if limit is None:
            reader.wrong(element, f"{key} limit", "nothing", f"a limit: a {kind} joint has one")
            return lower, upper, effort
        lower = reader.number(limit, f"{key} limit", "lower", 0.0)
        upper = reader.number(limit, f"{key} limit", "upper", 0.0)
        if lower > upper:
            reader.wrong(
                limit, f"{key} limit", f"lower {lower:g}, upper {upper:g}", "a lower limit below the upper one"
            )
    told = reader.number(limit, f"{key} limit", "effort", 0.0) if limit is not None else 0.0
    if told < 0:
        reader.wrong(limit, f"{key} limit effort", f"{told:g}", "more than 0 (0: not stated)")
    elif told > 0:
        effort = told
    return lower, upper, effort


def _speed(reader: Reader, element: Any, key: str, kind: str) -> float:
    """The greatest speed, rad/s or m/s; a velocity of 0 or none is no limit."""
    limit = element.find("limit")
    if kind not in MOVING or limit is None:
        return math.inf
    told = reader.number(limit, f"{key} limit", "velocity", 0.0)
    if told < 0:
        reader.wrong(limit, f"{key} limit velocity", f"{told:g}", "more than 0 (0: not stated)")
    return told if told > 0 else math.inf


def _rubs(reader: Reader, element: Any, key: str) -> bool:
    """Whether damping or friction is told."""
    dynamics = element.find("dynamics")
    if dynamics is None:
        return False
    told = [reader.number(dynamics, f"{key} dynamics", word, 0.0) for word in ("damping", "friction")]
    if min(told) < 0:
        reader.wrong(dynamics, f"{key} dynamics", f"{min(told):g}", "0 or more")
    return max(told) > 0
