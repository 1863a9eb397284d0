"""What every study's result says of the cell that it was computed for."""

from __future__ import annotations

from typing import Any

from armwright.describe import CellDescription


def study_labels(cell: CellDescription) -> dict[str, Any]:
    """The cell's name, where the arm's base stands: at one place, or at both ends of its track; m, world; and what was
    assumed because it was not given."""
    base, track = cell.mount, cell.track
    labels: dict[str, Any] = {"cell_name": cell.name, "base_position": base[:3, 3].tolist()}
    if track is not None:
        along = track.pose[:3, :3] @ track.axis
        first = (track.pose @ base)[:3, 3]
        labels["base_position"] = first.tolist()
        labels["track_span"] = [*(first + track.lower * along).tolist(), *(first + track.upper * along).tolist()]
    if cell.assumptions:
        labels["assumptions"] = "\n".join(cell.assumptions)
    return labels
