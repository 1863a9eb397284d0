"""A cell as plain numbers, for drawing: solids, the chain of joints, work points. To JSON and back.

Frames. The chain starts in the world. Joint i moves link i; ``placement`` is the joint's frame in the frame of link
i - 1 (the world for the first), with the joint at zero; link i's frame is that frame turned about, or moved along,
``axis`` by q[i]. The track, if there is one, is joint 0 and its carriage is link 0. ``link`` says what a thing is
fixed to: -1 the world, else the place of the link in the chain. SI throughout: m and rad.
"""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from typing import Any

import numpy as np

from armwright.errors import InputError
from armwright.results.scene_parts import (
    Array,
    SceneJoint,
    ScenePicture,
    SceneTarget,
    Solid,
    array_of,
    identity,
    pose_of,
    take,
)

FORMAT = 1


@dataclass(frozen=True, eq=False)
class Scene:
    """A cell and its arm at the posture ``q``. ``base`` is the arm's base in the frame of ``base_link``; ``tool`` the
    tool frame in the last link's frame. ``has_track`` says that joint 0 is the track. ``pictures``: how those links
    look of which more is told than ``solids``. ``load``: the body of the load that is carried. ``left_out``: places of
    two solids each that are not held against each other, as they touch by design or were told to be ignored; besides
    them, nothing is held against what it stands still with.

    >>> scene = cell.scene(q)
    >>> scene.arm_name, scene.has_track
    ('ware loader', True)
    """

    name: str
    arm_name: str
    joints: tuple[SceneJoint, ...]
    q: tuple[float, ...]
    solids: tuple[Solid, ...] = ()
    targets: tuple[SceneTarget, ...] = ()
    base: Array = field(default_factory=identity)
    tool: Array = field(default_factory=identity)
    has_track: bool = False
    pictures: tuple[ScenePicture, ...] = ()
    load: str = ""
    left_out: tuple[tuple[int, int], ...] = ()

    def __post_init__(self) -> None:
        count = len(self.joints)
        take(self, joints=tuple(self.joints), solids=tuple(self.solids), targets=tuple(self.targets),
             pictures=tuple(self.pictures),
             base=pose_of("scene.base", self.base), tool=pose_of("scene.tool", self.tool),
             q=tuple(array_of("scene.q", self.q, (count,)).tolist()),
             left_out=tuple((int(a), int(b)) for a, b in self.left_out))
        if self.has_track and (count == 0 or self.joints[0].kind != "prismatic"):
            raise InputError.of("scene.joints[0]", "no sliding joint", "the track, as the scene has one")
        for words, things in (("solids", self.solids), ("pictures", self.pictures)):
            for thing in things:
                if not -1 <= thing.link < count:
                    wanted = f"-1 (the world) to {count - 1}"
                    raise InputError.of(f"scene.{words}[{thing.name!r}].link", thing.link, wanted)
        if any(not 0 <= place < len(self.solids) for pair in self.left_out for place in pair):
            raise InputError.of("scene.left_out", "a place without a solid", f"0 to {len(self.solids) - 1}")
        for target in self.targets:
            if target.q is not None and len(target.q) != count:
                raise InputError.of(f"scene.targets[{target.name!r}].q", f"{len(target.q)} values", f"{count} values")

    @property
    def base_link(self) -> int:
        """What the arm's base is fixed to: the carriage (0) if there is a track, else the world (-1)."""
        return 0 if self.has_track else -1

    def __eq__(self, other: object) -> bool:
        return self.to_dict() == other.to_dict() if isinstance(other, Scene) else NotImplemented

    def __hash__(self) -> int:
        return hash(self.to_json())

    def __repr__(self) -> str:
        return (f"Scene({self.name!r}: {self.arm_name}, {len(self.joints)} joints, {len(self.solids)} solids, "
                f"{len(self.targets)} work points)")

    def to_dict(self) -> dict[str, Any]:
        """Plain lists, numbers and words; infinite limits are None."""
        return {
            "format": FORMAT, "name": self.name, "arm_name": self.arm_name, "q": list(self.q),
            "base": self.base.tolist(), "tool": self.tool.tolist(), "has_track": self.has_track, "load": self.load,
            "left_out": [list(pair) for pair in self.left_out],
            "joints": [_joint_dict(joint) for joint in self.joints],
            "solids": [_solid_dict(solid) for solid in self.solids],
            "targets": [_target_dict(target) for target in self.targets],
            "pictures": [_picture_dict(picture) for picture in self.pictures],
        }

    def to_json(self) -> str:
        """The scene as JSON, numbers with all their digits."""
        return json.dumps(self.to_dict(), allow_nan=False, ensure_ascii=False)

    @classmethod
    def from_dict(cls, data: dict[str, Any]) -> Scene:
        """The scene that ``to_dict`` gave."""
        if data.get("format") != FORMAT:
            raise InputError.of("scene.format", repr(data.get("format")), f"{FORMAT}")
        try:
            rest = {k: v for k, v in data.items() if k != "format"}
            rest["joints"] = tuple(_joint(item) for item in data["joints"])
            rest["solids"] = tuple(Solid(**item) for item in data["solids"])
            rest["targets"] = tuple(SceneTarget(**item) for item in data["targets"])
            rest["pictures"] = tuple(ScenePicture(**item) for item in data.get("pictures", ()))
            return cls(**rest)
        except (TypeError, KeyError, AttributeError) as error:
            raise InputError.of("scene", str(error), "the keys that Scene.to_dict writes") from error

    @classmethod
    def from_json(cls, text: str) -> Scene:
        """The scene that ``to_json`` gave."""
        try:
            data = json.loads(text)
        except json.JSONDecodeError as error:
            raise InputError.of("scene", f"text that is no JSON ({error})", "what Scene.to_json writes") from error
        if not isinstance(data, dict):
            raise InputError.of("scene", type(data).__name__, "a JSON object, as Scene.to_json writes")
        return cls.from_dict(data)


def _joint_dict(joint: SceneJoint) -> dict[str, Any]:
    return {
        "name": joint.name, "kind": joint.kind, "placement": joint.placement.tolist(), "axis": list(joint.axis),
        "lower": joint.lower if np.isfinite(joint.lower) else None,
        "upper": joint.upper if np.isfinite(joint.upper) else None,
    }


def _joint(data: dict[str, Any]) -> SceneJoint:
    lower, upper = data["lower"], data["upper"]
    limits = {"lower": -np.inf if lower is None else lower, "upper": np.inf if upper is None else upper}
    return SceneJoint(**data | limits)


def _solid_dict(solid: Solid) -> dict[str, Any]:
    data: dict[str, Any] = {
        "kind": solid.kind, "name": solid.name, "role": solid.role, "link": solid.link, "pose": solid.pose.tolist(),
        "body": solid.body,
    }
    if solid.kind == "box":
        data["size"] = list(solid.size)
    if solid.kind in ("cylinder", "capsule", "sphere"):
        data |= {"radius": solid.radius, "length": solid.length}
    if solid.kind in ("convex_hull", "mesh"):
        data |= {"vertices": solid.vertices.tolist(), "triangles": solid.triangles.tolist()}
    return data | ({"clearance": solid.clearance} if solid.clearance else {})


def _target_dict(target: SceneTarget) -> dict[str, Any]:
    return {"name": target.name, "pose": target.pose.tolist(), "served": target.served, "reason": target.reason,
            "q": None if target.q is None else list(target.q), "load": target.load, "found": dict(target.found)}


def _picture_dict(picture: ScenePicture) -> dict[str, Any]:
    return {"name": picture.name, "link": picture.link, "pose": picture.pose.tolist(),
            "vertices": picture.vertices.tolist(), "triangles": picture.triangles.tolist()}
