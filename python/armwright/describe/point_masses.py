"""What is told of bodies that have a mass, and no moments of inertia."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any


def point_masses(bodies: Iterable[Any]) -> tuple[str, ...]:
    """One assumption that names them all; none of bodies that are None, weigh nothing, or have an inertia."""
    names = [str(body.name) for body in bodies if body is not None and body.mass > 0 and not body.inertia.any()]
    return (f"no inertia told, taken as point masses: {', '.join(names)}",) if names else ()
