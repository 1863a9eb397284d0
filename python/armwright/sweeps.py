"""The studies over a cell, as its methods."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

from armwright import _core, arguments
from armwright.answers import LimitName
from armwright.describe import CellDescription, Load, Target
from armwright.labels import study_labels
from armwright.studies import defaults, run
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.wrenches import Wrenches

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr


class Studied(Wrenches):
    """A machine among solids, with the sweeps over it.

    All of them work in pieces of about a second. ``executor``: any ``concurrent.futures.Executor`` whose workers do
    them (a Dask client's ``get_executor()``), each on one thread unless ``threads`` says otherwise; None: the core's
    own threads. ``store``: a folder in which finished pieces are kept, so that the same call goes on after whatever
    ended the first. Neither they nor ``threads`` change a bit of the result. ``progress``: True for a bar, or a
    callable of (done, total), which may return False to stop. See docs/scale.md.
    """

    @property
    def _solids(self) -> _core.clearance.Scene:
        return self._subject.solids

    def _as_one_piece(self, study: str, how: How, **options: Any) -> xr.Dataset:
        from armwright.designs.studied import as_one_piece

        return as_one_piece(self, study, how, **options)

    def _solids_with(self, load: Load | None) -> _core.clearance.Scene:
        return self._subject.solids_with(load)

    def reach_map(
        self,
        spacing: Any,
        *,
        directions: Any = defaults.directions,
        spins: int = defaults.spins,
        margin: Any = 0.0,
        bounds: Any = None,
        fixtures: bool = True,
        track_step: Any = None,
        dexterous_share: float = 1.0,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Where the tool point can be, and in how many attitudes.

        A grid ``spacing`` apart (m) over ``bounds`` ((x, y, z), (x, y, z)), by default all that the arm could reach. At
        each position ``directions`` of the tool axis times ``spins`` about it are tried (a number, spread evenly over
        the sphere; or a list, as ["down", (1, 0, -1)]), with the track at every ``track_step`` (default: the spacing)
        and nearest to the position. A posture counts if it keeps the joint limits and, with ``fixtures``, is clear of
        everything by ``margin``. A tool of fewer than six freedoms takes few attitudes: there ``reachable``, the
        volume, margins and clearance ask for the position alone.

        Dataset over (x, y, z): ``reach_index`` (share of attitudes), ``reachable``, ``limit_margin``,
        ``manipulability``, ``clearance``, and with a track ``track_lower``, ``track_upper``. Attributes:
        ``reachable_volume`` and ``dexterous_volume`` (reach index of at least ``dexterous_share``) in m³, each with
        its ``_error`` from two spacings. ``executor``, ``store``, ``threads``, ``progress``: as for every sweep (the
        class tells); none changes a bit of the result.

        >>> reach = cell.reach_map("400 mm", directions=12, spins=1)
        >>> print(f"{reach.attrs['reachable_volume']:.1f} m³ of {reach.reachable.size} positions")
        14.8 m³ of 1350 positions
        """
        from armwright.studies.reach_map import reach_map

        return reach_map(
            self._subject,
            arguments.length("spacing", spacing),
            bounds=arguments.corners("bounds", bounds),
            directions=arguments.directions("directions", directions),
            spins=spins,
            margin=arguments.length("margin", margin, zero=True),
            track_step=arguments.length_or_none("track_step", track_step),
            dexterous_share=dexterous_share,
            fixtures=fixtures,
            how=How(executor, store, threads, progress),
            **self._labels,
        )

    def payload_map(
        self,
        spacing: Any,
        *,
        attitude: run.Attitude = "any",
        centre: Any = (0.0, 0.0, 0.0),
        limit: LimitName = "continuous",
        directions: Any = None,
        spins: int = defaults.spins,
        margin: Any = 0.0,
        bounds: Any = None,
        fixtures: bool = True,
        track_step: Any = None,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """How much the arm holds at each position of a grid, with the load's centre of gravity at ``centre`` from the
        tool frame (m), and which joint gives out first.

        ``attitude``: "any" (``directions`` over the sphere), "down" (tool axis straight down) or "level"
        (``directions`` all round), each at ``spins``. In each attitude the best posture counts. Dataset over (x, y,
        z): ``mass_greatest``, ``mass_least`` kg over the reachable attitudes, ``limiting_joint``; over (height,
        distance): ``curve_mass``, the payload against the horizontal distance from axis 1, which fixtures do not limit
        and for which a track stands at mid-stroke. ``directions``: 60 for "any", 24 for "level" by default.
        ``spacing``, ``bounds``, ``track_step``, ``margin``: as for ``reach_map``.

        >>> payload = cell.payload_map("400 mm", directions=12, spins=1)
        >>> print(f"{float(payload.mass_greatest.max()):.1f} kg at the best position")
        54.6 kg at the best position
        """
        from armwright.studies.payload_map import payload_map

        return payload_map(
            self._subject,
            arguments.length("spacing", spacing),
            attitude=attitude,
            centre=arguments.position("centre", centre),
            limit=limit,
            bounds=arguments.corners("bounds", bounds),
            directions=directions if directions is None else arguments.directions("directions", directions),
            spins=spins,
            margin=arguments.length("margin", margin, zero=True),
            track_step=arguments.length_or_none("track_step", track_step),
            fixtures=fixtures,
            how=How(executor, store, threads, progress),
            **self._labels,
        )

    def payload_at_speed(
        self,
        spacing: Any,
        *,
        tool_acceleration: Any = None,
        turn_acceleration: Any = None,
        joint_acceleration: float | None = None,
        speed_share: float | None = None,
        gyration: Any = 0.0,
        attitude: run.Attitude = "any",
        centre: Any = (0.0, 0.0, 0.0),
        limit: LimitName = "peak",
        directions: Any = None,
        spins: int = defaults.spins,
        margin: Any = 0.0,
        bounds: Any = None,
        fixtures: bool = True,
        track_step: Any = None,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """How much the arm moves as asked at each position of a grid, and which joint, part and limit are met first;
        beside it what the same posture search finds to be held at rest.

        Asked can be, each for itself, and the least mass counts: ``tool_acceleration`` (m/s²) of the tool point in any
        direction from rest, its attitude kept, with ``turn_acceleration`` (rad/s²) about any axis besides;
        ``joint_acceleration``, a share (0 to 1) of every joint's greatest, all at once and each either way, from rest;
        ``speed_share``, a share of every joint's greatest speed, likewise (a joint that states no speed: what its motor
        and stages may turn at), with the joint accelerations at that speed if they are asked too. Peak torques count:
        motors at their speed, reducers at repeated peaks, what is stated of a joint; with efficiency, friction and
        rotor inertia. ``gyration``: the load's radius of gyration about its centre, m, one or along each axis of the
        tool frame. ``spacing``, ``bounds``, ``directions``, ``spins``, ``track_step``, ``fixtures``, ``margin``: as for
        ``reach_map``.

        Everything else as for ``payload_map``; ``limit`` is that of the masses at rest. Dataset over (x, y, z):
        ``mass_greatest``, ``mass_least``, ``rest_mass_greatest``, ``rest_mass_least`` kg, ``limiting_joint``,
        ``limiting_part``, ``limiting_limit``, ``limiting_demand``; over (height, distance): ``curve_mass`` and
        ``rest_curve_mass``.

        >>> fast = cell.payload_at_speed("500 mm", tool_acceleration="3 m/s^2", directions=8, spins=1)
        >>> print(f"{float(fast.rest_mass_greatest.max()):.1f} kg, moving {float(fast.mass_greatest.max()):.1f} kg")
        98.8 kg, moving 61.4 kg
        """
        from armwright.moving import motion_of
        from armwright.studies.payload_at_speed import payload_at_speed

        return payload_at_speed(
            self._subject,
            arguments.length("spacing", spacing),
            motion_of(tool_acceleration, turn_acceleration, joint_acceleration, speed_share, gyration),
            attitude=attitude,
            centre=arguments.position("centre", centre),
            limit=limit,
            bounds=arguments.corners("bounds", bounds),
            directions=directions if directions is None else arguments.directions("directions", directions),
            spins=spins,
            margin=arguments.length("margin", margin, zero=True),
            track_step=arguments.length_or_none("track_step", track_step),
            fixtures=fixtures,
            how=How(executor, store, threads, progress),
            **self._labels,
        )

    def check_targets(
        self,
        targets: Iterable[Target] | Target | None = None,
        *,
        margin: Any = 0.0,
        limit: LimitName = "continuous",
        centre: Any = None,
        order: Sequence[str] = defaults.order,
        track_step: Any = None,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """The best posture for each work point; where there is none, why not and by how much.

        ``targets``: the cell's by default. A posture serves if it keeps the joint limits, is clear of everything by
        ``margin`` (or the fixture's own clearance, if that is more), and holds the load wanted there: the work point's
        own, else the cell's, its centre of gravity at ``centre`` (m, from the tool frame; by default the load's own).
        A work point's own load is carried with its own shapes, or, if it has none, with those of the cell's load. Best
        is what is first in ``order``; where that is about equal, what is next decides. A track is tried at every
        ``track_step`` (default 50 mm) and nearest to the point, then the best place is drawn finer. Approach and
        retract ways are not checked.

        Dataset over (target): ``served``, ``reason``, ``q`` (target, joint), margins, what comes nearest, the mass
        held and wanted; see docs/results.md.

        >>> checked = cell.check_targets()
        >>> print(report.targets_table(checked))
        work point    served  to limits  clearance  holds   track   remark
        ------------  ------  ---------  ---------  ------  ------  ---------------------------
        left shelf 2  yes     38 %       46 mm      7.8 kg  0.42 m  nearest: left rack, shelf 2
        kiln, middle  yes     57 %       56 mm      9.4 kg  0.59 m  nearest: flange
        over the tub  yes     66 %       60 mm      8.2 kg  1.37 m  nearest: flange
        3 of 3 work points served
        """
        from armwright.studies.check_targets import check_targets

        return check_targets(
            self._subject,
            self._chosen(targets),
            centre=None if centre is None else arguments.position("centre", centre),
            margin=arguments.length("margin", margin, zero=True),
            kept={shape.name: float(shape.clearance) for shape in self._description.fixtures},
            limit=limit,
            order=order,
            track_step=arguments.length_or_none("track_step", track_step),
            how=How(executor, store, threads, progress),
            **self._labels,
        )

    def _chosen(self, targets: Iterable[Target] | Target | None) -> tuple[Target, ...]:
        """The work points told, checked; the cell's own if none are."""
        described = self._description
        if targets is None:
            return described.targets
        return CellDescription(described.arm, targets=targets).targets  # type: ignore[arg-type]

    def outlines(
        self,
        *,
        spacing: Any = None,
        directions: int = 60,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Boundary curves of the reachable region in the vertical section through axis 1 and in plan, for the tool
        point and (arms of six joints) the wrist centre, with the range of each axis. Fixtures do not count.

        ``spacing`` of the grid that the curves are found on, m (default: a fortieth of the arm's length stretched
        out); ``directions`` of the tool tried at each point, besides those along the line from axis 1. In section a
        track stands at mid-stroke; in plan all of it counts.

        >>> shape = cell.outlines(spacing="200 mm", directions=12)
        >>> print(f"{float(shape.section.max()):.2f} m from axis 1 at most")
        2.02 m from axis 1 at most
        """
        from armwright.studies.outlines import outlines

        return outlines(
            self._subject,
            spacing=arguments.length_or_none("spacing", spacing),
            directions=directions,
            how=How(executor, store, threads, progress),
            **self._labels,
        )

    @property
    def _labels(self) -> dict[str, Any]:
        described = self._description
        return {"labels": study_labels(described), "inputs_digest": self.digest(), "arm_name": described.arm.name}
