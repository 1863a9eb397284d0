"""A spring or a mass that takes weight off the drives."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from armwright.describe.described import Checks, Described, put
from armwright.describe.drive_units import POSITIVE_FORCE, RATE
from armwright.describe.links import check_link, moved_point
from armwright.describe.pose import Array, take_position
from armwright.describe.shapes import take_name
from armwright.describe.units import FORCE, MASS, SIZE, Kind, replace_bounds
from armwright.describe.wrong import shown
from armwright.errors import InputError

_NEEDS = {
    "coil": ("rate", "free_length"),
    "gas": ("force_extended", "force_compressed", "stroke", "extended_length"),
    "mass": ("mass",),
}
_MAY = {"coil": ("preload", "longest"), "gas": (), "mass": ()}
_KINDS: dict[str, Kind] = {
    "rate": RATE, "free_length": SIZE, "preload": FORCE, "longest": SIZE, "force_extended": POSITIVE_FORCE,
    "force_compressed": POSITIVE_FORCE, "stroke": SIZE, "extended_length": SIZE,
    "mass": replace_bounds(MASS, above=0.0),
}  # fmt: skip


@dataclass(frozen=True, eq=False, repr=False)
class Counterbalance(Described):
    """A spring between a point of one link and a point of another, or a mass on a link.

    ``link_a``, ``link_b``: names of links (the base's too); ``point_a``, ``point_b``: m, in the links' frames.
    ``kind``: "coil", a spring that pulls: ``rate`` N/m, ``free_length`` m between its ends, ``preload`` N, with which
    it begins to pull there, ``longest`` m that it may be drawn to; gone slack it does nothing. "gas", a spring that
    pushes: ``force_extended`` and ``force_compressed`` N at the ends of its ``stroke`` m, straight between;
    ``extended_length`` m between its ends. "mass": ``mass`` kg at ``point_a`` of ``link_a``; it counts with that
    link.

    >>> aw.Counterbalance("coil", "turret", (0, 0.1, 0.4), "upper arm", rate="6 N/mm", free_length="300 mm")
    Counterbalance 'counterbalance': coil, 6 N/mm, from 'turret' to 'upper arm'
    """

    kind: str
    link_a: str
    point_a: Any = (0.0, 0.0, 0.0)
    link_b: str | None = None
    point_b: Any = (0.0, 0.0, 0.0)
    rate: Any = None
    free_length: Any = None
    preload: Any = None
    longest: Any = None
    force_extended: Any = None
    force_compressed: Any = None
    stroke: Any = None
    extended_length: Any = None
    mass: Any = None
    name: str = "counterbalance"

    def __post_init__(self) -> None:
        checks = Checks(self)
        if not checks.word("kind", self.kind, tuple(_NEEDS)):
            checks.done()
        put(
            self,
            name=checks.take("name", take_name, self.name, ""),
            link_a=checks.take("link_a", take_name, self.link_a, ""),
            point_a=checks.take("point_a", take_position, self.point_a, np.zeros(3)),
            point_b=checks.take("point_b", take_position, self.point_b, np.zeros(3)),
        )
        self._check_keys(checks)
        if self.kind == "mass":
            if self.link_b is not None:
                checks.wrong("link_b", shown(self.link_b), "no second link: a mass is on one")
        else:
            put(self, link_b=checks.take("link_b", take_name, self.link_b, ""))
            if self.link_a and self.link_a == self.link_b:
                checks.wrong("link_b", shown(self.link_b), "another link than the first")
        if not checks.problems:
            self._check_lengths(checks)
        checks.done()

    def _check_keys(self, checks: Checks) -> None:
        for key, kind in _KINDS.items():
            value = getattr(self, key)
            if value is None:
                if key in _NEEDS[self.kind]:
                    checks.wrong(key, "nothing", f"this key: a counterbalance of kind {self.kind} has one")
            elif key not in _NEEDS[self.kind] + _MAY[self.kind]:
                checks.wrong(key, shown(value), f"no {key}: a counterbalance of kind {self.kind} has none")
            else:
                put(self, **{key: checks.take(key, kind.si_value, value, None)})

    def _check_lengths(self, checks: Checks) -> None:
        if self.kind == "gas":
            if self.force_compressed < self.force_extended:
                checks.wrong("force_compressed", f"{self.force_compressed:.6g} N",
                             f"at least the force extended, {self.force_extended:.6g} N")  # fmt: skip
            if not self.stroke < self.extended_length:
                checks.wrong("stroke", f"{1000 * self.stroke:.6g} mm",
                             f"less than the extended length, {1000 * self.extended_length:.6g} mm")  # fmt: skip
        if self.longest is not None and not self.longest > self.free_length:
            checks.wrong("longest", f"{1000 * self.longest:.6g} mm",
                         f"more than the free length, {1000 * self.free_length:.6g} mm")  # fmt: skip

    def check_links(self, key: str, names: tuple[str, ...]) -> None:
        """Refuses links that the arm has not, with the nearest name."""
        checks = Checks("")
        for which in ("link_a", "link_b"):
            name = getattr(self, which)
            if name is not None:
                checks.take(f"{key}.{which}", lambda at, told: check_link(at, told, names), name, None)
        checks.done()

    @property
    def spring(self) -> dict[str, float | bool]:
        """As the core takes a spring: its pull (N) at ``length`` (m), how that grows, and between which lengths."""
        if self.kind == "mass":
            raise InputError.of("kind", "mass", "a spring")
        if self.kind == "coil":
            more = {} if self.longest is None else {"longest": float(self.longest)}
            return {"length": float(self.free_length), "pull": float(self.preload or 0.0), "rate": float(self.rate),
                    "pulls_only": True, **more}  # fmt: skip
        rate = (self.force_compressed - self.force_extended) / self.stroke
        return {"length": float(self.extended_length), "pull": -float(self.force_extended), "rate": float(rate),
                "pulls_only": False, "shortest": float(self.extended_length - self.stroke),
                "longest": float(self.extended_length)}  # fmt: skip

    def carried(self, frames: dict[str, Array]) -> Counterbalance:
        """The same with its points, told in frames of the links that are given by name, told in the links' frames."""
        moved = {}
        for end, link in (("a", self.link_a), ("b", self.link_b)):
            if link is not None:
                moved[f"point_{end}"] = moved_point(frames.get(link, np.eye(4)), getattr(self, f"point_{end}"))
        told = {key: getattr(self, key) for key in _KINDS}
        return Counterbalance(**{"kind": self.kind, "link_a": self.link_a, "link_b": self.link_b, "name": self.name,
                                 **told, **moved})  # fmt: skip

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        if self.kind == "coil" and self.preload is None:
            return (f"{self.name}: no preload: 0 N at its free length",)
        return ()

    def __repr__(self) -> str:
        if self.kind == "mass":
            return f"Counterbalance {self.name!r}: {self.mass:.6g} kg on {self.link_a!r}"
        told = self.spring
        return (f"Counterbalance {self.name!r}: {self.kind}, {told['rate'] / 1000:.6g} N/mm, "
                f"from {self.link_a!r} to {self.link_b!r}")  # fmt: skip
