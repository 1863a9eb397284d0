"""Reads the package's imports against the arrows that are allowed between its parts.

import-linter would not do: it builds its graph from Python files alone, so the extension module `armwright._core`, the
one arrow that matters most, is not in it.
"""

from __future__ import annotations

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

PACKAGE = "armwright"
# Modules at the top of the package that are not named here are the user's objects (arm, cell, ...), the desk.
DESK = "desk"
ROOMS: dict[str, set[str]] = {
    "errors": set(),
    "describe": {"errors"},
    "compile": {"errors", "describe", "_core.model", "_core.clearance", "_core.Refused"},
    "results": {"errors"},
    "studies": {"errors", "compile", "results", "_core"},
    "pictures": {"errors", "results"},
    "report": {"errors", "results", "pictures", "describe"},
}
EVERYTHING = {*ROOMS, "_core"}
# Studies of many cells ask whole cells, and a cell has them as methods: the desk and designs know each other.
ROOMS |= {DESK: {*EVERYTHING, "designs"}, "designs": {*EVERYTHING, DESK} - {"pictures", "report"}}
ROOMS |= {"cli": {*EVERYTHING, DESK, "designs"}}

# Libraries from outside that a room keeps to; a room that is not named may use any that the package depends on.
LIBRARIES: dict[str, set[str]] = {
    "errors": set(),
    # The store hands the writing to xarray, and names h5netcdf only as its engine.
    "results": {"numpy", "xarray"},
    "pictures": {"numpy", "xarray", "matplotlib", "jupyter_threejs_sage"},
}
# Over a second to import, so only inside the functions that need them (or for type checkers).
HEAVY = {"pandas", "trimesh", "matplotlib", "scipy"}


def room_of(module: str) -> str:
    """The room of a dotted module inside the package: "results.store" is in results, "arm" on the desk."""
    first = module.split(".", maxsplit=1)[0]
    return first if first in ROOMS or first == "_core" else DESK


def within(target: str, allowed: set[str]) -> bool:
    """Whether a dotted target lies in what is allowed: "_core.model" in {"_core.model"} or {"_core"}."""
    return any(target == name or target.startswith(f"{name}.") for name in allowed)


def is_for_type_checkers(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and ast.unparse(node.test) in {"TYPE_CHECKING", "typing.TYPE_CHECKING"}


def imported(tree: ast.Module, module: str, is_package: bool) -> Iterator[tuple[int, str, bool]]:
    """Every import as (line, dotted name, whether it runs when the module is imported)."""

    def walk(node: ast.AST, at_import: bool) -> Iterator[tuple[int, str, bool]]:
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.Import):
                for alias in child.names:
                    yield child.lineno, alias.name, at_import
            elif isinstance(child, ast.ImportFrom):
                base = child.module or ""
                if child.level:
                    own = module.split(".")
                    package = own if is_package else own[:-1]
                    base = ".".join([*package[: len(package) - child.level + 1], *filter(None, [base])])
                for alias in child.names:
                    yield child.lineno, f"{base}.{alias.name}", at_import
            else:
                is_function = isinstance(child, (ast.FunctionDef, ast.AsyncFunctionDef, ast.Lambda))
                yield from walk(child, at_import and not is_function and not is_for_type_checkers(child))

    yield from walk(tree, True)


def modules(package: Path) -> Iterator[tuple[Path, str, bool]]:
    """Every Python file of the package with its dotted name and whether it is a package's own file."""
    for path in sorted(package.rglob("*.py")):
        parts = [PACKAGE, *path.relative_to(package).with_suffix("").parts]
        is_package = parts[-1] == "__init__"
        yield path, ".".join(parts[:-1] if is_package else parts), is_package


def wrong_imports(package: Path) -> Iterator[str]:
    """The imports that the tables above do not allow."""
    for path, module, is_package in modules(package):
        place = path.relative_to(package).as_posix()
        room = room_of(module.removeprefix(PACKAGE).lstrip(".") or "__init__")
        if room == DESK and "/" in place:
            yield f"{place}: is in no room"
            continue
        for line, name, at_import in imported(ast.parse(path.read_text(encoding="utf-8")), module, is_package):
            where = f"{place}:{line}"
            library = name.split(".")[0]
            if library == PACKAGE:
                target = name.removeprefix(PACKAGE).lstrip(".")
                # `from armwright import x` of an x that is no module takes a name from the desk.
                target_room = room_of(target)
                allowed = ROOMS[room] | {room}
                if not (target_room in allowed or within(target, allowed)):
                    yield f"{where}: {room} may not use {target if target_room == '_core' else target_room} ({name})"
            elif library not in sys.stdlib_module_names:
                if library not in LIBRARIES.get(room, {library}):
                    yield f"{where}: {room} may not use the library {library}"
                elif library in HEAVY and at_import:
                    yield f"{where}: imports {library} with the module; import it in the function that needs it"
