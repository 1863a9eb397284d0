"""The table of the electrical supply in a cell file."""

from __future__ import annotations

from typing import Any, Literal

from pydantic import Field

from armwright.describe.drive_units import Capacitance, Current, Power, Resistance, Voltage
from armwright.describe.problems import FileModel, Place
from armwright.describe.supply import Supply
from armwright.describe.units import Share


class SupplyFile(FileModel):
    """The mains, and what the drives make of it. Voltages and currents of the mains are rms. Supply, protective earth
    and fusing are for local codes and those licensed for them."""

    voltage: Voltage = Field(description="of the mains; between lines, with three phases")
    phases: Literal[1, 3] = Field(1, description="one or three", examples=[1])
    power_factor: Share | None = Field(
        None, description="left out: 0.6 with one phase, 0.9 with three, and said so", examples=[0.65]
    )
    branch_current: Current | None = Field(None, description="what the branch circuit is rated for")
    capacitance: Capacitance | None = Field(None, description="of the drives' bus; left out: none, and said so")
    resistance: Resistance | None = Field(None, description="of the braking resistor", examples=["47 ohm"])
    resistor_power: Power | None = Field(None, description="that it bears for any time", examples=["100 W"])
    braking_voltage: Voltage | None = Field(
        None, description="of the bus, at which it is switched on", examples=["380 V"]
    )
    greatest_voltage: Voltage | None = Field(
        None, description="of the bus, at which the drives trip", examples=["410 V"]
    )
    efficiency: Share | None = Field(
        None, description="of rectifier and drives; left out: 0.95, and said so", examples=["95 %"]
    )
    standby_power: Power | None = Field(
        None, description="what controls and released brakes take all the time; left out: 0, and said so",
        examples=["40 W"],
    )  # fmt: skip

    def make(self, place: Place) -> Any:
        return Supply(**{key: getattr(self, key) for key in type(self).model_fields})
