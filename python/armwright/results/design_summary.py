"""Results about many designs in a few lines of plain words."""

from __future__ import annotations

import numpy as np
import xarray as xr

from armwright.results.words import quantity

_SHOWN = 5  # changes or alternatives


def sweep_lines(dataset: xr.Dataset) -> list[str]:
    """How many designs there are, and of each answer the best design."""
    numbers = [str(name) for name, array in dataset.coords.items() if _is_number(str(name), dataset)]
    lines = [f"{dataset.attrs['designs']} designs ({dataset.attrs['plan']}) over {', '.join(numbers)}"]
    if "value" not in dataset:
        return [*lines, f"each with {dataset.attrs.get('swept_study', 'a study')}"]
    for k, name in enumerate(dataset["answer"].values):
        values = dataset["value"].isel(answer=k)
        unit = _unit(str(dataset["answer_unit"].values[k]))
        known = ~np.isnan(values.values)
        lost = f"; no answer in {int((~known).sum())} of {known.size}" if not known.all() else ""
        if not known.any():
            reason = str(dataset["reason"].isel(answer=k).values.flat[0])
            lines.append(f"{name}: no design has an answer ({reason})")
            continue
        most = str(dataset["answer_better"].values[k]) == "more"
        filled = np.where(known, values.values, -np.inf if most else np.inf)
        at = np.unravel_index(int(np.argmax(filled) if most else np.argmin(filled)), filled.shape)
        best = values[dict(zip(values.dims, at, strict=True))]
        low, high = _span(values.values[known])
        where = ", ".join(f"{number} = {_value(best[number])}" for number in numbers)
        lines.append(f"{name}: {low} to {high}{unit}, best {float(best):.4g}{unit} at {where}{lost}")
    return lines


def _is_number(name: str, dataset: xr.Dataset) -> bool:
    return str(dataset[name].attrs.get("long_name", "")).startswith("design number ")


def _span(values: np.ndarray) -> tuple[str, str]:
    return f"{values.min():.4g}", f"{values.max():.4g}"


def _value(told: xr.DataArray) -> str:
    value = told.item()
    return value if isinstance(value, str) else quantity(float(value), str(told.attrs.get("units", "1")), 7)


def _unit(unit: str) -> str:
    return "" if unit == "1" else f" {unit}"


def changes_lines(dataset: xr.Dataset) -> list[str]:
    """Of each answer the numbers that gain most; then the alternatives by rank."""
    lines = []
    for k in range(dataset.sizes["answer"]):
        lines.append(_answer_line(dataset, k))
        gains = np.nan_to_num(dataset["gain"].values[:, k], nan=0.0)
        unit = _unit(str(dataset["answer_unit"].values[k]))
        for i in [i for i in np.argsort(-gains, kind="stable") if gains[i] > 0][:_SHOWN]:
            step = float(dataset["step"][i])
            told = quantity(step, str(dataset["number_unit"].values[i]))
            way = str(dataset["better_way"].values[i, k])
            lines.append(f"  {told} {way} of {dataset['number'].values[i]}: {gains[i]:.3g}{unit} better")
    by = str(dataset.attrs["ranked_by"])
    k = list(dataset["answer"].values).index(by)
    unit = _unit(str(dataset["answer_unit"].values[k]))
    order = np.argsort(dataset["rank"].values, kind="stable")
    useful = [i for i in order if not dataset["alternative_gain"].values[i, k] <= 0]
    for i in useful[:_SHOWN]:
        gain, price = float(dataset["alternative_gain"][i, k]), float(dataset["price"][i])
        cost = "" if np.isnan(price) else f" for {price:g} {dataset.attrs['currency']}"
        what = f"{dataset['alternative'].values[i]}{cost}: {by}"
        if np.isnan(gain):
            lines.append(f"{what} {dataset['alternative_reason'].values[i, k] or 'has no answer'}")
        else:
            value = float(dataset["alternative_value"][i, k])
            lines.append(f"{what} {value:.4g}{unit}, {gain:.3g}{unit} better")
    if len(useful) < len(order):
        lines.append(f"{len(order) - len(useful)} of {len(order)} alternatives gain nothing in {by}")
    return lines


def _answer_line(dataset: xr.Dataset, k: int) -> str:
    value, unit = float(dataset["answer_value"][k]), _unit(str(dataset["answer_unit"].values[k]))
    where, reason = str(dataset["answer_where"].values[k]), str(dataset["answer_reason"].values[k])
    name = str(dataset["answer"].values[k])
    if np.isnan(value):
        return f"{name}: none ({reason})"
    return f"{name}: {value:.4g}{unit}" + (f" ({where})" if where else "")


def uncertainty_lines(dataset: xr.Dataset) -> list[str]:
    """The bands, and what causes them."""
    low, high = dataset.attrs["band"]
    lines = [f"{100 * low:g} % to {100 * high:g} % of all cases; {dataset.attrs['distribution']}"]
    for k in range(dataset.sizes["answer"]):
        one = dataset.isel(answer=k)
        unit = _unit(str(one["answer_unit"].item()))
        line = _answer_line(dataset, k)
        if np.isfinite(one["linear_low"]):
            line += f"; by derivatives {_band(one, 'linear')}{unit}"
        elif reason := str(one["linear_reason"].item()):
            line += f"; no band by derivatives: {reason}"
        if "sampled_low" in one and not np.isnan(one["sampled_low"]):
            line += f"; sampled {_band(one, 'sampled')}{unit}"
        if "sampled_known" in one and one["sampled_known"] < 1:
            line += f"; no answer in {100 * (1 - float(one['sampled_known'])):.3g} % of the samples"
        lines.append(line)
        causes = [f"{name} {100 * share:.0f} %" for name, share in causes_of(one)]
        lines += ["  caused by " + ", ".join(causes)] if causes else []
    return lines


def causes_of(one: xr.Dataset, most: int = 3) -> list[tuple[str, float]]:
    """The numbers that cause the band of one answer, with their shares of its variance, greatest first: by derivatives,
    else as sampled; from 1 % on."""
    shares = one["linear_share"].values
    if np.isnan(shares).all() and "sampled_share" in one:
        shares = one["sampled_share"].values
    shares = np.nan_to_num(shares, nan=0.0)
    order = np.argsort(-shares, kind="stable")[:most]
    return [(str(one["number"].values[i]), float(shares[i])) for i in order if shares[i] >= 0.01]


def _band(one: xr.Dataset, how: str) -> str:
    return f"{float(one[f'{how}_low']):.4g} to {float(one[f'{how}_high']):.4g}"
