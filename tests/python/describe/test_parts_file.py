# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from pathlib import Path

import pytest

from armwright.describe import load_parts
from armwright.errors import InputError
from cases.drive_files import PARTS


def load(folder: Path, text: str):  # type: ignore[no-untyped-def]
    (folder / "parts.toml").write_text(text, encoding="utf-8")
    return load_parts(folder / "parts.toml")


def test_parts(tmp_path: Path) -> None:
    parts = load(tmp_path, PARTS)
    assert repr(parts) == "Parts: 1 motors, 1 stages, 1 brakes"
    assert parts.motor("750 W").counts == 131072
    assert parts.stage("size 25").gain == 101
    assert parts.brake("2.5 N*m").closing == pytest.approx(0.03)
    with pytest.raises(InputError, match=r'stage: got "size 52", expected one of size 25 \(did you mean size 25\?\)'):
        parts.stage("size 52")
    assert repr(load(tmp_path, "")) == "Parts: 0 motors, 0 stages, 0 brakes"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('name = "750 W"', "", r"motor\[0\].name: got nothing, expected this key: the name by which drives refer to it"),
        ('kind = "strain wave"', 'kind = "strainwave"', r'did you mean "strain wave"'),
        ("[[brake]]", '[[motor]]\nname = "750 W"\ncontinuous = "1 N*m"\nmax_speed = "9 rpm"\n[[brake]]',
         r'motor\[1\].name: got "750 W", expected a different name for each'),
        ("delay", "dely", r"brake\[0\].dely: got an unknown key .*did you mean delay"),
        ("resistance", "loss_at_rated = '5 W'\nresistance", r"motor\[0\].resistance: got resistance besides loss_at_rated"),
    ],
)  # fmt: skip
def test_refusals(tmp_path: Path, old: str, new: str, said: str) -> None:
    with pytest.raises(InputError, match=said):
        load(tmp_path, PARTS.replace(old, new))
