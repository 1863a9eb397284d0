"""pydantic's errors turned into Problems: the key, what stood there, what was expected, what was meant, and the
line."""

from __future__ import annotations

import difflib
import re
import types
import typing
from pathlib import Path
from typing import Any, ClassVar, TypeVar, cast

from pydantic import BaseModel, ConfigDict, PrivateAttr, ValidationError, ValidationInfo, model_validator
from pydantic_core import ErrorDetails, PydanticCustomError

from armwright.describe.file_kinds import kind_of_file
from armwright.describe.toml_text import Lines, Path_, key_path, key_text, parse, read_text
from armwright.describe.wrong import shown
from armwright.errors import InputError, Problem


class Place:
    """Where a description stands: its folder, and the folder that no path may leave (the outermost description's)."""

    def __init__(self, folder: Path, root: Path | None = None):
        self.folder = folder
        self.root = root or folder
        self.parts: Any = ()  # of the file of parts that the description names; None if that is broken
        self.known: dict[str, tuple[str, ...]] | None = None  # names of joints, work points, loads that a cycle may use

    def inside(self, key: str, text: str) -> Path:
        """The file that a description names, refused if it is outside, by "..", a full path or a link."""
        expected = "the path of a file inside the description's folder"
        if "\0" in text or not text.strip():
            raise InputError.of(key, shown(text), expected)
        path = Path(text)
        outside = path.is_absolute() or path.drive or text.startswith(("\\", "~")) or "://" in text
        try:
            full = (self.folder / path).resolve()
            outside = outside or not full.is_relative_to(self.root.resolve())
        except (OSError, RuntimeError, ValueError):
            outside = True
        if outside:
            raise InputError.of(key, shown(text), f"{expected}; this one is outside")
        if not full.is_file():
            raise InputError.of(key, shown(text), "a file that exists", _nearest_file(full))
        return self.folder / path


def _nearest_file(path: Path) -> str:
    try:
        names = [item.name for item in path.parent.iterdir()] if path.parent.is_dir() else []
    except OSError:
        names = []
    return "".join(difflib.get_close_matches(path.name, names, 1, 0.7))


class FileModel(BaseModel):
    """Base of the tables of a file. ``make`` turns a table that pydantic has taken into its description; what it finds
    wrong is told with the rest. ``keys`` maps names in descriptions to the keys in the file, where they differ."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    keys: ClassVar[dict[str, str]] = {}
    file_kind: ClassVar[str] = ""  # what a whole file of it is called
    _made: Any = PrivateAttr(None)

    def make(self, place: Place) -> Any:
        return None

    @property
    def made(self) -> Any:
        return self._made

    @classmethod
    def told(cls, error: InputError) -> PydanticCustomError:
        """An InputError as pydantic takes it, for validators of single fields."""
        return PydanticCustomError("problems", "problems", {"problems": error.problems, "keys": {}})

    @model_validator(mode="after")
    def _check(self, info: ValidationInfo) -> FileModel:
        try:
            self._made = self.make(cast(Place, info.context))
        except InputError as error:
            raise PydanticCustomError("problems", "problems", {"problems": error.problems, "keys": self.keys}) from None
        return self


Model = TypeVar("Model", bound=FileModel)


def read_file(path: Path, model: type[Model], place: Place) -> Model:
    """A file's tables; everything wrong in it in one InputError."""
    text = read_text(path)
    document = parse(text, str(path))
    try:
        return model.model_validate(document, context=place)
    except ValidationError as error:
        kind = kind_of_file(document)
        if model.file_kind and kind not in ("", model.file_kind):
            problems = [Problem("file", kind, model.file_kind, file=str(path))]
        else:
            problems = _problems(error, model, document, text, str(path))
    raise InputError(problems)


def _problems(error: ValidationError, model: type[FileModel], document: Any, text: str, file: str) -> list[Problem]:
    lines = Lines(text)
    found = []
    for detail in error.errors(include_url=False):
        path: Path_ = tuple(detail["loc"])
        if detail["type"] == "told already":
            continue
        if detail["type"] != "problems":
            found.append((path, _problem(detail, path, model)))
            continue
        keys = detail["ctx"]["keys"]
        for problem in detail["ctx"]["problems"]:
            if problem.file:  # of a file that this one names
                found.append((path, problem))
                continue
            # Keys of descriptions begin with their class ("Box.size"), those of files do not.
            name = problem.key.partition(".")[2] if problem.key[:1].isupper() else problem.key.lstrip(".")
            head = next((k for k in sorted(keys, key=len, reverse=True) if name == k or name.startswith(k + "[")), None)
            inner = key_path(keys[head] + name[len(head) :] if head is not None else name)
            found.append((path + inner, Problem("", problem.value, problem.expected, problem.meant)))
    meant = {(*path[:-1], problem.meant) for path, problem in found if problem.value.startswith("an unknown key")}
    problems = []
    for told, problem in found:
        if told in meant and problem.value == "nothing":
            continue  # told already, by the misspelling
        path = _written(document, told)
        if not problem.file:
            line = lines.find(path)
            problems.append(
                Problem(key_text(path) or "file", problem.value, problem.expected, problem.meant, file, line)
            )
        else:
            problems.append(problem)
    return sorted(problems, key=lambda p: (p.file != file, p.line or 0))


def _written(document: Any, path: Path_) -> Path_:
    """The path as it was written: a plain value that stands for a table ("torque = ...") has no keys inside."""
    for end, step in enumerate(path):
        if not isinstance(document, dict | list):
            return path[:end]
        try:
            document = document[step]  # type: ignore[index]
        except (KeyError, IndexError, TypeError):
            return path
    return path


def _problem(detail: ErrorDetails, path: Path_, model: type[FileModel]) -> Problem:  # noqa: PLR0911  a line a kind
    kind, value = detail["type"], shown(detail["input"])
    if kind == "armwright":
        return Problem("", value, detail["ctx"]["expected"], detail["ctx"]["meant"])
    if kind == "missing":
        return Problem("", "nothing", f"this key: {_description(model, path)}")
    if kind == "extra_forbidden":
        known = sorted(_model_at(model, path[:-1]).model_fields)
        near = difflib.get_close_matches(str(path[-1]).lower().replace("-", "_"), known, 1, 0.6)
        return Problem("", f"an unknown key ({value})", f"one of {', '.join(known)}", near[0] if near else "")
    if kind in ("model_type", "model_attributes_type", "dict_type"):
        return Problem("", value, f"a table of {', '.join(sorted(_model_at(model, path).model_fields))}")
    if kind == "tuple_type":
        inner = _model_at(model, path)
        what = f"a list of tables, each headed [[{path[-1]}]]" if inner is not model else "a list"
        return Problem("", value, what)
    if kind == "too_short":
        return Problem("", value, f"{detail['ctx']['min_length']} or more of them")
    if kind == "bool_type":
        return Problem("", value, "true or false, without quotes")
    if kind == "string_type":
        return Problem("", value, "a text in quotes")
    if kind == "literal_error":
        expected = detail["ctx"]["expected"]  # words in quotes, which may hold commas, or numbers
        choices = re.findall(r"'([^']*)'", expected) or expected.replace(" or ", ", ").split(", ")
        near = difflib.get_close_matches(value.strip('"').lower(), choices, 1, 0.6)
        return Problem(
            "", value, "one of " + ", ".join(f'"{choice}"' for choice in choices), f'"{near[0]}"' if near else ""
        )
    return Problem("", value, detail["msg"][:1].lower() + detail["msg"][1:])


def _description(model: type[FileModel], path: Path_) -> str:
    field = _model_at(model, path[:-1]).model_fields.get(str(path[-1]))
    return (field.description if field else None) or "it is needed"


def _model_at(model: type[FileModel], path: Path_) -> type[FileModel]:
    """The model of the table at ``path``."""
    for step in path:
        if isinstance(step, str) and step in model.model_fields:
            model = _model_in(model.model_fields[step].annotation) or model
    return model


def _model_in(annotation: Any) -> type[FileModel] | None:
    if isinstance(annotation, type) and not isinstance(annotation, types.GenericAlias):
        return annotation if issubclass(annotation, FileModel) else None
    for part in typing.get_args(annotation):
        inner = _model_in(part)
        if inner:
            return inner
    return None
