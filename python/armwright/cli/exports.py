"""The command export: a cell or a stored result as files for other programs."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import Any

import numpy as np

from armwright.cell import Cell
from armwright.cli.common import read
from armwright.describe.units import ANGLE, LENGTH, MASS, NUMBER
from armwright.errors import InputError
from armwright.report import outlines_to_dxf, to_csv, to_xlsx, volume_to_glb
from armwright.results import open_result
from armwright.results.whole_file import file_path

_OF_CELL, _OF_RESULT = (".glb", ".dxf"), (".csv", ".xlsx", ".glb", ".dxf")
_KINDS = {"kg": MASS, "m": LENGTH, "rad": ANGLE}


def add(command: Any) -> None:
    """The command and its options."""
    words = "A cell as .glb or .dxf; a stored result (.nc) as .csv, .xlsx, .glb (of maps) or .dxf (of outlines)."
    sub = command("export", export, words, file=False)
    sub.add_argument("file", type=Path, help="a cell or arm (.toml, .urdf), or a result (.nc)")
    sub.add_argument("output", type=Path, help="the file to write; its ending says what")
    sub.add_argument("--base", help="URDF: the link that stands still")
    sub.add_argument("--tool", help="URDF: the link that is the tool flange")
    sub.add_argument("--at", metavar="WORK_POINT", help="of a cell: in the posture that serves it")
    sub.add_argument("--posture", help='of a cell: a value for each joint, as "0.4 m, 10 deg, -20 deg"')
    sub.add_argument("--reach", action="store_true", help="of a cell as .dxf: with the outline of the reach")
    sub.add_argument("--threshold", help='of a map as .glb: where it is so much or more, as "6 kg" (all)')
    sub.add_argument("--variable", help="of a map as .glb: of what (reach_index, or mass_greatest)")
    sub.add_argument("--units", choices=("si", "us"), default="si", help="of tables: metric or US (%(default)s)")
    sub.add_argument("--threads", type=int, help="how many; results do not depend on it")
    sub.add_argument("--quiet", action="store_true", help="no progress bar")


def export(options: argparse.Namespace) -> None:
    written = _result(options) if options.file.suffix.lower() == ".nc" else [_cell(options)]
    for path in written:
        print(f"wrote {path}")


def _cell(options: argparse.Namespace) -> Path:
    if options.file.suffix.lower() in _OF_RESULT:
        raise InputError.of("file", str(options.file), "a cell or arm (.toml, .urdf), or a stored result (.nc)")
    _refuse(options, "a cell", ("threshold", "variable"))
    ending = _ending(options, _OF_CELL, "a cell")
    if options.reach and ending != ".dxf":
        raise InputError.of("--reach", f"given with {ending}", "this with .dxf, which has the plan")
    cell = read(options)
    how = {"threads": options.threads, "progress": not options.quiet}
    checked = cell.check_targets(**how) if cell.targets else None
    q = _posture(cell, options, checked)
    if ending == ".glb":
        return cell.to_glb(options.output, q=q, checked=checked)
    outlines = cell.outlines(**how) if options.reach else None
    return cell.to_dxf(options.output, q=q, checked=checked, outlines=outlines)


def _result(options: argparse.Namespace) -> list[Path]:
    _refuse(options, "a result", ("at", "posture", "reach", "base", "tool"))
    ending = _ending(options, _OF_RESULT, "a result")
    if ending != ".glb":
        _refuse(options, f"a result as {ending}", ("threshold", "variable"))
    dataset = open_result(options.file)
    if ending == ".csv":
        return to_csv(dataset, options.output, units=options.units)
    if ending == ".xlsx":
        return [to_xlsx(dataset, options.output, units=options.units)]
    if ending == ".dxf":
        return [outlines_to_dxf(dataset, options.output)]
    threshold = None
    if options.threshold is not None:
        name = options.variable or ("mass_greatest" if "mass_greatest" in dataset else "reach_index")
        unit = str(dataset[name].attrs["units"]) if name in dataset else ""
        threshold = float(_KINDS.get(unit, NUMBER).si_value("--threshold", _number(options.threshold, unit)))
    return [volume_to_glb(dataset, options.output, threshold, variable=options.variable)]


def _number(text: str, unit: str) -> Any:
    """A plain number of what has no unit."""
    if unit in _KINDS:
        return text
    try:
        return float(text)
    except ValueError:
        return text


def _ending(options: argparse.Namespace, known: tuple[str, ...], of: str) -> str:
    ending = str(options.output.suffix.lower())
    if ending not in known:
        raise InputError.of("output", str(options.output), f"for {of} a name that ends in {', '.join(known)}")
    return file_path(options.output, ending).suffix.lower()


def _refuse(options: argparse.Namespace, of: str, names: tuple[str, ...]) -> None:
    """Options that mean nothing here."""
    for name in names:
        if getattr(options, name):
            raise InputError.of(f"--{name}", f"given with {of}", "none: see armwright export --help")


def _posture(cell: Cell, options: argparse.Namespace, checked: Any) -> Any:
    if options.at is not None and options.posture is not None:
        raise InputError.of("--at, --posture", "both", "one of them")
    if options.posture is not None:
        texts = [text.strip() for text in options.posture.split(",")]
        joints = cell.scene().joints
        if len(texts) != len(joints):
            each = ", ".join(joint.name for joint in joints)
            raise InputError.of("--posture", f"{len(texts)} values", f"{len(joints)}, with commas between: {each}")
        return [
            float((LENGTH if joint.kind == "prismatic" else ANGLE).si_value(f"--posture, {joint.name}", text))
            for joint, text in zip(joints, texts, strict=True)
        ]
    if options.at is None:
        return None
    names = [] if checked is None else [str(name) for name in checked["target"].values]
    if options.at not in names:
        raise InputError.of("--at", repr(options.at), "a work point: " + (", ".join(names) or "the cell has none"))
    q = checked["q"].values[names.index(options.at)]
    if np.isnan(q).any():
        reason = str(checked["reason"].values[names.index(options.at)])
        raise InputError.of("--at", repr(options.at), f"a work point with a posture ({reason})")
    return q
