"""The tables of a track's rails and blocks, and of what carries the rails, in a cell file."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from armwright.describe.common_file import Direction
from armwright.describe.drive_units import PositiveForce, PositiveTorque
from armwright.describe.guide import Guide, RailBeam, most_blocks, most_rails, take_blocks, take_distance
from armwright.describe.held_file import as_table
from armwright.describe.machine_units import DirectionShare, SecondMoment, SectionModulus
from armwright.describe.problems import FileModel, Place
from armwright.describe.several_file import Several, many_of, one_or_two_of
from armwright.describe.structure_file import MaterialFile
from armwright.describe.units import LENGTH, SIZE, Force, Length, Size

_BLOCKS = Several(LENGTH, take_blocks, lambda one: [
    one, {"type": "array", "items": {"anyOf": [one, {"type": "array", "items": one, "maxItems": most_blocks}]}},
])  # fmt: skip
_DISTANCE = Several(SIZE, take_distance, lambda one: [one])


class RailBeamFile(FileModel):
    """What carries each rail from support to support: told for one rail, by its section or by numbers."""

    name: str | None = Field(None, description="what it is called in results", examples=["beam under the rails"])
    span: Size = Field(description="between supports", examples=["600 mm"])
    material: Annotated[MaterialFile, as_table("name")] = Field(
        description="what it is made of", examples=["steel"]
    )
    section: Literal["round", "square", "rectangular"] | None = Field(None, description="a tube: its section")
    outer: Annotated[Any, one_or_two_of(SIZE)] = Field(
        None, description="a tube: outer diameter, side, or two: width across and height", examples=["80 mm"]
    )
    wall: Size | None = Field(None, description="a tube: thickness of its wall", examples=["4 mm"])
    second_moment: SecondMoment | None = Field(None, description="instead: of its section, against bending up and down")
    section_modulus: SectionModulus | None = Field(None, description="with second_moment: likewise")
    ends: Literal["simple", "fixed"] | None = Field(
        None, description="how the supports hold it; left out: simple, and said so"
    )
    deflection_limit: Size | None = Field(None, description="how far it may give way", examples=["0.1 mm"])

    def make(self, place: Place) -> Any:
        told = {key: getattr(self, key) for key in type(self).model_fields}
        return RailBeam(**(told | {"material": self.material.made, "name": self.name or "rail beam"}))


class GuideFile(FileModel):
    """The rails and blocks on which the carriage runs. Places are told from the origin of the carriage's frame: along
    the track's axis, across it (to the left, looking along with up on top), and below."""

    name: str | None = Field(None, description="what it is called in results", examples=["rails"])
    kind: Literal["ball", "roller"] | None = Field(None, description="what rolls in the blocks")
    rails: Annotated[Any, many_of(LENGTH, most_rails)] = Field(
        description="where each rail is, across", examples=[["-150 mm", "150 mm"]]
    )
    blocks: Annotated[Any, _BLOCKS] = Field(
        description="where the blocks are, along: one list for every rail, or a list for each",
        examples=[["-140 mm", "140 mm"]],
    )
    height: Length | None = Field(
        None, description="how far the blocks' middles are below the carriage frame's origin", examples=["60 mm"]
    )
    dynamic_rating: PositiveForce | None = Field(None, description="C of one block", examples=["17 kN"])
    static_rating: PositiveForce | None = Field(None, description="C0 of one block", examples=["30 kN"])
    rating_distance: Annotated[Any, _DISTANCE] = Field(
        None, description="that C is told for: 50 km or 100 km; left out: 50 km, and said so", examples=["100 km"]
    )
    lift_share: DirectionShare | None = Field(
        None, description="of the ratings, that hold for a force that lifts a block off; left out: 1, and said so"
    )
    side_share: DirectionShare | None = Field(None, description="of the ratings, for a force from the side; likewise")
    roll_rating: PositiveTorque | None = Field(
        None, description="static moment of one block about the rail", examples=["250 N*m"]
    )
    pitch_rating: PositiveTorque | None = Field(
        None, description="static moment of one block about the direction across", examples=["220 N*m"]
    )
    yaw_rating: PositiveTorque | None = Field(
        None, description="static moment of one block about the direction up", examples=["220 N*m"]
    )
    block_length: Size | None = Field(None, description="of one block, along the rail", examples=["62 mm"])
    preload: Force | None = Field(None, description="in each block", examples=["600 N"])
    up: Direction | None = Field(
        None, description="where the carriage stands off its rails, in the track's frame; left out: z"
    )
    beam: RailBeamFile | None = Field(None, description="what carries the rails between supports; left out: none told")

    def make(self, place: Place) -> Any:
        told = {key: getattr(self, key) for key in type(self).model_fields}
        beam = self.beam.made if self.beam else None
        return Guide(**(told | {"beam": beam, "name": self.name or "guide"}))
