"""The table of a link's structure in an arm file, and of what it is made of."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field, StrictBool

from armwright.describe.common_file import Direction
from armwright.describe.described import Checks
from armwright.describe.held_file import as_table
from armwright.describe.machine_units import Density, ElasticModulus, Safety, ShearModulus, Stiffness, Stress
from armwright.describe.material import NAMED, Material
from armwright.describe.problems import FileModel, Place
from armwright.describe.several_file import one_or_two_of
from armwright.describe.structure import LinkStiffness, Tube
from armwright.describe.units import SIZE, Lengths, Share, Size

_TUBE = ("section", "outer", "wall", "material")
_TUBE_MAY = ("up", "weld_factor", "safety")
_LINE = ("start", "end")


class MaterialFile(FileModel):
    """What something is made of: the name of a known material, or the numbers of another."""

    name: str = Field(description=f"what it is called; known: {', '.join(NAMED)}", examples=["steel S235"])
    elastic_modulus: ElasticModulus | None = Field(None, description="its modulus of elasticity")
    shear_modulus: ShearModulus | None = Field(None, description="its shear modulus")
    density: Density | None = Field(None, description="its mass by volume")
    yield_strength: Stress | None = Field(None, description="yield, or 0.2 % proof strength")
    weld_share: Share | None = Field(
        None, description="of the yield strength, left beside a weld", examples=["50 %"]
    )

    def make(self, place: Place) -> Any:
        return Material(**{key: getattr(self, key) for key in type(self).model_fields})


MaterialText = Annotated[MaterialFile | None, as_table("name")]


class StructureFile(FileModel):
    """By what a link bends and what it bears: a tube (section, outer, wall, material), or stiffnesses that are known
    (bending, torsion). It lies on a straight line between two points, told in the link's frame."""

    name: str | None = Field(None, description="what it is called in results", examples=["upper arm tube"])
    section: Literal["round", "square", "rectangular"] | None = Field(None, description="tube: its section")
    outer: Annotated[Any, one_or_two_of(SIZE)] = Field(
        None, description="tube: outer diameter, side, or two: width and height", examples=["100 mm"]
    )
    wall: Size | None = Field(None, description="tube: thickness of its wall", examples=["4 mm"])
    material: MaterialText = Field(None, description="tube: what it is made of", examples=["steel"])
    start: Lengths | None = Field(None, description="where the line starts; left out: at the link's joint")
    end: Lengths | None = Field(None, description="where it ends; left out: at the next joint, or the flange")
    up: Direction | None = Field(None, description="rectangular: where its height points, in the link's frame")
    welded: StrictBool = Field(False, description="tube: whether it is welded at both ends", examples=[True])
    weld_factor: Share | None = Field(
        None, description="tube: of the yield strength, left beside the welds; left out: the material's",
        examples=["60 %"],
    )  # fmt: skip
    safety: Safety | None = Field(None, description="tube: wanted against yield")
    bending: Stiffness | None = Field(
        None, description="instead: the moment all along it by the turn of its end (E I / length)"
    )
    torsion: Stiffness | None = Field(None, description="instead: the moment by the twist of its end (G J / length)")

    def make(self, place: Place) -> Any:
        checks = Checks("")
        tube = any(getattr(self, key) is not None for key in (*_TUBE, *_TUBE_MAY)) or self.welded
        for key in ("bending", "torsion") if tube else ():
            if getattr(self, key) is not None:
                checks.wrong(key, f"{key} besides a tube", "one of the two")
        if not tube and self.bending is None and self.torsion is None:
            checks.wrong("section", "nothing", "a tube (section, outer, wall, material), or bending, torsion or both")
        for key in _TUBE if tube else ():
            if getattr(self, key) is None:
                checks.wrong(key, "nothing", "this key: a tube has one")
        checks.done()
        more: dict[str, Any] = {key: getattr(self, key) for key in _LINE}
        more |= {} if self.name is None else {"name": self.name}
        if not tube:
            return LinkStiffness(self.bending, self.torsion, **more)
        assert self.material is not None and self.section is not None
        more |= {key: getattr(self, key) for key in _TUBE_MAY}
        return Tube(self.section, self.outer, self.wall, self.material.made, welded=self.welded, **more)
