"""Specs with made-up contents, as full as the window ever gets, for tests and for looking at."""

from __future__ import annotations

import numpy as np

from app.present.specs import (
    AxisSpec,
    BandSpec,
    BarSpec,
    BarsSpec,
    CandidateTabSpec,
    CellSpec,
    CurveSpec,
    FieldSpec,
    FormSpec,
    GuideSpec,
    HeaderSpec,
    Ink,
    MarkSpec,
    PlotSpec,
    ReadoutSpec,
    SectionSpec,
    TableSpec,
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
    f_hz = 65e3 * np.arange(1, 15_000, dtype=np.float64)
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


def bars(fractions: tuple[float, ...] = (0.52, 0.82, 0.09, 0.87)) -> BarsSpec:
    texts = ("2.2 V", "49.3 V", "26 mV", "82.9 V")
    return BarsSpec(
        title="Peak",
        note="drag any value and watch these move",
        bars=tuple(
            BarSpec(label=name, ink=Ink(slot=k), fraction=fraction, text=text, strong=k == 0, worst=k == 3)
            for k, (name, fraction, text) in enumerate(zip(NAMES, fractions, texts, strict=True))
        ),
        limit_fraction=0.55,
        limit_text="wanted: under 3 V",
    )


def answers(columns: int = 4, *, selected: int | None = 0) -> TableSpec:
    names = [NAMES[k % 4] + (f" {k // 4 + 1}" if k >= 4 else "") for k in range(columns)]
    cells = (
        CellSpec(outcome="pass", text="0.20 mA worst", why="2π · 50 Hz · 2.64 nF · 253 V = 0.21 mA, under 0.25 mA."),
        CellSpec(outcome="fail", text="mains on the case", why="The bead joins the touched region to the mains."),
        CellSpec(outcome="not-applicable", text="no mains"),
        CellSpec(outcome="note", text="0.6 mΩ"),
    )
    questions = (
        "Blocks DC",
        "Separates safely (4 kV)",
        "Touch current ≤ 0.25 mA",
        "Common mode ≤ 3 V peak",
        "Return under 10 Ω, 1 to 30 MHz",
    )
    return TableSpec(
        title="What the separation is for",
        columns=tuple((name, Ink(slot=k)) for k, name in enumerate(names)),
        selected=selected,
        rows=tuple((q, tuple(cells[(k + j) % 4] for j in range(columns))) for k, q in enumerate(questions)),
    )


def capacitance(value_f: float | None = 2.2e-9, text: str = "2.2 nF") -> FieldSpec:
    return FieldSpec(
        path=("candidates", 0, "branches", 0, "parts", 0, "capacitance_f"),
        label="Capacitance",
        text=text,
        unit="F",
        value=value_f,
        low=10e-12,
        high=100e-9,
        steps=tuple(m * 10.0**e for e in range(-11, -7) for m in (1.0, 1.5, 2.2, 3.3, 4.7, 6.8)),
        help="Capacitance at 1 kHz without bias.",
        note="window: 1.5 nF to 2.2 nF fits both limits",
    )


def resistance(value_ohm: float = 0.2, text: str = "200 mΩ") -> FieldSpec:
    return FieldSpec(
        path=("candidates", 0, "branches", 0, "parts", 0, "esr_ohm"),
        label="ESR",
        text=text,
        unit="Ω",
        value=value_ohm,
        low=1e-3,
        high=10.0,
        zero=True,
    )


def safety_class() -> FieldSpec:
    path = ("candidates", 0, "branches", 0, "parts", 0, "safety_class")
    return FieldSpec(path=path, label="Safety class", text="Y1", choices=("none", "Y1", "Y2"))


def form() -> FormSpec:
    name = FieldSpec(path=("candidates", 0, "name"), label="Name", text="Y-capacitor 2.2 nF")
    rated = FieldSpec(
        path=("candidates", 0, "branches", 0, "parts", 0, "rated_voltage_v"),
        label="Rated voltage",
        text="",
        unit="V",
        optional=True,
        low=50.0,
        high=4000.0,
    )
    plane = FieldSpec(
        path=("candidates", 0, "branches", 0, "parts", 1, "inductance_h"),
        label="Inductance",
        text="6 nH",
        unit="H",
        value=6e-9,
        low=0.1e-9,
        high=1e-6,
        note="about 0.8 nH a millimetre",
    )
    return FormSpec(
        title="Y-capacitor 2.2 nF",
        subtitle="bridge, across the pair",
        sections=(
            SectionSpec(title="Candidate", fields=(name,), actions=(("duplicate", "Duplicate"), ("remove", "Remove"))),
            SectionSpec(
                title="Capacitor",
                fields=(capacitance(), resistance(), safety_class(), rated),
                actions=(("up", "Move up"), ("down", "Move down"), ("remove-part:0:0", "Remove")),
                note="±20 %, counted in the worst case",
            ),
            SectionSpec(title="Copper to the plane", fields=(plane,), actions=(("remove-part:0:1", "Remove"),)),
        ),
        caution=(
            "An estimate for design, not a certification. Safety parts: the current standard, local rules and a "
            "qualified person decide."
        ),
    )


def header(count: int = 4, *, selected: int = 0) -> HeaderSpec:
    return HeaderSpec(
        title="Cold-store gateway",
        subtitle="mains to 5 V, isolated",
        tabs=tuple(CandidateTabSpec(label=NAMES[k % 4], ink=Ink(slot=k), selected=k == selected) for k in range(count)),
        undo="drag capacitance",
    )
