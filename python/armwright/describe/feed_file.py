"""The table of what pulls a track's carriage, in a cell file."""

from __future__ import annotations

from dataclasses import fields
from typing import Annotated, Any, Literal

from pydantic import Field

from armwright.describe.described import Checks
from armwright.describe.drive_units import AngularSpeed, PositiveForce
from armwright.describe.feed import FEEDS
from armwright.describe.held_file import as_table
from armwright.describe.machine_units import HelixAngle, PressureAngle, Stress, Teeth
from armwright.describe.problems import FileModel, Place
from armwright.describe.structure_file import MaterialFile
from armwright.describe.units import Distance, Length, Size
from armwright.describe.wrong import shown

_KINDS = {kind: made for made, kind in FEEDS.items()}


class FeedFile(FileModel):
    """What pulls the carriage. How its way goes with the motor's turns stands with the last stage of the drive, which
    is of the same kind."""

    kind: Literal["rack", "belt", "screw"] = Field(description="as the last stage of the drive")
    name: str | None = Field(None, description="what it is called in results; left out: its kind", examples=["rack"])
    allowed_force: PositiveForce | None = Field(
        None, description="along the track, that the teeth, one strand of the belt, or the screw bears"
    )
    across: Length | None = Field(
        None, description="where the line along which it pulls is, across, from the carriage frame's origin",
        examples=["120 mm"],
    )  # fmt: skip
    height: Length | None = Field(None, description="how far that line is below the origin", examples=["70 mm"])
    module: Size | None = Field(None, description="rack: of its teeth, across them (normal)", examples=["2 mm"])
    teeth: Teeth | None = Field(
        None, description="rack: of the pinion; left out: as the radius of the drive's last stage has it"
    )
    pressure_angle: PressureAngle | None = Field(None, description="rack: of its teeth; left out: 20 deg, and said so")
    helix: HelixAngle | None = Field(None, description="rack: of its teeth; left out: 0, and said so")
    face_width: Size | None = Field(None, description="rack: of its teeth", examples=["20 mm"])
    allowed_stress: Stress | None = Field(
        None, description="rack: bending at the foot of a tooth", examples=["200 MPa"]
    )
    overhang: Distance | None = Field(
        None, description="rack: from the middle of the pinion to the bearing that carries its shaft",
        examples=["30 mm"],
    )  # fmt: skip
    allowed_shaft_force: PositiveForce | None = Field(
        None, description="rack: across the pinion's shaft, at the pinion", examples=["1.4 kN"]
    )
    preload: PositiveForce | None = Field(None, description="belt: pull of a strand at rest", examples=["400 N"])
    specific_stiffness: PositiveForce | None = Field(
        None, description="belt: its pull by its strain", examples=["900 kN"]
    )
    length: Size | None = Field(None, description="belt: all of it; screw: between its bearings", examples=["2.4 m"])
    root_diameter: Size | None = Field(None, description="screw: at the foot of its thread", examples=["21 mm"])
    ends: Literal["fixed, fixed", "fixed, supported", "supported, supported", "fixed, free"] | None = Field(
        None, description="screw: how its bearings hold it, the one at the motor first"
    )
    max_speed: AngularSpeed | None = Field(None, description="screw: that it may turn at")
    material: Annotated[MaterialFile | None, as_table("name")] = Field(
        None, description="screw: what it is made of; left out: steel", examples=["steel"]
    )

    def make(self, place: Place) -> Any:
        kind = _KINDS[self.kind]
        known = {field.name for field in fields(kind)}
        checks = Checks("")
        told: dict[str, Any] = {}
        for key in type(self).model_fields:
            value = getattr(self, key)
            if value is None or key == "kind":
                continue
            if key not in known:
                checks.wrong(key, "a table" if isinstance(value, FileModel) else shown(value),
                             f"no {key}: a {self.kind} has none")  # fmt: skip
            else:
                told[key] = value.made if isinstance(value, FileModel) else value
        if self.kind == "rack" and self.module is None:
            checks.wrong("module", "nothing", "this key: a rack has one")
        checks.done()
        return kind(**told)
