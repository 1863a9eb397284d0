# ruff: noqa: E501  messages and tables stand whole
"""Whatever is typed in ends in a description or in InputError, and nothing else."""

from __future__ import annotations

import contextlib
import math
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from armwright.describe import load_arm, load_cell
from armwright.describe.units import ANGLE, LENGTH, MASS, TORQUE, Kind, VectorOf
from armwright.describe.wrong import Wrong
from armwright.errors import InputError
from cases.description_files import ARM, CELL, URDF, write_cell

UNITS = [(LENGTH, unit) for unit in ("mm", "cm", "m", "in", "ft")]
UNITS += [(MASS, unit) for unit in ("g", "kg", "lb", "oz")] + [
    (ANGLE, unit) for unit in ("deg", "rad", "arcmin", "turn")
]
UNITS += [(TORQUE, unit) for unit in ("N*m", "Nm", "kgf*cm", "lbf*ft", "ozf*in")]
FOLDER = settings(suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow], deadline=None)


@given(st.sampled_from(UNITS), st.floats(1e-6, 1e6))
def test_units_round_trip(unit: tuple[Kind, str], number: float) -> None:
    kind, name = unit
    value = kind.from_text(f"{number!r} {name}")
    assert value / kind.factor(name) == pytest.approx(number, rel=1e-14)
    assert kind.from_text(f"{number!r}{name}") == value


@given(st.text(max_size=40) | st.from_regex(r"[0-9,./ +-]{0,8} ?[a-zA-Z*^·()%°]{0,8}[0-9]{0,3}", fullmatch=True))
@settings(deadline=None)
def test_any_text_is_a_finite_quantity_or_wrong(text: str) -> None:
    for kind in (LENGTH, TORQUE, ANGLE):
        for take in (kind.from_text, VectorOf(kind).from_file):
            try:
                value = take(text)
            except Wrong:
                continue
            values = value if isinstance(value, tuple) else (value,)
            assert all(math.isfinite(v) for v in values)


JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=10),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=6,
)


@given(JUNK)
def test_any_python_value_is_a_quantity_or_wrong(value: object) -> None:
    for take in (LENGTH.from_python, VectorOf(LENGTH).from_python, LENGTH.from_file):
        with contextlib.suppress(Wrong):
            take(value)


@given(st.data())
@FOLDER
def test_damaged_files(tmp_path: Path, data: st.DataObject) -> None:
    """A file with some characters lost, doubled or changed."""
    text = data.draw(st.sampled_from([ARM, CELL]))
    start = data.draw(st.integers(0, len(text) - 1))
    end = data.draw(st.integers(start, min(len(text), start + 40)))
    text = (
        text[:start]
        + data.draw(st.text(alphabet=st.sampled_from("[]{}=\"'#.,0159 mkgd\n-\x00é"), max_size=12))
        + text[end:]
    )
    path = write_cell(tmp_path)
    is_arm = "dh_convention" in text or "[[joint" in text
    (tmp_path / ("arm.toml" if is_arm else "cell.toml")).write_bytes(text.encode())
    try:
        load_cell(path)
    except InputError as error:
        assert error.problems
        assert all(problem.expected for problem in error.problems)


@given(st.data())
@FOLDER
def test_damaged_urdf_files(tmp_path: Path, data: st.DataObject) -> None:
    start = data.draw(st.integers(0, len(URDF) - 1))
    end = data.draw(st.integers(start, min(len(URDF), start + 30)))
    word = data.draw(
        st.sampled_from(["", "nan", "1e400", "-1", "0", '"', "<", ">", "/", "&amp;", "link", "x" * 300, "0 0 0"])
    )
    (tmp_path / "arm.urdf").write_text(URDF[:start] + word + URDF[end:], encoding="utf-8")
    try:
        load_arm(tmp_path / "arm.urdf")
    except InputError as error:
        assert all(problem.file.endswith("arm.urdf") for problem in error.problems)


@given(st.text(max_size=60) | st.binary(max_size=60))
@FOLDER
def test_garbage_files(tmp_path: Path, garbage: str | bytes) -> None:
    data = garbage if isinstance(garbage, bytes) else garbage.encode("utf-8", "surrogatepass")
    for name in ("arm.toml", "arm.urdf"):
        (tmp_path / name).write_bytes(data)
        with pytest.raises(InputError):
            load_arm(tmp_path / name)


KEYS = ["name", "dh_convention", "base", "joint", "flange", "urdf", "range", "dh", "link", "torque", "motor", "mass", "inertia", "shape",
        "position", "kind", "file", "axis", "origin"]  # fmt: skip
VALUES = st.sampled_from(['"1 mm"', '"2 kg"', '"z"', "1", "-1.5", "nan", "inf", "true", '["1 deg", "2 deg"]', "[]", "{}", '"0, 0, 1 m"',
                          "[[]]", '"standard"', "{ mass = 1 }", "[{}]", "1979-05-27", "[1, 2, 3]"])  # fmt: skip
LINES = st.lists(
    st.builds("{} = {}".format, st.sampled_from(KEYS), VALUES)
    | st.sampled_from(["[[joint]]", "[joint.link]", "[base]", "[[base.shape]]", "[flange]", "[joint.motor]"]),
    max_size=12,
)


@given(LINES)
@FOLDER
def test_files_of_known_words(tmp_path: Path, lines: list[str]) -> None:
    (tmp_path / "arm.toml").write_text("\n".join(lines), encoding="utf-8")
    try:
        load_arm(tmp_path / "arm.toml")
    except InputError as error:
        assert error.problems
