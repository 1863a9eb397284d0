from __future__ import annotations

import json
from typing import Any

import pytest

from armwright.describe import schema
from armwright.describe.toml_text import parse
from cases.borne import (
    BASE,
    BEARING,
    CARE,
    CART,
    FEED,
    GUIDE,
    PAIR,
    STIFF,
    TORQUE,
    TUBE,
    UPPER,
    with_arm,
)
from cases.cycle_files import CYCLE
from cases.description_files import ARM, CELL, TARGETS
from cases.drive_files import DRIVEN, PARTS


@pytest.mark.parametrize("kind", schema.MODELS)
def test_the_schemas_that_ship_are_current(kind: str) -> None:
    path = schema.FOLDER / f"{kind}.schema.json"
    assert path.read_text(encoding="utf-8") == schema.text(kind), "run python -m armwright.describe.schema"


def every_key(node: Any) -> list[tuple[str, dict[str, Any]]]:
    found = []
    if isinstance(node, dict):
        found += list(node.get("properties", {}).items())
        for value in node.values():
            found += every_key(value)
    elif isinstance(node, list):
        for value in node:
            found += every_key(value)
    return found


@pytest.mark.parametrize("kind", schema.MODELS)
def test_every_key_is_described(kind: str) -> None:
    keys = every_key(schema.schema(kind))
    assert len(keys) > 5
    assert [name for name, told in keys if not told.get("description")] == []


FILES = [("arm", ARM), ("cell", CELL), ("targets", TARGETS), ("arm", DRIVEN), ("parts", PARTS), ("cycle", CYCLE),
         ("arm", with_arm((TORQUE, BEARING), (UPPER, TUBE))), ("arm", with_arm((TORQUE, PAIR), (UPPER, STIFF))),
         ("cell", CELL.replace("[mount]", GUIDE + FEED + "[mount]") + BASE + CARE), ("cell", CELL + CART)]  # fmt: skip


@pytest.mark.parametrize(("kind", "text"), FILES)
def test_files_fit_their_schema(kind: str, text: str) -> None:
    """Against jsonschema, where it is installed: what we read, editors take."""
    jsonschema = pytest.importorskip("jsonschema")
    made = json.loads((schema.FOLDER / f"{kind}.schema.json").read_text(encoding="utf-8"))
    jsonschema.Draft202012Validator.check_schema(made)
    validator = jsonschema.Draft202012Validator(made)
    assert list(validator.iter_errors(parse(text, kind))) == []
    assert list(validator.iter_errors({"nonsense": 1})) != []
