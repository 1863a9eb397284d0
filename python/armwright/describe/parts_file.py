"""The file of parts: motors, stages and brakes that a user writes down once and refers to by name."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, TypeVar

from pydantic import Field, field_validator

from armwright.describe.common_file import different_names
from armwright.describe.described import Checks
from armwright.describe.drive import Brake
from armwright.describe.drive_file import BrakeFile, MotorFile, StageFile
from armwright.describe.file_kinds import PARTS
from armwright.describe.motor import Motor
from armwright.describe.problems import FileModel, Place, read_file
from armwright.describe.stage import Stage
from armwright.describe.wrong import shown
from armwright.errors import InputError

Part = TypeVar("Part")


@dataclass(frozen=True)
class Parts:
    """Motors, stages and brakes by name, as a file of parts holds them.

    >>> sorted(aw.load_parts(folder / "parts.toml").motors)[:3]
    ['1 kW motor', '200 W motor', '400 W motor']
    """

    motors: Mapping[str, Motor]
    stages: Mapping[str, Stage]
    brakes: Mapping[str, Brake]

    def motor(self, name: str) -> Motor:
        """The motor of that name; InputError with the nearest, if there is none."""
        return _part("motor", self.motors, name)

    def stage(self, name: str) -> Stage:
        """The stage of that name; InputError with the nearest, if there is none."""
        return _part("stage", self.stages, name)

    def brake(self, name: str) -> Brake:
        """The brake of that name; InputError with the nearest, if there is none."""
        return _part("brake", self.brakes, name)

    def __repr__(self) -> str:
        return f"Parts: {len(self.motors)} motors, {len(self.stages)} stages, {len(self.brakes)} brakes"


def _part(kind: str, known: Mapping[str, Part], name: Any) -> Part:
    if isinstance(name, str) and name in known:
        return known[name]
    near = difflib.get_close_matches(str(name), known, 1, 0.5)
    raise InputError.of(kind, shown(name), f"one of {', '.join(known) or 'none'}", near[0] if near else "")


class PartsFile(FileModel):
    """Parts, each headed [[motor]], [[stage]] or [[brake]], each with a name by which drives refer to it."""

    file_kind = PARTS

    motor: tuple[MotorFile, ...] = Field((), description="motors")
    stage: tuple[StageFile, ...] = Field((), description="stages")
    brake: tuple[BrakeFile, ...] = Field((), description="brakes")

    @field_validator("motor", "stage", "brake")
    @classmethod
    def _names(cls, value: tuple[Any, ...]) -> tuple[Any, ...]:
        checks = Checks("")
        for i, item in enumerate(value):
            if item.name is None:
                checks.wrong(f"[{i}].name", "nothing", "this key: the name by which drives refer to it")
        try:
            checks.done()
        except InputError as error:
            raise cls.told(error) from None
        return different_names(cls, value, [item.name for item in value])

    def make(self, place: Place) -> Any:
        motors, stages, brakes = (
            {str(item.name): item.made for item in items} for items in (self.motor, self.stage, self.brake)
        )
        return Parts(motors, stages, brakes)


def take_parts(model: type[FileModel], value: Any, place: Place) -> Any:
    """The file of parts that a description names: its path once it is read; ``place`` then knows its parts."""
    try:
        if not isinstance(value, str):
            raise InputError.of("", shown(value), "the path of a file of parts, in quotes")
        place.parts = None
        path = place.inside("", value)
        place.parts = read_file(path, PartsFile, Place(path.parent, place.root))
    except InputError as error:
        raise model.told(error) from None
    return value
