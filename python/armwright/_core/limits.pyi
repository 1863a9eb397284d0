"""
What gives out first.
"""
from __future__ import annotations
import armwright._core.model
import numpy
import numpy.typing
import typing
__all__: list[str] = ['Limit', 'static_payloads']
class Limit:
    """
    Members:
    
      continuous
    
      peak
    """
    __members__: typing.ClassVar[dict[str, Limit]]
    continuous: typing.ClassVar[Limit]
    peak: typing.ClassVar[Limit]
    @typing.overload
    def __eq__(self, other: Limit) -> bool:
        ...
    @typing.overload
    def __eq__(self, other: typing.Any) -> bool:
        ...
    def __getstate__(self) -> int:
        ...
    def __hash__(self) -> int:
        ...
    def __index__(self) -> int:
        ...
    def __init__(self, value: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __int__(self) -> int:
        ...
    @typing.overload
    def __ne__(self, other: Limit) -> bool:
        ...
    @typing.overload
    def __ne__(self, other: typing.Any) -> bool:
        ...
    def __repr__(self) -> str:
        ...
    def __setstate__(self, state: typing.SupportsInt | typing.SupportsIndex) -> None:
        ...
    def __str__(self) -> str:
        ...
    @property
    def name(self) -> str:
        ...
    @property
    def value(self) -> int:
        ...
def static_payloads(model: armwright._core.model.Model, centre: numpy.typing.NDArray[numpy.float64], limit: Limit, q: typing.Annotated[numpy.typing.ArrayLike, numpy.float64]) -> tuple[numpy.typing.NDArray[numpy.float64], numpy.typing.NDArray[numpy.int32], numpy.typing.NDArray[numpy.bool], numpy.typing.NDArray[numpy.float64]]:
    """
    Largest mass (rows,), limiting joint (rows,) or -1, whether the arm holds itself (rows,), and the mass by joint (rows, joints). centre in the last joint frame.
    """
