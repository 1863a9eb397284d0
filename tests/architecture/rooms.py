"""Reads the core's sources against cpp/rooms.toml: what they include, and what they must not use."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

if sys.version_info >= (3, 11):
    import tomllib
else:
    import tomli as tomllib

# What no file of the core may include or call, by the place where it may after all: a room, or a pattern of files.
BANS: tuple[tuple[str, str, str, str], ...] = (
    # what it is, in includes, in code, allowed where (a pattern on "room/path")
    ("iostream", r"iostream|ostream|istream|fstream|iomanip|cstdio|stdio\.h|print|syncstream", "", r""),
    ("printing", "", r"\bstd::(cout|cerr|clog|cin|println?)\b|\b(?:std::)?(?:v?f?printf|f?puts)\s*\(", r""),
    ("files", r"filesystem|sys/stat\.h|unistd\.h|fcntl\.h", r"\bfopen\s*\(|\bstd::filesystem\b", r""),
    (
        "clocks",
        r"chrono|ctime|time\.h|sys/time\.h",
        r"\bstd::chrono\b|\bclock_gettime\b|\b(?:std::)?time\s*\(\s*(?:nullptr|NULL|0)\s*\)",
        r"support/",
    ),
    ("unseeded random", "", r"\brandom_device\b|\b(?:std::)?s?rand\s*\(|\b[dlm]rand48\b", r""),
    # An engine declared without a seed: `std::mt19937 engine;`, `std::mt19937 engine{};`, `std::mt19937()`.
    (
        "unseeded random",
        "",
        r"\bstd::(mt19937(?:_64)?|minstd_rand0?|ranlux\w+|knuth_b|default_random_engine)\b"
        r"\s*(?:\w+\s*)?(?:;|\{\s*\}|\(\s*\))",
        r"",
    ),
    ("the environment", "", r"\b(?:std::|secure_)?getenv\b|\benviron\b", r""),
    (
        "threads",
        r"thread|mutex|shared_mutex|condition_variable|atomic|future|semaphore|latch|barrier|stop_token|(?:pthread|omp)\.h",
        r"\bstd::(j?thread|mutex|atomic\w*|async|future|condition_variable)\b|#\s*pragma\s+omp\b",
        r"support/",
    ),
    (
        "Bullet",
        r"bt[A-Z]\w*\.h|bullet/.*|Bullet\w*/.*|LinearMath/.*",
        r"\bbt[A-Z]\w+\b",
        r"clearance/bullet[^/]*\.cpp$",
    ),
    ("Python", r"Python\.h|pybind11/.*|numpy/.*", r"\bpy(?:bind11)?::|\bPyObject\b", r""),
)

INCLUDE = re.compile(r'^[ \t]*#[ \t]*include[ \t]*[<"]([^>"]+)[>"]', re.MULTILINE)


def read_table(file: Path) -> dict[str, list[str]]:
    """The allowed arrows: room to the rooms it may use."""
    with file.open("rb") as stream:
        table: dict[str, list[str]] = tomllib.load(stream)["rooms"]
    return table


def only_code(text: str) -> str:
    """The text with comments, includes and the insides of strings blanked; lines keep their numbers."""
    pattern = re.compile(
        r'//[^\n]*|/\*.*?\*/|^[ \t]*#[ \t]*include[^\n]*|R"(\w*)\(.*?\)\1"|"(?:\\.|[^"\\\n])*"',
        re.DOTALL | re.MULTILINE,
    )
    return pattern.sub(lambda match: re.sub(r"[^\n]", " ", match.group()), text)


def sources(core: Path) -> list[Path]:
    return sorted(path for path in core.rglob("*") if path.suffix in {".cpp", ".hpp", ".h", ".cc", ".inl"})


def line_of(text: str, at: int) -> int:
    return text.count("\n", 0, at) + 1


def arrows(core: Path, table: dict[str, list[str]]) -> Iterator[str]:
    """The includes that the table does not allow, and the includes and rooms that do not exist."""
    for path in sources(core):
        place = path.relative_to(core).as_posix()
        room = place.split("/")[0]
        if "/" not in place or room not in table:
            yield f"{place}: is in no room of rooms.toml"
            continue
        text = path.read_text(encoding="utf-8")
        for match in INCLUDE.finditer(text):
            name, where = match.group(1), f"{place}:{line_of(text, match.start())}"
            if not name.startswith("armwright/"):
                if '"' in match.group():
                    yield f"{where}: includes {name}; write armwright/<room>/<file>.hpp in full"
                continue
            target = name.split("/")[1]
            if not (core / name.removeprefix("armwright/")).is_file():
                yield f"{where}: includes {name}, which is not there"
            elif target != room and target not in table[room]:
                yield f"{where}: {room} may not use {target} (includes {name})"


def sisters(core: Path) -> Iterator[str]:
    """The studies that include one another: what two studies share is a kernel or a limit."""
    for path in sources(core / "studies"):
        text = path.read_text(encoding="utf-8")
        for match in INCLUDE.finditer(text):
            other = Path(match.group(1))
            if match.group(1).startswith("armwright/studies/") and other.stem != path.stem:
                # Files of one study may share a folder of its own.
                own = path.relative_to(core / "studies").parts[:-1]
                theirs = other.parts[2:-1]
                if not own or own != theirs:
                    yield f"studies/{path.name}:{line_of(text, match.start())}: includes {match.group(1)}"


def banned(core: Path) -> Iterator[str]:
    """What the core must not use, where it uses it."""
    for path in sources(core):
        place = path.relative_to(core).as_posix()
        text = path.read_text(encoding="utf-8")
        code = only_code(text)
        for what, headers, words, allowed in BANS:
            if allowed and re.match(allowed, place):
                continue
            for match in INCLUDE.finditer(text):
                if headers and re.fullmatch(headers, match.group(1)):
                    yield f"{place}:{line_of(text, match.start())}: {what}: includes {match.group(1)}"
            for match in re.finditer(words, code) if words else ():
                yield f"{place}:{line_of(code, match.start())}: {what}: {match.group().strip()}"


def cycles(table: dict[str, list[str]]) -> Iterator[str]:
    """The rooms that reach themselves along the arrows."""

    def reached(room: str) -> set[str]:
        found: set[str] = set()
        open_rooms = list(table.get(room, []))
        while open_rooms:
            next_room = open_rooms.pop()
            if next_room not in found:
                found.add(next_room)
                open_rooms += table.get(next_room, [])
        return found

    for room, allowed in table.items():
        if room in reached(room):
            yield f"{room} reaches itself"
        for other in allowed:
            if other not in table:
                yield f"{room} may use {other}, which is no room"
