"""Do the motors and reducers stand the cycle, and does the arm keep clear on its way?"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.document import Column, Entry, Picture, Quantity, Table, Verdict
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.report.tabled import Of, table, torque_unit
from armwright.results.summary import summary_lines

STUDIES = ("motion", "drive_check")
_NAMED = 2  # limits that are passed, in the headline


def _tell(found: Found) -> Told:
    motion, drives = map(found.get, STUDIES)
    told, goods = [], []
    if drives is not None:
        line, good = _drives(drives)
        told += [line, *(f"It {line}." for line in summary_lines(drives) if line.startswith("could"))]
        told = [line.replace("could go 1.00 times as fast", "can go no faster") for line in told]
        goods.append(good)
    if motion is not None:
        line, good = _way(motion)
        told.append(line)
        goods.append(good)
    headline = told[0] if len(goods) < 2 or goods[1] else f"{told[0]} {told[-1]}"
    settings = (
        []
        if drives is None
        else [
            f"The cycle runs {'on and on' if drives.attrs['repeated'] else 'once'}; instants {drives.attrs['step']:g} "
            "s apart at most while anything moves."
        ]
    )
    short = "" if headline == told[0] else _short(told[0], goods, motion)
    return Told(headline, all(goods), told[1:], _pictures(found), _tables(found), settings=settings, short=short)


def _short(first: str, goods: list[bool], motion: xr.Dataset | None) -> str:
    """Both that is not as it should be, the way in few words."""
    assert motion is not None
    lost = int((~motion["move_clearance_kept"].values).sum())
    way = f"LESS CLEARANCE THAN REQUIRED in {lost} of {motion.sizes['move']} moves."
    return way if goods[0] else f"{first} {way}"


def _drives(drives: xr.Dataset) -> tuple[str, bool]:
    a = drives.attrs
    if "weakest_share" not in a:
        return f"No limit of a drive is known, so that the cycle of {a['duration']:.2f} s is judged by none.", False
    share, over = float(a["weakest_share"]), drives["share"].values > 1 + 1e-9
    if not over.any():
        order = np.argsort(-drives["share"].values, kind="stable")
        parts = [i for i in order if str(drives["share_part"].values[i]) != "joint"]
        most = (
            f"{drives['check'].values[parts[0]]}, {100 * float(drives['share'].values[parts[0]]):.0f} % of what it "
            "bears"
            if parts
            else f"{a['weakest']}, {100 * share:.0f} %"
        )
        return f"Motors and reducers stand the cycle of {a['duration']:.2f} s; loaded most: {most}.", True
    worst = np.argsort(-drives["share"].values, kind="stable")[: int(over.sum())]
    lost = "; ".join(
        f"{drives['check'].values[i]} at {100 * float(drives['share'].values[i]):.0f} %" for i in worst[:_NAMED]
    )
    more = f"; {worst.size - _NAMED} more" if worst.size > _NAMED else ""
    return f"TOO MUCH in the cycle of {a['duration']:.2f} s: {lost} of what it bears{more}.", False


def _way(motion: xr.Dataset) -> tuple[str, bool]:
    a = motion.attrs
    begin = f"{a['cycle_name']}: {motion.sizes['move']} moves in {a['duration']:.2f} s"
    if "move_clearance" not in motion:
        return f"{begin}; clearance on the way was not looked at.", True
    clear = motion["move_clearance"].values
    if not np.isfinite(clear).any():
        return f"{begin}, with nothing to come near.", True
    at = int(np.nanargmin(np.where(np.isfinite(clear), clear, np.inf)))
    pair = f"{motion['move_clearance_name_a'].values[at]} and {motion['move_clearance_name_b'].values[at]}"
    kept = motion["move_clearance_kept"].values
    told = f"{begin}; nearest: {1000 * clear[at]:.0f} mm between {pair}, in {motion['move'].values[at]}"
    lost = ", ".join(str(name) for name in motion["move"].values[~kept])
    return (f"{told}.", True) if kept.all() else (f"{told}; LESS CLEARANCE THAN REQUIRED in {lost}.", False)


def _pictures(found: Found) -> Iterator[Picture]:
    drives = found.get("drive_check")
    if drives is not None and drives["has_drive"].values.any():
        yield picture(
            pictures.cycle_torques(drives, units=found.units),
            "cycle_torques",
            "Torque of each motor over the cycle, with the peak that its curve allows",
        )
        yield picture(
            pictures.operating_points(drives, units=found.units),
            "operating_points",
            "Torque against speed of each motor, with its continuous and peak curves",
        )


def _tables(found: Found) -> Iterator[Table]:
    motion, drives = map(found.get, STUDIES)
    if drives is not None:
        yield _limits(drives)
        if drives["has_drive"].values.any():
            yield _motors(drives)
        if drives.sizes["stage"] and (drives["stage_name"].values != "").any():
            yield _stages(drives)
    if motion is not None:
        yield _moves(motion)


def _limits(drives: xr.Dataset) -> Table:
    share = drives["share"].values
    own = (drives["share_part"].values == "joint") & (share <= 1 + 1e-9)  # reached on purpose: behind all others
    rows = drives.isel(check=np.lexsort((-share, own)))
    joints = [str(drives["joint"].values[int(k)]) for k in rows["share_joint"].values]
    verdicts: list[Entry] = [
        Verdict("good" if value <= 1 + 1e-9 else "TOO MUCH", bool(value <= 1 + 1e-9)) for value in rows["share"].values
    ]
    return table(
        rows,
        "check",
        "limits",
        "Load as a share of what is borne, the greatest first, a joint's own limits last",
        (
            (Column("joint"), joints),
            Of("share_part", "part"),
            Of("share_limit", "limit"),
            Of("share", "of what it bears", percent=True),
            Of("share_time", "when"),
            (Column("verdict"), verdicts),
        ),
        note="When: nothing where all of the cycle counts. A joint's own speed and acceleration are reached on "
        "purpose: moves are as fast as the limits allow.",
    )


def _motors(drives: xr.Dataset) -> Table:
    rows = drives.isel(joint=np.flatnonzero(drives["has_drive"].values))
    return table(
        rows,
        "joint",
        "motors",
        "Motors",
        (
            Of("joint", "axis"),
            Of("motor_peak_torque", "peak torque"),
            Of("motor_worst_time", "nearest to its curve at"),
            Of("motor_rms_torque", "rms torque"),
            Of("motor_continuous_torque", "continuous torque allowed"),
            Of("motor_greatest_speed", "greatest speed", turns=True),
            Of("motor_mean_speed", "mean speed", turns=True),
            Of("duration_factor", "not at rest", percent=True),
            Of("duty_type", "duty type"),
            Of("inertia_ratio_least", "inertia ratio, least"),
            Of("inertia_ratio_greatest", "greatest"),
        ),
        note="Duty types: IEC 60034-1. Inertia ratio: of load to motor, at the motor.",
    )


def _stages(drives: xr.Dataset) -> Table:
    rows: list[tuple[Entry, ...]] = []
    names = drives["stage_name"].values
    for k, joint in enumerate(drives["joint"].values):
        for s in range(drives.sizes["stage"]):
            if not names[k, s]:
                continue
            one = drives.isel(joint=k, stage=s)
            # behind the last stage of a joint that slides there is a force
            slides = str(one["joint_unit"].item()) == "m" and not "".join(names[k, s + 1 :])
            unit = torque_unit("m" if slides else "rad")
            torques = [Quantity(float(one[f"stage_{name}_torque"]), unit) for name in ("peak", "rms", "mean")]
            rows.append(
                (
                    str(joint),
                    str(names[k, s]),
                    *torques,
                    float(one["stage_mean_input_speed"]),
                    float(one["stage_greatest_input_speed"]),
                    float(one["stage_life"]),
                    float(one["stage_past_peaks"]),
                )
            )
    return Table(
        "stages",
        "Stages between motor and joint",
        (
            Column("axis"),
            Column("stage"),
            Column("peak torque"),
            Column("rms torque"),
            Column("mean torque"),
            Column("mean input speed", "rad/s", turns=True),
            Column("greatest input speed", "rad/s", turns=True),
            Column("life", "s", hours=True),
            Column("past its repeated peak, times a cycle", "1"),
        ),
        tuple(rows),
        "Torques at the stage's output. Life: nothing where no life is rated.",
    )


def _moves(motion: xr.Dataset) -> Table:
    pairs = [
        " – ".join(str(row[f"move_clearance_name_{end}"].item()) for end in "ab").strip(" –")
        if "move_clearance_name_a" in motion
        else ""
        for row in (motion.isel(move=k) for k in range(motion.sizes["move"]))
    ]
    kept: list[Entry] = (
        [Verdict("yes" if good else "NO", bool(good)) for good in motion["move_clearance_kept"].values]
        if "move_clearance_kept" in motion
        else []
    )
    return table(
        motion,
        "move",
        "moves",
        "Moves of the cycle",
        (
            Of("move", "move"),
            Of("move_start", "from"),
            Of("move_end", "to"),
            Of("move_clearance", "clearance", small=True),
            Of("move_clearance_time", "when"),
            (Column("nearest"), pairs),
            Of("move_clearance_proven", "clearance proven", small=True),
            *([(Column("kept"), kept)] if kept else []),
            Of("move_tilt", "tool leans by"),
        ),
    )


MOVES = Question("moves", "Do the motors and reducers stand the cycle?", STUDIES, _tell)
