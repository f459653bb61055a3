"""How the columns of a table make an impedance."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType

import numpy as np

from models.arrays import Complex, Real
from models.fitting.columns import ROLES, Column
from models.fitting.data import fault


def impedance(columns: Sequence[Column], source: str) -> tuple[Complex, bool, list[str]]:
    """Make the impedance of the columns.

    Parameters
    ----------
    columns : with the frequency among them
    source : name for messages

    Returns
    -------
    (F,) Ω; whether the phase is known; sentences about what was assumed

    Raises
    ------
    DataError
        Where the columns do not tell an impedance, or not only one.
    """
    have = {column.role: column.values for column in columns}
    have["w"] = math.tau * have["f"]
    with np.errstate(divide="ignore", invalid="ignore"):
        for needs, make in _WAYS.items():
            if all(role in have for role in needs):
                z = make(have)
                return z, needs != ("z",), _contradiction(z, have) + _loose(needs, have, source)
    found = ", ".join(column.role for column in columns)
    raise fault(source, None, f"columns for {found} only", ROLES)


def _series(r: Real, x: Real) -> Complex:
    return np.asarray(r + 1j * x, np.complex128)


def _parallel(g: Real, b: Real) -> Complex:
    return np.asarray(1 / (g + 1j * b), np.complex128)


_Way = Callable[[Mapping[str, Real]], Complex]

_WAYS: Mapping[tuple[str, ...], _Way] = MappingProxyType(
    {
        ("r", "x"): lambda v: _series(v["r"], v["x"]),
        ("z", "phase"): lambda v: np.asarray(v["z"] * np.exp(1j * v["phase"]), np.complex128),
        ("r", "cs"): lambda v: _series(v["r"], -1 / (v["w"] * v["cs"])),
        ("r", "ls"): lambda v: _series(v["r"], v["w"] * v["ls"]),
        ("r", "c"): lambda v: _series(v["r"], -1 / (v["w"] * v["c"])),
        ("r", "l"): lambda v: _series(v["r"], v["w"] * v["l"]),
        ("cs", "d"): lambda v: _series(v["d"] / (v["w"] * v["cs"]), -1 / (v["w"] * v["cs"])),
        ("ls", "q"): lambda v: _series(v["w"] * v["ls"] / v["q"], v["w"] * v["ls"]),
        ("cp", "d"): lambda v: _parallel(v["w"] * v["cp"] * v["d"], v["w"] * v["cp"]),
        ("cp", "rp"): lambda v: _parallel(1 / v["rp"], v["w"] * v["cp"]),
        ("cp", "g"): lambda v: _parallel(v["g"], v["w"] * v["cp"]),
        ("lp", "rp"): lambda v: _parallel(1 / v["rp"], -1 / (v["w"] * v["lp"])),
        ("lp", "q"): lambda v: _parallel(1 / (v["q"] * v["w"] * v["lp"]), -1 / (v["w"] * v["lp"])),
        ("g", "b"): lambda v: _parallel(v["g"], v["b"]),
        ("c", "d"): lambda v: _series(v["d"] / (v["w"] * v["c"]), -1 / (v["w"] * v["c"])),
        ("l", "q"): lambda v: _series(v["w"] * v["l"] / v["q"], v["w"] * v["l"]),
        ("z",): lambda v: np.asarray(v["z"], np.complex128),
    }
)
"""Columns that make an impedance, the surest first."""


def _loose(needs: tuple[str, ...], have: Mapping[str, Real], source: str) -> list[str]:
    """Say what was assumed, and refuse what could be meant in two ways that differ."""
    if needs == ("z",):
        if others := sorted(set(have) - {"f", "w", "z"}):
            found = f"|Z| with {', '.join(others)}, which leaves the sign of X open"
            raise fault(source, None, found, ROLES)
        return ["the table has no phase: the fit is to the magnitude alone"]
    if needs in (("c", "d"), ("l", "q")):
        loss = have["d"] if "d" in needs else 1 / have["q"]
        if np.abs(loss[np.isfinite(loss)]).max(initial=0.0) > 0.1:
            found = f"{needs[0].upper()} that may be series or parallel, with losses where that matters"
            raise fault(source, None, found, "a name that tells: Cs, Cp, Ls or Lp")
        return [f"{needs[0].upper()} is taken as the series value"]
    return []


def _contradiction(z: Complex, have: Mapping[str, Real]) -> list[str]:
    if "z" not in have:
        return []
    ratios = np.abs(np.log(np.abs(z) / have["z"]))
    usable = ratios[np.isfinite(ratios)]
    off = float(np.median(usable)) if usable.size else 0.0
    return [f"|Z| differs from the other columns by {100 * off:.0f} % (median); those are used"] if off > 0.05 else []
