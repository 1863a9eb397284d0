from __future__ import annotations

import pytest
from pydantic_core import PydanticCustomError

from armwright.describe.wrong import Wrong, shown, told_to_pydantic


def test_shown() -> None:
    assert [shown(v) for v in ("a b", 1.5, ["x"], None, True)] == ['"a b"', "1.5", "['x']", "None", "True"]
    assert shown("line\nline") == '"line line"'
    assert len(shown("x" * 1000)) == 80


def test_at() -> None:
    problem = Wrong("a length", '"1 mm"').at("size", "1").problems[0]
    assert str(problem) == 'size: got "1", expected a length (did you mean "1 mm"?)'


def test_told_to_pydantic() -> None:
    def refuse(value: object) -> object:
        raise Wrong("more", "less")

    with pytest.raises(PydanticCustomError) as caught:
        told_to_pydantic(refuse)(1)
    assert caught.value.context == {"expected": "more", "meant": "less"}
    assert told_to_pydantic(lambda value: value)(2) == 2
