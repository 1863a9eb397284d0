"""The table of a counterbalance in an arm file."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from armwright.describe.counterbalance import Counterbalance
from armwright.describe.drive_units import PositiveForce, Rate
from armwright.describe.problems import FileModel, Place
from armwright.describe.units import MASS, Force, Lengths, Size, replace_bounds


class CounterbalanceFile(FileModel):
    """A spring between points of two links, or a mass on a link. Points are told in the frames in which the links
    are."""

    kind: Literal["coil", "gas", "mass"] = Field(
        description="coil: pulls, and does nothing gone slack; gas: pushes; mass: counts with its link"
    )
    name: str | None = Field(None, description="what it is called in results", examples=["shoulder spring"])
    link_a: str = Field(description="a link's name, or the base's: where one end is, or the mass", examples=["turret"])
    point_a: Lengths = Field((0.0, 0.0, 0.0), description="where on that link")
    link_b: str | None = Field(None, description="springs: the link of the other end", examples=["upper arm"])
    point_b: Lengths = Field((0.0, 0.0, 0.0), description="springs: where on that link")
    rate: Rate | None = Field(None, description="coil: how its pull grows with its length")
    free_length: Size | None = Field(None, description="coil: between its ends, free")
    preload: Force | None = Field(None, description="coil: the pull with which it begins; left out: 0, and said so")
    longest: Size | None = Field(None, description="coil: between its ends, drawn as far as it may be")
    force_extended: PositiveForce | None = Field(None, description="gas: its push when extended")
    force_compressed: PositiveForce | None = Field(None, description="gas: its push when compressed; straight between")
    stroke: Size | None = Field(None, description="gas: its stroke")
    extended_length: Size | None = Field(None, description="gas: between its ends, extended")
    mass: Annotated[float | None, replace_bounds(MASS, above=0.0)] = Field(None, description="mass: how heavy it is")

    def make(self, place: Place) -> Any:
        told = {key: getattr(self, key) for key in type(self).model_fields}
        return Counterbalance(**(told | {"name": self.name or "counterbalance"}))
