"""Tables of drives: motors, stages, brakes, friction; in arm and cell files, and in files of parts."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import Annotated, Any, ClassVar, Literal

from pydantic import Field, GetCoreSchemaHandler, GetJsonSchemaHandler, ValidationInfo, field_validator
from pydantic_core import PydanticCustomError, core_schema

from armwright.describe.drive import Brake, Drive, Friction
from armwright.describe.drive_units import (
    LINEAR_VISCOUS,
    POSITIVE_FORCE,
    POSITIVE_TORQUE,
    VISCOUS,
    AngularSpeed,
    Counts,
    Energy,
    Exponent,
    Life,
    LossFactor,
    Power,
    Resistance,
    Resolution,
    RotaryInertia,
    SignedRatio,
    Time,
    TorqueConstant,
)
from armwright.describe.motor import Motor, take_torque_or_curve
from armwright.describe.problems import FileModel, Place
from armwright.describe.stage import Stage, slides, unit_kinds
from armwright.describe.units import FORCE, TORQUE, Kind, Share, Size
from armwright.describe.wrong import Wrong, told_to_pydantic
from armwright.errors import InputError


class _TorqueOrCurve:
    """A torque, or the points of a curve, in a file."""

    def _from_file(self, value: object) -> Any:
        if isinstance(value, int | float):  # a bare number has no unit
            return POSITIVE_TORQUE.from_file(value)
        if isinstance(value, list) and any(not isinstance(item, str) for point in value if isinstance(point, list)
                                           for item in point):  # fmt: skip
            raise Wrong('points with units, as [["0 rpm", "2.4 N*m"], ["3000 rpm", "2.2 N*m"]]')
        return value

    def _taken(self, value: object) -> Any:
        told = told_to_pydantic(self._from_file)(value)
        try:
            return take_torque_or_curve("", told)
        except InputError as error:
            raise FileModel.told(error) from None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(self._taken)

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        point = {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2}
        points = {"type": "array", "items": point, "minItems": 2, "maxItems": 12}
        return {"anyOf": [{"type": "string"}, points], "x-si-unit": "N*m; points rad/s, N*m",
                "examples": ["2.4 N*m", [["0 rpm", "2.4 N*m"], ["3000 rpm", "2.2 N*m"]]]}  # fmt: skip


TorqueOrCurve = Annotated[Any, _TorqueOrCurve()]


class MotorFile(FileModel):
    """A motor. What is told at its shaft is in rad/s and N·m; currents and voltages are rms. With continuous and peak
    told as torques, each stays the same from rest to rated_speed (to max_speed, if there is no rated_speed), and
    falls from there in a straight line to the torque that gives the same power at max_speed."""

    name: str | None = Field(None, description="what it is called in results", examples=["750 W"])
    continuous: TorqueOrCurve = Field(
        description="what it gives for any time: a torque, or points of speed and torque that begin at 0 rpm, straight "
        "between them"
    )
    peak: TorqueOrCurve = Field(None, description="what it gives for a short time; left out: the continuous one")
    max_speed: AngularSpeed | None = Field(None, description="the greatest speed; curves told as points end at theirs")
    rated_speed: AngularSpeed | None = Field(None, description="up to which torques told without a curve stay the same")
    rotor_inertia: RotaryInertia | None = Field(
        None, description="of the rotor and what is fixed to the shaft (brake, coupling); left out: 0, and said so"
    )
    winding_loss: LossFactor | None = Field(None, description="copper loss by squared torque")
    loss_at_rated: Power | None = Field(
        None,
        description="instead: copper loss at the continuous torque (at rated_speed, if that is told; else at rest)",
        examples=["38 W"],
    )
    resistance: Resistance | None = Field(
        None,
        description="instead: between two leads, warm; with torque_constant the loss is 1.5 x resistance x current²",
    )
    torque_constant: TorqueConstant | None = Field(None, description="torque by current, A rms in a lead")
    encoder_counts: Counts | None = Field(
        None, description="counts of the encoder a turn, a whole number, after all multiplication"
    )
    encoder_resolution: Resolution | None = Field(None, description="instead: the angle of a count")

    def make(self, place: Place) -> Any:
        told = {key: getattr(self, key) for key in type(self).model_fields}
        return Motor(**(told | {"name": self.name or "motor"}))


def _either(torque: Kind, force: Kind) -> Any:
    """A quantity of something that turns, or of something that slides: (whether it slides, value)."""
    return Annotated[Any, _Either(torque, force)]


@dataclass(frozen=True)
class _Either:
    torque: Kind
    force: Kind

    def _from_file(self, value: object) -> tuple[bool, float]:
        try:
            return False, self.torque.from_file(value)
        except Wrong as wrong:
            try:
                return True, self.force.from_file(value)
            except Wrong:
                raise wrong from None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(told_to_pydantic(self._from_file))

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        unit = f"{self.torque.si}; {self.force.si} if it slides"
        return {"type": "string", "examples": [self.torque.example], "x-si-unit": unit}


@dataclass(frozen=True)
class _Coulomb(_Either):
    """One value, or two: forward and backward."""

    def _from_file(self, value: object) -> Any:
        if not isinstance(value, list):
            return super()._from_file(value)
        pair = [super(_Coulomb, self)._from_file(item) for item in value]
        if len(pair) != 2 or pair[0][0] != pair[1][0]:
            raise Wrong("one value, or two of one kind: forward and backward")
        return pair[0][0], (pair[0][1], pair[1][1])

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        told = super().__get_pydantic_json_schema__(schema, handler)
        two = {"type": "array", "items": {"type": "string"}, "minItems": 2, "maxItems": 2}
        return told | {"type": ["string", "array"], "anyOf": [{"type": "string"}, two]}


def _by_output(what: str, unit: str, **more: Any) -> Any:
    """A field of a stage whose unit depends on whether its output slides."""
    return Field(None, description=what, json_schema_extra={"type": "string", "x-si-unit": unit}, **more)


class StageFile(FileModel):
    """A stage between motor and joint: its input looks towards the motor, its output towards the joint. The output of a
    screw and of a rack slides, and that of a belt with a radius (it pulls a carriage): there torques are forces."""

    kind: Literal["belt", "gear", "strain wave", "cycloidal", "screw", "rack", "direct"] = Field(
        description="the kind of stage", examples=["strain wave"]
    )
    name: str | None = Field(
        None, description="what it is called in results; left out: its kind", examples=["first belt"]
    )
    ratio: SignedRatio | None = Field(None, description="input turns a turn of the output; negative if it reverses")
    lead: Size | None = Field(None, description="screw: its way a turn, instead of ratio", examples=["5 mm"])
    radius: Size | None = Field(
        None, description="rack: of the pinion; belt that pulls a carriage: of the pulley; instead of ratio",
        examples=["25 mm"],
    )  # fmt: skip
    efficiency: Share | None = Field(None, description="while the motor drives; left out: what is usual, and said so")
    efficiency_back: Share | None = Field(
        None, description="while the joint drives the motor; left out: as the other, and said so"
    )
    rated_torque: Any = _by_output("at the output, for any time", "N*m; N if it slides", examples=["67 N*m"])
    repeated_peak_torque: Any = _by_output(
        "at the output, at every start and stop", "N*m; N if it slides", examples=["137 N*m"]
    )
    momentary_peak_torque: Any = _by_output(
        "at the output, at a rare emergency stop", "N*m; N if it slides", examples=["260 N*m"]
    )
    inertia: RotaryInertia | None = Field(None, description="of what turns with its input; left out: 0, and said so")
    max_input_speed: AngularSpeed | None = Field(None, description="the greatest speed of its input")
    mean_input_speed: AngularSpeed | None = Field(None, description="the greatest mean over a cycle")
    stiffness: Any = _by_output("at the output", "N*m/rad; N/m if it slides", examples=["31 N*m/arcmin"])
    backlash: Any = _by_output("at the output", "rad; m if it slides", examples=["1 arcmin"])
    rated_life: Life | None = Field(None, description="running time at rated torque and rated_input_speed")
    rated_input_speed: AngularSpeed | None = Field(None, description="at which rated torque and life hold")
    life_exponent: Exponent | None = Field(
        None, description="power of torque in life; left out: 3, cycloidal 10/3", examples=[3]
    )

    @field_validator("rated_torque", "repeated_peak_torque", "momentary_peak_torque", "stiffness", "backlash")
    @classmethod
    def _at_the_output(cls, value: Any, info: ValidationInfo) -> Any:
        kinds = unit_kinds(slides(info.data.get("kind", ""), info.data.get("radius")))
        return told_to_pydantic(kinds[str(info.field_name)].from_file)(value)

    def make(self, place: Place) -> Any:
        return Stage(**{key: getattr(self, key) for key in type(self).model_fields})


class BrakeFile(FileModel):
    """A brake that closes when the power goes."""

    name: str | None = Field(None, description="what it is called in results", examples=["brake, 1.5 N*m"])
    torque: Annotated[Any, _Either(POSITIVE_TORQUE, POSITIVE_FORCE)] = Field(
        description="static, where it sits; at a joint that slides a force"
    )
    side: Literal["motor", "joint"] = Field("motor", description="where it sits: on the motor's shaft, or at the joint")
    delay: Time | None = Field(
        None, description="from power off to full torque; left out: 0.1 s, and said so", examples=["30 ms"]
    )
    energy: Energy | None = Field(
        None, description="that it bears in one stop; left out: none is too much, and said so"
    )

    def make(self, place: Place) -> Any:
        sliding, torque = self.torque
        return Brake(torque, self.side, self.delay, self.energy, sliding, self.name or "brake")


class FrictionFile(FileModel):
    """What resists motion, besides the efficiencies of the stages."""

    coulomb: Annotated[Any, _Coulomb(TORQUE, FORCE)] = Field(
        None, description="the same at every speed: one value, or two, forward and backward"
    )
    viscous: Annotated[Any, _Either(VISCOUS, LINEAR_VISCOUS)] = Field(None, description="by speed")

    def make(self, place: Place) -> Any:
        told = [value for value in (self.coulomb, self.viscous) if value is not None]
        if not told:
            raise InputError.of("coulomb", "nothing", "coulomb, viscous or both")
        if len({sliding for sliding, _ in told}) > 1:
            raise InputError.of(
                "viscous", "a unit of another motion than coulomb's", "both of what turns, or both of what slides"
            )
        coulomb, viscous = (0.0 if value is None else value[1] for value in (self.coulomb, self.viscous))
        return Friction(coulomb, viscous, sliding=told[0][0])


@dataclass(frozen=True)
class by_name:  # noqa: N801  used like a function
    """A plain text is the name of a part in the file of parts."""

    kind: str

    def _part(self, value: Any, info: Any) -> Any:
        if not isinstance(value, str):
            return value
        place: Place = info.context
        if place.parts is None:  # that file is broken, and told already
            raise PydanticCustomError("told already", "told already")
        known = {part.name: part for part in getattr(place.parts, self.kind, ())}
        if value in known:
            return known[value]
        near = difflib.get_close_matches(value, known, 1, 0.5)
        names = (
            ", ".join(f'"{name}"' for name in known)
            or f"none (no file of parts with a [[{self.kind}]] is named by the key parts)"
        )
        expected = f"a table, or the name of a {self.kind} in the file of parts: {names}"
        meant = f'"{near[0]}"' if near else ""
        raise PydanticCustomError("armwright", "{expected}", {"expected": expected, "meant": meant})

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.with_info_before_validator_function(self._part, handler(source))

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        table = handler(schema)
        options = table.get("anyOf", [table])
        return {"anyOf": [{"type": "string"}, *options]}


class DriveFile(FileModel):
    """What turns or slides a joint: its motor, then the stages from the motor to the joint. A prismatic joint's last
    stage is a screw, a rack, or a belt with a radius."""

    motor: Annotated[MotorFile, by_name("motor")] = Field(
        description="its motor: a table, or a name in the file of parts"
    )
    stage: tuple[Annotated[StageFile, by_name("stage")], ...] = Field(
        (), description="stages from the motor to the joint, each a table or a name in the file of parts; none: direct"
    )
    brake: Annotated[BrakeFile | None, by_name("brake")] = Field(
        None, description="its brake: a table, or a name in the file of parts; left out: none, and said so"
    )
    friction: FrictionFile | None = Field(None, description="at the joint")
    motor_friction: FrictionFile | None = Field(None, description="at the motor's shaft")
    keys: ClassVar[dict[str, str]] = {"stages": "stage"}

    def make(self, place: Place) -> Any:
        return Drive(
            self.motor.made, tuple(stage.made for stage in self.stage), self.brake.made if self.brake else None,
            self.friction.made if self.friction else None, self.motor_friction.made if self.motor_friction else None,
        )  # fmt: skip
