# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from pathlib import Path

import pytest

from armwright.errors import InputError
from cases.borne import CARE, cell_with


def test_a_volume_stands_in_the_frame_of_the_row(tmp_path: Path) -> None:
    """The row of the upper arm is Rz(-90 deg) Tx(480 mm): its x points along -y of the joint's frame."""
    volume = cell_with(tmp_path, CARE).service[0]
    assert volume.shapes[0].pose[:3, 3] == pytest.approx((0, 0, 0), abs=1e-12)
    assert volume.direction == pytest.approx((0, -1, 0)) and volume.mass == 3.4
    assert volume.name == "motor of shoulder"


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('"shoulder"', '"sholder"', r'service\[0\].motor: .*did you mean "shoulder"'),
        ('motor = "shoulder"\nlink = "upper arm"', 'motor = "shoulder"\nlink = "lower arm"', r"service\[0\].link: .*a link: "),
        ('"3.4 kg"', '"3.4"', r'service\[0\].mass: .*did you mean "3.4 kg"'),
        ('kind = "box", size', 'kind = "bx", size', r'service\[0\].shape\[0\].kind: .*did you mean "box"'),
        ('direction = "x"', 'direction = "outside"', r"service\[0\].direction: got "),
        ('kind = "box", size = "100, 100, 200 mm"', 'kind = "half-space"', r"service\[0\].shape\[0\]: got a half-space"),
        ('shape = [{', 'shapes = [{', r"service\[0\].shapes: got an unknown key .*did you mean shape"),
    ],
)
def test_refusals(tmp_path: Path, old: str, new: str, said: str) -> None:
    assert old in CARE
    with pytest.raises(InputError, match=said):
        cell_with(tmp_path, CARE.replace(old, new, 1))


def test_no_shape(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"service\[0\].shape: got \[\], expected 1 or more of them"):
        cell_with(tmp_path, '[[service]]\nmotor = "shoulder"\nlink = "upper arm"\nshape = []\n')
