from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import xarray as xr

import armwright as aw
from armwright.studies.piece_store import Store, opened_store
from cases.in_pieces import assert_same_array, squares

ROWS = np.arange(20)
DIGEST = "0" * 64


def opened(path: Any, **request: Any) -> Any:
    return opened_store(path, "squares", DIGEST, {"spacing": 0.1, "centre": np.zeros(3)} | request)


def filled(path: Path) -> Path:
    with opened(path) as store:
        for start, stop in ((0, 3), (3, 12), (15, 20)):
            store.keep("map", start, stop, 20, squares()(ROWS[start:stop], 1, None))
    return path


def parts(path: Path) -> list[Path]:
    return sorted(path.glob("*.nc"))


def kept(store: Store) -> Iterator[tuple[int, int]]:
    for start, stop, arrays in store.kept("map", 20):
        for name, values in squares()(ROWS[start:stop], 1, None).items():
            assert_same_array(arrays[name], values)
        yield start, stop


def test_what_was_kept_comes_back_bit_for_bit(tmp_path: Path) -> None:
    with opened(filled(tmp_path / "store")) as store:
        assert list(kept(store)) == [(0, 3), (3, 12), (15, 20)]
        assert list(store.kept("other", 20)) == []


def test_parts_are_netcdf_files(tmp_path: Path) -> None:
    part = parts(filled(tmp_path / "store"))[1]
    with xr.open_dataset(part, engine="h5netcdf") as found:
        assert found["square"].dims == ("item",) and found.sizes["item"] == 9
        assert found["square"].values.tolist() == (ROWS[3:12] ** 2).tolist()
        assert found.attrs["phase"] == "map" and (found.attrs["start"], found.attrs["stop"]) == (3, 12)


@pytest.mark.parametrize("damage", ["cut short", "a bit turned", "emptied"])
def test_a_damaged_part_is_told_of_and_left_out(tmp_path: Path, damage: str) -> None:
    part = parts(filled(tmp_path / "store"))[1]
    data = bytearray(part.read_bytes())
    data[len(data) // 2] ^= 1
    part.write_bytes({"cut short": part.read_bytes()[:-9], "a bit turned": bytes(data), "emptied": b""}[damage])
    with opened(tmp_path / "store") as store:
        with pytest.warns(RuntimeWarning, match="is damaged; its piece is computed anew"):
            assert list(kept(store)) == [(0, 3), (15, 20)]
        assert not part.exists()
        store.keep("map", 3, 12, 20, squares()(ROWS[3:12], 1, None))
        assert list(kept(store)) == [(0, 3), (3, 12), (15, 20)]


def test_what_a_killed_run_left_is_cleared(tmp_path: Path) -> None:
    store = filled(tmp_path / "store")
    (store / ".map-000000000012-000000000015-0123456789abcdef.nc.part").write_bytes(b"half")
    with opened(store) as again:
        assert len(list(again.kept("map", 20))) == 3
    assert not list(store.glob(".*.part"))
    only_begun = tmp_path / "begun"
    only_begun.mkdir()
    (only_begun / "lock").touch()
    (only_begun / ".store.json.part").write_bytes(b"{")
    with opened(only_begun) as new:
        assert list(new.kept("map", 20)) == []


@pytest.mark.parametrize(
    ("change", "told"),
    [({"spacing": 0.2}, r"store\.spacing: got 0\.1, expected 0\.2, as is asked now"),
     ({"centre": np.array([0, 0, 1.0])}, r"store\.centre: got \[0\.0, 0\.0, 0\.0\], expected \[0\.0, 0\.0, 1\.0\]"),
     ({"limit": "peak"}, r"store\.limit: got nothing, expected \"peak\", as is asked now"),
     ({"directions": np.ones((30, 3))}, r"store\.directions: got nothing, expected \"[0-9a-f]{64}\"")],
)  # fmt: skip
def test_another_request_is_refused_by_name(tmp_path: Path, change: dict[str, Any], told: str) -> None:
    filled(tmp_path / "store")
    with pytest.raises(aw.InputError, match=told), opened(tmp_path / "store", **change):
        pass
    with opened(tmp_path / "store") as store:
        assert len(list(store.kept("map", 20))) == 3  # nothing was harmed


def test_another_study_or_cell_is_refused(tmp_path: Path) -> None:
    store = filled(tmp_path / "store")
    asked = {"spacing": 0.1, "centre": np.zeros(3)}
    with pytest.raises(aw.InputError, match=r'study: got "squares", expected "cubes"'):
        opened_store(store, "cubes", DIGEST, asked).__enter__()
    with pytest.raises(aw.InputError, match=r"inputs_digest: got .* as is asked now") as told:
        opened_store(store, "squares", "1" * 64, asked).__enter__()
    assert told.value.problems[0].file == str(store / "store.json")


@pytest.mark.parametrize("path", [5, None, "", b"bytes", ["a"], "a\0b"])
def test_what_is_no_path(path: Any) -> None:
    with pytest.raises(aw.InputError, match=r"^store: got .*, expected a path"), opened(path):
        pass


def test_paths_that_are_no_store(tmp_path: Path) -> None:
    file = tmp_path / "file"
    file.write_text("mine")
    strange = tmp_path / "strange"
    strange.mkdir()
    (strange / "holiday.jpg").touch()
    for path, told in [
        (file, "this is a file"), (strange, "other things are in this one"),
        (tmp_path / "none" / "store", "make .*none first"), (file / "store", "make .*file first"),
        ("/proc/armwright", "a folder that can be written to"),
    ]:  # fmt: skip
        with pytest.raises(aw.InputError, match=rf"^store: got .*{told}"), opened(path):
            pass
    assert file.read_text() == "mine" and [entry.name for entry in strange.iterdir()] == ["holiday.jpg"]


def test_a_manifest_that_cannot_be_read(tmp_path: Path) -> None:
    for text in ("{", "[1]", "\xff"):
        (filled(tmp_path / "store") / "store.json").write_text(text, encoding="latin-1")
        with pytest.raises(aw.InputError, match="a manifest that can be read"), opened(tmp_path / "store"):
            pass
        (tmp_path / "store" / "store.json").unlink()
        for left in (tmp_path / "store").iterdir():
            left.unlink()


@pytest.fixture
def somebody() -> Iterator[None]:
    """Nothing is read-only to root."""
    own = os.geteuid()
    if own == 0:
        os.seteuid(65534)
    yield
    os.seteuid(own)


def test_a_folder_that_is_read_only(somebody: None) -> None:
    with tempfile.TemporaryDirectory() as folder:
        store = filled(Path(folder) / "store")
        store.chmod(0o500)
        told = r"^store: got .*a folder that can be written to, with room \(Permission denied\); what is done is kept"
        with opened(store) as held:
            assert list(kept(held)) == [(0, 3), (3, 12), (15, 20)]  # which is all that a finished study asks
            with pytest.raises(aw.InputError, match=told):
                held.keep("map", 12, 15, 20, squares()(ROWS[12:15], 1, None))
        (store / "lock").chmod(0o400)
        for path in (store, store / "inside"):
            with pytest.raises(aw.InputError, match=told):
                opened(path).__enter__()
        store.chmod(0o700)


HOLDING = """
import sys
sys.path[:0] = {paths!r}
from armwright.studies.piece_store import opened_store
import numpy as np
with opened_store({path!r}, "squares", "0" * 64, {{"spacing": 0.1, "centre": np.zeros(3)}}):
    print("held", flush=True)
    sys.stdin.read()
"""


def test_a_store_has_one_user_at_a_time(tmp_path: Path) -> None:
    store = tmp_path / "store"
    with opened(store), pytest.raises(aw.InputError, match="no other run is using"), opened(store):
        pass
    script = HOLDING.format(paths=[path for path in sys.path if path], path=str(store))
    with subprocess.Popen(
        [sys.executable, "-c", script], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as other:
        assert other.stdout is not None and other.stdout.readline() == "held\n"
        with pytest.raises(aw.InputError, match="no other run is using"), opened(store):
            pass
        other.kill()
        other.wait()
        with opened(store):  # whoever is killed lets go
            pass


def test_a_full_disk_is_told_and_what_is_done_is_kept(tmp_path: Path) -> None:
    """A file may be no longer than 20 kB: the system refuses to write more, as a full disk does."""
    store = filled(tmp_path / "store")
    before = resource.getrlimit(resource.RLIMIT_FSIZE)
    with opened(store) as held:
        resource.setrlimit(resource.RLIMIT_FSIZE, (20_000, before[1]))
        try:
            with pytest.raises(aw.InputError, match=r"with room \(File too large\); what is done is kept") as told:
                held.keep("map", 12, 15, 20, {"a": np.zeros(10_000)})
        finally:
            resource.setrlimit(resource.RLIMIT_FSIZE, before)
        assert str(store) in str(told.value)
        assert list(kept(held)) == [(0, 3), (3, 12), (15, 20)]
    assert not list(store.glob(".*.part"))
