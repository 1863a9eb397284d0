"""GLB files as pygltflib, a library that is not ours, reads them."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import numpy as np
import pytest

KINDS = {5121: "<u1", 5123: "<u2", 5125: "<u4", 5126: "<f4"}
WIDTHS = {"SCALAR": 1, "VEC2": 2, "VEC3": 3, "VEC4": 4}


class GlbFile:
    def __init__(self, path: Path):
        self.gltf: Any = pytest.importorskip("pygltflib").GLTF2().load(str(path))
        self.parents = {child: k for k, node in enumerate(self.gltf.nodes) for child in node.children or ()}
        self.places = {node.name: k for k, node in enumerate(self.gltf.nodes)}

    def pose(self, name: str) -> np.ndarray:
        """Of a node, in the file's world (glTF: column-major, y up, metres)."""
        pose, place = np.eye(4), self.places[name]
        while True:
            matrix = self.gltf.nodes[place].matrix
            pose = (np.eye(4) if matrix is None else np.reshape(matrix, (4, 4)).T) @ pose
            if place not in self.parents:
                return pose
            place = self.parents[place]

    def parent(self, name: str) -> str:
        return str(self.gltf.nodes[self.parents[self.places[name]]].name)

    def data(self, accessor: int) -> np.ndarray:
        told = self.gltf.accessors[accessor]
        view = self.gltf.bufferViews[told.bufferView]
        start, width = (view.byteOffset or 0) + (told.byteOffset or 0), WIDTHS[told.type]
        values = np.frombuffer(self.gltf.binary_blob(), KINDS[told.componentType], told.count * width, start)
        return values.reshape(-1, width)

    def attribute(self, name: str, attribute: str = "POSITION") -> np.ndarray:
        """Of the mesh of a node, in its own frame."""
        mesh = self.gltf.meshes[self.gltf.nodes[self.places[name]].mesh]
        return self.data(getattr(mesh.primitives[0].attributes, attribute))

    def vertices(self, name: str) -> np.ndarray:
        """Of a node, in the file's world."""
        pose = self.pose(name)
        return self.attribute(name).astype(np.float64) @ pose[:3, :3].T + pose[:3, 3]

    def faces(self, name: str) -> np.ndarray:
        mesh = self.gltf.meshes[self.gltf.nodes[self.places[name]].mesh]
        return self.data(mesh.primitives[0].indices).reshape(-1, 3)

    def extras(self, name: str) -> dict[str, Any]:
        return dict(self.gltf.nodes[self.places[name]].extras)


def z_up(points: np.ndarray) -> np.ndarray:
    """From glTF's axes (y up; "+Y up, +Z forward", glTF 2.0 section 3.4) to ours."""
    return np.column_stack([points[:, 0], -points[:, 2], points[:, 1]])
