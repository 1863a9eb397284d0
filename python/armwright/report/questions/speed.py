"""What load can it carry at the speed that the job needs?"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.cuts import upright_cut
from armwright.report.document import Picture, Table
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.report.questions.hold import settings, tables
from armwright.report.tabled import Of, table
from armwright.results.summary import summary_lines

STUDIES = ("payload_against_time", "payload_at_speed")


def _tell(found: Found) -> Told:
    paced, moved = map(found.get, STUDIES)
    told: list[str] = []
    good = None
    if paced is not None:
        told, good = list(_paced(paced)), bool(paced["mass"].values[_as_timed(paced)] >= paced.attrs["load_mass"])
    if moved is not None:
        lines = [line for line in summary_lines(moved) if not line.startswith("gives out first: ")]
        told += [f"{line[0].upper()}{line[1:]}." for line in lines]
    return Told(
        told[0],
        good,
        told[1:],
        _pictures(found),
        _tables(found),
        settings=() if moved is None else settings(moved),
        short="" if paced is None else _short(paced),
    )


def _short(paced: xr.Dataset) -> str:
    at, wanted = _as_timed(paced), float(paced.attrs["load_mass"])
    mass = float(paced["mass"].values[at])
    carries = f"could carry {mass:.3g} kg{_by(paced, at, 'limits')}" if np.isfinite(mass) else "is limited by no mass"
    few = "The" if mass >= wanted else "TOO LITTLE: the"
    return f"{few} cycle of {float(paced['duration'].values[at]):.3g} s {carries}; {wanted:.3g} kg are needed."


def _as_timed(paced: xr.Dataset) -> int:
    """Where among the paces that of the cycle as timed is."""
    return int(np.argmin(np.abs(paced["slowing"].values - 1)))


def _by(paced: xr.Dataset, at: int, does: str) -> str:
    """In brackets, what limits the mass there."""
    joint = int(paced["limiting_joint"].values[at])
    return f" ({paced['joint_names'].values[joint]}, {paced['limiting_part'].values[at]} {does})" if joint >= 0 else ""


def _paced(paced: xr.Dataset) -> Iterator[str]:
    at, wanted = _as_timed(paced), float(paced.attrs["load_mass"])
    mass, by = float(paced["mass"].values[at]), _by(paced, at, "gives out first")
    carries = f"could carry {mass:.3g} kg" if np.isfinite(mass) else "is limited by no mass"
    yield (
        f"The cycle as timed, {float(paced['duration'].values[at]):.2f} s, {carries}{by}; its heaviest load is "
        f"{wanted:.3g} kg."
    )
    yield "Slower or faster: " + "; ".join(summary_lines(paced)) + "."


def _pictures(found: Found) -> Iterator[Picture]:
    paced, moved = map(found.get, STUDIES)
    if paced is not None:
        yield picture(
            pictures.payload_against_time(paced, units=found.units),
            "payload_against_time",
            "What the cycle could carry against the time it takes",
        )
    if moved is not None:
        x, y = upright_cut(moved)
        yield picture(
            pictures.payload_at_speed(moved, x=x, y=y, units=found.units),
            "payload_at_speed",
            "Upright section: the mass held at rest, and the mass moved as asked",
        )
        yield picture(
            pictures.payload_at_speed_curve(moved, units=found.units),
            "payload_at_speed_against_reach",
            "The mass held at rest and the mass moved, against the distance from axis 1",
        )


def _tables(found: Found) -> Iterator[Table]:
    paced, moved = map(found.get, STUDIES)
    if paced is not None:
        joints = [*map(str, paced["joint_names"].values), ""]
        named = paced.assign(first=("slowing", [joints[int(code)] for code in paced["limiting_joint"].values]))
        yield table(
            named,
            "slowing",
            "payload_against_time",
            "What the cycle could carry at other paces",
            (
                Of("slowing", "times as slow"),
                Of("duration", "duration"),
                Of("mass", "carries", down=True),
                Of("mass_peak", "by peaks", down=True),
                Of("mass_continuous", "by means", down=True),
                Of("first", "gives out first"),
                Of("limiting_part", "part"),
                Of("limiting_limit", "limit"),
                Of("limiting_time", "when"),
            ),
            note="When: in the cycle as timed; nothing where all of the cycle counts.",
            shown=0,
        )
    if moved is not None:
        yield from tables(moved)


SPEED = Question("speed", "What load can it carry when it moves?", STUDIES, _tell)
