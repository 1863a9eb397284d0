"""The stubs of armwright._core say what the module has: every name, every argument, and nothing more.

After a change of the bindings: `bash python/bootstrap.sh stubs` writes them anew (DEVELOPERS.md has the bare command).
"""

from __future__ import annotations

import ast
import inspect
import re
import types
from pathlib import Path
from typing import Any

import pytest

from armwright import _core

STUBS = Path(__file__).parents[2] / "python" / "armwright" / "_core"


def arguments_of(function: object) -> list[str] | None:
    """The argument names that pybind11 writes into the first line of a docstring; None for overloads."""
    head = (getattr(function, "__doc__", None) or "").split("\n")[0]
    match = re.match(r"^\w+\((.*)\) -> ", head)
    if match is None or "*args, **kwargs" in head:
        return None
    # Types hold commas of their own, inside brackets.
    plain, depth = "", 0
    for letter in match.group(1):
        depth += letter in "[(<"
        plain += letter if depth == 0 else ""
        depth -= letter in "])>"
    return [part.split(":")[0].split("=")[0].strip().lstrip("*") for part in plain.split(",") if part.strip()]


def names_of_module(module: types.ModuleType | type[Any], prefix: str = "") -> dict[str, list[str] | None]:
    """Every public name of a bound module, dotted, with a function's argument names."""
    names: dict[str, list[str] | None] = {}
    for name, item in vars(module).items():
        if name.startswith("_") and name != "__init__":
            continue
        # A constructor whose signature pybind11 does not tell has nothing to be compared with.
        if inspect.ismodule(item) or (name == "__init__" and arguments_of(item) is None):
            continue
        names[prefix + name] = arguments_of(item) if callable(item) and not inspect.isclass(item) else None
        if inspect.isclass(item):
            names |= names_of_module(item, f"{prefix}{name}.")
    return names


def names_of_stub(body: list[ast.stmt], prefix: str = "") -> dict[str, list[str] | None]:
    """The same of a stub."""
    names: dict[str, list[str] | None] = {}
    for node in body:
        if isinstance(node, ast.ClassDef):
            names[prefix + node.name] = None
            names |= names_of_stub(node.body, f"{prefix}{node.name}.")
        elif isinstance(node, ast.FunctionDef):
            if node.name.startswith("_") and node.name != "__init__":
                continue
            overloaded = prefix + node.name in names or any(
                isinstance(mark, (ast.Name, ast.Attribute))
                and ast.unparse(mark).endswith(("overload", "property", "setter"))
                for mark in node.decorator_list
            )
            every = [*node.args.posonlyargs, *node.args.args, *node.args.kwonlyargs]
            names[prefix + node.name] = None if overloaded else [item.arg for item in every]
        elif (
            isinstance(node, ast.AnnAssign) and isinstance(node.target, ast.Name) and not node.target.id.startswith("_")
        ):
            names[prefix + node.target.id] = None
    return names


def differences(bound: dict[str, list[str] | None], stubbed: dict[str, list[str] | None]) -> list[str]:
    found = [f"{name}: has no stub" for name in bound if name not in stubbed]
    found += [
        f"{name}: has a stub, but is not bound"
        for name in stubbed
        if name not in bound and not name.endswith(".__init__")
    ]
    for name, arguments in bound.items():
        other = stubbed.get(name)
        if arguments is not None and other is not None and arguments != other:
            found.append(f"{name}: takes {arguments}, and its stub {other}")
    return found


def core_modules() -> dict[str, types.ModuleType]:
    return {name: item for name, item in vars(_core).items() if inspect.ismodule(item)}


def test_every_room_has_a_stub_and_every_stub_a_room() -> None:
    assert {path.stem for path in STUBS.glob("*.pyi")} - {"__init__"} == set(core_modules())
    package = ast.parse((STUBS / "__init__.pyi").read_text())
    imported = {alias.name for node in package.body if isinstance(node, ast.ImportFrom) for alias in node.names}
    assert set(core_modules()) <= imported


@pytest.mark.parametrize("room", sorted(path.stem for path in STUBS.glob("*.pyi") if path.stem != "__init__"))
def test_the_stub_says_what_is_bound(room: str) -> None:
    bound = names_of_module(core_modules()[room])
    assert bound
    assert differences(bound, names_of_stub(ast.parse((STUBS / f"{room}.pyi").read_text()).body)) == []


def test_what_differs_is_found() -> None:
    class Bound:
        """A class as pybind11 makes them."""

        def turn(self) -> None:
            """turn(self: room.Bound, angle: typing.Annotated[object, "[m, n]"], about: int = 3) -> None"""

    module = types.ModuleType("room")
    module.Bound = Bound  # type: ignore[attr-defined]
    good = "class Bound:\n    def turn(self, angle: float, about: int = 3) -> None: ...\n"
    for stub, told in [
        (good, []),
        (good.replace("about", "around"), ["Bound.turn: takes"]),
        (good.replace("turn", "spin"), ["Bound.turn: has no stub", "Bound.spin: has a stub, but is not bound"]),
        (good + "def lost() -> None: ...\n", ["lost: has a stub, but is not bound"]),
        ("", ["Bound: has no stub", "Bound.turn: has no stub"]),
    ]:
        found = differences(names_of_module(module), names_of_stub(ast.parse(stub).body))
        assert [line[: len(start)] for line, start in zip(found, told, strict=True)] == told
