"""Eyes by which the arm is lifted."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from armwright.describe.described import Checks, Described, put
from armwright.describe.links import check_link, moved_point
from armwright.describe.machine_units import WITHDRAWN_MASS, put_told
from armwright.describe.pose import Array, take_position
from armwright.describe.shapes import take_name


@dataclass(frozen=True, eq=False, repr=False)
class LiftingEye(Described):
    """Where a sling or hook takes hold. ``link``: the name of a link (the base's too); ``point``: m, in that link's
    frame. ``rated_mass``: that the eye may lift, kg (None: not told). Hoist with rated gear only.

    >>> cell.description.lifting[0]
    LiftingEye 'turret eye': on 'turret' at (60, 0, 285) mm, 230 kg
    """

    link: str
    point: Any
    rated_mass: Any = None
    name: str = "eye"

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            link=checks.take("link", take_name, self.link, ""),
            point=checks.take("point", take_position, self.point, np.zeros(3)),
        )
        put_told(self, checks, {"rated_mass": WITHDRAWN_MASS})
        checks.done()

    def check_links(self, key: str, names: tuple[str, ...]) -> None:
        """Refuses a link that the arm has not, with the nearest name."""
        check_link(f"{key}.link", self.link, names)

    def carried(self, frames: dict[str, Array]) -> LiftingEye:
        """The same with its point, told in a frame of its link, told in the link's frame."""
        return replace(self, point=moved_point(frames.get(self.link, np.eye(4)), self.point))

    def __repr__(self) -> str:
        at = ", ".join(f"{1000 * v:.6g}" for v in self.point + 0.0)
        rated = "" if self.rated_mass is None else f", {self.rated_mass:.6g} kg"
        return f"LiftingEye {self.name!r}: on {self.link!r} at ({at}) mm{rated}"
