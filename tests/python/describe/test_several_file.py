# ruff: noqa: E501  messages and tables stand whole
from __future__ import annotations

from typing import Annotated, Any

import pytest
from pydantic import BaseModel, ValidationError

from armwright.describe.several_file import many_of, one_or_two_of, points_of
from armwright.describe.units import LENGTH


class Told(BaseModel):
    """A table with one of each."""

    pair: Annotated[Any, one_or_two_of(LENGTH)] = None
    many: Annotated[Any, many_of(LENGTH, 4)] = None
    points: Annotated[Any, points_of(2)] = None


def test_values() -> None:
    told = Told(pair="80, 60 mm", many=["1 mm", "2 mm"], points=[["0 mm", "1 mm"], "2, 3 mm"])
    assert told.pair == (0.08, 0.06) and told.many == (0.001, 0.002) and told.points == ((0, 0.001), (0.002, 0.003))


@pytest.mark.parametrize("wrong", [{"pair": 80}, {"pair": ["80 mm", 60]}, {"many": [1, 2]}, {"points": [[0, 1], [2, 3]]}])
def test_bare_numbers_are_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        Told(**wrong)


def test_schemas() -> None:
    """What is taken, an editor takes."""
    jsonschema = pytest.importorskip("jsonschema")
    validator = jsonschema.Draft202012Validator(Told.model_json_schema())
    assert validator.is_valid({"pair": "80 mm", "many": ["1 mm"], "points": [["0 mm", "1 mm"], ["1 mm", "1 mm"]]})
    assert validator.is_valid({"pair": ["80 mm", "60 mm"]})
    for wrong in ({"pair": 80}, {"pair": ["1 mm", "1 mm", "1 mm"]}, {"many": [1]}, {"points": [["0 mm"]]}):
        assert not validator.is_valid(wrong), wrong
