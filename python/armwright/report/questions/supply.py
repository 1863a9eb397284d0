"""What must the supply deliver, and where does braking energy go?"""

from __future__ import annotations

from collections.abc import Iterator

import xarray as xr

from armwright import pictures
from armwright.report.document import Column, Entry, Quantity, Table
from armwright.report.found import Found
from armwright.report.png import picture
from armwright.report.question import Question, Told
from armwright.report.tabled import Of, table
from armwright.results.drive_variables import POWER
from armwright.results.summary import summary_lines

STUDIES = ("power",)
_WITHOUT = ("duration", "step", "repeated")


def _tell(found: Found) -> Told:
    power = found.results["power"]
    a = power.attrs
    shares = {
        words: float(a[name])
        for name, words in (
            ("branch_share", "of the branch circuit"),
            ("resistor_peak_share", "of what the brake resistor takes at its peak"),
            ("resistor_mean_share", "of the brake resistor's rating"),
        )
        if name in a
    }
    good = all(share <= 1 for share in shares.values()) if shares else None
    drawn = "; ".join(f"{100 * share:.0f} % {words}" for words, share in shares.items())
    headline = (
        f"The supply gives a peak of {a['electrical_peak']:.0f} W and {a['mains_rms']:.0f} W in the mean of squares"
    )
    headline += f", {a['current_rms']:.2f} A at {a['mains_voltage']:g} V: {drawn}." if drawn else "."
    return Told(
        headline if good is not False else f"TOO MUCH for the supply. {headline}",
        good,
        [f"{line[0].upper()}{line[1:]}." for line in summary_lines(power)[:-1] if " of the branch circuit" in line],
        [picture(pictures.power(power), "power", "Power that the drives draw over the cycle, and what returns")],
        _tables(power),
        short=_short(power, shares, good),
    )


def _short(power: xr.Dataset, shares: dict[str, float], good: bool | None) -> str:
    a = power.attrs
    of = max(shares, key=lambda words: shares[words], default="")
    drawn = f": {100 * shares[of]:.0f} % {of}" if of else ""
    begin = "TOO MUCH for the supply: the" if good is False else "The"
    return (
        f"{begin} drives draw {a['electrical_peak']:.0f} W at most and "
        f"{a['current_rms']:.3g} A (rms) at {a['mains_voltage']:g} V{drawn}."
    )


def _tables(power: xr.Dataset) -> Iterator[Table]:
    rows: list[tuple[Entry, ...]] = []
    for attribute in POWER.attributes:
        if (
            attribute.name not in power.attrs
            or attribute.kind == "str"
            or attribute.length
            or attribute.name in _WITHOUT
        ):
            continue
        value = float(power.attrs[attribute.name])
        share = attribute.name.endswith("_share")
        rows.append((attribute.meaning, Quantity(value, attribute.unit, percent=share)))
    rows.sort(key=_by_weight)
    yield Table("supply", "What the supply has to give", (Column("figure"), Column("value")), tuple(rows))
    yield table(
        power,
        "joint",
        "currents",
        "Currents in a motor lead",
        (
            Of("joint", "axis"),
            Of("motor_current_rms", "rms"),
            Of("motor_current_peak", "greatest"),
        ),
    )


def _by_weight(row: tuple[Entry, ...]) -> int:
    """Shares of what is allowed first, what is nothing last."""
    value = row[1]
    assert isinstance(value, Quantity)
    return 2 if value.value == 0 else 0 if value.percent else 1


SUPPLY = Question("supply", "What must the supply deliver?", STUDIES, _tell)
