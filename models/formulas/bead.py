"""Ferrite beads: what a direct current leaves of their inductance."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from models.arrays import Real


class BiasFamily(NamedTuple):
    """How fast a kind of bead saturates: saturation current as a share of the rated one, and exponent."""

    saturation_share: float
    exponent: float


BIAS_FAMILIES: Final[Mapping[str, BiasFamily]] = MappingProxyType(
    {"power": BiasFamily(0.25, 2.0), "mid": BiasFamily(0.35, 1.6), "signal": BiasFamily(1.0, 2.0)}
)
"""Estimates, to be edited: high-current power beads, those between, and signal beads whose rating is thermal."""


def bias_ratio(current_a: ArrayLike, saturation_a: float, exponent: float) -> Real:
    """What is left of a bead's inductance under direct current.

    L/L0 = 1/(1 + (|I|/Isat)^n)

    Parameters
    ----------
    current_a : I, any shape, A
    saturation_a : Isat at which half of the inductance is left, A
    exponent : n, 1.6 to 2

    Returns
    -------
    as the current: L/L0. Rp and C stay, so that the peak moves up by 1/√(L/L0)

    Notes
    -----
    Shape right within 0.1 in L/L0 where Isat is known; Isat itself is an estimate unless a bias curve is at hand. The
    rated current is a rise in temperature and says nothing about it. Source: fit to published bias curves.
    """
    share = np.abs(np.asarray(current_a, np.float64)) / saturation_a
    return np.asarray(1.0 / (1.0 + share**exponent), np.float64)


def family_bias_ratio(current_a: ArrayLike, rated_a: float, family: str) -> Real:
    """What is left of a bead's inductance, where only its rated current and its kind are known.

    As `bias_ratio` with Isat = share·Ir of the family

    Parameters
    ----------
    current_a : I, any shape, A
    rated_a : Ir, A
    family : one of `BIAS_FAMILIES`

    Returns
    -------
    as the current: L/L0

    Notes
    -----
    An estimate for a kind of part, ±0.2 in L/L0. Source: published bias curves of such kinds.
    """
    kind = BIAS_FAMILIES[family]
    return bias_ratio(current_a, kind.saturation_share * rated_a, kind.exponent)
