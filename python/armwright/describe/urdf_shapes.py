"""Collision shapes and pictures of a URDF's links, and where their mesh files are."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from armwright.describe.mesh import check_closed, hull, read_mesh
from armwright.describe.pose import Array
from armwright.describe.shapes import Box, ConvexHull, Cylinder, Mesh, Picture, Shape, Sphere, moved_shape
from armwright.describe.wrong import shown
from armwright.errors import InputError

if TYPE_CHECKING:
    from armwright.describe.urdf_elements import Reader

_LARGE = 20.0  # m: no link is so large
Surface = tuple[Array, Any]


class UrdfShapes:
    """Reads each mesh file once. A collision mesh that is open is replaced by its convex hull, which is on the safe
    side and noted; a picture that cannot be read is left out and noted."""

    def __init__(self, reader: Reader, path: Path, root: Path | None):
        self._reader = reader
        self._folder = path.parent
        self._root = root.resolve() if root is not None else None
        self._read: dict[tuple[Path, tuple[float, ...]], Surface] = {}

    def of(self, link: Any, name: str) -> tuple[list[Shape], list[Picture]]:
        """Shapes and pictures of a link, in its frame."""
        solids: list[Shape] = []
        for number, element in enumerate(link.findall("collision"), 1):
            title = name if number == 1 else f"{name} {number}"
            shape = self._solid(element, f"link {name!r} collision", title)
            if shape is not None:
                solids.append(shape)
        pictures = []
        for element in link.findall("visual"):
            mesh = element.find("geometry/mesh")
            if mesh is not None:
                pictures += self._picture(element, mesh, f"link {name!r} visual", name)
        return solids, pictures

    def _solid(self, element: Any, key: str, name: str) -> Shape | None:
        reader = self._reader
        pose = reader.pose(element, key)
        geometry = element.find("geometry")
        kinds = [item for item in geometry if isinstance(item.tag, str)] if geometry is not None else []
        if len(kinds) != 1:
            reader.wrong(element, f"{key} geometry", f"{len(kinds)} shapes", "one of box, cylinder, sphere, mesh")
            return None
        told = kinds[0]
        count = len(reader.problems)
        try:
            if told.tag == "box":
                size = reader.numbers(told, f"{key} box", "size", 3, None)
                return Box(size, pose, name) if len(reader.problems) == count else None
            if told.tag in ("cylinder", "sphere"):
                radius = reader.number(told, f"{key} {told.tag}", "radius", None)
                length = reader.number(told, f"{key} {told.tag}", "length", None) if told.tag == "cylinder" else 1.0
                if len(reader.problems) > count:
                    return None
                return Cylinder(radius, length, pose, name) if told.tag == "cylinder" else Sphere(radius, pose, name)
            if told.tag == "mesh":
                return self._mesh(told, f"{key} mesh", pose, name)
            reader.wrong(told, f"{key} geometry", f"<{told.tag}>", "one of box, cylinder, sphere, mesh")
        except InputError as error:
            for problem in error.problems:
                inner = problem.key.rpartition(".")[2] if not problem.key.startswith(key) else ""
                reader.wrong(told, f"{key} {told.tag} {inner}".strip(), problem.value, problem.expected, problem.meant)
        return None

    def _mesh(self, element: Any, key: str, pose: Array, name: str) -> Shape:
        points, triangles = self._surface(element, key)
        file = Path(element.get("filename", "")).name
        try:
            return moved_shape(pose, Mesh(check_closed(key, file, points, triangles), name=name))
        except InputError:
            note = f"{key}: {file} is no closed surface, so that its convex hull stands for it"
            if note not in self._reader.notes:
                self._reader.notes.append(note)
            return moved_shape(pose, ConvexHull(hull(key, file, points)[0], name=name))

    def _picture(self, element: Any, mesh: Any, key: str, name: str) -> list[Picture]:
        reader = self._reader
        before = list(reader.problems)
        try:
            pose = reader.pose(element, key)
            points, triangles = self._surface(mesh, key)
            found = [Picture(points @ pose[:3, :3].T + pose[:3, 3], triangles, name)]
        except InputError as error:
            found = []
            reader.notes.append(f"{key} left out: {error.problems[0].value}")
        if len(reader.problems) > len(before):
            reader.notes.append(f"{key} left out: {reader.problems[-1].key}: {reader.problems[-1].value}")
            reader.problems[:] = before  # a picture is no reason to refuse an arm
            return []
        return found

    def _surface(self, mesh: Any, key: str) -> Surface:
        scale = tuple(float(v) for v in self._reader.numbers(mesh, key, "scale", 3, (1.0, 1.0, 1.0)))
        if not all(scale):
            raise InputError.of(key, f"scale {shown(mesh.get('scale'))}", "factors that are not 0")
        path = self._path(key, (mesh.get("filename") or "").strip())
        if (path, scale) not in self._read:
            points, triangles = read_mesh(key, path)
            if np.prod(scale) < 0:
                triangles = np.ascontiguousarray(triangles[:, ::-1])
            points = points * np.array(scale)
            self._read[path, scale] = (points, triangles)
            across = float(np.ptp(points, axis=0).max())
            if across > _LARGE:
                metres = 'a URDF\'s lengths are in metres; one drawn in mm has scale="0.001 0.001 0.001"'
                self._reader.notes.append(f"{key}: {path.name} is {across:.3g} m across: {metres}")
        return self._read[path, scale]

    def _path(self, key: str, text: str) -> Path:
        """The file of a mesh: "package://name/..." in a folder of that name at or above the URDF's, else beside it."""
        if not text:
            raise InputError.of(key, "no filename", "the path of a mesh file")
        expected = "a mesh file in the URDF's folder, or package://name/... with the package at or above that folder"
        if text.startswith("package://"):
            package, _, rest = text[len("package://") :].partition("/")
            for top in self._packages(package):
                path = self._checked(top / rest, top)
                if path is not None:
                    return path
        elif "://" not in text:
            top = next(
                (f for f in (self._folder, *self._folder.resolve().parents) if (f / "package.xml").is_file()),
                self._folder,
            )
            path = self._checked(self._folder / text, self._root or top)
            if path is not None:
                return path
        raise InputError.of(key, shown(text), expected)

    def _packages(self, name: str) -> list[Path]:
        if not name or name in (".", ".."):
            return []
        found = []
        for folder in (self._folder.resolve(), *self._folder.resolve().parents):
            if self._root is not None and not folder.is_relative_to(self._root):
                break
            found += [folder] if folder.name == name else []
            found += [folder / name] if (folder / name).is_dir() else []
        return found

    def _checked(self, path: Path, top: Path) -> Path | None:
        """The path if it is a file inside ``top``, links followed."""
        try:
            full = path.resolve()
            inside = full.is_relative_to(top.resolve()) and (self._root is None or full.is_relative_to(self._root))
            return path if inside and full.is_file() else None
        except (OSError, RuntimeError, ValueError):
            return None
