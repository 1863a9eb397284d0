from __future__ import annotations

import math

import pytest

from armwright.errors import InputError
from armwright.report.packages import package


def test_what_is_there_is_given_and_what_is_not_is_told() -> None:
    assert package("math", "a.glb") is math
    with pytest.raises(InputError, match=r"^path: got a.glb, expected none_such in the .* pip install 'armwright.exp"):
        package("none_such.inner", "a.glb")
