"""A small reader of COLLADA meshes (.dae), as URDF files use them for pictures: triangles and polygons, in metres,
z up.

Reads <triangles>, <polylist> and <polygons> of the visual scene's nodes; leaves materials, skins and cameras alone.
Source: COLLADA 1.4.1 specification of the Khronos Group (element names and meaning).
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from armwright.describe.pose import Array, turn_about
from armwright.describe.xml import read_xml
from armwright.errors import InputError

_UP = {"Z_UP": np.eye(3), "Y_UP": turn_about((1, 0, 0), np.pi / 2), "X_UP": turn_about((0, 1, 0), -np.pi / 2)}


def read_collada(key: str, path: Path) -> tuple[Array, NDArray[Any]]:
    """Points (n, 3), m, z up, and triangles (m, 3)."""
    root = read_xml(key, path, limit=64 * 1024 * 1024)
    try:
        return _read(root)
    except InputError:
        raise
    except Exception as error:  # a file that does not keep to the standard
        raise InputError.of(key, f"{path.name}: {error}", "a COLLADA file that can be read") from None


def _read(root: Any) -> tuple[Array, NDArray[Any]]:
    unit = root.find("{*}asset/{*}unit")
    scale = float(unit.get("meter", "1")) if unit is not None else 1.0
    up = (root.findtext("{*}asset/{*}up_axis") or "Y_UP").strip()
    by_id = {
        element.get("id"): element for element in root.iter() if isinstance(element.tag, str) and element.get("id")
    }
    points: list[Array] = []
    faces: list[NDArray[Any]] = []
    top = np.eye(4)
    top[:3, :3] = scale * _UP.get(up, np.eye(3))
    waiting = [(node, top) for node in root.findall("{*}library_visual_scenes/{*}visual_scene/{*}node")]
    count = 0
    while waiting:
        node, above = waiting.pop()
        count += 1
        if count > 10_000:
            raise ValueError("more than 10000 nodes")
        pose = above @ _node_pose(node)
        waiting += [(child, pose) for child in node.findall("{*}node")]
        waiting += [(by_id[link.get("url")[1:]], pose) for link in node.findall("{*}instance_node")]
        for instance in node.findall("{*}instance_geometry"):
            for part_points, part_faces in _geometry(by_id[instance.get("url")[1:]], by_id):
                faces.append(part_faces + sum(len(p) for p in points))
                points.append(part_points @ pose[:3, :3].T + pose[:3, 3])
    if not points:
        return np.zeros((0, 3)), np.zeros((0, 3), dtype=np.int32)
    return np.concatenate(points), np.concatenate(faces)


def _node_pose(node: Any) -> Array:
    pose = np.eye(4)
    for step in node:
        kind = step.tag.rpartition("}")[2] if isinstance(step.tag, str) else ""
        matrix = np.eye(4)
        if kind == "matrix":
            matrix = np.array(step.text.split(), dtype=np.float64).reshape(4, 4)
        elif kind == "translate":
            matrix[:3, 3] = np.array(step.text.split(), dtype=np.float64)
        elif kind == "scale":
            matrix[:3, :3] = np.diag(np.array(step.text.split(), dtype=np.float64))
        elif kind == "rotate":
            *axis, angle = (float(number) for number in step.text.split())
            matrix[:3, :3] = turn_about(np.array(axis) / np.linalg.norm(axis), np.radians(angle))
        pose = pose @ matrix
    return pose


def _geometry(geometry: Any, by_id: dict[str, Any]) -> list[tuple[Array, NDArray[Any]]]:
    parts = []
    for group in geometry.findall("{*}mesh/{*}triangles") + geometry.findall("{*}mesh/{*}polylist"):
        inputs = group.findall("{*}input")
        stride = 1 + max(int(item.get("offset", "0")) for item in inputs)
        vertex = next(item for item in inputs if item.get("semantic") == "VERTEX")
        text = group.findtext("{*}p")
        if not text or not text.strip():
            continue
        index = np.array(text.split(), dtype=np.int64).reshape(-1, stride)[:, int(vertex.get("offset", "0"))]
        sizes = group.findtext("{*}vcount")
        if group.tag.endswith("triangles"):
            triangles = index.reshape(-1, 3)
        else:
            triangles = _fans(index, np.array((sizes or "").split(), dtype=np.int64))
        parts.append((_positions(by_id[vertex.get("source")[1:]], by_id), triangles))
    for group in geometry.findall("{*}mesh/{*}polygons"):
        inputs = group.findall("{*}input")
        stride = 1 + max(int(item.get("offset", "0")) for item in inputs)
        vertex = next(item for item in inputs if item.get("semantic") == "VERTEX")
        runs = [np.array(p.text.split(), dtype=np.int64).reshape(-1, stride)[:, int(vertex.get("offset", "0"))]
                for p in group.findall("{*}p")]  # fmt: skip
        if runs:
            triangles = _fans(np.concatenate(runs), np.array([len(run) for run in runs]))
            parts.append((_positions(by_id[vertex.get("source")[1:]], by_id), triangles))
    return parts


def _fans(index: NDArray[np.int64], sizes: NDArray[np.int64]) -> NDArray[np.int64]:
    """Polygons as fans of triangles about their first corner."""
    if int(sizes.sum()) != len(index):
        raise ValueError("polygon sizes that do not add up")
    starts = np.repeat(np.cumsum(sizes) - sizes, np.maximum(sizes - 2, 0))
    steps = np.concatenate([np.arange(1, size - 1) for size in sizes] or [np.zeros(0, dtype=np.int64)])
    return np.column_stack((index[starts], index[starts + steps], index[starts + steps + 1]))


def _positions(vertices: Any, by_id: dict[str, Any]) -> Array:
    link = next(item for item in vertices.findall("{*}input") if item.get("semantic") == "POSITION")
    source = by_id[link.get("source")[1:]]
    accessor = source.find("{*}technique_common/{*}accessor")
    stride = int(accessor.get("stride", "3"))
    numbers = np.array(by_id[accessor.get("source")[1:]].text.split(), dtype=np.float64)
    return numbers.reshape(-1, stride)[:, :3]
