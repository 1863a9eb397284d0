"""The parts of the package keep to the arrows of the design, and importing it stays cheap."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from architecture import imports

PACKAGE = Path(__file__).parents[2] / "python" / "armwright"


def test_every_import_is_an_allowed_arrow() -> None:
    assert list(imports.wrong_imports(PACKAGE)) == []


def test_the_sources_are_read() -> None:
    assert len(list(imports.modules(PACKAGE))) > 5


def test_importing_the_package_leaves_the_heavy_libraries_alone() -> None:
    program = f"import sys, armwright; print(sorted(set({sorted(imports.HEAVY)}) & set(sys.modules)))"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize(
    ("file", "line", "told"),
    [
        ("describe/arm.py", "from armwright import _core", "describe may not use _core"),
        ("describe/arm.py", "import armwright._core.model", "describe may not use _core.model"),
        ("describe/arm.py", "from .. import compile", "describe may not use compile"),
        ("describe/deep/arm.py", "from ...results import store", "describe may not use results"),
        ("compile.py", "from armwright._core import kinematics", "compile may not use _core.kinematics"),
        ("results/store.py", "import h5py", "results may not use the library h5py"),
        ("results/store.py", "def f():\n    import pandas", "results may not use the library pandas"),
        ("pictures/section.py", "from armwright.studies import reach", "pictures may not use studies"),
        ("pictures/section.py", "def f():\n    from armwright import Arm", "pictures may not use desk"),
        ("report/page.py", "from armwright._core import model", "report may not use _core.model"),
        ("studies/reach.py", "from armwright.pictures import section", "studies may not use pictures"),
        ("arm.py", "from armwright import cli", "desk may not use cli"),
        ("errors.py", "import numpy", "errors may not use the library numpy"),
        ("attic/thing.py", "", "is in no room"),
        ("describe/mesh.py", "import trimesh", "imports trimesh with the module"),
        ("arm.py", "if True:\n    from scipy import optimize", "imports scipy with the module"),
    ],
)
def test_a_wrong_import_is_found(tmp_path: Path, file: str, line: str, told: str) -> None:
    path = tmp_path / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(line)
    found = list(imports.wrong_imports(tmp_path))
    assert len(found) == 1
    assert told in found[0]


@pytest.mark.parametrize(
    ("file", "line"),
    [
        ("compile.py", "from armwright._core import model\nfrom armwright.describe import arm"),
        ("describe/mesh.py", "def f():\n    import trimesh"),
        ("describe/mesh.py", "from typing import TYPE_CHECKING\nif TYPE_CHECKING:\n    import trimesh"),
        ("describe/mesh.py", "from . import units\nfrom ..errors import InputError"),
        ("results/__init__.py", "from .store import save"),
        ("studies/reach.py", "from armwright._core import studies\nfrom armwright.results import dataset"),
        ("__init__.py", "from .arm import Arm\nfrom .errors import InputError"),
        ("cli.py", "from armwright import load_arm\nfrom armwright.report import page"),
    ],
)
def test_an_allowed_import_is_left_alone(tmp_path: Path, file: str, line: str) -> None:
    path = tmp_path / file
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(line)
    assert list(imports.wrong_imports(tmp_path)) == []
