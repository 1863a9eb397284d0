"""A cell's links and joints as springs, and what its links bear, as its methods."""

from __future__ import annotations

from collections.abc import Iterable
from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

import numpy as np
from numpy.typing import ArrayLike

from armwright import arguments
from armwright.answers import Floats
from armwright.describe import Load, Target
from armwright.errors import InputError
from armwright.studies import run
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How
from armwright.wrenched import LoadRows, Wrenched

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr


class Structural(Wrenched):
    """What gives way under weight: stages between motors and axes, bearings, links.

    Linear theory of small deflections: it ends where the tool turns by about 0.1 rad (results say where), or where a
    link is pressed with a tenth of its Euler load. Rotors are held, backlash and friction do not count (``tool_error``
    tells of backlash). Tubes are beams after Timoshenko, drives' stages and bearings springs in series with them; what
    each gives way adds up by Castigliano's theorem. What has no stiffness told counts as rigid and is named in the
    attribute ``not_counted``; with nothing told at all a study is refused (InputError). ``load`` is by default what
    the description carries."""

    def sag(
        self,
        q: ArrayLike | None = None,
        *,
        targets: Iterable[Target] | Target | None = None,
        load: Load | None = None,
        force: ArrayLike = (0.0, 0.0, 0.0),
        moment: ArrayLike = (0.0, 0.0, 0.0),
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """How far the tool sinks from where the rigid arm would have it, by weight, counterbalances and a ``force`` (N)
        and ``moment`` (N m) at the tool point in world axes; and the share of every cause.

        At joint vectors ``q`` (..., n) with ``load``, or, without ``q``, at ``targets`` (the cell's by default), each
        in its best posture as ``check_targets`` finds it and with its own load (``load``, if one is given). Dataset
        over (posture ...): ``sag`` (m) and ``sag_turn`` (rad), world; what of it is the arm's own and the load's;
        ``cause_shift``, ``cause_turn``, ``cause_share``.

        >>> sunk = cell.sag(q)
        >>> print(f"{1000 * float(sunk.sag_down):.1f} mm lower")
        2.3 mm lower
        """
        from armwright.studies.carried import load_table
        from armwright.studies.sag import sag

        push = np.concatenate([_three("force", force), _three("moment", moment)])
        at = None
        if q is not None:
            if targets is not None:
                raise InputError.of("targets", "given beside q", "one of q and targets")
            batch, rows = self._rows(q)
            carried = load_table([self._carried(load)], np.zeros(len(rows)))
        else:
            chosen = self._chosen(targets)
            found = self.check_targets(chosen, executor=executor, threads=threads)
            rows, batch = np.asarray(found["q"].values), (len(chosen),)
            at = found.target.values
            loads = [self._carried(load if load is not None else target.load) for target in chosen]
            carried = load_table(loads, np.arange(len(loads)))
        return sag(self._subject, rows, carried, batch, push=push, at=at, how=How(executor, store, threads, progress),
                   **self._labels)  # fmt: skip

    def sag_over_reach(
        self,
        spacing: Any,
        *,
        attitude: run.Attitude = "any",
        directions: Any = None,
        spins: int = 1,
        load: Load | None = None,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """How far the tool sinks over the upright half-plane ahead of axis 1 (where all joints at mid-range point), a
        track at mid-stroke; fixtures do not count. Positions are ``spacing`` apart, or a hundredth of the reach.

        At each position ``directions`` of the tool axis (72 by default) times ``spins`` about it are tried, as for
        ``payload_map``; in each attitude the posture that sinks least counts. Dataset over (height, distance):
        ``sag_least`` and ``sag_greatest`` over the attitudes, and at the greatest ``sag_down``, ``main_cause`` with its
        share, and ``q``.

        >>> map_ = cell.sag_over_reach("300 mm", directions=8)
        >>> print(f"{1000 * float(map_.sag_greatest.max()):.1f} mm at the worst place")
        3.3 mm at the worst place
        """
        from armwright.studies.sag import sag_over_reach

        return sag_over_reach(
            self._subject, arguments.length("spacing", spacing), self._carried(load), attitude=attitude,
            directions=directions if directions is None else arguments.directions("directions", directions),
            spins=spins, how=How(executor, store, threads, progress), **self._labels,
        )  # fmt: skip

    def stiffness(
        self,
        q: ArrayLike,
        *,
        load: Load | None = None,
        modes: int = 3,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """How stiff the arm is at its tool point in postures ``q`` (..., n), world axes, and its lowest natural
        frequencies with ``load``, the drives' rotors held and nothing damped.

        Dataset over (posture ...): ``compliance`` and ``stiffness_matrix`` (6 x 6, forces before moments),
        ``stiffness_along`` each axis (N/m) and ``stiffness_about`` it (N m/rad); ``frequency`` (mode), the lowest
        ``modes`` of them, the mode's main cause with every cause's share of the strain energy, and which way the tool
        point swings. Frequencies (Hz) are found after Rayleigh and Ritz over all that gives way, and err high, if
        anything: what is not counted would lower them.

        >>> stiff = cell.stiffness(q)
        >>> print(f"{float(stiff.frequency[..., 0].min()):.1f} Hz")
        9.9 Hz
        """
        from armwright.studies.stiffness import stiffness

        batch, rows = self._rows(q)
        return stiffness(
            self._subject, rows, self._carried(load), batch, modes=modes, how=How(executor, store, threads, progress),
            **self._labels,
        )  # fmt: skip

    def link_stress(
        self,
        cycle: Any = None,
        *,
        rows: LoadRows | None = None,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """The greatest von Mises stress at both ends of every tube and between them (at its quarters, and where
        counterbalances take hold) over ``rows`` of loading (by default ``load_rows(cycle)``: at rest, through the
        cycle, in stops), against yield, with what a weld leaves of it.

        Nominal, by beam theory: force and moment in the cut by Newton and Euler, from what is beyond it; the greatest
        normal and the greatest shear stress of the section taken at one point, on the safe side, √(σ² + 3 τ²). No
        notches, no fatigue, and no buckling of thin walls, which is flagged. Dataset over (tube, end): the stress, Pa,
        ``safety`` beside the ``wanted_safety`` of the tube (1.5 if none was told: common practice, no source), and the
        case, time and posture where it is greatest. Refused where no link is described as a tube.

        >>> stress = cell.link_stress(rows=cell.load_rows(stops=False))
        >>> print(f"{float(stress.von_mises.max()) / 1e6:.1f} MPa at most")
        5.1 MPa at most
        """
        from armwright.studies.link_stress import link_stress

        given = self._loading(rows, cycle, threads=threads)
        return link_stress(self._subject, given, how=How(executor, store, threads, progress), **self._labels)


def _three(key: str, values: ArrayLike) -> Floats:
    array = arguments.numbers(key, values)
    if array.shape != (3,):
        raise InputError.of(key, f"an array of shape {array.shape}", "three numbers, along world x, y and z")
    arguments.finite(key, array)
    return array
