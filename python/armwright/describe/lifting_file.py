"""The table of a lifting eye in a cell file."""

from __future__ import annotations

from typing import Annotated, Any

from pydantic import Field

from armwright.describe.lifting import LiftingEye
from armwright.describe.machine_units import WITHDRAWN_MASS
from armwright.describe.problems import FileModel, Place
from armwright.describe.units import Lengths


class LiftingEyeFile(FileModel):
    """An eye by which the arm is lifted. Hoist with rated gear only; nobody under the load."""

    name: str | None = Field(
        None, description='what it is called in results; left out: "eye"', examples=["eye on the turret"]
    )
    link: str = Field(description="the link that it is on, or the base", examples=["turret"])
    point: Lengths = Field(description="where a hook or sling takes hold, in the frame in which the link is told")
    rated_mass: Annotated[float | None, WITHDRAWN_MASS] = Field(
        None, description="that it may lift", examples=["200 kg"]
    )

    def make(self, place: Place) -> Any:
        return LiftingEye(self.link, self.point, self.rated_mass, self.name or "eye")
