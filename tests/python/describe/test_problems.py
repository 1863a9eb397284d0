from __future__ import annotations

from pathlib import Path

import pytest

from armwright.describe.problems import Place
from armwright.errors import InputError


def test_paths_stay_inside(tmp_path: Path) -> None:
    inner = tmp_path / "cell"
    (inner / "meshes").mkdir(parents=True)
    (inner / "meshes" / "rack.stl").write_text("x")
    (tmp_path / "secret.stl").write_text("x")
    (inner / "link.stl").symlink_to(tmp_path / "secret.stl")
    (inner / "up").symlink_to(tmp_path)
    (inner / "good.stl").symlink_to(inner / "meshes" / "rack.stl")
    (inner / "loop.stl").symlink_to(inner / "loop.stl")
    place = Place(inner)
    assert place.inside("file", "meshes/rack.stl") == inner / "meshes/rack.stl"
    assert place.inside("file", "meshes/../good.stl").is_file()
    for text in ("../secret.stl", "link.stl", "up/secret.stl", str(tmp_path / "secret.stl"), "/etc/passwd", "~/x.stl",
                 "file:///etc/passwd", "meshes/../../secret.stl", "", "\0"):  # fmt: skip
        with pytest.raises(InputError, match=r"^file: got .*inside the description's folder"):
            place.inside("file", text)
    with pytest.raises(InputError):
        place.inside("file", "loop.stl")
    with pytest.raises(InputError, match=r"a file that exists \(did you mean rack.stl\?\)"):
        place.inside("file", "meshes/rakc.stl")


def test_files_of_files_stay_in_the_outermost_folder(tmp_path: Path) -> None:
    (tmp_path / "arms").mkdir()
    (tmp_path / "rack.stl").write_text("x")
    assert Place(tmp_path / "arms", tmp_path).inside("file", "../rack.stl").is_file()
    with pytest.raises(InputError):
        Place(tmp_path / "arms").inside("file", "../rack.stl")
