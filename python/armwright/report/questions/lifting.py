"""How is it lifted and serviced without hurting anyone?"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import xarray as xr

from armwright import pictures
from armwright.report.document import Column, Entry, Picture, Quantity, Table, Verdict
from armwright.report.found import Found, posture_words
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.report.tabled import Of, table, torque_unit
from armwright.results.summary import summary_lines

STUDIES = ("lifting", "service")


def _tell(found: Found) -> Told:
    lifting, service = map(found.get, STUDIES)
    told: list[str] = []
    if lifting is not None:
        lines = [line for line in summary_lines(lifting) if line != lifting.attrs["caution"]]
        told = [f"{line[0].upper()}{line[1:]}." for line in lines if not line.startswith("not looked at: ")]
    if service is not None:
        free, count = int(service["best_free"].values.sum()), service.sizes["volume"]
        lost = ", ".join(map(str, service["volume"].values[~service["best_free"].values]))
        come = f"{free} of {count} motors come out in a posture that was found" + (f"; not: {lost}" if lost else "")
        told = [f"{told[0].removesuffix('.')}; {come}.", *told[1:]] if lifting is not None else [f"{come}.", *told]
    return Told(told[0], _good(lifting, service), told[1:], _pictures(found), _tables(found))


def _good(lifting: xr.Dataset | None, service: xr.Dataset | None) -> bool | None:
    judged = []
    if lifting is not None and lifting.sizes["eye"]:
        safety = lifting["eye_safety"].values
        judged += [bool(lifting["holds"].values.all()), not bool((safety < 1).any())]
    if service is not None and service.sizes["volume"]:
        judged.append(bool(service["best_free"].values.all()))
    return all(judged) if judged else None


def _pictures(found: Found) -> Iterator[Picture]:
    lifting = found.get("lifting")
    if lifting is None or found.scene is None or not lifting.sizes["eye"] or np.isnan(lifting["tilt"].values[0]):
        return
    eye = lifting["eye"].values[0]
    yield picture(
        pictures.hanging(lifting, found.scene, units=found.units),
        "hanging",
        f"How the arm hangs from {eye} as asked, with its centre of gravity",
    )
    if np.isfinite(lifting["level_tilt"].values[0]):
        yield picture(
            pictures.hanging(lifting, found.scene, level=True, units=found.units),
            "hanging_level",
            f"How the arm hangs from {eye} in the posture that hangs most nearly level",
        )


def _tables(found: Found) -> Iterator[Table]:
    lifting, service = map(found.get, STUDIES)
    if lifting is not None:
        centre = [
            (Column(axis, "m", small=True), [float(v) for v in lifting["part_centre"].values[:, i]])
            for i, axis in enumerate("xyz")
        ]
        yield table(
            lifting,
            "part",
            "masses",
            "What is lifted",
            (Of("part", "part"), Of("part_mass", "mass"), *centre),
            note="Centres of gravity from the arm's base, in the posture asked.",
        )
        if lifting.sizes["eye"]:
            yield _eyes(lifting)
    if service is not None and service.sizes["volume"]:
        yield _motors(service)


def _eyes(lifting: xr.Dataset) -> Table:
    rows: list[tuple[Entry, ...]] = []
    units = lifting["joint_unit"].values
    for k, eye in enumerate(lifting["eye"].values):
        row = lifting.isel(eye=k)
        for prefix, q, words in (
            ("", row["q"].values, "as asked"),
            ("level_", row["level_q"].values, "most nearly level"),
        ):
            factor = row[f"{prefix}brake_factor"].values
            held: Entry = Verdict("yes", True) if bool(row[f"{prefix}holds"]) else Verdict("NO", False)
            rows.append(
                (
                    str(eye),
                    words,
                    float(row[f"{prefix}tilt"]),
                    held,
                    float(np.nanmin(factor)) if np.isfinite(factor).any() else None,
                    float(row["rated_mass"]),
                    float(row["eye_safety"]),
                    posture_words(q, units),
                )
            )
    joints = ", ".join(map(str, lifting["joint"].values))
    return Table(
        "eyes",
        "How it hangs from each eye",
        (
            Column("eye"),
            Column("posture"),
            Column("leans by", "rad"),
            Column("brakes hold"),
            Column("least factor", "1"),
            Column("rated mass", "kg"),
            Column("rated over lifted", "1"),
            Column("joints"),
        ),
        tuple(rows),
        f"Joints in the order {joints}.",
    )


def _motors(service: xr.Dataset) -> Table:
    rows: list[tuple[Entry, ...]] = []
    units = [str(unit) for unit in service["joint_unit"].values]
    by_joint = dict(zip(map(str, service["joint"].values), units, strict=True))
    for k in range(service.sizes["volume"]):
        row = service.isel(volume=k)
        motor, good = str(row["motor"].item()), bool(row["best_free"])
        unheld = Quantity(abs(float(row["best_unheld_torque"])), torque_unit(by_joint.get(motor, "rad")))
        rows.append(
            (
                motor,
                float(row["motor_mass"]),
                Verdict("yes" if good else "NO", good),
                float(row["best_distance"]),
                str(row["best_nearest"].item()),
                None if bool(row["held_without_motor"]) else unheld,
                float(row["free_share"]),
                posture_words(row["best_q"].values, units),
            )
        )
    joints = ", ".join(map(str, service["joint"].values))
    return Table(
        "motors_out",
        "Which motors come out",
        (
            Column("motor of"),
            Column("mass", "kg"),
            Column("comes out"),
            Column("room", "m", small=True),
            Column("nearest"),
            Column("to be propped"),
            Column("free in", percent=True),
            Column("best posture"),
        ),
        tuple(rows),
        f"Postures in the order {joints}. Free in: of the postures tried in which the arm is clear.",
    )


LIFTING = Question("lifting", "How is it lifted and serviced?", STUDIES, _tell)
