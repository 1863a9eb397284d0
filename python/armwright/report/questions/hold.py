"""What load can it hold, and which joint gives out first?"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.cuts import upright_cut
from armwright.report.document import Column, Entry, Picture, Table
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.results.summary import summary_lines

STUDIES = ("payload_map",)


def _tell(found: Found) -> Told:
    held = found.results["payload_map"]
    lines = summary_lines(held)
    mass = held["mass_greatest"].values
    finite = np.isfinite(mass)
    if not finite.any():
        return Told(f"{lines[0][0].upper()}{lines[0][1:]}.", None, (), _pictures(found, held), tables(held),
                    settings=settings(held))  # fmt: skip
    least, most = np.argmin(np.where(finite, mass, np.inf)), np.argmax(np.where(finite, mass, -np.inf))
    by = _limits(held, np.unravel_index(int(least), mass.shape))
    return Told(
        f"At rest the arm {lines[0]}.",
        None,
        [f"Least {_at(held, mass, least)}; most {_at(held, mass, most)}."],
        _pictures(found, held),
        tables(held),
        settings=settings(held),
        short=f"At rest it holds {mass.flat[least]:.3g} kg at the worst place{by and f' ({by} limits)'}, "
        f"{mass.flat[most]:.3g} kg at the best.",
    )


def _at(held: xr.Dataset, mass: Any, flat: Any) -> str:
    at = np.unravel_index(int(flat), mass.shape)
    place = ", ".join(f"{float(held[axis].values[i]):.3g}" for axis, i in zip("xyz", at, strict=True))
    by = _limits(held, at)
    return f"{float(mass[at]):.3g} kg at ({place}) m{by and f', limited by {by}'}"


def _limits(held: xr.Dataset, at: Any) -> str:
    """Joint and part that give out first there."""
    joint = int(held["limiting_joint"].values[at])
    part = int(held["limiting_part"].values[at]) if "limiting_part" in held else -1
    names = [str(held["joint_names"].values[joint])] if joint >= 0 else []
    return ", ".join([*names, *([str(held["part_names"].values[part])] if part >= 0 else [])])


def settings(held: xr.Dataset) -> Iterator[str]:
    """What a map of masses was asked with."""
    a = held.attrs
    centre = ", ".join(f"{value:g}" for value in a["load_centre"])
    yield f"Load's centre of gravity at ({centre}) m from the tool frame; tool {a['attitude']}; {a['limit']} torques."
    if "spacing" in a:
        yield (
            f"Positions {a['spacing']:g} m apart, {a['directions']} directions of the tool axis, clearance of "
            f"{a['margin']:g} m kept; in each attitude the best posture counts."
        )


def _pictures(found: Found, held: xr.Dataset) -> Iterator[Picture]:
    x, y = upright_cut(held)
    if min(held.sizes["z"], held.sizes["y" if y is None else "x"]) > 1:
        yield picture(
            pictures.payload_section(held, x=x, y=y, units=found.units),
            "payload_section",
            "Upright section: the mass that is held, and the joint that gives out first",
        )
    if "curve_mass" in held:
        yield picture(
            pictures.payload_curve(held, units=found.units),
            "payload_against_reach",
            "The mass that is held against the distance from axis 1",
        )


def tables(held: xr.Dataset) -> Iterator[Table]:
    """The mass against the distance, and how often each joint gives out first."""
    if "curve_mass_any_height" in held:
        columns = [Column("distance from axis 1", "m")]
        entries = [[float(value) for value in held["distance"].values]]
        for name, words in (("rest_curve_mass_any_height", "held at rest"), ("curve_mass_any_height", "carried")):
            if name in held:
                alone = "rest_curve_mass_any_height" not in held
                columns.append(Column("held" if alone else words, "kg", down=True))
                entries.append([float(value) for value in held[name].values])
        known = [row for row in zip(*entries, strict=True) if not np.isnan(row[1:]).all()]
        yield Table(
            f"{held.attrs['study']}_against_reach",
            "The most that is held or carried at each distance, at any height",
            tuple(columns),
            tuple(known),
            shown=0,
        )
    if shares := _shares(held):
        yield Table(
            f"{held.attrs['study']}_limits",
            "What gives out first, moved as asked" if "rest_mass_greatest" in held else "What gives out first, at rest",
            (Column("joint"), Column("part"), Column("share of the positions", percent=True)),
            shares,
        )


def _shares(held: xr.Dataset) -> tuple[tuple[Entry, ...], ...]:
    reached = ~np.isnan(held["mass_greatest"].values)
    joints = held["limiting_joint"].values[reached]
    parts = held["limiting_part"].values[reached] if "limiting_part" in held else np.full(joints.shape, -1)
    pairs, counts = np.unique(np.stack([joints, parts]), axis=1, return_counts=True)
    names = [*held["joint_names"].values, "none"]
    words = [*held["part_names"].values, ""] if "part_names" in held else [""]
    rows = [(str(names[j]), str(words[p]), count / joints.size) for (j, p), count in zip(pairs.T, counts, strict=True)]
    return tuple(sorted(rows, key=lambda row: -row[2]))


HOLD = Question("hold", "What load can it hold, and which joint gives out first?", STUDIES, _tell)
