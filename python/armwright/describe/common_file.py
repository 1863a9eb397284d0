"""Tables that arm and cell files share: poses, bodies, shapes."""

from __future__ import annotations

import math
from typing import Annotated, Any, ClassVar, Literal, TypeVar

import numpy as np
from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from armwright.describe import shapes
from armwright.describe.described import Checks
from armwright.describe.mesh import METRES
from armwright.describe.pose import (
    DIRECTIONS,
    Array,
    angles_of,
    make_pose,
    pointing,
    quaternion_xyzw,
    roll_pitch_yaw,
    take_direction,
    turn_about,
)  # fmt: skip
from armwright.describe.problems import FileModel, Place
from armwright.describe.toleranced import tolerance_of, toleranced
from armwright.describe.units import NUMBER, Angle, Angles, InertiaMoment, Lengths, Mass, Size, Sizes, VectorOf
from armwright.describe.wrong import Wrong, shown, told_to_pydantic
from armwright.errors import InputError


class _Direction:
    """A direction in a file: a word, or three numbers."""

    def _from_file(self, value: object) -> Array:
        try:
            return take_direction("", value)
        except InputError as error:
            raise Wrong(error.problems[0].expected) from None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(told_to_pydantic(self._from_file))

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        three = {"type": "array", "items": {"type": "number"}, "minItems": 3, "maxItems": 3}
        return {"anyOf": [{"enum": list(DIRECTIONS)}, three], "examples": ["down", [0, 0, -1]]}


Direction = Annotated[Any, _Direction()]


class TurnFile(FileModel):
    """A turn by an angle about an axis."""

    axis: Direction = Field(description="the axis of the turn", examples=["z"])
    angle: Angle = Field(description="the angle of the turn, right-handed about the axis")


class PoseFile(FileModel):
    """A position, and at most one way to tell a rotation."""

    position: Lengths = Field((0.0, 0.0, 0.0), description="x, y, z of the origin")
    roll_pitch_yaw: Angles | None = Field(
        None, description="rotation by roll about x, then pitch about y, then yaw about z, the axes fixed (as in URDF)"
    )
    turn: TurnFile | None = Field(None, description="rotation about one axis")
    quaternion_xyzw: Annotated[tuple[float, ...], VectorOf(NUMBER, 4)] | None = Field(
        None, description="rotation as a quaternion x, y, z, w (real part last)", examples=[[0, 0, 0, 1]]
    )
    direction: Direction | None = Field(
        None,
        description="where the z axis points; x as near as possible to x of the frame it is told in (near y, where z "
        "points along that x)",
    )
    spin: Angle | None = Field(None, description="with direction: a turn about z after that")

    def make(self, place: Place) -> Any:
        return self.pose_of(float(self.spin) if self.spin is not None else None)

    def pose_of(self, spin: float | None) -> Array:
        told = [
            key for key in ("roll_pitch_yaw", "turn", "quaternion_xyzw", "direction") if getattr(self, key) is not None
        ]
        if len(told) > 1:
            raise InputError.of(told[1], "a second rotation, besides " + told[0], "one way to tell the rotation")
        if spin is not None and self.direction is None:
            raise InputError.of("spin", "a spin without a direction", "direction and spin, or another rotation alone")
        self._refuse_tolerances()
        rotation = None
        if self.roll_pitch_yaw is not None:
            rotation = roll_pitch_yaw(self.roll_pitch_yaw)
        elif self.turn is not None:
            rotation = turn_about(self.turn.axis, self.turn.angle)
        elif self.quaternion_xyzw is not None:
            try:
                rotation = quaternion_xyzw(self.quaternion_xyzw)
            except Wrong as wrong:
                raise InputError.of("quaternion_xyzw", shown(self.quaternion_xyzw), wrong.expected) from None
        elif self.direction is not None:
            rotation = pointing(self.direction, spin or 0.0)
        tolerances = (tolerance_of(told) for told in (self.position, self.roll_pitch_yaw))
        six = np.concatenate([np.zeros(3) if told is None else told for told in tolerances])
        return toleranced(make_pose(rotation, self.position), six)

    def _refuse_tolerances(self) -> None:
        """Of a rotation, tolerances are known by roll, pitch and yaw alone."""
        told = {"spin": self.spin, "turn.angle": self.turn.angle if self.turn else 0.0}
        told |= {f"quaternion_xyzw[{i}]": value for i, value in enumerate(self.quaternion_xyzw or ())}
        for key, value in told.items():
            if getattr(value, "tolerance", 0.0):
                raise InputError.of(key, "a tolerance", "none here: a rotation with one is told by roll_pitch_yaw")
        angles = self.roll_pitch_yaw or (0.0, 0.0, 0.0)
        roll, pitch, _ = angles
        if getattr(pitch, "tolerance", 0.0) and abs(math.cos(pitch)) < 1e-9 and roll:
            _, level, yaw = (math.degrees(angle) for angle in angles_of(roll_pitch_yaw(angles)))
            raise InputError.of(
                "roll_pitch_yaw", "a tolerance of pitch at a quarter turn, with a roll", "a roll of 0 there",
                f'["0 deg", "{level:.6g} deg", "{yaw:.6g} deg"]',
            )  # fmt: skip


class InertiaFile(FileModel):
    """Moments of inertia about the centre of gravity, axes parallel to the owner's frame."""

    xx: InertiaMoment = Field(description="moment about x")
    yy: InertiaMoment = Field(description="moment about y")
    zz: InertiaMoment = Field(description="moment about z")
    xy: InertiaMoment = Field(0.0, description="tensor entry xy (minus the integral of x y dm)")
    xz: InertiaMoment = Field(0.0, description="tensor entry xz (minus the integral of x z dm)")
    yz: InertiaMoment = Field(0.0, description="tensor entry yz (minus the integral of y z dm)")

    @property
    def numbers(self) -> tuple[float, ...]:
        return self.xx, self.yy, self.zz, self.xy, self.xz, self.yz


ShapeKind = Literal["box", "cylinder", "capsule", "sphere", "half-space", "convex hull", "mesh"]
_NEEDS = {
    "box": ("size",), "cylinder": ("radius", "length"), "capsule": ("radius", "length"), "sphere": ("radius",),
    "half-space": (), "convex hull": (), "mesh": ("file",),
}  # fmt: skip
_MAY = {"convex hull": ("file", "points", "unit"), "mesh": ("unit",)}


class ShapeFile(PoseFile):
    """A solid. Which of size, radius, length, file, unit and points it takes depends on its kind."""

    kind: ShapeKind = Field(description="the kind of solid", examples=["box"])
    name: str | None = Field(None, description="what it is called in results", examples=["post, left"])
    size: Sizes | None = Field(
        None, description="box: its edges x, y, z about the origin", examples=["400, 300, 20 mm"]
    )
    radius: Size | None = Field(None, description="cylinder, capsule, sphere: its radius", examples=["60 mm"])
    length: Size | None = Field(
        None,
        description="cylinder: its height; capsule: the distance between the centres of its caps; along z, centred",
    )
    file: str | None = Field(
        None, description="mesh, convex hull: an STL, OBJ, GLB, PLY, OFF or 3MF file inside the folder",
        examples=["tub.stl"],
    )
    unit: str | None = Field(
        None,
        description="the length of one unit of the file; needed where the format states none (STL, OBJ, PLY, OFF)",
        examples=["mm"],
    )
    points: tuple[Lengths, ...] | None = Field(
        None, description="convex hull: its points, instead of a file", json_schema_extra={"x-si-unit": "m"},
        examples=[["0, 0, 0 mm", "300, 0, 0 mm", "0, 200, 0 mm", "0, 0, 150 mm"]],
    )  # fmt: skip

    def make(self, place: Place) -> Any:
        return self.solid(place, 0.0)

    def solid(self, place: Place, clearance: float) -> shapes.Shape:
        checks = Checks("")
        needs = _NEEDS[self.kind]
        for key in ("size", "radius", "length", "file", "unit", "points"):
            value = getattr(self, key)
            if value is None and key in needs:
                checks.wrong(key, "nothing", f"this key: a {self.kind} has one")
            if value is not None and key not in needs + _MAY.get(self.kind, ()):
                checks.wrong(key, shown(value), f"no {key}: a {self.kind} has none")
        if self.kind == "convex hull" and (self.file is None) == (self.points is None):
            checks.wrong(
                "file", "both file and points" if self.file else "neither file nor points", "one of file and points"
            )
        spin = float(self.spin) if self.spin is not None else None
        pose = checks.take("", lambda key, value: self.pose_of(spin), None, np.eye(4))
        path: Any = None
        if self.file is not None:
            path = checks.take("file", place.inside, self.file, None)
            unitless = path is not None and path.suffix.lower() not in METRES and path.suffix.lower() != ".3mf"
            if unitless and self.unit is None:
                checks.wrong("unit", "nothing", f"this key: {path.suffix} files state no unit", '"mm"')
        checks.done()
        common: dict[str, Any] = {
            "pose": pose,
            "name": self.kind if self.name is None else self.name,
            "clearance": clearance,
        }
        made: dict[str, Any] = {
            "box": lambda: shapes.Box(self.size, **common),
            "cylinder": lambda: shapes.Cylinder(self.radius, self.length, **common),
            "capsule": lambda: shapes.Capsule(self.radius, self.length, **common),
            "sphere": lambda: shapes.Sphere(self.radius, **common),
            "half-space": lambda: shapes.HalfSpace(**common),
            "convex hull": lambda: shapes.ConvexHull(path or np.array(self.points), unit=self.unit, **common),
            "mesh": lambda: shapes.Mesh(path, unit=self.unit, **common),
        }
        return made[self.kind]()  # type: ignore[no-any-return]

    keys: ClassVar[dict[str, str]] = {"path": "file", "pose": ""}


class BodyFile(FileModel):
    """A part with mass and shapes."""

    name: str | None = Field(None, description="what it is called in results", examples=["upper arm"])
    mass: Mass = Field(description="its mass, motors that it carries included")
    centre: Lengths = Field((0.0, 0.0, 0.0), description="its centre of gravity")
    inertia: InertiaFile | None = Field(
        None, description="its inertia about the centre of gravity; left out: a point mass"
    )
    shape: tuple[ShapeFile, ...] = Field((), description="the solids that it is made of, for clearance and pictures")
    keys: ClassVar[dict[str, str]] = {"shapes": "shape"}

    def parts(self, name: str) -> dict[str, Any]:
        return {
            "name": name if self.name is None else self.name,
            "mass": self.mass,
            "centre": self.centre,
            "inertia": self.inertia.numbers if self.inertia else None,
            "shapes": tuple(shape.made for shape in self.shape),
        }


Item = TypeVar("Item")


def different_names(model: type[FileModel], items: tuple[Item, ...], names: list[str | None]) -> tuple[Item, ...]:
    """The items, unless two have one name. Told for the field alone, whatever else is wrong with the file."""
    checks = Checks("")
    for i, name in enumerate(names):
        if name is not None and name in names[:i]:
            checks.wrong(f"[{i}].name", shown(name), "a different name for each")
    try:
        checks.done()
    except InputError as error:
        raise model.told(error) from None
    return items
