"""Tables of what a joint holds and how it may move, which arm and cell files share."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from armwright.describe.drive_units import MOTION_LIMITS
from armwright.describe.problems import FileModel, Place
from armwright.describe.units import Force, Ratio, Share, Torque
from armwright.errors import InputError


class _Held(FileModel):
    """What a joint holds: the peak is not below the continuous value. Told here, whatever else is wrong with the
    joint."""

    def make(self, place: Place) -> Any:
        continuous, peak = getattr(self, "continuous"), getattr(self, "peak")  # noqa: B009  fields of the classes below
        if peak is not None and peak < continuous:
            unit = "N" if isinstance(self, ForceFile) else "N m"
            raise InputError.of("peak", f"{peak:.6g} {unit}", f"at least the continuous one, {continuous:.6g} {unit}")
        return continuous, continuous if peak is None else peak


class TorqueFile(_Held):
    """What a revolute joint holds, at the joint."""

    continuous: Torque = Field(description="the torque it holds for any time")
    peak: Torque | None = Field(None, description="the torque it holds for a short time; left out: the continuous one")


class ForceFile(_Held):
    """What a sliding joint holds, at the joint."""

    continuous: Force = Field(description="the force it holds for any time")
    peak: Force | None = Field(None, description="the force it holds for a short time; left out: the continuous one")


class HoldingMotorFile(_Held):
    """What a revolute joint holds, from its motor, in short: torque x ratio x efficiency. For what moves, tell its
    drive."""

    continuous: Torque = Field(description="the motor's continuous torque at standstill")
    peak: Torque | None = Field(None, description="the motor's peak torque; left out: the continuous one")
    ratio: Ratio = Field(description="motor turns per turn of the joint")
    efficiency: Share = Field(description="of the whole way from motor to joint")


@dataclass(frozen=True)
class as_table:  # noqa: N801  used like a function
    """A plain text stands for a table with that one key."""

    key: str

    def _table(self, value: Any) -> Any:
        return {self.key: value} if isinstance(value, str | int | float) else value

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_before_validator_function(self._table, handler(source))

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        table = handler(schema)
        options = table.get("anyOf", [table])
        return {"anyOf": [{"type": "string"}, *options]}


def motion_limit(what: str, example: str) -> Any:
    """A field for the greatest speed, acceleration or jerk of a joint."""
    turning, sliding = MOTION_LIMITS[what]
    return Field(
        None,
        description=f"the greatest {what} allowed; left out: no limit but the drive's",
        examples=[example],
        json_schema_extra={"type": "string", "x-si-unit": f"{turning.si}; {sliding.si} if prismatic"},
    )
