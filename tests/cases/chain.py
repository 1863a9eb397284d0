"""A plain description of a serial arm, told once and handed to everybody: to armwright as a URDF, to pinocchio and to
eaik through their own interfaces. Nothing here uses armwright, so that a check compares two readings of the same
numbers."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any
from xml.sax.saxutils import quoteattr

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Capsule:
    """On a link: along z of its pose, ``length`` between the centres of the caps, m."""

    radius: float
    length: float
    pose: Array


@dataclass(frozen=True)
class Link:
    """A joint and the link that it moves; link frame = joint frame. SI."""

    placement: Array  # joint frame in the link frame before, at zero
    axis: tuple[float, float, float] = (0.0, 0.0, 1.0)
    kind: str = "revolute"
    lower: float = -math.pi
    upper: float = math.pi
    effort: float = 1e3
    mass: float = 0.0
    centre: Array = field(default_factory=lambda: np.zeros(3))
    inertia: Array = field(default_factory=lambda: np.zeros((3, 3)))  # about the centre
    capsules: tuple[Capsule, ...] = ()
    name: str = ""


@dataclass(frozen=True)
class Chain:
    name: str
    links: tuple[Link, ...]
    tool: Array = field(default_factory=lambda: np.eye(4))  # in the last link's frame

    @property
    def count(self) -> int:
        return len(self.links)

    def limits(self) -> tuple[Array, Array]:
        return np.array([link.lower for link in self.links]), np.array([link.upper for link in self.links])

    def joint_name(self, i: int) -> str:
        return self.links[i].name or f"joint {i + 1}"

    def tool_pose(self, q: Array) -> Array:
        """Our own slow forward kinematics, by matrices, for drawing up cases."""
        X = np.eye(4)
        for link, value in zip(self.links, q, strict=True):
            X = X @ link.placement @ motion(link, value)
        return X @ self.tool

    def urdf(self) -> str:
        rows = [f"<robot name={quoteattr(self.name)}>", '  <link name="base"/>']
        parent = "base"
        for i, link in enumerate(self.links):
            child = f"link {i + 1}"
            rows += _link_rows(child, link)
            rows += _joint_rows(self.joint_name(i), link, parent, child)
            parent = child
        rows += [
            '  <link name="tool"/>', '  <joint name="tool mount" type="fixed">', f'    <parent link="{parent}"/>',
            '    <child link="tool"/>', f"    {origin(self.tool)}", "  </joint>", "</robot>", "",
        ]  # fmt: skip
        return "\n".join(rows)

    def write_urdf(self, folder: Path) -> Path:
        path = folder / f"{self.name.replace(' ', '_')}.urdf"
        path.write_text(self.urdf(), encoding="utf-8")
        return path

    def toml(self) -> str:
        """As an arm file: origins and axes, units in the values, capsules on the links."""
        rows = [f'name = "{self.name}"', f"flange = {_toml_pose(self.tool)}", ""]
        for i, link in enumerate(self.links):
            rows += _toml_joint(self.joint_name(i), link)
        return "\n".join(rows)

    def write_toml(self, folder: Path) -> Path:
        path = folder / f"{self.name.replace(' ', '_')}.toml"
        path.write_text(self.toml(), encoding="utf-8")
        return path

    def eaik_numbers(self) -> tuple[Array, Array, Array]:
        """Axes H (6, 3), offsets P (7, 3) between them, and the turn of the end frame at zero (3, 3)."""
        X, last = np.eye(4), np.zeros(3)
        H, P = [], []
        for link in self.links:
            X = X @ link.placement
            H.append(X[:3, :3] @ np.asarray(link.axis))
            P.append(X[:3, 3] - last)
            last = X[:3, 3]
        X = X @ self.tool
        P.append(X[:3, 3] - last)
        return np.array(H), np.array(P), X[:3, :3].copy()

    def without(self, first: int) -> Chain:
        """The chain less its first joints, from its own base on."""
        return replace(self, links=self.links[first:])


def motion(link: Any, value: float) -> Array:
    """The pose of a moved joint frame in the joint frame; of a Link, or of any joint with a kind and an axis."""
    X = np.eye(4)
    if link.kind == "prismatic":
        X[:3, 3] = value * np.asarray(link.axis)
        return X
    x, y, z = link.axis
    K = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    X[:3, :3] = np.eye(3) + math.sin(value) * K + (1 - math.cos(value)) * (K @ K)
    return X


def pose(xyz: Any = (0, 0, 0), rpy: Any = (0, 0, 0)) -> Array:
    """From a position (m) and roll, pitch, yaw (rad) about fixed axes, as URDF has it."""
    r, p, y = rpy
    cr, sr, cp, sp, cy, sy = math.cos(r), math.sin(r), math.cos(p), math.sin(p), math.cos(y), math.sin(y)
    X = np.eye(4)
    X[:3, :3] = [
        [cy * cp, cy * sp * sr - sy * cr, cy * sp * cr + sy * sr],
        [sy * cp, sy * sp * sr + cy * cr, sy * sp * cr - cy * sr],
        [-sp, cp * sr, cp * cr],
    ]
    X[:3, 3] = xyz
    return X


def dh(a: float, alpha: float, d: float, theta: float = 0.0) -> Array:
    """Standard Denavit-Hartenberg: Rz(theta) Tz(d) Tx(a) Rx(alpha)."""
    ct, st, ca, sa = math.cos(theta), math.sin(theta), math.cos(alpha), math.sin(alpha)
    if abs(ca) < 1e-15:
        ca = 0.0  # a quarter turn exactly
    return np.array([[ct, -st * ca, st * sa, a * ct], [st, ct * ca, -ct * sa, a * st], [0, sa, ca, d], [0, 0, 0, 1]])


def from_dh(name: str, rows: list[dict[str, Any]]) -> Chain:
    """From standard DH rows: keys a, alpha, d, and lower, upper, effort, mass, centre, inertia (link frame = the DH
    frame behind the joint, as in the tables)."""
    before, links = np.eye(4), []
    for row in rows:
        step = dh(row.get("a", 0.0), row.get("alpha", 0.0), row.get("d", 0.0))
        R = step[:3, :3]
        tensor = np.asarray(row.get("inertia", np.zeros((3, 3))), float)
        keep = {key: row[key] for key in ("lower", "upper", "effort", "mass") if key in row}
        centre = R @ np.asarray(row.get("centre", (0, 0, 0)), float) + step[:3, 3]
        links.append(Link(placement=before, centre=centre, inertia=R @ tensor @ R.T, **keep))
        before = step
    return Chain(name, tuple(links), before)


def rod(mass: float, length: float, radius: float = 0.05) -> Array:
    """The inertia of a solid round bar along x, about its centre."""
    across = mass * (length**2 / 12 + radius**2 / 4)
    return np.diag([mass * radius**2 / 2, across, across])


def _numbers(values: Any) -> str:
    return " ".join(repr(float(v)) for v in values)


def rpy_of(R: Array) -> tuple[float, float, float]:
    pitch = math.atan2(-R[2, 0], math.hypot(R[0, 0], R[1, 0]))
    if math.hypot(R[0, 0], R[1, 0]) < 1e-9:
        return math.atan2(-R[1, 2], R[1, 1]), pitch, 0.0
    return math.atan2(R[2, 1], R[2, 2]), pitch, math.atan2(R[1, 0], R[0, 0])


def origin(X: Array) -> str:
    return f'<origin xyz="{_numbers(X[:3, 3])}" rpy="{_numbers(rpy_of(X[:3, :3]))}"/>'


def _toml_pose(X: Array) -> str:
    position = ", ".join(f'"{float(v)!r} m"' for v in X[:3, 3])
    angles = ", ".join(f'"{float(v)!r} rad"' for v in rpy_of(X[:3, :3]))
    return f"{{ position = [{position}], roll_pitch_yaw = [{angles}] }}"


def _toml_joint(name: str, link: Link) -> list[str]:
    slides = link.kind == "prismatic"
    unit, held, torque = ("m", "force", "N") if slides else ("rad", "torque", "N*m")
    endless = not math.isfinite(link.lower)
    limits = '"endless"' if endless else f'["{float(link.lower)!r} {unit}", "{float(link.upper)!r} {unit}"]'
    rows = [
        "[[joint]]", f'name = "{name}"', f'kind = "{link.kind}"', f"origin = {_toml_pose(link.placement)}",
        f"axis = [{', '.join(repr(float(v)) for v in link.axis)}]", f"range = {limits}",
        f'{held} = "{float(link.effort)!r} {torque}"', "[joint.link]", f'mass = "{float(link.mass)!r} kg"',
        "centre = [" + ", ".join(f'"{float(v)!r} m"' for v in link.centre) + "]",
    ]  # fmt: skip
    if np.any(link.inertia):
        at = {"xx": (0, 0), "yy": (1, 1), "zz": (2, 2), "xy": (0, 1), "xz": (0, 2), "yz": (1, 2)}
        tensor = ", ".join(f'{key} = "{float(link.inertia[ij])!r} kg*m^2"' for key, ij in at.items())
        rows.append(f"inertia = {{ {tensor} }}")
    for k, capsule in enumerate(link.capsules):
        told = _toml_pose(capsule.pose)[2:-2].replace(", roll", "\nroll")
        rows += ["[[joint.link.shape]]", f'kind = "capsule"\nname = "{name}, capsule {k + 1}"',
                 f'radius = "{float(capsule.radius)!r} m"\nlength = "{float(capsule.length)!r} m"', told]  # fmt: skip
    return [*rows, ""]


def _link_rows(name: str, link: Link) -> list[str]:
    tensor = link.inertia.tolist()
    rows = [f'  <link name="{name}">']
    if link.mass > 0:
        at = {"ixx": (0, 0), "iyy": (1, 1), "izz": (2, 2), "ixy": (0, 1), "ixz": (0, 2), "iyz": (1, 2)}
        numbers = " ".join(f'{key}="{float(tensor[i][j])!r}"' for key, (i, j) in at.items())
        rows += [
            "    <inertial>", f'      <origin xyz="{_numbers(link.centre)}" rpy="0 0 0"/>',
            f'      <mass value="{float(link.mass)!r}"/>', f"      <inertia {numbers}/>", "    </inertial>",
        ]  # fmt: skip
    return [*rows, "  </link>"]


def _joint_rows(name: str, link: Link, parent: str, child: str) -> list[str]:
    limits = f'lower="{float(link.lower)!r}" upper="{float(link.upper)!r}" effort="{float(link.effort)!r}"'
    return [
        f'  <joint name="{name}" type="{link.kind}">', f'    <parent link="{parent}"/>', f'    <child link="{child}"/>',
        f"    {origin(link.placement)}", f'    <axis xyz="{_numbers(link.axis)}"/>',
        f'    <limit {limits} velocity="3"/>', "  </joint>",
    ]  # fmt: skip
