"""A cell: an arm where it stands, what it carries and what stands about; and the studies over it."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from armwright import _core, arguments, describe
from armwright.arm import Arm
from armwright.describe import (
    ArmDescription,
    Base,
    CellDescription,
    Cycle,
    LiftingEye,
    Load,
    ServiceVolume,
    Shape,
    Supply,
    Target,
    Tool,
    Track,
)
from armwright.describe.arm import assumptions_text
from armwright.describe.cell import standard_gravity
from armwright.designs.designed import Designed
from armwright.drawn import Drawn
from armwright.errors import InputError, of_file
from armwright.exported import Exported
from armwright.kept_true import KeptTrue
from armwright.laden import Laden
from armwright.lifted import Liftable
from armwright.placing import Placeable
from armwright.reported import Reported
from armwright.tracks import OnTrack

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr


class Cell(Laden, OnTrack, Placeable, KeptTrue, Liftable, Designed, Drawn, Exported, Reported):
    """An arm in its cell. ``q`` is the track first (m), if there is one, then the arm (rad).

    ``mount``: the arm's base in the world, or on the track's carriage; a 4x4 pose or a position. ``fixtures``: shapes
    in the world, each with the clearance to be kept. ``base``: how the arm is bolted down or stands; ``lifting``: the
    eyes that it is lifted by; ``service``: the room that motors need to come out. Constant: copies share it; it
    compares and hashes by what is described, and pickles as that.

    The same in many methods:

    - ``q``: a posture or any batch of them, (..., n); ``qd``, ``qdd``: its rates, of the same shape; ``load``: what the
      tool carries (left out: the cell's); torques are N m (N where a joint slides), poses (..., 4, 4) in the world, m;
    - ``limit``: "continuous" torque, which is held for any time, or "peak"; ``margin``: the clearance to be kept, m,
      beside what fixtures state; ``centre``: of gravity of a load, m from the tool frame;
    - ``executor``, ``store``: where the pieces of a long study are worked on, and the folder that keeps those that are
      done; ``threads``: how many of this process (left out: all); ``progress``: True for a bar, or a function of how
      much is done and how much there is, which ends the study by returning False. None of them changes a bit.

    Results are data sets whose variables state their units. What is wrong in an argument ends in InputError, with the
    key, the value and what was expected. How each number is worked out, with its source: docs/methods.md.

    >>> floor = aw.HalfSpace(name="floor")
    >>> aw.Cell(arm, track=aw.Track("x", "2.4 m"), fixtures=[floor], load=aw.Load("6 kg")).joint_names[:2]
    ('track', 'axis 1')
    """

    def __init__(
        self,
        arm: Arm | ArmDescription,
        track: Track | None = None,
        fixtures: Iterable[Shape] | Shape = (),
        tool: Tool | None = None,
        load: Load | None = None,
        targets: Iterable[Target] | Target = (),
        *,
        mount: Any = None,
        gravity: Any = standard_gravity,
        ignored_pairs: Iterable[tuple[str, str]] = (),
        name: str = "cell",
        supply: Supply | None = None,
        base: Base | None = None,
        lifting: Iterable[LiftingEye] | LiftingEye = (),
        service: Iterable[ServiceVolume] | ServiceVolume = (),
    ):
        described = arm.description if isinstance(arm, Arm) else arm
        if not isinstance(described, ArmDescription):
            raise InputError.of("Cell.arm", type(arm).__name__, "an Arm, as load_arm reads one")
        self._take(CellDescription(
            described, track=track, fixtures=fixtures, tool=tool, load=load, targets=targets,  # type: ignore[arg-type]
            mount=mount, gravity=gravity, ignored_pairs=ignored_pairs, name=name, supply=supply,  # type: ignore[arg-type]
            base=base, lifting=lifting, service=service,  # type: ignore[arg-type]
        ))  # fmt: skip

    @classmethod
    def from_description(cls, description: CellDescription) -> Cell:
        """The cell of a description, as ``describe.load_cell`` reads one.

        >>> aw.Cell.from_description(replace(cell.description, name="another")).name
        'another'
        """
        if not isinstance(description, CellDescription):
            raise InputError.of("description", type(description).__name__, "a CellDescription, as describe.load_cell "
                                "reads one; armwright.load_cell makes a Cell of it")  # fmt: skip
        cell = cls.__new__(cls)
        cell._take(description)
        return cell

    def _take(self, description: CellDescription) -> None:
        self._description = description
        self._model  # noqa: B018  so that what is wrong is told here and not at the first use
        self._solids  # noqa: B018

    @property
    def description(self) -> CellDescription:
        """All that was described."""
        return self._description

    @cached_property
    def arm(self) -> Arm:
        """The arm alone."""
        return Arm(self._description.arm)

    @property
    def name(self) -> str:
        """What the cell is called."""
        return self._description.name

    @property
    def track(self) -> Track | None:
        """The track under the arm, if any."""
        return self._description.track

    @property
    def fixtures(self) -> tuple[Shape, ...]:
        """The solids that stand in the world, each with its name and the clearance to be kept, m."""
        return self._description.fixtures

    @property
    def tool(self) -> Tool | None:
        """What is bolted to the flange, if anything."""
        return self._description.tool

    @property
    def load(self) -> Load | None:
        """What the tool carries, if anything."""
        return self._description.load

    @property
    def supply(self) -> Supply | None:
        """The electrical supply of the drives, if it was described."""
        return self._description.supply

    @property
    def targets(self) -> tuple[Target, ...]:
        """The work points."""
        return self._description.targets

    # Clearance

    def clearance(self, q: ArrayLike) -> xr.Dataset:
        """Least distance in each posture: arm, tool and load against fixtures, track and the arm itself.

        Dataset over (posture ...): ``distance`` m, negative where solids overlap and infinite with nothing to come
        near; ``point_a``, ``point_b`` (..., 3) m, the nearest points in the world; ``name_a``, ``name_b``.

        >>> near = cell.clearance(q)
        >>> print(f"{float(near.distance):.3f} m between {near.name_a.item()} and {near.name_b.item()}")
        0.050 m between forearm and flange
        """
        from armwright.results import make_dataset

        batch, rows = self._rows(q)
        distance, a, b, solids = _core.clearance.least_distances(self._solids, self._model, rows)
        name_a, name_b = np.array([*self._solids.solid_names, ""]).take(solids.T)
        variables = {
            "distance": distance.reshape(batch),
            "point_a": a.reshape(*batch, 3),
            "point_b": b.reshape(*batch, 3),
            "name_a": name_a.reshape(batch),
            "name_b": name_b.reshape(batch),
        }
        return make_dataset("clearance", variables, {}, {}, self.digest(), self._description.arm.name)

    def is_clear(self, q: ArrayLike, margin: Any = 0.0) -> NDArray[np.bool_]:
        """Whether every pair of solids keeps ``margin``, or the fixture's own clearance if that is more, (...,).

        >>> bool(cell.is_clear(q)), bool(cell.is_clear(q, margin="500 mm"))
        (True, False)
        """
        batch, rows = self._rows(q)
        kept = arguments.length("margin", margin, zero=True)
        return np.asarray(_core.clearance.are_clear(self._solids, self._model, rows, kept)).reshape(batch)

    def __repr__(self) -> str:
        described = self._description
        track = f", {described.track!r}" if described.track else ""
        tool = f", {described.tool!r}" if described.tool else ""
        return (
            f"Cell {described.name!r}: arm {described.arm.name!r}, {self.joint_count} joints{track}{tool}, "
            f"{len(described.fixtures)} fixtures, {len(described.targets)} work points"
            f"{assumptions_text(self.assumptions)}"
        )

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Cell) and self._description == other._description

    def __hash__(self) -> int:
        return hash(self._description)

    def __copy__(self) -> Cell:
        return self

    def __deepcopy__(self, memo: dict[int, Any]) -> Cell:
        return self

    def __reduce__(self) -> tuple[Any, tuple[CellDescription]]:
        return Cell.from_description, (self._description,)


def load_cell(path: str | Path) -> Cell:
    """Reads a cell, and the files that it names, from TOML. Raises InputError with everything that is wrong.

    >>> aw.load_cell(folder / "cell.toml").targets[0]
    Target 'left shelf 1': at (250, -1180, 540) mm, tilt up to 3 deg
    """
    description = describe.load_cell(path)
    with of_file(path):
        return Cell.from_description(description)


def load_cycle(path: str | Path, cell: Cell | None = None) -> Cycle:
    """Reads a cycle from TOML; joints, work points and loads in it are the cell's. Raises InputError with everything
    that is wrong. Without a cell names are checked when the cycle is used.

    >>> aw.load_cycle(folder / "cycle.toml", cell)
    Cycle 'rack, glaze, kiln': 12 moves, as fast as it goes
    """
    if cell is not None and not isinstance(cell, Cell):
        raise InputError.of("cell", type(cell).__name__, "a Cell, as load_cell reads one")
    return describe.load_cycle(path, None if cell is None else cell.description)
