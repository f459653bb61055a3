"""Impedance and scattering parameters as Touchstone files, for other programs."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from models.arrays import Complex, Real

_DIGITS = "{:.17g}"
_REFERENCE_OHM = 50.0


def write_touchstone(path: str | Path, f_hz: Real, z_ohm: Complex, *, reference_ohm: float = _REFERENCE_OHM) -> None:
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
    Every digit that a double holds: Z comes back to 1e-12 between R/1000 and 1000·R. Source: definition of S
    parameters, K. Kurokawa (1965); written by scikit-rf.
    """
    s = reflection(z_ohm, reference_ohm=reference_ohm)
    text = touchstone_text(f_hz, s, name=Path(path).stem, reference_ohm=reference_ohm)
    Path(path).write_text(text, encoding="utf-8")


def reflection(z_ohm: Complex, *, reference_ohm: float = _REFERENCE_OHM) -> Complex:
    """Return the reflection of one port.

    S11 = (Z - R)/(Z + R)

    Parameters
    ----------
    z_ohm : (F,) Ω; a point that is not finite is an open
    reference_ohm : R in Ω

    Returns
    -------
    (F, 1, 1) complex

    Notes
    -----
    Exact. Source: K. Kurokawa, *Power waves and the scattering matrix* (1965).
    """
    finite = np.isfinite(z_ohm)
    s = np.ones(z_ohm.shape, np.complex128)
    s[finite] = (z_ohm[finite] - reference_ohm) / (z_ohm[finite] + reference_ohm)
    return s[:, None, None]


def touchstone_text(
    f_hz: Real, s: Complex, *, name: str, notes: tuple[str, ...] = (), reference_ohm: float = _REFERENCE_OHM
) -> str:
    """Return scattering parameters as the text of a Touchstone file, version 1, in Hz, real and imaginary parts.

    Parameters
    ----------
    f_hz : (F,) Hz, ascending
    s : (F, P, P)
    name : of the network
    notes : lines that stand before the data as comments; what is not ASCII, which the format is, stands as its code
    reference_ohm : R in Ω

    Returns
    -------
    str

    Notes
    -----
    Every digit that a double holds. Source: Touchstone File Format Specification, version 1.1; written by scikit-rf.
    """
    from skrf import Frequency, Network

    network = Network(frequency=Frequency.from_f(f_hz, unit="Hz"), s=s, z0=reference_ohm, name=name)
    text: str = network.write_touchstone(
        return_string=True, skrf_comment=False, format_spec_A=_DIGITS, format_spec_B=_DIGITS, format_spec_freq=_DIGITS
    )
    comments = "".join(f"! {line}\n" for note in notes for line in note.splitlines())
    return comments.encode("ascii", "backslashreplace").decode() + text
