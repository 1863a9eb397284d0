"""The table of a service volume in a cell file."""

from __future__ import annotations

from typing import Annotated, Any, ClassVar

from pydantic import Field

from armwright.describe.common_file import Direction, ShapeFile
from armwright.describe.machine_units import WITHDRAWN_MASS
from armwright.describe.problems import FileModel, Place
from armwright.describe.service import ServiceVolume


class ServiceVolumeFile(FileModel):
    """Room that must be free for a motor to be reached and taken out. Told in the frame in which the link is told."""

    name: str | None = Field(
        None, description='what it is called in results; left out: "motor of" its joint', examples=["motor of axis 2"]
    )
    motor: str = Field(description='the joint that the motor moves, or "track"', examples=["axis 2"])
    link: str = Field(description="the link that carries it, the base, or the carriage", examples=["turret"])
    shape: tuple[ShapeFile, ...] = Field(
        description="the room: the motor's way out, and what hands and tools need", min_length=1
    )
    direction: Direction | None = Field(None, description="which way it comes out")
    mass: Annotated[float | None, WITHDRAWN_MASS] = Field(None, description="of the motor", examples=["3.4 kg"])
    keys: ClassVar[dict[str, str]] = {"shapes": "shape"}

    def make(self, place: Place) -> Any:
        shapes = tuple(shape.made for shape in self.shape)
        return ServiceVolume(self.motor, self.link, shapes, self.direction, self.mass, self.name)
