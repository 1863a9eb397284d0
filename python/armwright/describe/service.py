"""Room that a motor needs to be reached and taken out."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from armwright.describe.described import Checks, Described, put
from armwright.describe.links import check_link
from armwright.describe.machine_units import WITHDRAWN_MASS, put_told
from armwright.describe.pose import Array, take_direction
from armwright.describe.quantity_text import counted
from armwright.describe.shapes import HalfSpace, Shape, moved_shape, take_name, take_shapes


@dataclass(frozen=True, eq=False, repr=False)
class ServiceVolume(Described):
    """A volume that must be free for a motor to be reached and withdrawn. ``motor``: the name of the joint that it
    moves ("track" too); ``link``: the name of the link that carries it ("carriage": the track's). What is on the track
    does not count in a cell without one. ``shapes``: the volume, in that link's frame, the motor's way out and the room
    for hands and tools included. ``direction``: the way out, in that frame; ``mass`` of the motor, kg. None: not
    told.

    >>> cell.description.service[0]
    ServiceVolume 'motor of axis 2': 'axis 2' on 'turret', 1 shape, 4.1 kg
    """

    motor: str
    link: str
    shapes: tuple[Shape, ...]
    direction: Any = None
    mass: Any = None
    name: str | None = None

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(
            self,
            motor=checks.take("motor", take_name, self.motor, ""),
            link=checks.take("link", take_name, self.link, ""),
            shapes=checks.take("shapes", take_shapes, self.shapes, ()),
        )
        put(self, name=f"motor of {self.motor}" if self.name is None else checks.take("name", take_name, self.name, ""))
        put_told(self, checks, {"mass": WITHDRAWN_MASS})
        if self.direction is not None:
            put(self, direction=checks.take("direction", take_direction, self.direction, None))
        if not checks.problems and not self.shapes:
            checks.wrong("shapes", "none", "one shape or more")
        for i, shape in enumerate(self.shapes):
            if isinstance(shape, HalfSpace):
                checks.wrong(f"shapes[{i}]", "a half-space", "a solid that ends somewhere")
            elif shape.clearance > 0:
                checks.wrong(f"shapes[{i}].clearance", f"{shape.clearance:.6g} m",
                             "0: the volume is what must be free")  # fmt: skip
        checks.done()

    def check_names(self, key: str, links: tuple[str, ...], joints: tuple[str, ...]) -> None:
        """Refuses a link or a joint that the cell has not, with the nearest name."""
        checks = Checks("")
        checks.take(f"{key}.link", lambda at, name: check_link(at, name, links, "a link"), self.link, None)
        checks.take(f"{key}.motor", lambda at, name: check_link(at, name, joints, "a joint"), self.motor, None)
        checks.done()

    def carried(self, frames: dict[str, Array]) -> ServiceVolume:
        """The same, told in a frame of its link, told in the link's frame."""
        pose = frames.get(self.link, np.eye(4))
        if np.array_equal(pose, np.eye(4)):
            return self
        direction = None if self.direction is None else pose[:3, :3] @ self.direction
        return replace(self, shapes=tuple(moved_shape(pose, shape) for shape in self.shapes), direction=direction)

    def __repr__(self) -> str:
        mass = "" if self.mass is None else f", {self.mass:.6g} kg"
        shapes = counted(len(self.shapes), "shape")
        return f"ServiceVolume {self.name!r}: {self.motor!r} on {self.link!r}, {shapes}{mass}"
