"""The preferred values in which resistors, capacitors and inductors are sold."""

from __future__ import annotations

import math

# rounded by hand in the standard, so no formula gives them
_E24 = (10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91)
# the one value of the standard that its own rule does not give: 10^(185/192) rounds to 9.19
_E192 = tuple(920 if step == 185 else round(100 * 10 ** (step / 192)) for step in range(192))
_COARSE, _FINE = (3, 6, 12, 24), (48, 96, 192)


def standard_values(series: int, low: float, high: float) -> tuple[float, ...]:
    """List the preferred values of a series from low to high, both included.

    value = m · 10^d, where E48 to E192 have m = 10^(i/192) rounded to three digits (9.19 becomes 9.20) and E3 to E24
    have the two-digit m of the standard's table.

    Parameters
    ----------
    series : int
        Values a decade: 3, 6, 12, 24, 48, 96 or 192.
    low, high : float
        Bounds in the SI base unit of the part, finite and above 0.

    Returns
    -------
    tuple of float
        Rising, each the float nearest to its decimal value; empty where low is above high.

    Raises
    ------
    ValueError
        No such series, or a bound that is not finite and above 0.

    Notes
    -----
    Range: 1e-300 to 1e300. Error: none. Source: IEC 60063, tables of the E series.
    """
    if not (0 < low < math.inf and 0 < high < math.inf):
        raise ValueError(f"bounds {low} and {high}; both must be finite and above 0")
    mantissas, shift = _mantissas(series)
    decades = range(math.floor(math.log10(low)) - 1, math.floor(math.log10(high)) + 2)
    values = (float(f"{mantissa}e{decade - shift}") for decade in decades for mantissa in mantissas)
    return tuple(value for value in values if low <= value <= high)


def _mantissas(series: int) -> tuple[tuple[int, ...], int]:
    """Return one decade of a series as whole numbers, and how many digits they are shifted by."""
    if series in _COARSE:
        return _E24[:: 24 // series], 1
    if series in _FINE:
        return _E192[:: 192 // series], 2
    raise ValueError(f"series E{series}; there are E3, E6, E12, E24, E48, E96 and E192")
