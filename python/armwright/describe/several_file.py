"""Lists of quantities, points in a plane, and one quantity or two, in files."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import core_schema

from armwright.describe.problems import FileModel
from armwright.describe.several import list_of, no_bare_numbers, one_or_two, points_in_plane
from armwright.describe.units import LENGTH, Kind
from armwright.describe.wrong import told_to_pydantic
from armwright.errors import InputError


@dataclass(frozen=True)
class Several:
    """Quantities of one kind as ``read`` takes them from Python, each with its unit; ``options``: what an editor may
    take, of JSON schema, by one quantity."""

    kind: Kind
    read: Callable[[str, Any], Any]
    options: Callable[[dict[str, Any]], list[dict[str, Any]]]

    def _taken(self, value: object) -> Any:
        told_to_pydantic(lambda told: no_bare_numbers(self.kind, told))(value)
        try:
            return self.read("", value)
        except InputError as error:
            raise FileModel.told(error) from None

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(self._taken)

    def __get_pydantic_json_schema__(self, schema: Any, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        options = self.options({"type": "string", "x-si-unit": self.kind.si})
        return (options[0] if len(options) == 1 else {"anyOf": options}) | {"x-si-unit": self.kind.si}


def _list(item: dict[str, Any], count: int | None = None) -> dict[str, Any]:
    made = {"type": "array", "items": item}
    return made if count is None else made | {"minItems": count, "maxItems": count}


def one_or_two_of(kind: Kind) -> Several:
    """One quantity, or two."""
    return Several(kind, one_or_two(kind), lambda one: [one, _list(one, 2)])


def many_of(kind: Kind, most: int) -> Several:
    """One quantity or more."""
    return Several(kind, list_of(kind, most), lambda one: [one, _list(one)])


def points_of(least: int) -> Several:
    """Points x, y."""
    return Several(LENGTH, points_in_plane(least), lambda one: [_list(_list(one, 2))])
