"""Triangle meshes from files, checked: finite, closed, of a sane size; and convex hulls."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from armwright.describe.pose import Array
from armwright.describe.units import LARGEST, LENGTH
from armwright.describe.wrong import Wrong, shown
from armwright.errors import InputError

Triangles = NDArray[np.int32]
triangle_limit = 2_000_000
_BYTES_LIMIT = 512 * 1024 * 1024
_SUFFIXES = (".stl", ".obj", ".glb", ".gltf", ".ply", ".off", ".3mf", ".dae")
_CELLS = 2**21 - 1  # of the grid on which points are the same, along the mesh's longest edge
METRES = {".glb", ".gltf", ".dae"}  # formats that state their unit; the reader gives metres


def read_mesh(key: str, path: Path, unit: Any = None) -> tuple[Array, Triangles]:
    """Points (n, 3), m, and triangles (m, 3) of a file, same points merged. ``unit`` is the length of one unit of the
    file ("mm", or a number in m); files that state their own unit take none. Axes are taken as they stand in the
    file."""
    suffix = path.suffix.lower()
    if suffix not in _SUFFIXES:
        raise InputError.of(key, shown(str(path)), f"a mesh file: {', '.join(_SUFFIXES)}")
    if not path.is_file():
        raise InputError.of(key, shown(str(path)), "a mesh file that exists")
    _check_size(key, path)
    scale = unit_scale(key, unit) if unit is not None else 1.0
    if suffix == ".dae":
        from armwright.describe.collada import read_collada

        points, faces = read_collada(key, path)
    else:
        points, faces = _read_trimesh(key, path)
    if len(faces) == 0 or len(points) == 0:
        raise InputError.of(key, f"{path.name}: a mesh without triangles", "a mesh with triangles")
    check_count(key, path.name, len(faces))
    points = points * scale
    check_points(key, path.name, points)
    if faces.min() < 0 or faces.max() >= len(points):
        raise InputError.of(key, f"{path.name}: a corner {faces.max()} of {len(points)} points", "corners that exist")
    return merged(points, faces)


def check_points(key: str, name: str, points: Array) -> None:
    if not (np.abs(points) <= LARGEST).all():  # not a number is no less
        raise InputError.of(key, f"{name}: points that are not finite", f"finite points, within {LARGEST:g} m")


def unit_scale(key: str, unit: Any) -> float:
    """Metres in one unit: of "mm", "in" and the like, or of a number."""
    expected = 'a unit of length, as "mm", "m" or "in"'
    try:
        word = isinstance(unit, str) and not unit.strip()[:1].isdigit()
        scale = LENGTH.factor(unit.strip()) if word else float(LENGTH.from_python(unit))
    except Wrong as wrong:
        raise InputError.of(key, shown(unit), expected, wrong.meant) from None
    if not scale > 0:
        raise InputError.of(key, shown(unit), expected)
    return scale


def check_count(key: str, name: str, triangles: int) -> None:
    if triangles > triangle_limit:
        raise InputError.of(
            key,
            f"{name}: {triangles} triangles",
            f"at most {triangle_limit}; simplify the mesh, or use a convex hull of parts",
        )


def merged(points: Array, faces: NDArray[Any]) -> tuple[Array, Triangles]:
    """Points nearer than about 5e-7 of the mesh's size as one; triangles that shrink to a line or a point left out;
    points that no triangle uses too."""
    low = points.min(axis=0)
    size = float((points - low).max()) or 1.0
    cells = np.round((points - low) * (_CELLS / size)).astype(np.int64)
    key = cells[:, 0] << 42 | cells[:, 1] << 21 | cells[:, 2]
    _, first, index = np.unique(key, return_index=True, return_inverse=True)
    index = index.reshape(-1)
    triangles = index[np.asarray(faces)].astype(np.int32)
    a, b, c = triangles.T
    triangles = triangles[(a != b) & (b != c) & (c != a)]
    used = np.unique(triangles)
    place = np.zeros(len(first), dtype=np.int32)
    place[used] = np.arange(len(used), dtype=np.int32)
    return points[first[used]], place[triangles]


def closed(triangles: Triangles) -> bool:
    """Whether every edge is run through once in each direction, or as often in one as in the other."""
    forward, backward = _edge_keys(triangles)
    return bool(np.array_equal(np.sort(forward), np.sort(backward)))


def check_closed(key: str, name: str, points: Array, triangles: Triangles) -> tuple[Array, Triangles]:
    """The mesh, its triangles counter-clockwise seen from outside; refused if it is open or encloses nothing."""
    if len(triangles) == 0:
        raise InputError.of(key, f"{name}: a mesh without triangles", "a mesh with triangles")
    if not closed(triangles) and not _open_edges(triangles):  # closed, but neighbours disagree on which side is out
        triangles = _rewound(points, triangles)
    if not closed(triangles):
        raise InputError.of(
            key,
            f"{name}: an open mesh ({_open_edges(triangles) or 'some'} open edges)",
            "a closed surface; or use its convex hull",
        )
    a, b, c = (points[triangles[:, i]] - points.mean(axis=0) for i in range(3))
    volume = float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum()) / 6
    size = float(np.ptp(points, axis=0).max())
    if abs(volume) <= 1e-12 * size**3:
        raise InputError.of(key, f"{name}: a mesh that encloses nothing", "a closed surface around a solid")
    return points, triangles if volume > 0 else np.ascontiguousarray(triangles[:, ::-1])


def hull(key: str, name: str, points: Array) -> tuple[Array, Triangles]:
    """Corners and triangles, counter-clockwise seen from outside, of the convex hull."""
    from scipy.spatial import ConvexHull as Hull  # type: ignore[import-untyped]
    from scipy.spatial import QhullError

    expected = "4 or more points that do not lie in one plane"
    if len(points) < 4:
        raise InputError.of(key, f"{name}: {len(points)} points", expected)
    middle = points.mean(axis=0)
    try:
        made = Hull(points - middle)
    except (QhullError, ValueError):
        raise InputError.of(key, f"{name}: points in one plane, on a line or in one place", expected) from None
    place = np.full(len(points), -1, dtype=np.int32)
    place[made.vertices] = np.arange(len(made.vertices), dtype=np.int32)
    corners = points[made.vertices]
    triangles = place[made.simplices]
    a, b, c = (corners[triangles[:, i]] - middle for i in range(3))
    inward = np.einsum("ij,ij->i", np.cross(b - a, c - a), made.equations[:, :3]) < 0
    triangles[inward] = triangles[inward][:, ::-1]
    return corners, triangles


def _check_size(key: str, path: Path) -> None:
    size = path.stat().st_size
    if size > _BYTES_LIMIT:
        raise InputError.of(
            key, f"{path.name}: {size // 2**20} MiB", f"a mesh file of at most {_BYTES_LIMIT // 2**20} MiB"
        )
    if path.suffix.lower() == ".stl":
        with path.open("rb") as file:
            head = file.read(84)
        if len(head) == 84 and size == 84 + 50 * int.from_bytes(head[80:84], "little"):  # a binary STL
            check_count(key, path.name, (size - 84) // 50)


def _read_trimesh(key: str, path: Path) -> tuple[Array, NDArray[Any]]:
    import trimesh

    try:
        loaded: Any = trimesh.load(path, process=False)
        if isinstance(loaded, trimesh.Scene):
            loaded = loaded.to_geometry() if hasattr(loaded, "to_geometry") else loaded.dump(concatenate=True)
        if not isinstance(loaded, trimesh.Trimesh):
            return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32)
        return np.array(loaded.vertices, dtype=np.float64), np.array(loaded.faces)
    except Exception as error:  # its readers raise anything on broken files
        raise InputError.of(key, f"{path.name}: {shown(str(error), 120)}", "a mesh file that can be read") from None


def _edge_keys(triangles: Triangles) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    edges = np.concatenate((triangles[:, (0, 1)], triangles[:, (1, 2)], triangles[:, (2, 0)])).astype(np.int64)
    return edges[:, 0] << 32 | edges[:, 1], edges[:, 1] << 32 | edges[:, 0]


def _open_edges(triangles: Triangles) -> int:
    forward, backward = _edge_keys(triangles)
    _, counts = np.unique(np.minimum(forward, backward), return_counts=True)
    return int((counts % 2 == 1).sum())


def _rewound(points: Array, triangles: Triangles) -> Triangles:
    """The triangles with neighbours made to agree on the sense of their edges, where that can be done."""
    import trimesh

    try:
        mesh = trimesh.Trimesh(points, triangles, process=False)
        trimesh.repair.fix_normals(mesh, multibody=True)  # type: ignore[no-untyped-call]
        return np.array(mesh.faces, dtype=np.int32)
    except Exception:  # no repair: the mesh is then refused as it is
        return triangles
