"""Numbers in text: decimals with a point, and fractions as builders in inches write them ("1 1/2")."""

from __future__ import annotations

import re

NUMBER_TEXT = r"[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?"
_FRACTION = r"[+-]?(?:\d+\s+)?\d+\s*/\s*0*[1-9]\d*"
QUANTITY = re.compile(rf"\s*(?P<number>{_FRACTION}|{NUMBER_TEXT})(?![\d.,])\s*(?P<unit>.*?)\s*", re.DOTALL)
DECIMAL_COMMA = re.compile(r"\s*([+-]?\d*),(\d+)(?![\d,])\s*(.*?)\s*", re.DOTALL)
TOLERANCE = re.compile(r"±|\+/-|\+-")


def times(number: float, factor: float) -> float:
    """The product; for a factor such as 0.001 the quotient by 1000, so that "410 mm" is 0.41 to the last bit."""
    whole = round(1 / factor) if factor < 1 else 0
    return number / whole if whole > 1 and abs(whole * factor - 1) < 1e-15 else number * factor


def number(text: str) -> float:
    """Value of a text that QUANTITY took for a number."""
    fraction = re.fullmatch(r"([+-]?)(?:(\d+)\s+)?(\d+)\s*/\s*(\d+)", text)
    if not fraction:
        return float(text)
    sign, whole, above, below = fraction.groups()
    return (-1 if sign == "-" else 1) * (int(whole or 0) + int(above) / int(below))
