"""What the package says of itself: one version everywhere, and the files that have to come with it."""

from __future__ import annotations

import importlib.metadata
import importlib.resources
import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]


def test_one_version_everywhere() -> None:
    in_cmake = re.search(r"project\(armwright VERSION ([\d.]+)", (ROOT / "CMakeLists.txt").read_text())
    in_python = re.search(r'^version = "([\d.]+)"', (ROOT / "pyproject.toml").read_text(), re.MULTILINE)
    assert in_cmake is not None
    assert in_python is not None
    assert in_cmake.group(1) == in_python.group(1)


def test_the_installed_package_says_the_same_and_brings_its_licence() -> None:
    try:
        distribution = importlib.metadata.distribution("armwright")
    except importlib.metadata.PackageNotFoundError:
        pytest.skip("the package runs from the source tree, not installed")
    in_python = re.search(r'^version = "([\d.]+)"', (ROOT / "pyproject.toml").read_text(), re.MULTILINE)
    assert in_python is not None
    assert distribution.version == in_python.group(1)
    assert any(str(file).endswith("LICENSE") for file in distribution.files or ())


def test_the_package_ships_its_types() -> None:
    package = importlib.resources.files("armwright")
    assert package.joinpath("py.typed").is_file()
    assert (package / "_core" / "__init__.pyi").is_file()
