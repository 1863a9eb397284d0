"""Results: labelled, checked data sets, their files, and the scene that pictures are drawn from."""

from armwright.results.accessor import ResultAccessor
from armwright.results.dataset import check_dataset, make_dataset
from armwright.results.scene import Scene
from armwright.results.scene_parts import SceneJoint, ScenePicture, SceneTarget, Solid
from armwright.results.store import open_result, to_netcdf
from armwright.results.summary import summary
from armwright.results.variables import STUDIES, table

__all__ = [
    "STUDIES", "ResultAccessor", "Scene", "SceneJoint", "ScenePicture", "SceneTarget", "Solid",
    "check_dataset", "make_dataset", "open_result", "summary", "table", "to_netcdf",
]
