"""Specs with made-up contents, as full as the window ever gets, for tests and for looking at."""

from __future__ import annotations

import numpy as np

from app.present.specs import (
    AxisSpec,
    BandSpec,
    CurveSpec,
    GuideSpec,
    Ink,
    MarkSpec,
    PlotSpec,
    ReadoutSpec,
)

NAMES = ("Y-capacitor 2.2 nF", "Bead 600 Ω", "Copper", "Nothing")
F_HZ = np.logspace(1, 9, 801)


def impedance_curves() -> tuple[CurveSpec, ...]:
    s = 2j * np.pi * F_HZ
    plane = 3e-3 + s * 6e-9
    y_capacitor = 0.2 + s * 9e-9 + 1 / (s * 2.2e-9) + plane
    bead = 0.3 + 1 / (1 / 600.0 + 1 / (s * 2e-6) + s * 1.5e-12)
    copper = 0.6e-3 + s * 1e-9
    nothing = 1 / (s * 60e-12)
    values = (y_capacitor, bead, copper, nothing)
    return tuple(
        CurveSpec(label=name, ink=Ink(slot=k), x=F_HZ, y=np.abs(z), strong=k == 0)
        for k, (name, z) in enumerate(zip(NAMES, values, strict=True))
    )


def impedance(*, cursor_hz: float = 1.2e6, stale: str = "", empty: str = "") -> PlotSpec:
    curves = impedance_curves()
    at = int(np.argmin(np.abs(np.log(F_HZ / cursor_hz))))
    guides = [
        GuideSpec(label=label, x=(10.0, 1e9), y=(1 / (2e1 * np.pi * c_f), 1 / (2e9 * np.pi * c_f)))
        for label, c_f in (("10 pF", 1e-11), ("1 nF", 1e-9), ("100 nF", 1e-7))
    ] + [
        GuideSpec(label=label, x=(10.0, 1e9), y=(2e1 * np.pi * l_h, 2e9 * np.pi * l_h))
        for label, l_h in (("1 nH", 1e-9), ("100 nH", 1e-7), ("10 µH", 1e-5))
    ]
    return PlotSpec(
        title="Impedance between the regions",
        subtitle="in circuit",
        x=AxisSpec(unit="Hz", log=True, low=10.0, high=1e9),
        y=AxisSpec(unit="Ω", log=True, low=1e-3, high=1e7),
        curves=curves,
        guides=tuple(guides),
        bands=(BandSpec(label="conducted band", x_low=150e3, x_high=30e6, y_limit=100.0),),
        marks=(MarkSpec(label="28 MHz, Q 12", ink=Ink(slot=0), x=27.7e6, y=float(curves[0].y[644])),),
        cursor_x=cursor_hz,
        cursor_text="1.20 MHz",
        readouts=tuple(
            ReadoutSpec(label=c.label, ink=c.ink, text=text, y=float(c.y[at]))
            for c, text in zip(curves, ("55.9 Ω", "10.6 Ω", "11 mΩ", "802.5 Ω"), strict=True)
        ),
        stale=stale,
        empty=empty,
    )


def waveform() -> PlotSpec:
    t_s = np.linspace(0.0, 30.8e-6, 4096)
    level = np.where((t_s % 15.4e-6) < 5.4e-6, 2.17, -1.1)
    ringing = 0.15 * np.exp(-(t_s % 15.4e-6) / 1e-6) * np.cos(2 * np.pi * 5e6 * t_s)
    curve = CurveSpec(label=NAMES[0], ink=Ink(slot=0), x=t_s, y=level + ringing, strong=True)
    return PlotSpec(
        title="Common-mode voltage, secondary to primary",
        subtitle="two periods, 31 µs",
        x=AxisSpec(unit="s", low=0.0, high=30.8e-6),
        y=AxisSpec(unit="V", low=-2.6, high=2.6),
        curves=(curve,),
    )


def spectrum() -> PlotSpec:
    f_hz = 65e3 * np.arange(1, 15_000)
    level = 128.0 - 20 * np.log10(f_hz / 65e3) - 10 * np.log10(1 + (f_hz / 8e6) ** 2) + 3 * np.sin(f_hz / 3e5)
    curve = CurveSpec(label=NAMES[0], ink=Ink(slot=0), x=f_hz, y=level, strong=True, sticks=True)
    other = CurveSpec(label=NAMES[1], ink=Ink(slot=1), x=f_hz, y=level - 12.0)
    return PlotSpec(
        title="Spectrum",
        x=AxisSpec(unit="Hz", log=True, low=10e3, high=1e9),
        y=AxisSpec(unit="dBµV", low=0.0, high=140.0),
        curves=(other, curve),
        bands=(BandSpec(label="conducted band", x_low=150e3, x_high=30e6, y_limit=66.0),),
        cursor_x=1.2e6,
        cursor_text="1.20 MHz",
        readouts=(ReadoutSpec(label=NAMES[0], ink=Ink(slot=0), text="98 dBµV", y=98.0),),
    )
