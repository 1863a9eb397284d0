"""The commands on many designs write what the methods of the same names give for the same options."""

from __future__ import annotations

from pathlib import Path

import pytest
import xarray as xr

import armwright as aw
from armwright.cli import main
from cases.command_files import CELL, CYCLE, six_axis_cell
from cases.command_line import ran, refused
from cases.drive_files import PARTS

REACHED = """\
arm = "{arm}"
[track]
axis = "x"
stroke = "1 m"
[load]
mass = "1 kg"
[tool]
mass = "0.5 kg"
[[target]]
name = "near, left"
position = "400, 200, 300 mm"
direction = "down"
spin = "free"
tilt = "30 deg"
[[target]]
name = "far"
position = "2.5 m, 0 m, 0.3 m"
direction = "down"
spin = "free"
tilt = "30 deg"
"""
MASS = "tool.mass"


@pytest.fixture
def cell_file(tmp_path: Path) -> Path:
    return six_axis_cell(tmp_path, REACHED)


def written(folder: Path, study: str) -> xr.Dataset:
    return aw.open_result(folder / f"{study}.nc")


def test_changes(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    said = ran(
        capsys, "changes", str(cell_file), "-o", str(out), "--number", MASS, "--number", "mount.z", "--alternative",
        "track.stroke=1.5 m, 3 m", "--alternative", "tool.mass=0.2 kg", "--prices", "3 m=700, 0.2 kg=90", "--prices",
        "track.stroke = 1.5 m=300", "--currency", "EUR", "--answer", "served", "--answer", "payload at near, left",
    )  # fmt: skip
    result = aw.load_cell(cell_file).changes(
        [MASS, "mount.z"], {"track.stroke": ["1.5 m", "3 m"], MASS: ["0.2 kg"]},
        [aw.ask.served(), aw.ask.payload("near, left")],
        prices={"3 m": 700, "0.2 kg": 90, "track.stroke = 1.5 m": 300}, currency="EUR",
    )  # fmt: skip
    assert list(result.price.values) == [300, 700, 90]
    assert written(out, "changes").identical(result)
    assert "track.stroke = 3 m for 700 EUR: points served 2, 1 better" in said
    assert {path.name for path in out.iterdir()} == {"changes.nc", "changes.txt", "changes.png", "alternatives.png"}


def test_uncertainty(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out"
    options = ("--samples", "8", "--seed", "3", "--distribution", "normal", "--postures", "anew")
    said = ran(capsys, "uncertainty", str(cell_file), "-o", str(out), "--tolerance", f"{MASS}=20 %", "--tolerance",
               "mount.z=3 mm", *options)  # fmt: skip
    told = {MASS: "20 %", "mount.z": "3 mm"}
    result = aw.load_cell(cell_file).uncertainty(
        tolerances=told, samples=8, seed=3, distribution="normal", postures="anew"
    )
    assert written(out, "uncertainty").identical(result)
    assert "least payload margin" in said and (out / "uncertainty.png").exists()
    kept = ("--store", str(tmp_path / "kept"))
    asked = ("uncertainty", str(cell_file), "-o", str(out), "--tolerance", f"{MASS}=20 %", "--samples", "4", *kept)
    assert ran(capsys, *asked) == ran(capsys, *asked)
    assert list((tmp_path / "kept").glob("samples-*.nc"))
    assert "store" in refused(capsys, *asked, "--quiet", "--seed", "7")


def test_sweep(cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out, cell = tmp_path / "out", aw.load_cell(cell_file)
    asked = ("sweep", str(cell_file), "track.stroke=1 m, 3 m", f"{MASS}=0.5 kg, 1.5 kg", "-o", str(out))
    said = ran(capsys, *asked)
    numbers = {"track.stroke": ["1 m", "3 m"], MASS: ["0.5 kg", "1.5 kg"]}
    assert written(out, "sweep").identical(cell.sweep(numbers))
    assert "points served: 1 to 2, best 2 at track.stroke = 3" in said
    assert {path.name for path in out.iterdir()} == {"sweep.nc", "sweep.png", "sweep.txt"}
    ran(capsys, *asked, "--samples", "3", "--answer", "limit_margin")
    result = cell.sweep(numbers, aw.ask.limit_margin(), samples=3)
    assert dict(result.sizes) == {"track.stroke": 3, MASS: 3, "answer": 1}
    assert written(out, "sweep").identical(result)
    ran(capsys, *asked, "--design", "latin hypercube", "--samples", "5", "--seed", "2", "--threads", "1")
    assert written(out, "sweep").identical(cell.sweep(numbers, design="latin hypercube", samples=5, seed=2))


POINT = """\
[[target]]
name = "shelf"
position = "0, 0, 100 mm"
roll_pitch_yaw = "0, 0, 0 deg"
"""
MOTOR = "arm.joints[axis 1].drive.motor"


@pytest.fixture
def with_parts(driven: Path) -> Path:
    """A driven cell's folder, with a work point and another motor."""
    more = PARTS[PARTS.index("[[motor]]") : PARTS.index("[[stage]]")].replace("750 W", "1 kW").replace("2.4", "3.3")
    (driven / "other.toml").write_text(more, encoding="utf-8")
    (driven / "cell.toml").write_text(CELL + POINT, encoding="utf-8")
    return driven


def test_parts_by_their_names(with_parts: Path, capsys: pytest.CaptureFixture[str]) -> None:
    cell, parts = aw.load_cell(with_parts / "cell.toml"), aw.load_parts(with_parts / "other.toml")
    asked = (str(with_parts / "cell.toml"), "-o", str(with_parts / "out"), "--parts", str(with_parts / "other.toml"))
    cycle = ("--cycle", str(with_parts / "cycle.toml"))
    ran(capsys, "sweep", asked[0], f"{MOTOR}=750 W, 1 kW", *asked[1:], *cycle, "--answer", "greatest_share")
    moves = aw.load_cycle(with_parts / "cycle.toml", cell)
    own = aw.load_parts(with_parts / "parts.toml").motors["750 W"]
    result = cell.sweep({MOTOR: [own, parts.motors["1 kW"]]}, aw.ask.greatest_share(moves))
    assert written(with_parts / "out", "sweep").identical(result)
    ran(capsys, "changes", *asked, *cycle, "--number", "load.mass", "--prices", "1 kW=410")
    answers = [*aw.ask.usual(cell), aw.ask.cycle_time(moves), aw.ask.greatest_share(moves)]
    result = cell.changes("load.mass", (), answers, parts=parts, prices={"1 kW": 410})
    assert written(with_parts / "out", "changes").identical(result)
    assert "axis 1: 1 kW" in result.alternative.values
    for told, words in (
        (f"{MOTOR}=750 W, 1 KW", "did you mean 1 kW?"), ("arm.joints[axis 1].drive=750 W", "a motor or a stage"),
    ):  # fmt: skip
        assert words in refused(capsys, "sweep", asked[0], told, *asked[1:], "--quiet")


@pytest.mark.parametrize(("told", "words"), [
    (("sweep", "track.strok=1 m, 2 m"), ("track.strok: got no such number", "track.stroke")),
    (("sweep", "track.stroke"), ("NUMBER=VALUES", '"track.stroke=1 m, 2 m"')),
    (("sweep", "track.stroke="), ("NUMBER=VALUES", "track.stroke=")),
    (("sweep", "track.stroke=1 m", "track.stroke=2 m"), ("track.stroke twice",)),
    (("sweep", "track.stroke=1, 2"), ("track.stroke", "m")),
    (("sweep", "track.stroke=1 m,"), ("track.stroke",)),
    (("sweep", "track.stroke=nan m, 2 m"), ("track.stroke", "nan")),
    (("sweep", "track.stroke=1 m, 1 m"), ("two values alike",)),
    (("sweep", "track.stroke=1 m, -2 m"), ("track.stroke", "-2")),
    (("sweep", "track.stroke=1 m, 2 m", "--design", "latin hypercube"), ("samples",)),
    (("sweep", "track.stroke=1 m, 2 m", "--samples", "1"), ("samples",)),
    (("sweep", "tool.mass=1 kg, 2 kg", "--answer", "payloda_margin"), ("--answer", "payload_margin")),
    (("sweep", "tool.mass=1 kg, 2 kg", "--answer", "payload"), ("--answer", "a work point besides")),
    (("sweep", "tool.mass=1 kg, 2 kg", "--answer", "payload at fra"), ("--answer", "far")),
    (("sweep", "tool.mass=1 kg, 2 kg", "--answer", "served at far"), ("--answer", "served")),
    (("sweep", "tool.mass=1 kg, 2 kg", "--answer", "served", "--answer", "served"), ("points served",)),
    (("sweep", "tool.mass=1 kg, 2 kg", "--answer", "cycle_time"), ("--cycle",)),
    (("sweep", "tool.mass=1 kg, 2 kg", "--cycle", "none.toml"), ("none.toml",)),
    (("sweep", "tool.mass=1 kg, 2 kg", "--parts", "none.toml"), ("none.toml",)),
    (("uncertainty",), ("tolerances: got none", "4.2 kg ± 10 %")),
    (("uncertainty", "--tolerance", "tool.mass=-10 %"), ("tolerances[tool.mass]", "-10 %")),
    (("uncertainty", "--tolerance", "tool.mass=3 mm"), ("tolerances[tool.mass]", "kg")),
    (("uncertainty", "--tolerance", "tool.mass=0.1"), ("tolerances[tool.mass]", "kg")),
    (("uncertainty", "--tolerance", "tool.mass=nan kg"), ("tolerances[tool.mass]", "nan")),
    (("uncertainty", "--tolerance", "tool.mas=10 %"), ("tool.mas: got no such number", "tool.mass")),
    (("uncertainty", "--tolerance", "tool.mass=10 %", "--samples", "100"), ("samples", "128")),
    (("changes", "--number", "tool.mas"), ("tool.mas: got no such number", "tool.mass")),
    (("changes", "--parts", "none.toml"), ("none.toml",)),
    (("changes", "--prices", "track=dear"), ("--prices", "an amount without its currency")),
    (("changes", "--prices", "410"), ("--prices", "a name and what it is told")),
    (("changes", "--prices", "3 m=nan", "--alternative", "track.stroke=3 m"), ("prices[3 m]", "0 or more")),
    (("changes", "--prices", "3 m=-1", "--alternative", "track.stroke=3 m"), ("prices[3 m]", "0 or more")),
    (("changes", "--prices", "2 m=7", "--alternative", "track.stroke=3 m"), ("prices", "3 m")),
    (("changes", "--alternative", "track.stroke"), ("--alternative",)),
])  # fmt: skip
def test_what_is_wrong_is_told(
    told: tuple[str, ...], words: tuple[str, ...], cell_file: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    said = refused(capsys, told[0], str(cell_file), *told[1:], "-o", str(tmp_path / "out"), "--quiet")
    for word in words:
        assert word in said
    assert not list((tmp_path / "out").iterdir())


def test_a_cycle_that_nothing_asks_about(driven: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (driven / "cell.toml").write_text(CELL + POINT, encoding="utf-8")
    (driven / "cycle.toml").write_text(CYCLE, encoding="utf-8")
    told = refused(capsys, "sweep", str(driven / "cell.toml"), "load.mass=1 kg, 2 kg", "--cycle",
                   str(driven / "cycle.toml"), "--answer", "served", "--quiet", "-o", str(driven / "out"))  # fmt: skip
    assert "--cycle: got " in told and "cycle_time" in told


@pytest.mark.parametrize("command", ["changes", "uncertainty", "sweep"])
def test_help_has_an_example(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        main([command, "--help"])
    assert ended.value.code == 0
    said = capsys.readouterr().out
    assert f"examples:\n  armwright {command} cell.toml" in said


def test_numbers_are_told_by_name(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A pound is 0.45359237 kg; what is told is what sweep takes."""
    file = six_axis_cell(tmp_path, REACHED.replace('"0.5 kg"', '"2 lb ± 10 %"'))
    assert main(["numbers", str(file), "tool.mass"]) == 0
    assert capsys.readouterr().out == "tool.mass = 0.907185 kg ± 0.0907 kg\n"
    assert main(["numbers", str(file), "tool.mass", "--units", "us"]) == 0
    assert capsys.readouterr().out == "tool.mass = 2 lb ± 0.2 lb\n"
    assert main(["numbers", str(file)]) == 0
    names = [line.partition(" = ")[0] for line in capsys.readouterr().out.splitlines()]
    assert names == [number.path for number in aw.load_cell(file).design_numbers()]
    assert refused(capsys, "numbers", str(file), "no such").startswith("TEXT: got no such")
