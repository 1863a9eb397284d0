"""The table is sound, and the docs say what it says."""

from pathlib import Path

import pytest

from armwright.results import STUDIES
from armwright.results.variables import all_tables

DOCS = Path(__file__).parents[3] / "docs" / "results.md"


def test_the_docs_are_made_from_the_table():
    """To renew: python -m armwright.results.variables > docs/results.md."""
    assert DOCS.read_text(encoding="utf-8") == all_tables()


UNITS = ("m", "kg", "rad", "1", "s", "J", "m/s", "rad/s", "1/s", "N*m", "W", "A", "N", "m3", "N/m", "Pa", "Hz")


@pytest.mark.parametrize("study", STUDIES)
def test_names_are_unique_and_dims_have_coordinates_or_count_points(study):
    what = STUDIES[study]
    names = [item.name for item in what.coords + what.variables]
    assert len(names) == len(set(names))
    coords = {coord.name for coord in what.coords}
    for item in what.coords + what.variables:
        assert all(dim in coords or dim == "..." or dim.endswith("_point") for dim in item.dims), item.name
        assert item.unit in UNITS and item.long_name
