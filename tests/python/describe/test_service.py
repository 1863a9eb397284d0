
from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from armwright.describe import Box, CellDescription, HalfSpace, Link, ServiceVolume, Track
from armwright.errors import InputError
from cases.description_files import small_arm

BOX = Box((0.1, 0.1, 0.2), (0.1, 0, 0))


def test_a_volume_is_carried() -> None:
    volume = ServiceVolume("axis 1", "a", BOX, "x", "3.4 kg")
    pose = np.array([[0, -1, 0, 1], [1, 0, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1.0]])
    moved = volume.carried({"a": pose})
    assert moved.shapes[0].pose[:3, 3] == pytest.approx((1, 0.1, 0)) and moved.direction == pytest.approx((0, 1, 0))
    assert volume.carried({}) is volume
    assert repr(volume) == "ServiceVolume 'motor of axis 1': 'axis 1' on 'a', 1 shape, 3.4 kg"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ({"motor": ""}, "motor: "),
        ({"link": 3}, "link: got 3"),
        ({"shapes": ()}, "shapes: got none"),
        ({"shapes": "box"}, 'shapes: got "box"'),
        ({"shapes": HalfSpace()}, r"shapes\[0\]: got a half-space, expected a solid"),
        ({"shapes": Box((1, 1, 1), clearance=0.1)}, r"shapes\[0\].clearance: got 0.1 m"),
        ({"direction": "out"}, 'direction: got "out"'),
        ({"mass": -3}, "mass: got -3"),
    ],
)
def test_refusals(arguments: dict[str, Any], said: str) -> None:
    with pytest.raises(InputError, match=f"^ServiceVolume.{said}"):
        ServiceVolume(**({"motor": "axis 1", "link": "a", "shapes": (BOX,)} | arguments))


def test_in_a_cell() -> None:
    """What is on a track may stay told in a cell without one."""
    volumes = (ServiceVolume("axis 1", "base", BOX), ServiceVolume("track", "carriage", BOX))
    assert CellDescription(small_arm(), service=volumes).service == volumes
    sled = Track("x", 2, carriage=Link("sled", 3))
    CellDescription(small_arm(), sled, service=(*volumes, ServiceVolume("axis 2", "sled", BOX)))
    with pytest.raises(InputError) as caught:
        CellDescription(small_arm(), service=ServiceVolume("axis 11", "bass", BOX))  # type: ignore[arg-type]
    assert [(p.key, p.meant) for p in caught.value.problems] == [
        ("CellDescription.service[0].link", '"base"'), ("CellDescription.service[0].motor", '"axis 1"'),
    ]  # fmt: skip
    with pytest.raises(InputError, match="service: got 2 named"):
        CellDescription(small_arm(), service=(volumes[0], volumes[0]))
