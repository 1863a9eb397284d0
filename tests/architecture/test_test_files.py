"""Each Python source file has a test file of its own name in the room of the same name.

The core's files are not held to this: a kernel of several files (a family of arms, the parts of a stop) is tested as
one, by its public function.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).parents[2]
PACKAGE, TESTS = ROOT / "python" / "armwright", ROOT / "tests" / "python"

_BY_STUDY = "methods that hand on to a study each, and are tested in the test files of those studies"
_TABLE = "a table of variables, without logic; test_variables.py and test_dataset.py hold results to it"
_PAGE = "a piece of the 3-D page, tested as one in pictures/test_page3d.py and in a browser"
_PLACEMENT = "a part of a placement, which test_placing.py tests as one by Cell.placement"
# file: reason
WITHOUT: dict[str, str] = {
    "answers.py": "shapes of answers, without logic, tested with the methods that give them",
    "sweeps.py": _BY_STUDY,
    "stopping.py": _BY_STUDY,
    "structural.py": _BY_STUDY,
    "tracks.py": _BY_STUDY,
    "kept_true.py": _BY_STUDY,
    "lifted.py": _BY_STUDY,
    "error_causes.py": "what studies/test_tool_error.py asks of each cause",
    "laden.py": _BY_STUDY,
    "railed.py": _BY_STUDY,
    "designs/designed.py": _BY_STUDY,
    "designs/placement/job.py": _PLACEMENT,
    "designs/placement/study.py": _PLACEMENT,
    "designs/placement/told.py": _PLACEMENT,
    "studies/defaults.py": "four settings",
    "report/document.py": "plain data: test_html.py, test_figures.py, test_table_files.py",
    "results/scene_parts.py": "plain data with its checks: test_scene.py",
    "results/terms.py": _TABLE,
    "results/base_variables.py": _TABLE,
    "results/bearing_variables.py": _TABLE,
    "results/drive_variables.py": _TABLE,
    "results/load_variables.py": _TABLE,
    "results/part_variables.py": _TABLE,
    "results/placement_variables.py": _TABLE,
    "results/motion_variables.py": _TABLE,
    "results/stop_variables.py": _TABLE,
    "results/structure_variables.py": _TABLE,
    "results/track_variables.py": _TABLE,
    "results/guide_variables.py": _TABLE,
    "results/design_variables.py": _TABLE,
    "results/wrench_variables.py": _TABLE,
    "results/truth_variables.py": _TABLE,
    "results/lifting_variables.py": _TABLE,
    "pictures/page3d/hull.py": _PAGE,
    "pictures/page3d/pack.py": _PAGE,
    "pictures/page3d/template.py": _PAGE,
}


def untested(package: Path, tests: Path) -> Iterator[str]:
    """The source files without a test file, from the package's top."""
    for path in sorted(package.rglob("*.py")):
        place = path.relative_to(package)
        if place.name in ("__init__.py", "__main__.py"):
            continue
        if not (tests / place.with_name(f"test_{place.name}")).is_file():
            yield place.as_posix()


def test_every_source_file_has_its_test_file() -> None:
    found = set(untested(PACKAGE, TESTS))
    assert sorted(found - set(WITHOUT)) == []
    assert sorted(set(WITHOUT) - found) == [], "these have a test file, or are gone: their reason goes too"
    assert all(reason.strip() for reason in WITHOUT.values())


def test_a_file_without_one_is_found(tmp_path: Path) -> None:
    for name in ("a.py", "room/__init__.py", "room/b.py", "room/c.py"):
        (tmp_path / "package" / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "package" / name).touch()
    (tmp_path / "tests" / "room").mkdir(parents=True)
    for name in ("test_a.py", "test_c.py", "room/test_b.py"):
        (tmp_path / "tests" / name).touch()
    assert list(untested(tmp_path / "package", tmp_path / "tests")) == ["room/c.py"]
