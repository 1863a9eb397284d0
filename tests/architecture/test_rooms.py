"""The rooms of the core keep to the arrows of cpp/rooms.toml, and use nothing that the core must not use."""

from __future__ import annotations

from pathlib import Path

import pytest

from architecture import rooms

ROOT = Path(__file__).parents[2]
CORE = ROOT / "cpp" / "armwright"
TABLE = rooms.read_table(ROOT / "cpp" / "rooms.toml")

# The table of the design, written here a second time so that rooms.toml is not widened in passing.
BELOW_STUDIES = set(TABLE) - {"studies"}
DESIGN = {
    "support": set(),
    "spatial": {"support"},
    "elements": {"support"},
    "model": {"support", "spatial"},
    "kinematics": {"support", "spatial", "model"},
    "dynamics": {"support", "spatial", "elements", "model", "kinematics"},
    "clearance": {"support", "spatial", "model", "kinematics"},
    "motion": {"support", "spatial", "model", "kinematics", "dynamics", "elements"},
    "limits": {"support", "spatial", "model", "kinematics", "dynamics", "elements", "motion"},
    "studies": BELOW_STUDIES,
}


def test_the_table_is_the_one_of_the_design() -> None:
    assert {room: set(allowed) for room, allowed in TABLE.items()} == DESIGN


def test_no_room_reaches_itself() -> None:
    assert list(rooms.cycles(TABLE)) == []


def test_the_sources_are_read() -> None:
    assert len(rooms.sources(CORE)) > 20


def test_every_include_is_an_allowed_arrow() -> None:
    assert list(rooms.arrows(CORE, TABLE)) == []


def test_studies_do_not_use_one_another() -> None:
    assert list(rooms.sisters(CORE)) == []


def test_the_core_uses_nothing_that_is_banned() -> None:
    assert list(rooms.banned(CORE)) == []


# The checks themselves, on small trees that are wrong in one way each.


def tree(folder: Path, files: dict[str, str]) -> Path:
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


GOOD = {
    "support/lanes.hpp": "#pragma once\n#include <cmath>\n",
    "spatial/pose.hpp": '#include "armwright/support/lanes.hpp"\n',
}


def test_a_good_tree_passes(tmp_path: Path) -> None:
    core = tree(tmp_path, GOOD)
    assert list(rooms.arrows(core, TABLE)) == []
    assert list(rooms.banned(core)) == []


@pytest.mark.parametrize(
    ("file", "text", "told"),
    [
        ("support/up.hpp", '#include "armwright/spatial/pose.hpp"\n', "support may not use spatial"),
        ("spatial/gone.hpp", '\n#include "armwright/support/gone.hpp"\n', "spatial/gone.hpp:2: includes"),
        ("spatial/near.hpp", '#include "pose.hpp"\n', "in full"),
        ("attic/thing.hpp", "", "no room"),
        ("loose.hpp", "", "no room"),
    ],
)
def test_a_wrong_arrow_is_found(tmp_path: Path, file: str, text: str, told: str) -> None:
    core = tree(tmp_path, GOOD | {file: text})
    found = list(rooms.arrows(core, TABLE))
    assert len(found) == 1
    assert told in found[0]


def test_a_study_that_uses_another_is_found(tmp_path: Path) -> None:
    files = {"studies/reach.hpp": "", "studies/payload.cpp": '#include "armwright/studies/reach.hpp"\n'}
    assert list(rooms.sisters(tree(tmp_path, files))) == ["studies/payload.cpp:1: includes armwright/studies/reach.hpp"]
    assert (
        list(rooms.sisters(tree(tmp_path / "own", {"studies/a.hpp": "", "studies/a.cpp": files["studies/reach.hpp"]})))
        == []
    )


BAD_LINES = [
    ("spatial/x.hpp", "#include <iostream>", "iostream"),
    ("spatial/x.hpp", "#include <fstream>", "iostream"),
    ("spatial/x.hpp", 'void f() { std::printf("%d", 1); }', "printing"),
    ("spatial/x.hpp", "void f() { std::cerr << 1; }", "printing"),
    ("spatial/x.hpp", "#include <filesystem>", "files"),
    ("spatial/x.hpp", 'auto f = fopen("a", "r");', "files"),
    ("kinematics/x.cpp", "#include <chrono>", "clocks"),
    ("kinematics/x.cpp", "auto t = std::chrono::steady_clock::now();", "clocks"),
    ("kinematics/x.cpp", "auto t = time(nullptr);", "clocks"),
    ("studies/x.cpp", "std::random_device seed;", "unseeded random"),
    ("studies/x.cpp", "int i = std::rand();", "unseeded random"),
    ("studies/x.cpp", "std::mt19937 engine;", "unseeded random"),
    ("studies/x.cpp", "std::mt19937_64 engine{};", "unseeded random"),
    ("studies/x.cpp", "auto e = std::default_random_engine();", "unseeded random"),
    ("model/x.cpp", 'auto v = std::getenv("V");', "the environment"),
    ("studies/x.cpp", "#include <thread>", "threads"),
    ("studies/x.cpp", "std::jthread t;", "threads"),
    ("studies/x.cpp", "std::mutex m;", "threads"),
    ("studies/x.cpp", "#pragma omp parallel for", "threads"),
    ("clearance/other.cpp", "#include <btBulletCollisionCommon.h>", "Bullet"),
    ("clearance/bullet.hpp", "class btCollisionShape;", "Bullet"),
    ("studies/bullet.cpp", "#include <BulletCollision/Gimpact/btGImpactShape.h>", "Bullet"),
    ("model/x.cpp", "#include <Python.h>", "Python"),
    ("model/x.cpp", "#include <pybind11/numpy.h>", "Python"),
    ("model/x.cpp", "void f(py::object o);", "Python"),
]


@pytest.mark.parametrize(("file", "line", "what"), BAD_LINES)
def test_what_is_banned_is_found(tmp_path: Path, file: str, line: str, what: str) -> None:
    found = list(rooms.banned(tree(tmp_path, GOOD | {file: f"#pragma once\n{line}\n"})))
    assert len(found) == 1
    assert found[0].startswith(f"{file}:2: {what}: ")


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("support/parallel.cpp", "#include <thread>\n#include <chrono>\nstd::jthread t;\n"),
        ("clearance/bullet.cpp", "#include <btBulletCollisionCommon.h>\nbtBoxShape box;\n"),
        ("clearance/bullet_shapes.cpp", "#include <BulletCollision/CollisionShapes/btBoxShape.h>\n"),
        ("studies/x.cpp", "std::mt19937 engine(7);\nstd::mt19937 other{seed};\n"),
        ("studies/x.cpp", "// std::cout, std::thread and getenv are banned here\n/* printf( */\n"),
        ("studies/x.cpp", 'const char* text = "printf(";\n'),
    ],
)
def test_what_is_allowed_is_left_alone(tmp_path: Path, file: str, text: str) -> None:
    assert list(rooms.banned(tree(tmp_path, GOOD | {file: text}))) == []


def test_a_cycle_in_the_table_is_found() -> None:
    assert list(rooms.cycles({"a": ["b"], "b": ["a"]})) == ["a reaches itself", "b reaches itself"]
    assert list(rooms.cycles({"a": ["lost"]})) == ["a may use lost, which is no room"]
