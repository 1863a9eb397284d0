"""The folder in which a study keeps its finished pieces: a manifest, and a netCDF part for each piece.

A part appears whole or not at all, and its name carries the checksum of its bytes. What a killed run leaves behind is
therefore either a part that counts or a file that does not."""

from __future__ import annotations

import contextlib
import errno
import fcntl
import hashlib
import io
import json
import os
import re
import threading
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import numpy as np

from armwright.errors import InputError, Problem
from armwright.studies.run import Arrays

StorePath = str | os.PathLike[str]

_manifest, _lock, _unfinished = "store.json", "lock", ".part"
_part = re.compile(r"([a-z_]+)-(\d+)-(\d+)-([0-9a-f]{16})\.nc")
_wanted = "a new path, an empty folder, or the folder that this study was stored in"
_open_here: set[tuple[int, int]] = set()  # folders that this process holds, by device and inode
_opening = threading.Lock()


class Store:
    """The parts in a folder that this process holds alone."""

    def __init__(self, folder: Path):
        self.folder = folder

    def kept(self, phase: str, count: int) -> Iterator[tuple[int, int, Arrays]]:
        """Start, stop and arrays of every whole part of a phase, in order. Damaged ones are told of and removed."""
        found = []
        for path in self.folder.iterdir():
            named = _part.fullmatch(path.name)
            if named and named[1] == phase:
                found.append((int(named[2]), int(named[3]), named[4], path))
        end = 0
        for start, stop, checksum, path in sorted(found):
            arrays = _read(path, checksum)
            if arrays is None:
                warnings.warn(f"{path} is damaged; its piece is computed anew", RuntimeWarning, stacklevel=2)
                with contextlib.suppress(OSError):
                    path.unlink()
            elif end <= start < stop <= count:
                yield start, stop, arrays
                end = stop

    def keep(self, phase: str, start: int, stop: int, count: int, arrays: Arrays) -> None:
        """Writes a part; it is on the disk when this returns."""
        data = _image(arrays, {"phase": phase, "start": start, "stop": stop, "count": count})
        _write(self.folder, f"{phase}-{start:012}-{stop:012}-{_checksum(data)}.nc", data)


@contextmanager
def opened_store(path: StorePath, study: str, inputs_digest: str, request: Mapping[str, Any]) -> Iterator[Store]:
    """The store of that study, made or gone on with. Refused: a folder of something else, of other inputs or another
    request, one that another run holds, and one that cannot be written to."""
    folder = _folder(path)
    with _alone(folder):
        told = {"study": study, "inputs_digest": inputs_digest, "armwright_version": _version()}
        _agree(folder, told | {name: told_plainly(value) for name, value in request.items()})
        yield Store(folder)


def _folder(path: StorePath) -> Path:
    """The folder, made if it is not there."""
    told = os.fspath(path) if isinstance(path, str | os.PathLike) else None
    if not isinstance(told, str) or not told or "\0" in told:
        raise InputError.of("store", repr(path), f"a path: {_wanted}")
    folder = Path(path).absolute()
    try:
        if folder.exists() and not folder.is_dir():
            raise InputError.of("store", str(folder), f"{_wanted}; this is a file")
        if not folder.parent.is_dir():
            raise InputError.of("store", str(folder), f"a path in a folder that exists: make {folder.parent} first")
        folder.mkdir(exist_ok=True)
        names = {entry.name for entry in folder.iterdir()}
    except OSError as error:
        raise _unusable(folder, error) from error
    if _manifest not in names and any(name != _lock and not name.endswith(_unfinished) for name in names):
        raise InputError.of("store", str(folder), f"{_wanted}; other things are in this one")
    return folder


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Holds the folder against other runs, here and in other processes; one that is killed lets go of it."""
    in_use = InputError.of("store", str(folder), "a folder that no other run is using now")
    try:
        status = folder.stat()
        place = (status.st_dev, status.st_ino)
        with _opening:
            if place in _open_here:
                raise in_use
            held = os.open(folder / _lock, os.O_RDWR | os.O_CREAT, 0o644)
            try:
                fcntl.lockf(held, fcntl.LOCK_EX | fcntl.LOCK_NB)  # not kept by children, as flock's is
            except OSError as error:
                os.close(held)
                if error.errno in (errno.EACCES, errno.EAGAIN):
                    raise in_use from None
                raise
            _open_here.add(place)
    except OSError as error:
        raise _unusable(folder, error) from error
    try:
        yield
    finally:
        with _opening:
            _open_here.discard(place)
            os.close(held)


def _agree(folder: Path, told: dict[str, Any]) -> None:
    """Writes the manifest, or compares with the one that is there."""
    path = folder / _manifest
    for left in folder.glob(f".*{_unfinished}"):
        with contextlib.suppress(OSError):
            left.unlink()
    asked = {name: json.dumps(value) for name, value in told.items()}
    if not path.exists():
        _write(folder, _manifest, json.dumps(told, indent=1).encode())
        return
    try:
        known = {name: json.dumps(value) for name, value in json.loads(path.read_text("utf-8")).items()}
    except (OSError, ValueError, AttributeError) as error:
        raise InputError.of("store", str(path), f"a manifest that can be read; or {_wanted} ({error})") from error
    problems = [
        Problem(f"store.{name}", known.get(name, "nothing"), f"{asked.get(name, 'nothing')}, as is asked now", "",
                str(path))
        for name in [*asked, *(name for name in known if name not in asked)]
        if known.get(name) != asked.get(name)
    ]  # fmt: skip
    if problems:
        raise InputError(problems)


def _write(folder: Path, name: str, data: bytes) -> None:
    """The file appears whole or not at all."""
    unfinished = folder / f".{name}{_unfinished}"
    try:
        with unfinished.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        unfinished.replace(folder / name)
    except OSError as error:
        with contextlib.suppress(OSError):
            unfinished.unlink()
        raise _unusable(folder, error) from error
    with contextlib.suppress(OSError):  # not every file system syncs folders
        place = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(place)
        finally:
            os.close(place)


def _unusable(folder: Path, error: OSError) -> InputError:
    wanted = f"a folder that can be written to, with room ({error.strerror or error}); what is done is kept"
    return InputError.of("store", str(folder), wanted)


def _read(path: Path, checksum: str) -> Arrays | None:
    """The arrays of a part; None if it is not what was written."""
    import h5py  # type: ignore[import-untyped, unused-ignore]

    try:
        data = path.read_bytes()
    except OSError:
        return None
    if _checksum(data) != checksum:
        return None
    arrays: Arrays = {}
    with h5py.File(io.BytesIO(data), "r") as file:
        for name, variable in file.items():
            if "kind" in variable.attrs:
                values, kind = variable[...], np.dtype(variable.attrs["kind"])
                words = kind.kind == "U"
                arrays[name] = values.view(kind).reshape(values.shape[:-1]) if words else values.astype(kind)
    return arrays


def _image(arrays: Arrays, attrs: Mapping[str, Any]) -> bytes:
    """The bytes of a netCDF-4 file: variables over (item, ...); truth as 0 and 1, words as their letters' numbers. By
    h5py, which takes a tenth of the time of the layers above it."""
    import h5py

    image = io.BytesIO()
    with h5py.File(image, "w") as file:
        file.attrs.update(attrs)
        lengths: dict[str, Any] = {}
        for name, array in arrays.items():
            values = np.ascontiguousarray(array)
            if values.dtype.kind == "U":
                values = values.reshape(*values.shape, 1).view(np.uint32)
            elif values.dtype.kind == "b":
                values = values.astype(np.uint8)
            variable = file.create_dataset(name, data=values)
            variable.attrs["kind"] = array.dtype.str
            for place, length in enumerate(values.shape):
                dim = "item" if place == 0 else f"of_{length}"
                if dim not in lengths:
                    lengths[dim] = file.create_dataset(dim, (length,), np.int8)
                    lengths[dim].make_scale(f"This is a netCDF dimension but not a netCDF variable. {length:10}")
                variable.dims[place].attach_scale(lengths[dim])
    return image.getvalue()


def _checksum(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()[:16]


def told_plainly(value: Any) -> Any:
    """A value as JSON has it; what is large, or described, by its digest, and a function by its name."""
    if isinstance(value, tuple | list):
        return [told_plainly(item) for item in value]
    if isinstance(value, Mapping):
        return {str(key): told_plainly(each) for key, each in value.items()}
    return value if value is None or isinstance(value, str | int | float) else _told_as_word(value)


def _told_as_word(value: Any) -> Any:
    if isinstance(value, np.ndarray):
        if value.size <= 16:
            return value.tolist()
        state = hashlib.sha256(f"{value.dtype.str}{value.shape}".encode() + np.ascontiguousarray(value).tobytes())
        return state.hexdigest()
    if isinstance(value, np.generic):
        return value.item()
    if callable(value):
        return f"{value.__module__}.{getattr(value, '__qualname__', type(value).__qualname__)}"
    return value.digest() if hasattr(value, "digest") else repr(value)


def _version() -> str:
    from armwright.results.dataset import version

    return version()
