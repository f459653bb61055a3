"""Impedance as a Touchstone file, for other programs."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from models.fitting.data import Complex, Real

_DIGITS = "{:.12g}"


def write_touchstone(path: str | Path, f_hz: Real, z_ohm: Complex, *, reference_ohm: float = 50.0) -> None:
    """Write an impedance as the reflection of one port, Touchstone version 1.

    S11 = (Z - R)/(Z + R)

    Parameters
    ----------
    path : file; what stands there is replaced
    f_hz : (F,) Hz, ascending
    z_ohm : (F,) Ω; a point that is not finite is an open
    reference_ohm : R in Ω

    Raises
    ------
    OSError
        Where the file cannot be written.

    Notes
    -----
    Real and imaginary parts to 12 digits: Z comes back to 1e-9 between R/1000 and 1000·R. Source: definition of S
    parameters, K. Kurokawa (1965); written by scikit-rf.
    """
    from skrf import Frequency, Network

    finite = np.isfinite(z_ohm)
    s = np.ones(z_ohm.shape, np.complex128)
    s[finite] = (z_ohm[finite] - reference_ohm) / (z_ohm[finite] + reference_ohm)
    frequency = Frequency.from_f(f_hz, unit="Hz")
    network = Network(frequency=frequency, s=s[:, None, None], z0=reference_ohm, name=Path(path).stem)
    text = network.write_touchstone(
        return_string=True, skrf_comment=False, format_spec_A=_DIGITS, format_spec_B=_DIGITS, format_spec_freq=_DIGITS
    )
    Path(path).write_text(text, encoding="utf-8")
