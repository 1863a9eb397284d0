"""The table of a joint's bearing in an arm file: one slewing bearing, or a pair."""

from __future__ import annotations

from dataclasses import fields
from typing import Annotated, Any, Literal

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from armwright.describe.bearing import SLEWING_KINDS, BearingPair, SlewingBearing, take_limit_line
from armwright.describe.described import Checks
from armwright.describe.drive_units import POSITIVE_FORCE, PositiveTorque
from armwright.describe.machine_units import (
    ContactAngle,
    LinearStiffness,
    LoadFactor,
    RollingElements,
    ShareFactor,
    Stiffness,
)
from armwright.describe.problems import FileModel, Place
from armwright.describe.several_file import one_or_two_of
from armwright.describe.units import Distance, Force, Length, Size
from armwright.describe.wrong import Wrong, shown, told_to_pydantic
from armwright.errors import InputError

Rating = Annotated[Any, one_or_two_of(POSITIVE_FORCE)]


class _LimitLine:
    """Points of axial force and tilting moment, in a file."""

    def _taken(self, value: object) -> Any:
        told_to_pydantic(self._with_units)(value)
        try:
            return take_limit_line("", value)
        except InputError as error:
            raise FileModel.told(error) from None

    def _with_units(self, value: object) -> None:
        points = value if isinstance(value, list) else []
        if any(not isinstance(item, str) for point in points if isinstance(point, list) for item in point):
            raise Wrong('points with units, as [["0 kN", "900 N*m"], ["20 kN", "400 N*m"]]')

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(self._taken)

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        point = {"type": "array", "items": {"type": "string", "x-si-unit": "N; N*m"}, "minItems": 2, "maxItems": 2}
        return {"type": "array", "items": point, "x-si-unit": "points N, N*m",
                "examples": [[["0 kN", "900 N*m"], ["20 kN", "400 N*m"]]]}  # fmt: skip


class BearingFile(FileModel):
    """What carries a joint that turns: a slewing bearing (crossed roller, four point), or a pair of bearings at a span.
    Places are told along the joint's axis from the origin of the joint's frame (with standard DH rows: of the frame of
    the row before). What is left out is not known, and what needs it is left out of the results by name."""

    kind: Literal["crossed roller", "four point", "deep groove", "angular contact", "tapered"] = Field(
        description="one slewing bearing (the first two), or a pair of bearings"
    )
    name: str | None = Field(None, description="what it is called in results", examples=["main bearing"])
    offset: Length = Field(0.0, description="of its middle, or of the middle of the pair, along the axis")
    dynamic_rating: Rating = Field(
        None, description="C; of a pair: of each, one or two (near the base, far from it)", examples=["27 kN"]
    )
    static_rating: Rating = Field(None, description="C0, likewise", examples=["41 kN"])
    pitch_diameter: Size | None = Field(None, description="slewing: of the rolling elements' circle")
    static_moment_rating: PositiveTorque | None = Field(
        None, description="slewing: the tilting moment that it bears, alone", examples=["950 N*m"]
    )
    limit_line: Annotated[Any, _LimitLine()] = Field(
        None, description="slewing: its static limit, points of axial force and tilting moment by growing force"
    )
    tilting_stiffness: Stiffness | None = Field(
        None, description="slewing: against tilting", examples=["180 N*m/arcmin"]
    )
    roller_count: RollingElements | None = Field(None, description="slewing: how many rolling elements", examples=[38])
    arrangement: Literal["face to face", "back to back", "fixed and floating"] | None = Field(
        None, description="pair: how they face; fixed and floating: deep groove alone"
    )
    fixed: Literal["near", "far"] | None = Field(
        None, description="pair, fixed and floating: which one takes axial force, near the base or far from it"
    )
    span: Size | None = Field(
        None, description="pair: between the middles, with pressure_centre; else between the pressure centres",
        examples=["60 mm"],
    )  # fmt: skip
    pressure_centre: Distance | None = Field(
        None, description="pair, angular contact or tapered: from the middle of a bearing to its pressure centre",
        examples=["11 mm"],
    )  # fmt: skip
    contact_angle: ContactAngle | None = Field(None, description="pair, angular contact or tapered")
    preload: Force | None = Field(
        None, description="pair, but not fixed and floating: axial; left out: 0, and said so", examples=["400 N"]
    )
    moved_ring: Literal["inner", "outer"] | None = Field(
        None, description="pair: which ring the moved link carries; left out: the worse of both counts, and said so"
    )
    ball_count: RollingElements | None = Field(
        None, description="pair: how many rolling elements in each", examples=[14]
    )
    factor_f0: ShareFactor | None = Field(
        None, description="deep groove: by which its factors are looked up", examples=[14.2]
    )
    factor_e: LoadFactor | None = Field(
        None, description="pair: axial by radial force, above which factor_x and factor_y count; tell all three",
        examples=[0.8],
    )
    factor_x: ShareFactor | None = Field(
        None, description="of the radial load in the equivalent load; left out: as usual for the kind", examples=[1]
    )
    factor_y: ShareFactor | None = Field(None, description="of the axial load, likewise; tell it with factor_x")
    static_factor_x: ShareFactor | None = Field(None, description="of the radial load at rest", examples=[1])
    static_factor_y: ShareFactor | None = Field(None, description="of the axial load at rest", examples=[0.44])
    radial_stiffness: LinearStiffness | None = Field(None, description="across the axis; of a pair: of each")
    axial_stiffness: LinearStiffness | None = Field(None, description="along the axis; of a pair: of each")

    def make(self, place: Place) -> Any:
        kind = SlewingBearing if self.kind in SLEWING_KINDS else BearingPair
        known = {field.name for field in fields(kind)}
        checks = Checks("")
        told = {}
        for key in type(self).model_fields:
            value = getattr(self, key)
            if key in known:
                told[key] = value
            elif value is not None:
                checks.wrong(key, shown(value), f"no {key}: a bearing of kind {self.kind} has none")
        if kind is BearingPair and self.arrangement is None:
            checks.wrong("arrangement", "nothing", "this key: how the two face")
        if kind is SlewingBearing:
            for key in ("dynamic_rating", "static_rating"):
                if isinstance(told[key], tuple):
                    checks.wrong(key, "two forces", "one: it is a single bearing")
        checks.done()
        if self.name is None:
            del told["name"]
        return kind(**told)
