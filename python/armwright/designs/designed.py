"""Design numbers and the studies over many designs, as methods of a cell."""

from __future__ import annotations

from collections.abc import Mapping
from concurrent.futures import Executor
from typing import TYPE_CHECKING, Any

from armwright.describe import DesignNumber
from armwright.describe.design_numbers import design_number, design_numbers, with_numbers
from armwright.errors import InputError
from armwright.machine import Machine
from armwright.studies import run
from armwright.studies.piece_store import StorePath
from armwright.studies.pieces import How

if TYPE_CHECKING:  # xarray brings pandas, a second of waiting, so that results are imported where they are made
    import xarray as xr

    from armwright.cell import Cell


class DesignNumbers(tuple[DesignNumber, ...]):
    """Design numbers, told one a line."""

    __slots__ = ()

    def __repr__(self) -> str:
        return "\n".join(map(repr, self)) or "no design numbers"


class Designed(Machine):
    """A cell as one of many that it could be."""

    def design_numbers(self, containing: str = "") -> DesignNumbers:
        """Every number of the cell's description that was told, with the name by which it is looked up and changed, its
        value, unit (SI) and tolerance; those whose name has ``containing`` in it. See docs/methods.md for how
        names are made and what goes with what.

        >>> cell.design_numbers("tool.mass")
        tool.mass = 1.7 kg ± 0.17 kg
        """
        if not isinstance(containing, str):
            raise InputError.of("containing", repr(containing), "a text")
        return DesignNumbers(n for n in design_numbers(self._description) if containing in n.path)

    def design_number(self, path: str) -> DesignNumber:
        """The number whose name is ``path``, as "arm.links[upper arm].mass".

        >>> cell.design_number("arm.links[upper arm].mass")
        arm.links[upper arm].mass = 13.2 kg ± 1.06 kg
        """
        return design_number(self._description, path)

    def with_numbers(self, values: Mapping[str, Any]) -> Cell:
        """The cell with other numbers: ``values`` by name; SI, text with a unit, or pint; with a tolerance, if that is
        told ("4.2 kg ± 10 %"). A Motor, Stage, Brake, Tool ... takes the place of one named in the same way
        ("arm.joints[axis 2].drive.motor"). Checked as a new cell is. What goes along with what: docs/methods.md.

        >>> lighter = cell.with_numbers({"arm.links[upper arm].mass": "10.5 kg ± 5 %"})
        >>> lighter.design_number("arm.links[upper arm].mass")
        arm.links[upper arm].mass = 10.5 kg ± 0.525 kg
        """
        from armwright.cell import Cell

        if not isinstance(values, Mapping):
            raise InputError.of("values", repr(values), "a dict of names and values")
        return Cell.from_description(with_numbers(self._description, values))

    def sweep(
        self,
        numbers: Mapping[str, Any],
        answers: Any = None,
        *,
        study: Any = None,
        options: Mapping[str, Any] | None = None,
        design: str = "factorial",
        samples: int | None = None,
        seed: int = 0,
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Many designs of the cell: its answers, or any study of it, for each of them.

        ``numbers``: design numbers by name, with their values (SI, text with units, pint), as {"track.stroke": ["1 m",
        "2 m"], "tool.mass": (1.0, 3.0)}. ``design`` "factorial": every combination of the values, a dim for each
        number; with ``samples`` so many values evenly from the lower to the upper of two. "latin hypercube":
        ``samples`` designs between two values of each number, spread by ``seed``, over the dim ``design``. Parts (a
        Motor, a Stage ...) may be values of a factorial design as well.

        ``answers``: what each design is asked, as [aw.ask.payload("kiln"), aw.ask.clearance()]; by default the payload
        margin, limit margin and clearance at the work points, and how many are served. Dataset: ``value``, ``reason``,
        ``where`` over the designs and (answer). A design that is refused, or has no answer, is NaN, with the reason.

        ``study`` instead: the name of a study of the cell, with its ``options``, or a function of a Cell that gives its
        data set. Then all of its variables over the designs besides, and its numbers among the attributes as
        variables; refused where the results are not of one shape.

        ``executor``, ``store``, ``threads``, ``progress``: as for all studies (docs/scale.md); an answer of your own is
        known to a store by its name, and so is a function as ``study``.

        >>> swept = cell.sweep({"tool.mass": ["1.2 kg", "2.4 kg"]}, [aw.ask.payload("over the tub")])
        >>> np.round(swept.value.values.ravel(), 2)       # kg
        array([8.71, 7.7 ])
        """
        from armwright.designs.sweep import sweep

        how = How(executor, store, threads, progress)
        return sweep(self, numbers, answers, study, options, design, samples, seed, how)  # type: ignore[arg-type]

    def changes(
        self,
        numbers: Any = None,
        alternatives: Any = (),
        answers: Any = None,
        *,
        parts: Any = None,
        prices: Mapping[str, float] | None = None,
        rank_by: str | None = None,
        currency: str = "money",
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """Which change buys the most.

        For each of ``numbers`` (names; by default ratios, torques, lengths and masses of links, counterbalances, the
        tool's mass, the stroke and the height of the base) the derivative of each answer, its critical posture held:
        the tool in the same place and attitude, the track and the branch as they are. With an error, from two steps;
        and what a step (a tenth of the number; of positions 10 mm, of angles 1 deg) is worth if it is made the better
        way.

        ``alternatives``: real changes, a list of Alternative with prices, or values by name, as {"track.stroke": ["1.5
        m", "3 m"]}; with ``parts`` (a library of parts, or its file) besides every other motor and stage of every
        drive. ``prices`` by the name of the part or alternative, in ``currency``. All postures are chosen anew for
        each; ranked by gain per price of the answer ``rank_by``, by default the first.

        ``answers``: as for ``sweep``. Dataset over (number, answer): ``derivative``, ``derivative_error``, ``gain``,
        ``better_way``; over (alternative, answer): ``alternative_value``, ``alternative_gain``, ``gain_per_price``;
        over (alternative): ``price``, ``rank``. A changed length, mass or motor brings no other change along but what
        docs/methods.md names.

        >>> numbers = ["tool.mass", "arm.links[upper arm].mass"]
        >>> worth = cell.changes(numbers, answers=[aw.ask.payload("over the tub")])
        >>> print(results.summary(worth).splitlines()[2])
            0.17 kg less of tool.mass: 0.143 kg better
        """
        from armwright.designs.changes import changes

        how = How(executor, store, threads, progress)
        return changes(
            self, numbers, alternatives, answers, parts, prices, rank_by, currency, how  # type: ignore[arg-type]
        )

    def uncertainty(
        self,
        answers: Any = None,
        tolerances: Mapping[str, Any] | None = None,
        *,
        distribution: str = "uniform",
        samples: int = 256,
        seed: int = 0,
        postures: str = "held",
        executor: Executor | None = None,
        store: StorePath | None = None,
        threads: int | None = None,
        progress: run.Progress = None,
    ) -> xr.Dataset:
        """How sure the answers are, when numbers of the design have tolerances: as described ("4.2 kg ± 10 %"), and as
        ``tolerances`` tell, by name ({"arm.links[upper arm].mass": "10 %", "mount.z": "3 mm"}).

        Each answer as a band, from 5 % to 95 % of all cases, with the numbers that cause it: by derivatives at the
        critical posture, which is quick and straight; and of ``samples`` designs (a power of two of a scrambled Sobol
        sequence, by ``seed``; 0: none). ``distribution``: what a tolerance means, "uniform" (the whole range, every
        value as likely) or "normal" (two standard deviations). All numbers vary independently. ``postures`` of the
        samples: "held", as chosen for the design as described, or chosen "anew", which takes longer.

        ``answers``: by default the payload margin, limit margin and clearance at the work points; as for ``sweep``.
        Dataset over (answer): ``linear_low``, ``linear_high``, ``sampled_low``,
        ``sampled_middle``, ``sampled_high`` ...; over (answer, number): ``linear_share``, ``sampled_share`` of the
        variance.

        >>> sure = cell.uncertainty([aw.ask.payload("over the tub")], {"tool.mass": "10 %"}, samples=0)
        >>> print(results.summary(sure).splitlines()[2])
          payload at over the tub: 8.246 kg (over the tub: axis 3, reducer 121); by derivatives 7.979 to 8.514 kg
        """
        from armwright.designs.uncertainty import uncertainty

        how = How(executor, store, threads, progress)
        return uncertainty(
            self, answers, tolerances, distribution, samples, seed, postures, how  # type: ignore[arg-type]
        )
