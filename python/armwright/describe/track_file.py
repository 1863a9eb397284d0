"""The tables of a linear track in a cell file."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from armwright.describe.arm import Link
from armwright.describe.common_file import BodyFile, Direction, PoseFile, ShapeFile
from armwright.describe.drive_file import DriveFile
from armwright.describe.drive_units import MOTION_LIMITS, LinearAcceleration, LinearJerk, LinearSpeed
from armwright.describe.feed_file import FeedFile
from armwright.describe.guide_file import GuideFile
from armwright.describe.held_file import ForceFile, as_table
from armwright.describe.problems import FileModel, Place
from armwright.describe.several import is_several
from armwright.describe.track import Track, take_stroke
from armwright.describe.units import LENGTH, VectorOf
from armwright.describe.wrong import Wrong, told_to_pydantic
from armwright.errors import InputError


class _Stroke:
    """A length, or a lower and an upper end, in a file."""

    def _from_file(self, value: object) -> tuple[float, float]:
        both_ends = isinstance(value, list | str) and is_several(value)
        told: Any = (VectorOf(LENGTH, 2) if both_ends else LENGTH).from_file(value)
        try:
            return take_stroke("", told)
        except InputError as error:
            raise Wrong(error.problems[0].expected) from None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(told_to_pydantic(self._from_file))

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        one = {"type": "string", "x-si-unit": "m"}
        two = {"type": "array", "items": one, "minItems": 2, "maxItems": 2}
        return {"anyOf": [one, two], "examples": ["2.4 m", ["-200 mm", "2.2 m"]], "x-si-unit": "m"}


class CarriageFile(BodyFile):
    """What slides along the track and carries the arm, in a frame parallel to the track's that moves along."""

    def make(self, place: Place) -> Any:
        return Link(**self.parts("carriage"))


class TrackFile(FileModel):
    """A linear track."""

    axis: Direction = Field(
        description="the direction in which the carriage slides, in the track's frame", examples=["x"]
    )
    stroke: Annotated[Any, _Stroke()] = Field(description="how far: a length from 0, or a lower and an upper end")
    pose: PoseFile | None = Field(None, description="the track's frame in the world; left out: the world's frame")
    carriage: CarriageFile | None = Field(None, description="what slides; left out: no mass, no shapes")
    rail: tuple[ShapeFile, ...] = Field((), description="what stands still of the track, in the track's frame")
    force: Annotated[ForceFile | None, as_table("continuous")] = Field(None, description="what the track's drive holds")
    drive: DriveFile | None = Field(None, description="what moves it; a force told besides limits too")
    speed: LinearSpeed | None = Field(
        None, description="the greatest speed allowed; left out: no limit but the drive's"
    )
    acceleration: LinearAcceleration | None = Field(None, description="the greatest acceleration allowed, likewise")
    jerk: LinearJerk | None = Field(None, description="the greatest jerk allowed, likewise")
    guide: GuideFile | None = Field(None, description="the rails and blocks; left out: not known, and said so")
    feed: FeedFile | None = Field(None, description="the rack, belt or screw that pulls it; left out: not known")
    keys: ClassVar[dict[str, str]] = {
        "drive.stages": "drive.stage",
        "rails": "rail",
        "force_continuous": "force.continuous",
        "force_peak": "force.peak",
    }

    def make(self, place: Place) -> Any:
        more: dict[str, Any] = {"carriage": self.carriage.made} if self.carriage else {}
        if self.force:
            more |= {"force_continuous": self.force.continuous, "force_peak": self.force.peak}
        for key in ("drive", "guide", "feed"):
            table = getattr(self, key)
            more[key] = table.made if table else None
        more |= {key: getattr(self, key) for key in MOTION_LIMITS}
        rails = tuple(shape.made for shape in self.rail)
        return Track(self.axis, self.stroke, self.pose.made if self.pose else None, rails=rails, **more)
