"""An arm on its own, its base at the world's origin: the object that scripts work with."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from armwright import describe
from armwright.describe import ArmDescription, CellDescription
from armwright.describe.arm import assumptions_text
from armwright.errors import InputError, of_file
from armwright.wrenches import Wrenches


class Arm(Wrenches):
    """An arm, its base frame the world. The tool frame is the flange's until a Cell gives it a tool.

    In its methods ``q`` is a posture or any batch of them, (..., n): rad for joints that turn, m for those that slide;
    ``qd`` and ``qdd`` its rates, of the same shape, and ``load`` what the tool carries (left out: nothing). Torques are
    N m (N where a joint slides), poses (..., 4, 4) in m. What is wrong in an argument ends in InputError. How each
    number is worked out, with its source: docs/methods.md.

    Constant: copies share it; it compares and hashes by what is described, and pickles as that.

    >>> arm
    Arm 'ware loader': 6 joints, 79 kg, 6 assumptions (see .assumptions)
    >>> arm.joint_names
    ('axis 1', 'axis 2', 'axis 3', 'axis 4', 'axis 5', 'axis 6')
    """

    def __init__(self, description: ArmDescription):
        if not isinstance(description, ArmDescription):
            raise InputError.of("arm", type(description).__name__, "an ArmDescription, as load_arm reads one")
        self.description = description
        self._description = CellDescription(description, name=description.name)
        self._model  # noqa: B018  so that what is wrong is told here and not at the first use

    @property
    def name(self) -> str:
        """What the arm is called."""
        return self.description.name

    @property
    def notes(self) -> tuple[str, ...]:
        """What was decided while the file was read."""
        return self.description.notes

    def __repr__(self) -> str:
        text = f"Arm {self.name!r}: {self.joint_count} joints, {self.description.mass:.4g} kg"
        return text + assumptions_text(self.assumptions)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Arm) and self.description == other.description

    def __hash__(self) -> int:
        return hash(self.description)

    def __copy__(self) -> Arm:
        return self

    def __deepcopy__(self, memo: dict[int, Any]) -> Arm:
        return self

    def __reduce__(self) -> tuple[type[Arm], tuple[ArmDescription]]:
        return Arm, (self.description,)


def load_arm(path: str | Path, base: str | None = None, tool: str | None = None) -> Arm:
    """Reads an arm from a TOML file of this program's own form, or from a URDF file; there ``base`` and ``tool`` name
    the links that the chain runs between. Raises InputError with everything that is wrong in the file.

    >>> aw.load_arm(folder / "arm.toml").name
    'ware loader'
    """
    description = describe.load_arm(path, base=base, tool=tool)
    with of_file(path):
        return Arm(description)
