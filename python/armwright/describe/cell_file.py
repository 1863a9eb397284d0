"""The cell file, and the file of work points."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo, field_validator
from pydantic_core import core_schema

from armwright.describe.arm import ArmDescription
from armwright.describe.cell import LOAD_MASS, CellDescription, Load, Target, Tool, standard_gravity
from armwright.describe.common_file import BodyFile, PoseFile, ShapeFile, different_names
from armwright.describe.file_kinds import CELL, TARGETS
from armwright.describe.held_file import as_table
from armwright.describe.lifting_file import LiftingEyeFile
from armwright.describe.parts_file import take_parts
from armwright.describe.problems import FileModel, Place, read_file
from armwright.describe.service_file import ServiceVolumeFile
from armwright.describe.shapes import changed
from armwright.describe.standing_file import CellBaseFile
from armwright.describe.supply_file import SupplyFile
from armwright.describe.toleranced import array_of
from armwright.describe.track_file import TrackFile
from armwright.describe.units import ANGLE, Accelerations, Distance, Lengths, Tilt
from armwright.describe.wrong import Wrong, shown, told_to_pydantic
from armwright.errors import InputError


class _Spin:
    """An angle, or "free"."""

    def _from_file(self, value: object) -> float | str:
        try:
            return "free" if value == "free" else ANGLE.from_file(value)
        except Wrong as wrong:
            raise Wrong(f'"free", or {wrong.expected}', wrong.meant) from None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(told_to_pydantic(self._from_file))

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {"type": "string", "examples": ["free", "30 deg"], "x-si-unit": "rad"}


class ToolFile(BodyFile):
    """What is bolted to the flange. Told in the flange's frame."""

    point: PoseFile | None = Field(
        None, description="the tool's frame: its origin works, its z axis is the tool's axis"
    )
    keys: ClassVar[dict[str, str]] = {"tool_point": "point", "shapes": "shape"}

    def make(self, place: Place) -> Any:
        return Tool(self.point.made if self.point else None, **self.parts("tool"))


class LoadFile(BodyFile):
    """What the tool carries. Told in the tool's frame."""

    mass: Annotated[float, LOAD_MASS] = Field(description="its mass")

    def make(self, place: Place) -> Any:
        return Load(**self.parts("load"))


class FixtureFile(ShapeFile):
    """A solid that stands in the cell, in the world's frame."""

    clearance: Distance | None = Field(
        None, description="the distance to be kept from it; left out: the cell's clearance", examples=["40 mm"]
    )

    def make(self, place: Place) -> Any:
        return self.solid(place, self.clearance or 0.0)


class TargetFile(PoseFile):
    """A work point: where the tool's frame must be, in the world."""

    name: str = Field(description="what it is called in results", examples=["rack left, shelf 2"])
    position: Lengths = Field(description="x, y, z of the work point")
    spin: Annotated[Any, _Spin()] = Field(
        None,
        description='the turn about the axis of the tool: "free", or with direction an angle; left out: free with '
        "direction, fixed otherwise",
    )
    tilt: Tilt = Field(
        0.0, description="half-angle of the cone within which the tool's axis may lean", examples=["10 deg"]
    )
    position_tolerance: Distance = Field(0.0, description="how far the tool may be off", examples=["2 mm"])
    load: LoadFile | None = Field(
        None, description="what is carried there, instead of the cell's load; its shapes do not count yet"
    )
    approach: Distance = Field(
        0.0,
        description="length of the straight way to the point, along the tool's axis; kept, not checked yet",
        examples=["100 mm"],
    )
    retract: Distance = Field(
        0.0,
        description="length of the straight way from the point, along the tool's axis; kept, not checked yet",
        examples=["100 mm"],
    )

    def make(self, place: Place) -> Any:
        told = self.spin
        turned = any(v is not None for v in (self.roll_pitch_yaw, self.turn, self.quaternion_xyzw, self.direction))
        if not turned:
            raise InputError.of(
                "direction", "nothing", "where the tool points: direction, roll_pitch_yaw, turn or quaternion_xyzw"
            )
        free = told == "free" or (told is None and self.direction is not None)
        pose = self.pose_of(None if told is None or told == "free" else float(told))
        return Target(
            pose,
            self.name,
            free,
            self.tilt,
            self.position_tolerance,
            self.load.made if self.load else None,
            self.approach,
            self.retract,
        )


class TargetsFile(FileModel):
    """Work points, each headed [[target]]."""

    file_kind = TARGETS

    target: tuple[TargetFile, ...] = Field(description="the work points")

    @field_validator("target")
    @classmethod
    def _names(cls, value: tuple[TargetFile, ...]) -> tuple[TargetFile, ...]:
        return different_names(cls, value, [item.made.name for item in value])

    def make(self, place: Place) -> Any:
        return tuple(target.made for target in self.target)


class ArmRefFile(FileModel):
    """The arm's file: an arm file or URDF."""

    file: str = Field(
        description="an arm file (.toml) or a URDF file (.urdf), inside the folder", examples=["arm.toml"]
    )
    base: str | None = Field(None, description="URDF: the link that stands still", examples=["base_link"])
    tool: str | None = Field(None, description="URDF: the link that is the tool flange", examples=["tool0"])

    def make(self, place: Place) -> Any:
        from armwright.describe.load import arm_from

        return arm_from(place.inside("file", self.file), self.base, self.tool, place.root)


class CellFile(FileModel):
    """A cell."""

    file_kind = CELL

    name: str | None = Field(None, description="what the cell is called", examples=["kiln cell"])
    arm: Annotated[ArmRefFile, as_table("file")] = Field(description="the arm's file", examples=["arm.toml"])
    parts: Any = Field(
        None,
        description="a file of parts inside the folder, whose motors, stages and brakes the track's drive refers to",
        examples=["parts.toml"],
        json_schema_extra={"type": "string"},
    )
    track: TrackFile | None = Field(None, description="the linear track that the arm stands on, if any")
    mount: PoseFile | None = Field(None, description="the arm's base in the world, or on the carriage; any attitude")
    tool: ToolFile | None = Field(None, description="what is bolted to the flange")
    load: LoadFile | None = Field(None, description="what the tool carries")
    supply: SupplyFile | None = Field(None, description="the electrical supply of the drives")
    base: CellBaseFile | None = Field(None, description="how the arm is bolted down, or stands; left out: not known")
    clearance: Distance = Field(
        0.0, description="the distance to be kept from fixtures that state none", examples=["20 mm"]
    )
    fixture: tuple[FixtureFile, ...] = Field((), description="what stands in the cell, the floor included")
    gravity: Accelerations = Field(standard_gravity, description="the acceleration of free fall, in the world",
                                   examples=["0, 0, -9.80665 m/s^2"])  # fmt: skip
    target: tuple[TargetFile, ...] = Field((), description="the work points")
    targets: Any = Field(None, description="a file of work points inside the folder, besides those here",
                         examples=["targets.toml"], json_schema_extra={"type": "string"})  # fmt: skip
    lifting: tuple[LiftingEyeFile, ...] = Field((), description="eyes by which the arm is lifted")
    service: tuple[ServiceVolumeFile, ...] = Field((), description="room that motors need to be reached and taken out")
    ignored_pairs: tuple[tuple[str, str], ...] = Field(
        (), description="names of two parts that are never checked against each other", examples=[[["link 1", "post"]]]
    )
    keys: ClassVar[dict[str, str]] = {"fixtures": "fixture", "targets": "target"}

    @field_validator("parts")
    @classmethod
    def _parts(cls, value: Any, info: ValidationInfo) -> Any:
        return take_parts(cls, value, info.context)  # type: ignore[arg-type]

    @field_validator("fixture")
    @classmethod
    def _fixture_names(cls, value: tuple[FixtureFile, ...]) -> tuple[FixtureFile, ...]:
        return different_names(cls, value, [item.made.name for item in value])

    @field_validator("lifting", "service")
    @classmethod
    def _part_names(cls, value: tuple[Any, ...]) -> tuple[Any, ...]:
        return different_names(cls, value, [item.made.name for item in value])

    @field_validator("target")
    @classmethod
    def _target_names(cls, value: tuple[TargetFile, ...]) -> tuple[TargetFile, ...]:
        return different_names(cls, value, [item.made.name for item in value])

    @field_validator("targets")
    @classmethod
    def _targets_file(cls, value: Any, info: ValidationInfo) -> Any:
        place: Place = info.context  # type: ignore[assignment]
        try:
            if not isinstance(value, str):
                raise InputError.of("", shown(value), "the path of a file of work points, in quotes")
            path = place.inside("", value)
            return read_file(path, TargetsFile, Place(path.parent, place.root)).made
        except InputError as error:
            raise cls.told(error) from None

    def make(self, place: Place) -> Any:
        fixtures = [
            changed(fixture.made, clearance=self.clearance) if fixture.clearance is None else fixture.made
            for fixture in self.fixture
        ]
        targets = [target.made for target in self.target]
        if self.targets is not None:
            targets += self.targets
        arm: ArmDescription = self.arm.made
        frames = {link.name: link.frame for link in arm.links}
        return CellDescription(
            arm, self.track.made if self.track else None, tuple(fixtures), self.tool.made if self.tool else None,
            self.load.made if self.load else None, tuple(targets), self.mount.made if self.mount else None,
            array_of(self.gravity), self.ignored_pairs, self.name or "cell",
            supply=self.supply.made if self.supply else None, base=self.base.made if self.base else None,
            lifting=tuple(eye.made.carried(frames) for eye in self.lifting),
            service=tuple(volume.made.carried(frames) for volume in self.service),
        )  # fmt: skip
