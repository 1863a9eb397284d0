"""URDF files to arm descriptions: the chain from one link to another, all else folded into the links that carry it.

Source of the format: the URDF XML specification (wiki.ros.org/urdf/XML). Lengths in m, angles in rad, masses in kg.
"""

from __future__ import annotations

import difflib
import math
from pathlib import Path

import numpy as np

from armwright.describe.arm import ArmDescription, Joint, Link, joint_limit
from armwright.describe.body import Body, joined, moved_body
from armwright.describe.pose import Array, make_pose, turn_about
from armwright.describe.shapes import Picture, Shape, moved_shape
from armwright.describe.urdf_elements import MOVING, Reader, UrdfJoint, UrdfLink, read_joints, read_links
from armwright.describe.urdf_shapes import UrdfShapes
from armwright.describe.wrong import shown
from armwright.describe.xml import read_xml
from armwright.errors import InputError, Problem

_BYTES_LIMIT = 16 * 1024 * 1024
_MANY_TURNS = 10 * math.tau  # rad: of a range that is surely told in degrees
# Names that makers give to the link a tool is bolted to, best first; used only where several links would do.
_FLANGES = ("tool0", "flange", "tool_flange", "ee_link", "end_effector", "tool", "ee", "tcp")


def read_urdf(
    path: Path, base: str | None = None, tool: str | None = None, root: Path | None = None, name: str | None = None
) -> ArmDescription:
    """The arm between links ``base`` (which stands still) and ``tool`` (whose frame is the flange).

    Joints off that chain stand at zero, or at the end of their range nearest to it, and their links count with the
    link that carries them. An effort limit counts as the torque that the joint holds, continuous and peak;
    a velocity limit as its greatest speed.
    ``root``: the folder that no path may leave; without it packages are looked for above the file."""
    element = read_xml("file", path, _BYTES_LIMIT)
    reader = Reader(str(path))
    if element.tag != "robot":
        reader.wrong(element, "robot", f"<{element.tag}>", "a URDF: its first element is <robot>")
        reader.done()
    if any(isinstance(item.tag, str) and item.prefix == "xacro" for item in element.iter()):
        reader.wrong(element, "robot", "a xacro file", "a plain URDF: expand the macros first")
        reader.done()
    links = read_links(reader, element)
    joints = read_joints(reader, element)
    _tree(reader, links, joints)
    reader.done()
    start = _start(reader, links, base)
    end = _end(reader, links, start, tool)
    chain = _chain(reader, links, start, end)
    reader.done()
    shapes = UrdfShapes(reader, path, root)
    arm = _fold(reader, links, start, chain, shapes, end)
    reader.done()
    title = name or (element.get("name") or "").strip() or path.stem
    joint_list, link_list, base_link, flange = arm
    try:
        return ArmDescription(
            joint_list, link_list, title, base_link, flange, notes=tuple(reader.notes), source=str(path)
        )
    except InputError as error:
        raise InputError(
            [Problem(p.key, p.value, p.expected, p.meant, str(path), p.line) for p in error.problems]
        ) from None


def _tree(reader: Reader, links: dict[str, UrdfLink], joints: list[UrdfJoint]) -> None:
    """Joins links by joints, and refuses links that are missing, have two parents, or go in a circle."""

    def wrong(joint: UrdfJoint, key: str, value: str, expected: str, meant: str = "") -> None:
        reader.problems.append(Problem(f"joint {joint.name!r} {key}", value, expected, meant, reader.file, joint.line))

    for joint in joints:
        missing = False
        for key, name in (("parent", joint.parent), ("child", joint.child)):
            if name and name not in links:
                near = difflib.get_close_matches(name, links, 1, 0.6)
                wrong(joint, key, shown(name), "the name of a link of this file", near[0] if near else "")
                missing = True
        if missing or not joint.parent or not joint.child:
            continue
        child = links[joint.child]
        if child.parent is not None:
            wrong(
                joint,
                "child",
                f"link {child.name!r}, which joint {child.parent.name!r} moves already",
                "one parent for each link",
            )
            continue
        child.parent = joint
        links[joint.parent].children.append(joint)
    for link in links.values():
        seen = {link.name}
        at = link
        while at.parent is not None:
            at = links[at.parent.parent]
            if at.name in seen:
                break
            seen.add(at.name)
        if at is link and at.parent is not None and link.name == min(seen):  # a circle is told once
            wrong(at.parent, "parent", " - ".join(sorted(seen)), "a tree: these links go in a circle")


def _start(reader: Reader, links: dict[str, UrdfLink], base: str | None) -> UrdfLink:
    if base is not None:
        return _find(reader, links, "base", base)
    roots = [link for link in links.values() if link.parent is None]
    if len(roots) > 1:
        names = ", ".join(root.name for root in roots[:8])
        used = [root for root in roots if root.children]
        if len(used) != 1:
            raise InputError(
                [
                    Problem(
                        "base",
                        f"several links without a parent: {names}",
                        "the name of the base link",
                        file=reader.file,
                    )
                ]
            )
        reader.notes.append(f"several links without a parent ({names}): {used[0].name!r} is the base")
        return used[0]
    return roots[0]


def _find(reader: Reader, links: dict[str, UrdfLink], key: str, name: str) -> UrdfLink:
    if name not in links:
        near = difflib.get_close_matches(name, links, 1, 0.4)
        names = ", ".join(list(links)[:30])
        raise InputError(
            [Problem(key, shown(name), f"the name of a link: {names}", near[0] if near else "", reader.file)]
        )
    return links[name]


def _end(reader: Reader, links: dict[str, UrdfLink], start: UrdfLink, tool: str | None) -> UrdfLink:
    """The tool's link: the one named, or the end of the moving chain. Where the chain parts, it ends there (a gripper's
    fingers); among fixed links beyond the last joint, one with a flange's usual name is taken."""
    if tool is not None:
        return _find(reader, links, "tool", tool)
    below: dict[str, int] = {}  # joints that move, below each link
    order = [start]
    for link in order:
        order += [links[joint.child] for joint in link.children]
    for link in reversed(order):
        below[link.name] = sum(below[joint.child] + (joint.kind in MOVING) for joint in link.children)
    at = start
    while True:
        ways = [joint for joint in at.children if below[joint.child] or joint.kind in MOVING]
        if len(ways) != 1:
            break
        at = links[ways[0].child]
    if ways:
        reader.notes.append(f"tool link {at.name!r}: there the moving joints part ({', '.join(j.name for j in ways)})")
        return at
    beyond = [at]
    for link in beyond:
        beyond += [links[joint.child] for joint in link.children]
    for word in _FLANGES:
        for exact in (True, False):
            for link in beyond:
                lower = link.name.lower()
                if lower == word or (not exact and lower.endswith(("_" + word, "-" + word))):
                    if len(beyond) > 1:
                        reader.notes.append(f"tool link {link.name!r}, chosen by its name among {len(beyond)}")
                    return link
    leaves = [link for link in beyond if not link.children]
    end = leaves[0] if len(leaves) == 1 else at
    reader.notes.append(f"tool link {end.name!r}: the end of the chain")
    return end


def _chain(reader: Reader, links: dict[str, UrdfLink], start: UrdfLink, end: UrdfLink) -> list[UrdfJoint]:
    chain: list[UrdfJoint] = []
    at = end
    while at is not start and at.parent is not None:
        chain.append(at.parent)
        at = links[at.parent.parent]
    if at is not start:
        value = f"link {end.name!r}, which does not hang on {start.name!r}"
        raise InputError(
            [Problem("tool", value, f"a link beyond the base link {start.name!r}", file=reader.file, line=end.line)]
        )
    chain.reverse()
    moving = [joint for joint in chain if joint.kind != "fixed"]
    for joint in moving:
        expected = "joints that turn or slide, each on its own"
        if joint.kind not in MOVING:
            reader.problems.append(
                Problem(f"joint {joint.name!r} type", joint.kind, expected, "", reader.file, joint.line)
            )
        elif joint.mimics:
            value = f"a joint that follows {joint.mimics!r}"
            reader.problems.append(Problem(f"joint {joint.name!r} mimic", value, expected, "", reader.file, joint.line))
        elif joint.lower == joint.upper:
            value = f"lower and upper both {joint.lower:g}"
            wanted = "a lower limit below the upper one (or type continuous)"
            reader.problems.append(Problem(f"joint {joint.name!r} limit", value, wanted, "", reader.file, joint.line))
    if not 1 <= len(moving) <= joint_limit:
        value = f"{len(moving)} joints between {start.name!r} and {end.name!r}"
        reader.problems.append(Problem("joints", value, f"1 to {joint_limit}", "", reader.file))
    return chain


Folded = tuple[tuple[Joint, ...], tuple[Link, ...], Link, Array]


def _fold(
    reader: Reader,
    links: dict[str, UrdfLink],
    start: UrdfLink,
    chain: list[UrdfJoint],
    shapes: UrdfShapes,
    end: UrdfLink,
) -> Folded:
    """Every link goes to the joint of the chain that moves it, or to the base."""
    on_chain = {joint.name: joint for joint in chain}
    parts: list[list[tuple[UrdfLink, Array]]] = [
        [(start, np.eye(4))]
    ]  # for the base and each joint: links, and their poses in it
    joints: list[Joint] = []
    flange = np.eye(4)
    waiting: list[tuple[UrdfLink, Array, int]] = [(start, np.eye(4), 0)]  # link, its pose in its owner, the owner
    while waiting:
        link, pose, owner = waiting.pop()
        if link is end:
            flange = pose
        for joint in sorted(link.children, key=lambda j: j.name not in on_chain):
            child = links[joint.child]
            at = pose @ joint.pose
            if joint.name in on_chain and joint.kind in MOVING:
                joints.append(_joint(reader, joint, at))
                parts.append([(child, np.eye(4))])
                waiting.append((child, np.eye(4), len(parts) - 1))
                continue
            if joint.kind != "fixed":
                at = at @ _rest(reader, joint)
            parts[owner].append((child, at))
            waiting.append((child, at, owner))
    made = [_link(items, shapes) for items in parts]
    massless = [link.name for link in made[1:] if link.mass == 0]
    if massless:
        reader.notes.append(f"no mass told, taken as 0 kg: {', '.join(massless)}")
    return tuple(joints), tuple(made[1:]), made[0], flange


def _joint(reader: Reader, joint: UrdfJoint, placement: Array) -> Joint:
    if joint.effort == math.inf:
        reader.notes.append(f"joint {joint.name!r}: no effort limit stated, so it limits no load")
    if joint.speed == math.inf:
        reader.notes.append(f"joint {joint.name!r}: no velocity limit stated, so nothing but a drive limits its speed")
    if joint.rubs:
        why = "they belong to a drive, which a URDF file does not tell"
        reader.notes.append(f"joint {joint.name!r}: its damping and friction do not count: {why}")
    if joint.kind == "revolute" and joint.upper - joint.lower > _MANY_TURNS:
        turns = (joint.upper - joint.lower) / math.tau
        reader.notes.append(f"joint {joint.name!r}: its range, {joint.lower:g} to {joint.upper:g} rad, is {turns:.0f} "
                            "turns: a URDF's angles are in radians, not degrees")  # fmt: skip
    limits = None if joint.kind == "continuous" else (joint.lower, joint.upper)
    kind = "prismatic" if joint.kind == "prismatic" else "revolute"
    return Joint(joint.name, kind, placement, joint.axis, limits, joint.effort, joint.effort, speed=joint.speed)


def _rest(reader: Reader, joint: UrdfJoint) -> Array:
    """The pose that a joint off the chain adds: at zero, or the end of its range nearest to it."""
    q = min(max(0.0, joint.lower), joint.upper) if joint.kind in MOVING else 0.0
    follows = f", which follows {joint.mimics!r}," if joint.mimics else ""
    reader.notes.append(f"joint {joint.name!r}{follows} is off the chain: it stands at {q:g}")
    if joint.kind == "prismatic":
        return make_pose(None, q * joint.axis)
    return make_pose(turn_about(joint.axis, q)) if q else np.eye(4)


def _link(items: list[tuple[UrdfLink, Array]], shapes: UrdfShapes) -> Link:
    bodies: list[Body] = []
    solids: list[Shape] = []
    pictures: list[Picture] = []
    for link, pose in items:
        if link.body[0] > 0:
            bodies.append(moved_body(pose, link.body))
        here, seen = shapes.of(link.element, link.name)
        solids += [moved_shape(pose, shape) for shape in here]
        pictures += [Picture(p.points @ pose[:3, :3].T + pose[:3, 3], p.triangles, p.name) for p in seen]
    mass, centre, inertia = joined(bodies)
    return Link(items[0][0].name, mass, centre, inertia, tuple(solids), tuple(pictures))
