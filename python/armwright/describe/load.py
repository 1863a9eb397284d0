"""Files to descriptions."""

from __future__ import annotations

import os
import sys
from pathlib import Path
from typing import Any

from armwright.describe.arm import ArmDescription
from armwright.describe.arm_file import ArmFile
from armwright.describe.cell import CellDescription, Target
from armwright.describe.cell_file import CellFile, TargetsFile
from armwright.describe.cycle import Cycle
from armwright.describe.cycle_file import CycleFile
from armwright.describe.described import put
from armwright.describe.file_kinds import ARM, CYCLE, PARTS, TARGETS, kind_of_file
from armwright.describe.parts_file import Parts, PartsFile
from armwright.describe.problems import Place, read_file
from armwright.describe.toml_text import read_text
from armwright.describe.wrong import shown
from armwright.errors import InputError

if sys.version_info >= (3, 11):
    import tomllib
else:
    import tomli as tomllib


def load_arm(path: str | os.PathLike[str], base: str | None = None, tool: str | None = None) -> ArmDescription:
    """An arm from an arm file (.toml) or a URDF file (.urdf, .xml). ``base`` and ``tool``: names of the URDF's links
    between which the arm is; its first link and the end of its moving chain unless given."""
    return arm_from(_path(path), base, tool, None)


def load_cell(path: str | os.PathLike[str]) -> CellDescription:
    """A cell from a cell file (.toml), with the files that it names."""
    file = _path(path)
    cell: CellDescription = read_file(file, CellFile, Place(file.parent)).made
    put(cell, source=str(file))
    return cell


def load_targets(path: str | os.PathLike[str]) -> tuple[Target, ...]:
    """Work points from a file of their own."""
    file = _path(path)
    targets: tuple[Target, ...] = read_file(file, TargetsFile, Place(file.parent)).made
    return targets


def load_parts(path: str | os.PathLike[str]) -> Parts:
    """Motors, stages and brakes from a file of parts, by name.

    >>> aw.load_parts(folder / "parts.toml").motors["750 W motor"]
    Motor '750 W motor': 2.5 N m, peak 7.2 N m, up to 5500 rpm
    """
    file = _path(path)
    parts: Parts = read_file(file, PartsFile, Place(file.parent)).made
    return parts


def load_cycle(path: str | os.PathLike[str], cell: CellDescription | None = None) -> Cycle:
    """A cycle from a cycle file; names in it are those of ``cell`` (None: they are checked when it is used)."""
    file = _path(path)
    place = Place(file.parent)
    if cell is not None:
        loads = [target.load for target in cell.targets if target.load is not None]
        loads += [cell.load] if cell.load is not None else []
        place.known = {
            "joint": (*(("track",) if cell.track is not None else ()), *cell.arm.joint_names),
            "work point": tuple(target.name for target in cell.targets),
            "load": tuple(dict.fromkeys(load.name for load in loads)),
        }
    cycle: Cycle = read_file(file, CycleFile, place).made
    return cycle


def is_arm_file(path: str | os.PathLike[str]) -> bool:
    """Whether a file describes an arm and not a cell: by its ending, or by the tables in it. False where it cannot be
    read; reading it then tells why."""
    if _path(path).suffix.lower() in (".urdf", ".xml"):
        return True
    return kind_of_file(_tables(path)) == ARM


def other_file(path: str | os.PathLike[str]) -> str | None:
    """What a file is that is taken for a cell and is none, by the tables in it; None for a cell, and for what cannot
    be told."""
    kind = kind_of_file(_tables(path))
    return kind if kind in (CYCLE, PARTS, TARGETS) else None


def _tables(path: str | os.PathLike[str]) -> dict[str, object]:
    try:
        return tomllib.loads(read_text(_path(path)))
    except (InputError, RecursionError, ValueError):
        return {}


def arm_from(file: Path, base: str | None, tool: str | None, root: Path | None) -> ArmDescription:
    """load_arm for a file that another names; ``root`` is the folder that no path may leave."""
    for key, link in (("base", base), ("tool", tool)):
        if link is not None and not isinstance(link, str):
            raise InputError.of(key, shown(link), "the name of a link")
    if file.suffix.lower() in (".urdf", ".xml"):
        from armwright.describe.urdf import read_urdf

        return read_urdf(file, base, tool, root=root)
    if file.suffix.lower() == ".xacro":
        plain = "a URDF file (.urdf): expand the macros first, with the xacro command of where the file comes from"
        raise InputError.of("path", shown(str(file)), plain)
    if file.suffix.lower() != ".toml":
        raise InputError.of("path", shown(str(file)), "an arm file (.toml) or a URDF file (.urdf)")
    for key, link in (("base", base), ("tool", tool)):
        if link is not None:
            raise InputError.of(key, shown(link), "none: only a URDF file's links are chosen by name")
    arm: ArmDescription = read_file(file, ArmFile, Place(file.parent, root)).made
    if not arm.source:
        put(arm, source=str(file))
    return arm


def _path(path: Any) -> Path:
    if not isinstance(path, str | os.PathLike) or "\0" in str(path) or not str(path):
        raise InputError.of("path", shown(path), "the path of a file")
    return Path(path)
