"""The tables of how the arm stands, in a cell file: its base, and the bolts in it."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, StrictBool, field_validator

from armwright.describe.base import Base
from armwright.describe.bolts import BoltPattern, take_size
from armwright.describe.drive_units import PositiveForce
from armwright.describe.machine_units import WITHDRAWN_MASS, Area, Bolts, FrictionShare, Pressure, Prying, Stress
from armwright.describe.problems import FileModel, Place
from armwright.describe.several_file import one_or_two_of, points_of
from armwright.describe.units import LENGTH, SIZE, Angle, Distance, Lengths, Size, VectorOf
from armwright.errors import InputError

InPlane = Annotated[tuple[float, ...], VectorOf(LENGTH, 2)]


class BoltPatternFile(FileModel):
    """Bolts in the mounting face, all alike: on a circle, or each at its own place, in the arm's base frame."""

    name: str | None = Field(None, description="what they are called in results", examples=["base bolts"])
    circle_diameter: Size | None = Field(None, description="of the circle that they are on", examples=["250 mm"])
    count: Bolts | None = Field(None, description="how many are on the circle, evenly")
    first_angle: Angle | None = Field(
        None, description="of the first one, from the x axis; left out: 0", examples=["22.5 deg"]
    )
    centre: InPlane | None = Field(None, description="of the circle, x and y; left out: 0, 0")
    positions: Annotated[Any, points_of(1)] = Field(
        None, description="instead: x and y of each", examples=[[["120 mm", "0 mm"], ["-120 mm", "0 mm"]]]
    )
    size: str | None = Field(None, description="the metric thread; a fine pitch as M16x1.5", examples=["M16"])
    property_class: Literal["4.6", "4.8", "5.6", "5.8", "6.8", "8.8", "9.8", "10.9", "12.9"] | None = Field(
        None, description="of ISO 898-1", examples=["8.8"]
    )
    proof_strength: Stress | None = Field(
        None, description="instead of property_class: what it bears in tension", examples=["450 MPa"]
    )
    preload: PositiveForce | None = Field(None, description="in each bolt", examples=["30 kN"])
    prying_factor: Prying | None = Field(
        None, description="by how much levering of the plate raises their tension; left out: 1, and said so"
    )
    stress_area: Area | None = Field(None, description="of one bolt; left out: by its size")
    allowed_tension: PositiveForce | None = Field(
        None, description="of one bolt, where an anchor's approval or a maker's figure decides", examples=["14 kN"]
    )
    allowed_shear: PositiveForce | None = Field(None, description="of one bolt, likewise", examples=["9 kN"])

    @field_validator("size")
    @classmethod
    def _thread(cls, value: Any) -> Any:
        try:
            return None if value is None else take_size("", value)
        except InputError as error:
            raise cls.told(error) from None

    def make(self, place: Place) -> Any:
        told = {key: getattr(self, key) for key in type(self).model_fields}
        return BoltPattern(**(told | {"name": self.name or "bolts"}))


class CellBaseFile(FileModel):
    """How the arm stands: bolted to the floor or to the carriage, or on a pedestal or cart that is not bolted down.
    Told in the arm's base frame; the mounting face is its plane z = 0."""

    name: str | None = Field(None, description="what it is called in results", examples=["stand"])
    bolts: BoltPatternFile | None = Field(None, description="the bolts in the mounting face")
    plate: Annotated[Any, one_or_two_of(SIZE)] = Field(
        None, description="the plate's diameter, if it is round, or its length along x and width along y",
        examples=[["300 mm", "280 mm"]],
    )  # fmt: skip
    plate_outline: Annotated[Any, points_of(3)] = Field(
        None, description="instead of plate: the corners of a plate of another form, x and y, one after the other",
        examples=[[["150 mm", "0 mm"], ["-90 mm", "140 mm"], ["-90 mm", "-140 mm"]]],
    )  # fmt: skip
    plate_centre: InPlane | None = Field(None, description="of the plate, x and y; left out: 0, 0")
    friction: FrictionShare | None = Field(None, description="coefficient of friction of the face", examples=[0.15])
    free_standing: StrictBool = Field(False, description="whether it stands without being bolted down", examples=[True])
    stand_mass: Annotated[float | None, WITHDRAWN_MASS] = Field(
        None, description="free standing: of all that is below the face", examples=["120 kg"]
    )
    stand_centre: Lengths | None = Field(
        None, description="free standing: its centre of gravity", examples=["0, 0, -300 mm"]
    )
    stand_height: Distance | None = Field(
        None, description="free standing: how far the floor is below the face", examples=["600 mm"]
    )
    feet: Annotated[Any, points_of(3)] = Field(
        None, description="free standing: x and y of each foot, in any order",
        examples=[[["300 mm", "300 mm"], ["-300 mm", "300 mm"], ["0 mm", "-400 mm"]]],
    )  # fmt: skip
    foot_area: Area | None = Field(
        None, description="free standing: of one foot, on the floor", examples=["50 cm^2"]
    )
    allowed_pressure: Pressure | None = Field(None, description="on the floor", examples=["1 MPa"])

    def make(self, place: Place) -> Any:
        told = {key: getattr(self, key) for key in type(self).model_fields}
        bolts = self.bolts.made if self.bolts else None
        return Base(**(told | {"bolts": bolts, "name": self.name or "base"}))
