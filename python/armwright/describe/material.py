"""What a link is made of."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from armwright.describe.described import Checks, Described, put
from armwright.describe.machine_units import DENSITY, ELASTIC, SHEAR_ELASTIC, STRESS, put_told
from armwright.describe.shapes import take_name
from armwright.describe.units import SHARE
from armwright.describe.wrong import shown
from armwright.errors import InputError

_STEEL = {"elastic_modulus": 210e9, "shear_modulus": 81e9, "density": 7850.0, "weld_share": 1.0}
_ALUMINIUM = {"elastic_modulus": 70e9, "shear_modulus": 27e9, "density": 2700.0}
# Moduli and densities of EN 1993-1-1 (3.2.6) and EN 1999-1-1 (3.2.5); yield of EN 10025-2 up to 16 mm thick, and of
# extruded profiles up to 5 mm (6082-T6), over 3 mm (6060-T66); shares left beside welds of EN 1999-1-1 (table 3.2b).
# All from memory. A plain name stands for the weakest of the usual grades.
NAMED: dict[str, dict[str, float]] = {
    "steel": {**_STEEL, "yield_strength": 235e6},
    "steel S235": {**_STEEL, "yield_strength": 235e6},
    "steel S355": {**_STEEL, "yield_strength": 355e6},
    "aluminium": {**_ALUMINIUM, "yield_strength": 150e6, "weld_share": 0.43},
    "aluminium 6060-T66": {**_ALUMINIUM, "yield_strength": 150e6, "weld_share": 0.43},
    "aluminium 6082-T6": {**_ALUMINIUM, "yield_strength": 250e6, "weld_share": 0.5},
}
_GRADES = {"steel": "S235", "aluminium": "6060-T66"}
_KINDS = {"elastic_modulus": ELASTIC, "shear_modulus": SHEAR_ELASTIC, "density": DENSITY, "yield_strength": STRESS,
          "weld_share": SHARE}  # fmt: skip


@dataclass(frozen=True, eq=False, repr=False)
class Material(Described):
    """A material. By ``name`` alone one of those that are known: steel, steel S235, steel S355, aluminium, aluminium
    6060-T66, aluminium 6082-T6; numbers told besides count instead of the known ones. ``elastic_modulus``,
    ``shear_modulus`` Pa; ``density`` kg/m³; ``yield_strength`` Pa (0.2 % proof strength); ``weld_share``: of the yield
    strength that is left beside a weld. None: not told.

    >>> aw.Material("steel S235")
    Material 'steel S235': E 210 GPa, yield 235 MPa
    >>> aw.Material("our own alloy", elastic_modulus="71 GPa", yield_strength="180 MPa")
    Material 'our own alloy': E 71 GPa, yield 180 MPa
    """

    name: str = "steel"
    elastic_modulus: Any = None
    shear_modulus: Any = None
    density: Any = None
    yield_strength: Any = None
    weld_share: Any = None

    def __post_init__(self) -> None:
        checks = Checks(self)
        put(self, name=checks.take("name", take_name, self.name, ""))
        put_told(self, checks, _KINDS)
        known = NAMED.get(self.name)
        if known is None:
            if self.elastic_modulus is None and not checks.problems:
                checks.word("name", self.name, tuple(NAMED), "one of " + ", ".join(NAMED)
                            + "; or another name, with elastic_modulus and what else is known")  # fmt: skip
        else:
            self._fill(known)
        if not checks.problems:
            self._check_moduli(checks)
        checks.done()

    def _fill(self, known: dict[str, float]) -> None:
        put(self, **{
            key: kind.from_number(known[key]) for key, kind in _KINDS.items() if getattr(self, key) is None
        })  # fmt: skip

    def _check_moduli(self, checks: Checks) -> None:
        """E = 2 G (1 + nu), with nu between 0 and 0.5 for what links are made of."""
        if self.shear_modulus is None:
            return
        ratio = self.elastic_modulus / self.shear_modulus
        if not 1.9 <= ratio <= 3.1:
            checks.wrong("shear_modulus", f"{self.shear_modulus / 1e9:.6g} GPa", "half to a third of the modulus of "
                         f"elasticity, {self.elastic_modulus / 1e9:.6g} GPa")  # fmt: skip

    @property
    def assumptions(self) -> tuple[str, ...]:
        """What was assumed because it was not given."""
        grade = _GRADES.get(self.name)
        if grade is None or self.yield_strength != NAMED[self.name]["yield_strength"]:
            return ()
        return (f"{self.name} taken as {grade}: yield {self.yield_strength / 1e6:.6g} MPa",)

    def __repr__(self) -> str:
        told = [f"{word} {value / size:.6g} {unit}" for word, value, size, unit in (
            ("E", self.elastic_modulus, 1e9, "GPa"), ("yield", self.yield_strength, 1e6, "MPa"),
        ) if value is not None]  # fmt: skip
        return f"Material {self.name!r}: " + ", ".join(told)


def take_material(key: str, value: Any) -> Material:
    """A Material, or the name of one that is known."""
    if isinstance(value, Material):
        return value
    if not isinstance(value, str):
        raise InputError.of(key, shown(value), "a Material, or the name of a known one: " + ", ".join(NAMED))
    checks = Checks("")
    checks.word(key, value, tuple(NAMED))
    checks.done()
    return Material(value)
