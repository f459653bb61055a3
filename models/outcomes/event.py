"""What hits a region from outside: electrostatic discharge, burst, surge, each with its generator's network.

For design, no certification: the current editions of the standards decide, and their constants are from memory.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

import numpy as np
from attrs import frozen

from models.arrays import Complex, Real
from models.errors import QuantityError
from models.formulas.burst import CLAMP_F, burst_pulse
from models.formulas.discharge import GUN_F, contact_current, gun_charge
from models.formulas.surge import GENERATOR_OHM, surge_voltage
from models.outcomes.laplace import TimeBase

_GUN_OHM: Final = 330.0
_FORMULA_F: Final = 584.8e-9 / 4e3
"""Charge of the standard's contact current for each volt."""
_TAIL_S: Final = 100e-9


@frozen(kw_only=True, cache_hash=True)
class Coupling:
    """How a generator reaches the region: what stands in series with it."""

    series_ohm: float
    series_f: float | None


@frozen(kw_only=True, eq=False)
class Kind:
    """A standard's event.

    Attributes
    ----------
    title, standard : as the trade calls it
    levels_v : test levels, V
    couplings : by name, the usual one first
    base : the time in which it happens
    settled_s : when everything fast is over, s
    """

    title: str
    standard: str
    levels_v: tuple[float, ...]
    couplings: Mapping[str, Coupling]
    base: TimeBase
    settled_s: float


KINDS: Final[Mapping[str, Kind]] = MappingProxyType(
    {
        "discharge": Kind(
            title="Electrostatic discharge",
            standard="IEC 61000-4-2",
            levels_v=(2e3, 4e3, 6e3, 8e3),
            couplings=MappingProxyType(
                {
                    "contact": Coupling(series_ohm=_GUN_OHM, series_f=GUN_F),
                    "contact, 330 pF": Coupling(series_ohm=_GUN_OHM, series_f=330e-12),
                }
            ),
            base=TimeBase(step_s=0.1e-9, loss_omega=2e8),
            settled_s=100e-9,
        ),
        "burst": Kind(
            title="Fast transient",
            standard="IEC 61000-4-4",
            levels_v=(500.0, 1e3, 2e3, 4e3),
            couplings=MappingProxyType(
                {
                    "clamp": Coupling(series_ohm=50.0, series_f=CLAMP_F),
                    "mains": Coupling(series_ohm=50.0, series_f=33e-9),
                }
            ),
            base=TimeBase(step_s=0.125e-9, loss_omega=9e7),
            settled_s=1e-6,
        ),
        "surge": Kind(
            title="Surge",
            standard="IEC 61000-4-5",
            levels_v=(500.0, 1e3, 2e3, 4e3),
            couplings=MappingProxyType(
                {
                    "line to earth": Coupling(series_ohm=GENERATOR_OHM + 10.0, series_f=9e-6),
                    "line to line": Coupling(series_ohm=GENERATOR_OHM, series_f=18e-6),
                    "signal": Coupling(series_ohm=GENERATOR_OHM + 40.0, series_f=None),
                }
            ),
            base=TimeBase(step_s=50e-9, loss_omega=2e5),
            settled_s=400e-6,
        ),
    }
)


@frozen(kw_only=True, cache_hash=True)
class Event:
    """One event into a region, against the surroundings.

    Attributes
    ----------
    kind : ``discharge``, ``burst`` or ``surge``
    into : the region
    level_v : test level; of burst and surge the voltage of the open generator, V
    via : how the generator is coupled, see `KINDS`; the kind's usual one by default
    """

    kind: str
    into: str
    level_v: float
    via: str | None = None

    def __attrs_post_init__(self) -> None:
        """Refuse what no standard has."""
        if self.kind not in KINDS:
            raise QuantityError(f'event "{self.kind}"', _listed(KINDS))
        if self.via is not None and self.via not in self.standard.couplings:
            raise QuantityError(f'coupling "{self.via}"', _listed(self.standard.couplings))
        if not (math.isfinite(self.level_v) and self.level_v > 0.0):
            raise QuantityError(f"a level of {self.level_v:g} V", "a voltage above 0 V")

    @property
    def standard(self) -> Kind:
        """What the standard says of this kind."""
        return KINDS[self.kind]

    @property
    def coupling(self) -> Coupling:
        """What stands between generator and region."""
        couplings = self.standard.couplings
        return couplings[self.via or next(iter(couplings))]

    @property
    def is_current(self) -> bool:
        """Whether the generator is a current with its network across it, and not a voltage behind it."""
        return self.kind == "discharge"

    def source(self, t_s: Real) -> Real:
        """Return what the generator drives: A of a discharge into a short, V of the open generator else.

        Parameters
        ----------
        t_s : (T,), s

        Returns
        -------
        (T,), A or V

        Notes
        -----
        A discharge is the standard's contact current, and what the gun's capacitor holds beyond the formula's charge
        (2.5 % of it at 150 pF) as a late tail Q·t/τ²·e^(−t/τ), τ = 100 ns. A surge is the 1.2/50 µs voltage behind a
        resistance: into a low impedance its current rises faster than the standard's 8/20 µs, an upper estimate.
        Sources: `models.formulas.discharge`, `burst`, `surge`.
        """
        if self.kind == "discharge":
            missing = gun_charge(self.level_v, self.coupling.series_f or GUN_F) - _FORMULA_F * self.level_v
            return contact_current(t_s, self.level_v) + missing * t_s / _TAIL_S**2 * np.exp(-t_s / _TAIL_S)
        if self.kind == "burst":
            return 2.0 * burst_pulse(t_s, self.level_v)
        return surge_voltage(t_s, self.level_v)

    def area(self) -> float:
        """Return the integral of `source`: the charge of a discharge, A·s, or V·s."""
        if self.kind == "discharge":
            return gun_charge(self.level_v, self.coupling.series_f or GUN_F)
        base = self.standard.base
        return base.step_s * float(self.source(base.record_s).sum())

    def network_ohm(self, s: Complex) -> Complex:
        """Return the generator's own impedance with its coupling at s, any shape, Ω."""
        series = np.full(s.shape, self.coupling.series_ohm, np.complex128)
        return series if self.coupling.series_f is None else series + 1.0 / (s * self.coupling.series_f)


def _listed(names: Mapping[str, object]) -> str:
    return ", ".join(f'"{name}"' for name in names)
