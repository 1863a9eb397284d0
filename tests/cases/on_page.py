"""What tests ask of an open 3-D page."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

_MOVE = """(q) => { q.forEach((value, i) => {
  const slider = document.getElementById("joint-" + i);
  slider.value = String(value); slider.dispatchEvent(new Event("input"));
}); return {...document.body.dataset}; }"""


def numbers(text: str) -> NDArray[np.float64]:
    return np.array([float(word) for word in text.split()])


def told(page: Any) -> dict[str, str]:
    """What the page says that it computed."""
    values: dict[str, str] = page.evaluate("({...document.body.dataset})")
    return values


def move_axes(page: Any, q: ArrayLike) -> dict[str, str]:
    """Moves every slider, as a hand would, and gives what the page says then."""
    values: dict[str, str] = page.evaluate(_MOVE, np.asarray(q, float).tolist())
    return values


def tool_pose(values: dict[str, str]) -> NDArray[np.float64]:
    return numbers(values["toolPose"]).reshape(4, 4)


def gap(values: dict[str, str]) -> tuple[float, NDArray[np.float64], set[str]]:
    """The least distance, both points (2, 3) and both names that the page draws."""
    found = numbers(values["gap"])
    return float(found[0]), found[1:].reshape(2, 3), set(json.loads(values["gapNames"]))


def wait_until(true: Callable[[], bool], seconds: float = 60) -> None:
    """Looks again and again. The page's own rules keep out scripts that would wait inside of it."""
    end = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < end, "it never came"
        time.sleep(0.02)
