"""What a file is, by the tables in it: for those that are taken for another."""

from __future__ import annotations

from collections.abc import Mapping

ARM, CELL, CYCLE, PARTS, TARGETS = "an arm", "a cell", "a cycle", "a file of parts", "a file of work points"


def kind_of_file(tables: Mapping[str, object]) -> str:
    """One of the kinds above; "" for what cannot be told."""
    known = tables.keys()
    if "arm" in known:
        return CELL
    if "move" in known:
        return CYCLE
    if known & {"joint", "urdf"}:
        return ARM
    if known & {"motor", "stage", "brake"}:
        return PARTS
    return TARGETS if known == {"target"} else ""
