"""The one exception type of the package, and the problems it carries."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace


@dataclass(frozen=True)
class Problem:
    """One thing wrong with an input.

    ``file`` is the description's path as the user gave it ("" for values given from Python), ``key`` the dotted key
    with indices ("joint[2].range"), ``value`` what was found, ``expected`` what would be taken, ``meant`` the nearest
    thing that would be right, where one can be guessed ("" otherwise); ``line`` the 1-based line in the file, if known.

    >>> try:
    ...     aw.Box(("100 mm", "80 mm", "20"), name="shelf")
    ... except aw.InputError as error:
    ...     print(error.problems[0].key, error.problems[0].expected)
    Box.size a length with its unit, as "410 mm", more than 0 m
    """

    key: str
    value: str
    expected: str
    meant: str = ""
    file: str = ""
    line: int | None = None

    def __str__(self) -> str:
        place = f"{self.file}:{self.line}: " if self.file and self.line else f"{self.file}: " if self.file else ""
        hint = f" (did you mean {self.meant}?)" if self.meant else ""
        return f"{place}{self.key}: got {self.value}, expected {self.expected}{hint}"


class InputError(ValueError):
    """An input that is refused. Everything found wrong is in ``problems``; the message lists each on a line.

    >>> try:
    ...     cell.reach_map("0 mm")
    ... except aw.InputError as error:
    ...     print(error)
    spacing: got 0 m, expected more than 0 m
    """

    def __init__(self, problems: Iterable[Problem]):
        self.problems = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))

    @classmethod
    def of(cls, key: str, value: object, expected: str, meant: str = "", file: str = "") -> InputError:
        """The error for a single problem."""
        return cls([Problem(key, str(value), expected, meant, file)])

    def __reduce__(self) -> tuple[type[InputError], tuple[tuple[Problem, ...]]]:
        return type(self), (self.problems,)


@contextmanager
def of_file(path: object) -> Iterator[None]:
    """What is found wrong meanwhile is told as of that file, where no other is named."""
    try:
        yield
    except InputError as error:
        raise InputError(replace(problem, file=problem.file or str(path)) for problem in error.problems) from None
