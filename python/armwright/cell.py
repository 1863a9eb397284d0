"""A cell: an arm where it stands, what it carries and what stands about; and the studies over it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property
from pathlib import Path
from typing import Any

import numpy as np
import xarray as xr
from numpy.typing import ArrayLike, NDArray

from armwright import _core, arguments, describe
from armwright.arm import Arm
from armwright.compile import build_scene, target_specs
from armwright.describe import ArmDescription, CellDescription, Load, Shape, Target, Tool, Track
from armwright.describe.cell import standard_gravity
from armwright.errors import InputError
from armwright.machine import LimitName, Machine
from armwright.results import Scene, make_dataset
from armwright.scenes import scene_of
from armwright.studies import check_targets, outlines, payload_map, reach_map, run


class Cell(Machine):
    """An arm in its cell. ``q`` is the track first (m), if there is one, then the arm (rad).

    ``mount``: the arm's base in the world, or on the track's carriage; a 4x4 pose or a position. ``fixtures``: shapes
    in the world, each with the clearance to be kept. Constant: copies share it; it compares and hashes by what is
    described, and pickles as that.
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
    ):
        described = arm.description if isinstance(arm, Arm) else arm
        if not isinstance(described, ArmDescription):
            raise InputError.of("Cell.arm", type(arm).__name__, "an Arm, as load_arm reads one")
        self._take(CellDescription(
            described, track=track, fixtures=fixtures, tool=tool, load=load, targets=targets,  # type: ignore[arg-type]
            mount=mount, gravity=gravity, ignored_pairs=ignored_pairs, name=name,  # type: ignore[arg-type]
        ))  # fmt: skip

    @classmethod
    def from_description(cls, description: CellDescription) -> Cell:
        """The cell of a description, as ``describe.load_cell`` reads one."""
        cell = cls.__new__(cls)
        cell._take(description)
        return cell

    def _take(self, description: CellDescription) -> None:
        self._description = description
        self._model  # noqa: B018  so that what is wrong is told here and not at the first use
        self._solids  # noqa: B018

    @cached_property
    def _solids(self) -> _core.clearance.Scene:
        return build_scene(self._spec, self._model)

    @property
    def description(self) -> CellDescription:
        return self._description

    @cached_property
    def arm(self) -> Arm:
        """The arm alone."""
        return Arm(self._description.arm)

    @property
    def name(self) -> str:
        return self._description.name

    @property
    def track(self) -> Track | None:
        return self._description.track

    @property
    def fixtures(self) -> tuple[Shape, ...]:
        return self._description.fixtures

    @property
    def tool(self) -> Tool | None:
        return self._description.tool

    @property
    def load(self) -> Load | None:
        return self._description.load

    @property
    def targets(self) -> tuple[Target, ...]:
        return self._description.targets

    @property
    def touching_pairs(self) -> tuple[tuple[str, str], ...]:
        """Pairs of solids that are not checked against each other because they touch by design."""
        return tuple((str(a), str(b)) for a, b in self._solids.touching_pairs)

    # Clearance

    def clearance(self, q: ArrayLike) -> xr.Dataset:
        """Least distance in each posture: arm, tool and load against fixtures, track and the arm itself.

        Dataset over (posture ...): ``distance`` m, negative where solids overlap and infinite with nothing to come
        near; ``point_a``, ``point_b`` (..., 3) m, the nearest points in the world; ``name_a``, ``name_b``.
        """
        batch, rows = self._rows(q)
        distance, a, b, solids = _core.clearance.least_distances(self._solids, self._model, rows)
        names = np.array([*self._solids.solid_names, ""])
        variables = {
            "distance": distance.reshape(batch),
            "point_a": a.reshape(*batch, 3),
            "point_b": b.reshape(*batch, 3),
            "name_a": names[solids[:, 0]].reshape(batch),
            "name_b": names[solids[:, 1]].reshape(batch),
        }
        return make_dataset("clearance", variables, {}, {}, self.digest(), self._description.arm.name)

    def is_clear(self, q: ArrayLike, margin: Any = 0.0) -> NDArray[np.bool_]:
        """Whether every pair of solids keeps ``margin``, or the fixture's own clearance if that is more, (...,)."""
        batch, rows = self._rows(q)
        kept = arguments.length("margin", margin, zero=True)
        return np.asarray(_core.clearance.are_clear(self._solids, self._model, rows, kept)).reshape(batch)

    # Studies

    def reach_map(
        self,
        spacing: Any,
        *,
        directions: int = reach_map.default_directions,
        spins: int = reach_map.default_spins,
        margin: Any = 0.0,
        bounds: Any = None,
        fixtures: bool = True,
        track_step: Any = None,
        dexterous_share: float = 1.0,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Where the tool point can be, and in how many attitudes.

        A grid ``spacing`` apart (m) over ``bounds`` ((x, y, z), (x, y, z)), by default all that the arm could reach. At
        each position ``directions`` of the tool axis, spread evenly over the sphere, times ``spins`` about it are
        tried, with the track at every ``track_step`` (default: the spacing). A posture counts if it keeps the joint
        limits and, with ``fixtures``, is clear of everything by ``margin``.

        Dataset over (x, y, z): ``reach_index`` (share of attitudes), ``reachable``, ``limit_margin``,
        ``manipulability``, ``clearance``, and with a track ``track_lower``, ``track_upper``. Attributes:
        ``reachable_volume`` and ``dexterous_volume`` (reach index of at least ``dexterous_share``) in m³, each with
        its ``_error`` from two spacings. ``threads`` do not change a bit of the result. ``progress``: True for a bar,
        or a callable of (done, total).
        """
        return reach_map.reach_map(
            self._model,
            self._solids if fixtures else None,
            arguments.length("spacing", spacing),
            bounds=arguments.corners("bounds", bounds),
            directions=directions,
            spins=spins,
            margin=arguments.length("margin", margin, zero=True),
            track_step=arguments.length_or_none("track_step", track_step),
            dexterous_share=dexterous_share,
            threads=threads,
            progress=progress,
            **self._labels,
        )

    def payload_map(
        self,
        spacing: Any,
        *,
        attitude: run.Attitude = "any",
        centre: Any = (0.0, 0.0, 0.0),
        limit: LimitName = "continuous",
        directions: int | None = None,
        spins: int = payload_map.default_spins,
        margin: Any = 0.0,
        bounds: Any = None,
        fixtures: bool = True,
        track_step: Any = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """How much the arm holds at each position of a grid, with the load's centre of gravity at ``centre`` from the
        tool frame (m), and which joint gives out first.

        ``attitude``: "any" (``directions`` over the sphere), "down" (tool axis straight down) or "level"
        (``directions`` all round), each at ``spins``. In each attitude the best posture counts. Dataset over (x, y,
        z): ``mass_greatest``, ``mass_least`` kg over the reachable attitudes, ``limiting_joint``; over (height,
        distance): ``curve_mass``, the payload against the horizontal distance from axis 1, which fixtures do not limit.
        """
        return payload_map.payload_map(
            self._model,
            self._solids if fixtures else None,
            arguments.length("spacing", spacing),
            attitude=attitude,
            centre=arguments.position("centre", centre),
            limit=limit,
            bounds=arguments.corners("bounds", bounds),
            directions=directions,
            spins=spins,
            margin=arguments.length("margin", margin, zero=True),
            track_step=arguments.length_or_none("track_step", track_step),
            threads=threads,
            progress=progress,
            **self._labels,
        )

    def check_targets(
        self,
        targets: Iterable[Target] | Target | None = None,
        *,
        margin: Any = 0.0,
        limit: LimitName = "continuous",
        centre: Any = None,
        order: Sequence[str] = check_targets.default_order,
        track_step: Any = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """The best posture for each work point; where there is none, why not and by how much.

        ``targets``: the cell's by default. A posture serves if it keeps the joint limits, is clear of everything by
        ``margin`` (or the fixture's own clearance, if that is more), and holds the load wanted there, its centre at
        ``centre`` (default: the load's own). Best is what is first in ``order``; where that is about equal, what is
        next decides.
        """
        described = self._description
        chosen = described.targets
        if targets is not None:
            chosen = CellDescription(described.arm, targets=targets).targets  # type: ignore[arg-type]
        if centre is None:
            centre = described.load.centre if described.load else (0.0, 0.0, 0.0)
        return check_targets.check_targets(
            self._model,
            self._solids,
            target_specs(described, chosen),
            margin=arguments.length("margin", margin, zero=True),
            kept={shape.name: float(shape.clearance) for shape in described.fixtures},
            limit=limit,
            centre=arguments.position("centre", centre),
            order=order,
            track_step=arguments.length_or_none("track_step", track_step),
            threads=threads,
            progress=progress,
            **self._labels,
        )

    def outlines(
        self, *, spacing: Any = None, directions: int = 60, threads: int | None = None, progress: run.Progress = None
    ) -> xr.Dataset:
        """Boundary curves of the reachable region in the vertical section through axis 1 and in plan, for the tool
        point and (arms of six joints) the wrist centre, with the range of each axis. Fixtures do not count."""
        return outlines.outlines(
            self._model,
            spacing=arguments.length_or_none("spacing", spacing),
            directions=directions,
            threads=threads,
            progress=progress,
            **self._labels,
        )

    # Pictures

    def scene(self, q: ArrayLike | None = None, checked: xr.Dataset | None = None) -> Scene:
        """The cell as plain numbers for pictures: at posture ``q`` (default: all joints at zero, or at the middle of
        their range where zero is outside it), its work points as a result of ``check_targets`` tells them."""
        return scene_of(self._description, self._rest(q), checked)

    def _rest(self, q: ArrayLike | None) -> NDArray[np.float64]:
        if q is None:
            lower, upper = self.limits[:2]
            zero_allowed = (lower <= 0) & (upper >= 0)
            return np.array(
                [0.0 if fits else (a + b) / 2 for a, b, fits in zip(lower, upper, zero_allowed, strict=True)]
            )
        batch, rows = self._rows(q)
        if batch:
            raise InputError.of("q", f"an array of shape {np.shape(q)}", f"one posture, shape ({self.joint_count},)")
        return np.asarray(rows[0])

    @property
    def _labels(self) -> dict[str, Any]:
        described = self._description
        base = described.mount
        labels: dict[str, Any] = {"cell_name": described.name}
        if described.track is None:
            labels["base_position"] = base[:3, 3].tolist()
        else:
            track = described.track
            ends = [
                (track.pose @ np.append(track.axis * at, 1.0))[:3] + track.pose[:3, :3] @ base[:3, 3]
                for at in track.stroke
            ]
            labels["base_position"] = (track.pose @ base)[:3, 3].tolist()
            labels["track_span"] = np.concatenate(ends).tolist()
        return {"labels": labels, "inputs_digest": self.digest(), "arm_name": described.arm.name}

    def __repr__(self) -> str:
        described = self._description
        track = f", {described.track!r}" if described.track else ""
        tool = f", {described.tool!r}" if described.tool else ""
        return (
            f"Cell {described.name!r}: arm {described.arm.name!r}, {self.joint_count} joints{track}{tool}, "
            f"{len(described.fixtures)} fixtures, {len(described.targets)} work points"
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
    """Reads a cell, and the files that it names, from TOML. Raises InputError with everything that is wrong."""
    return Cell.from_description(describe.load_cell(path))
