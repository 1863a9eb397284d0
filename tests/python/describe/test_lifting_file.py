# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from pathlib import Path

import pytest

from armwright.errors import InputError
from cases.borne import CARE, cell_with


def test_an_eye_stands_in_the_frame_of_the_row(tmp_path: Path) -> None:
    """The row of the upper arm is Rz(-90 deg) Tx(480 mm): (-480, 20, 0) in it is (20, 0, 0) on the axis, turned back."""
    eye = cell_with(tmp_path, CARE).lifting[0]
    assert eye.point == pytest.approx((0.02, 0, 0), abs=1e-12) and eye.rated_mass == 200 and eye.name == "eye"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('link = "upper arm"\npoint', 'link = "uper arm"\npoint', r'lifting\[0\].link: .*did you mean "upper arm"'),
        ('link = "upper arm"\npoint', "point", r"lifting\[0\].link: got nothing"),
        ('"-480, 20, 0 mm"', '"-480, 20 mm"', r"lifting\[0\].point: "),
        ('"200 kg"', '"200 daN"', r"lifting\[0\].rated_mass: .*a unit of mass"),
        ("rated_mass", "rated", r"lifting\[0\].rated: got an unknown key .*did you mean rated_mass"),
    ],
)
def test_refusals(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in CARE
    with pytest.raises(InputError, match=said):
        cell_with(tmp_path, CARE.replace(old, new, 1))


def test_two_need_names(tmp_path: Path) -> None:
    eye = '[[lifting]]\nlink = "upper arm"\npoint = "0, 0, 0 mm"\n'
    with pytest.raises(InputError, match=r'lifting\[1\].name: got "eye", expected a different name for each'):
        cell_with(tmp_path, eye + eye)
