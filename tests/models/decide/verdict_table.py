"""Forty small cases with known answers: closed forms, textbook, worked values of standards, and every trap."""

from __future__ import annotations

import math

from attrs import frozen

from tests.models.decide.small_case import (
    CONVERTER,
    SWITCH,
    T1,
    USB_SHIELD,
    branch,
    capacitor,
    coupling,
    mains,
    requirement,
)

_Y1 = 'safety_class = "Y1"'
_Y2 = 'safety_class = "Y2"'
_4KV, _2KV = 'withstand = "4 kV"', 'withstand = "2 kV"'
_BEAD = '{ kind = "bead", rdc = 0.3, cells = [{ resistance = 700.0, inductance = 1.39e-6, capacitance = 0.455e-12 }] }'
_COPPER = '{ kind = "copper", resistance = "1 mohm", inductance = "5 nH" }'
_BLOCKS, _SEPARATES = requirement("blocks-dc"), requirement("separation")
_WITHSTANDS = requirement("withstand", 'limit = "4 kV"')
_EARTHED = coupling("earth wire", "s", "earth", '{ kind = "copper", resistance = 0.1 }')
_OFFSET = (
    '[[source]]\nname = "offset"\nkind = "mains-offset"\nbetween = ["p", "s"]\nvoltage = "1 V"\nfrequency = "50 Hz"\n'
)
_BOND_OF_S = coupling("bond of s", "s", "earth", '{ kind = "copper", resistance = "30 mohm" }')
_LIFTED_EARTH = (
    coupling("bond of p", "p", "earth", '{ kind = "copper", resistance = "20 mohm" }') + _BOND_OF_S + _OFFSET
)
_FIRM_EARTHS = "".join(coupling(f"bond of {each}", each, "earth", '{ kind = "copper" }') for each in ("p", "s"))
_QUARTER_MA = requirement("touch-current", 'limit = "0.25 mA"')


def _bleed(ohm: float, more: str = "") -> str:
    return branch(f'{{ kind = "resistor", resistance = {ohm!r}{", " + more if more else ""} }}')


def _clock(driver: str, receiver: str) -> str:
    return (
        f'[[source]]\nname = "clock"\nkind = "crossing-signal"\nbetween = ["{driver}", "{receiver}"]\n'
        'swing = "3.3 V"\nimpedance = "50 ohm"\nfrequency = "10 MHz"\nduty = 0.5\nrise = "1 ns"\nfall = "1 ns"\n'
    )


@frozen(kw_only=True)
class Row:
    """One case and its answer; ``value`` is compared to 0.1 % unless ``within`` says otherwise."""

    name: str
    pieces: str
    bridge: str = ""
    outcome: str
    value: float | None = None
    within: float = 1e-3
    says: str = ""


ROWS = (
    # what blocks direct current
    Row(name="copper passes DC", pieces=_BLOCKS, bridge=branch(_COPPER), outcome="fail", value=1e-3),
    Row(
        name="a bead is not isolation",
        pieces=_BLOCKS,
        bridge=branch(_BEAD),
        outcome="fail",
        value=0.3,
        says="isolates nothing",
    ),
    Row(name="a capacitor blocks DC", pieces=_BLOCKS, bridge=branch(capacitor(1e-9)), outcome="pass"),
    Row(
        name="a leaky capacitor still blocks DC",
        pieces=_BLOCKS,
        bridge=branch(capacitor(1e-9, "insulation_resistance = 1e9")),
        outcome="pass",
    ),
    Row(
        name="a capacitor with a bleed resistor does not block DC",
        pieces=_BLOCKS,
        bridge=branch(capacitor(1e-9)) + _bleed(1e6),
        outcome="fail",
        value=1e6,
        says="around the capacitor",
    ),
    Row(name="nothing blocks DC", pieces=_BLOCKS, outcome="pass"),
    Row(
        name="bead in series with a capacitor blocks DC",
        pieces=_BLOCKS,
        bridge=branch(_BEAD, capacitor(1e-9)),
        outcome="pass",
    ),
    Row(
        name="copper over the chassis passes DC",
        pieces=_BLOCKS,
        bridge=branch(_COPPER, between='["p", "chassis"]') + branch(_COPPER, between='["chassis", "s"]'),
        outcome="fail",
        value=2e-3,
    ),
    Row(
        name="copper to the chassis only blocks DC",
        pieces=_BLOCKS,
        bridge=branch(_COPPER, between='["p", "chassis"]') + branch(capacitor(1e-9), between='["chassis", "s"]'),
        outcome="pass",
    ),
    Row(
        name="isolated supply with a non-isolated USB shield",
        pieces=_BLOCKS + USB_SHIELD + T1,
        bridge=branch(capacitor(1e-9, _Y1)),
        outcome="fail",
        value=0.02,
        says="No candidate can isolate",
    ),
    Row(
        name="converter with one ground terminal",
        pieces=_BLOCKS + CONVERTER,
        bridge=branch(capacitor(1e-9, _Y1)),
        outcome="fail",
        says="No candidate can isolate: buck",
    ),
    # what separates
    Row(
        name="a Y1 capacitor separates",
        pieces=_SEPARATES + mains(),
        bridge=branch(capacitor(1e-9, _Y1)),
        outcome="pass",
    ),
    Row(
        name="a plain capacitor blocks DC and separates nothing",
        pieces=_SEPARATES,
        bridge=branch(capacitor(1e-9)),
        outcome="fail",
        says="no part with a stated withstand voltage",
    ),
    Row(
        name="a rated chip capacitor separates low voltages",
        pieces=_SEPARATES,
        bridge=branch(capacitor(1e-9, _2KV)),
        outcome="pass",
    ),
    Row(
        name="a rated chip capacitor does not separate from the mains",
        pieces=_SEPARATES + mains(),
        bridge=branch(capacitor(1e-9, _4KV)),
        outcome="fail",
        says="no part with a Y class",
    ),
    Row(
        name="one Y2 does not make reinforced insulation",
        pieces=_SEPARATES + mains(),
        bridge=branch(capacitor(1e-9, _Y2)),
        outcome="fail",
        says="two equal Y2",
    ),
    Row(
        name="one Y2 makes basic insulation",
        pieces=requirement("separation", 'insulation = "basic"') + mains(),
        bridge=branch(capacitor(1e-9, _Y2)),
        outcome="pass",
    ),
    Row(
        name="two equal Y2 in series make double insulation",
        pieces=_SEPARATES + mains(),
        bridge=branch(capacitor(2e-9, _Y2), capacitor(2e-9, _Y2)),
        outcome="pass",
    ),
    Row(
        name="two unlike Y2 count as one",
        pieces=_SEPARATES + mains(),
        bridge=branch(capacitor(2e-9, _Y2), capacitor(1e-9, _Y2)),
        outcome="fail",
        says="unlike",
    ),
    Row(
        name="Y2 to the chassis and Y2 from it make double insulation",
        pieces=_SEPARATES + mains(),
        bridge=branch(capacitor(2e-9, _Y2), between='["p", "chassis"]')
        + branch(capacitor(2e-9, _Y2), between='["chassis", "s"]'),
        outcome="pass",
    ),
    Row(
        name="a Y4 is not made for 230 V",
        pieces=requirement("separation", 'insulation = "basic"') + mains(),
        bridge=branch(capacitor(1e-9, 'safety_class = "Y4"')),
        outcome="fail",
        says="not made for this mains voltage",
    ),
    Row(
        name="an X2 separates nothing",
        pieces=_SEPARATES + mains(),
        bridge=branch(capacitor(1e-9, 'safety_class = "X2"')),
        outcome="fail",
    ),
    Row(
        name="a converter that shares its ground is never separated",
        pieces=_SEPARATES + CONVERTER,
        outcome="fail",
        says="No candidate can isolate",
    ),
    Row(
        name="a bead separates nothing",
        pieces=_SEPARATES + mains(),
        bridge=branch(_BEAD),
        outcome="fail",
        says="Direct current passes through",
    ),
    Row(
        name="a bleed resistor across undoes the separation of a Y1",
        pieces=_SEPARATES + mains(),
        bridge=branch(capacitor(1e-9, _Y1)) + _bleed(1e7),
        outcome="fail",
        says="Direct current passes through",
    ),
    Row(
        name="a USB shield beside an isolated supply leaves nothing to separate",
        pieces=_SEPARATES + mains() + USB_SHIELD + T1,
        bridge=branch(capacitor(1e-9, _Y1)),
        outcome="fail",
        says="No candidate can isolate",
    ),
    Row(
        name="a Y2 is enough where what is touched is earthed",
        pieces=_SEPARATES + mains() + _EARTHED,
        bridge=branch(capacitor(1e-9, _Y2)),
        outcome="pass",
        says="fit for basic insulation",
    ),
    Row(
        name="what nobody rated is taken as sound, and not called a rated barrier",
        pieces=_SEPARATES + T1,
        outcome="pass",
        says="No rated part stands across the pair; T1, gap and stray are taken as sound for functional insulation.",
    ),
    Row(
        name="a megohm to earth earths nothing",
        pieces=_SEPARATES + mains() + coupling("bleed", "s", "earth", '{ kind = "resistor", resistance = 1e6 }'),
        bridge=branch(capacitor(1e-9, _Y2)),
        outcome="fail",
        says="Reinforced insulation",
    ),
    # what withstands
    Row(
        name="Y1 withstands its type test",
        pieces=_WITHSTANDS,
        bridge=branch(capacitor(1e-9, _Y1)),
        outcome="pass",
        value=4000.0,
    ),
    Row(
        name="Y2 of 300 V withstands 1500 V + 2·300 V",
        pieces=_WITHSTANDS,
        bridge=branch(capacitor(1e-9, _Y2 + ', rated_voltage = "300 V"')),
        outcome="fail",
        value=2100.0,
    ),
    Row(
        name="two of 2 kV and 20 % in series: one sees 60.00 %",
        pieces=_WITHSTANDS,
        bridge=branch(*[capacitor(4.7e-9, f"{_2KV}, tolerance = 0.2")] * 2),
        outcome="fail",
        value=2000.0 / 0.6,
    ),
    Row(
        name="the weaker of two branches counts",
        pieces=_WITHSTANDS,
        bridge=branch(capacitor(1e-9, 'withstand = "6 kV"')) + branch(capacitor(1e-12, 'withstand = "3 kV"')),
        outcome="fail",
        value=3000.0,
    ),
    Row(
        name="a weak isolator beside a strong capacitor counts",
        pieces=_WITHSTANDS
        + coupling("isolator", "p", "s", '{ kind = "capacitor", capacitance = 1e-12, withstand = "2.5 kV" }'),
        bridge=branch(capacitor(1e-9, 'withstand = "6 kV"')),
        outcome="fail",
        value=2500.0,
        says="isolator",
    ),
    Row(
        name="the weakest way leads over the chassis",
        pieces=_WITHSTANDS,
        bridge=branch(capacitor(1e-9, 'withstand = "6 kV"'))
        + branch(capacitor(1e-9, 'withstand = "1 kV"'), between='["p", "chassis"]')
        + branch(_COPPER, between='["chassis", "s"]'),
        outcome="fail",
        value=1000.0,
    ),
    Row(
        name="an earthed secondary leads the weakest way over earth",
        pieces=_WITHSTANDS + _EARTHED,
        bridge=branch(capacitor(1e-9, _Y2), between='["p", "earth"]'),
        outcome="fail",
        value=2000.0,
    ),
    Row(
        name="a resistor withstands 6 kV and bridges no reinforced insulation: no margin says pass",
        pieces=requirement("withstand", 'limit = "4 kV"\ninsulation = "reinforced"'),
        bridge=branch(capacitor(1e-9, f"{_Y1}, {_4KV}")) + _bleed(1e7, 'withstand = "6 kV"'),
        outcome="fail",
        value=4000.0,
        says="Reinforced insulation has to be bridged",
    ),
    Row(
        name="a damping resistor lends its withstand voltage to no capacitor",
        pieces=_WITHSTANDS,
        bridge=branch(capacitor(1e-9, 'withstand = "1 kV"'), f'{{ kind = "resistor", resistance = 10.0, {_4KV} }}'),
        outcome="fail",
        value=1000.0,
    ),
    Row(name="copper withstands nothing", pieces=_WITHSTANDS, bridge=branch(_COPPER), outcome="fail", value=0.0),
    Row(
        name="a bleed resistor without a rating withstands nothing",
        pieces=_WITHSTANDS,
        bridge=branch(capacitor(1e-9, _Y1)) + _bleed(1e7),
        outcome="fail",
        value=0.0,
    ),
    Row(
        name="a USB shield beside the strongest capacitor withstands nothing",
        pieces=_WITHSTANDS + USB_SHIELD,
        bridge=branch(capacitor(1e-9, _Y1)),
        outcome="fail",
        value=0.0,
    ),
    Row(
        name="a bleed resistor made for it withstands",
        pieces=_WITHSTANDS,
        bridge=branch(capacitor(1e-9, _Y1)) + _bleed(1e7, _4KV),
        outcome="pass",
        value=4000.0,
    ),
    # what a person feels; values of IEC 60990 practice, I = 2πfCV
    Row(
        name="2.2 nF at 264 V and 60 Hz",
        pieces=_QUARTER_MA + mains(240.0, 60.0),
        bridge=branch(capacitor(2.2e-9)),
        outcome="pass",
        value=0.2190e-3,
    ),
    Row(
        name="the same with 20 % passes only at nominal values",
        pieces=_QUARTER_MA + mains(240.0, 60.0),
        bridge=branch(capacitor(2.2e-9, "tolerance = 0.2")),
        outcome="fail",
        value=0.2627e-3,
        says="passes only at nominal values",
    ),
    Row(
        name="two 4.7 nF in series with one shorted, against the limit of the fault",
        pieces=requirement("touch-current", 'limit = "0.25 mA"\nfault_limit = "0.3 mA"') + mains(),
        bridge=branch(*[capacitor(4.7e-9)] * 2),
        outcome="fail",
        value=0.3736e-3,
        says="one capacitor of branch 1 shorted",
    ),
    Row(
        name="the same against 0.5 mA in the fault",
        pieces=requirement("touch-current", 'limit = "0.25 mA"\nfault_limit = "0.5 mA"') + mains(),
        bridge=branch(*[capacitor(4.7e-9)] * 2),
        outcome="pass",
        value=0.1869e-3,
    ),
    Row(
        name="264 V through a bleed of 1 MΩ adds 0.264 mA",
        pieces=_QUARTER_MA + mains(240.0, 60.0),
        bridge=_bleed(1e6),
        outcome="fail",
        value=0.2640e-3,
        within=3e-3,
    ),
    Row(
        name="copper puts the body network across the mains: 264 V over 1986 Ω",
        pieces=_QUARTER_MA + mains(240.0, 60.0),
        bridge=branch(_COPPER),
        outcome="fail",
        value=0.1330,
        says="a danger to life",
    ),
    Row(
        name="one of two 0.2 µF shorted: 253 V over 16.19 kΩ are more than a hand lets go of",
        pieces=requirement("touch-current", 'limit = "8 mA"\nfault_limit = "9 mA"') + mains(),
        bridge=branch(*[capacitor(0.2e-6)] * 2),
        outcome="fail",
        value=15.63e-3,
        says="a danger to life",
    ),
    Row(name="no mains, no touch current", pieces=_QUARTER_MA, outcome="not-applicable"),
    # what noise and direct current do
    Row(
        name="400 V on 40 of 100 pF, 1 nF across: half of 14.55 V",
        pieces=requirement("common-mode-voltage", 'limit = "8 V"') + T1 + SWITCH,
        bridge=branch(capacitor(1e-9)),
        outcome="pass",
        value=0.5 * 400.0 * 40.0 / 1101.5,
    ),
    Row(
        name="the same with 20 % passes only at nominal values",
        pieces=requirement("common-mode-voltage", 'limit = "8 V"') + T1 + SWITCH,
        bridge=branch(capacitor(1e-9, "tolerance = 0.2")),
        outcome="fail",
        value=0.5 * 400.0 * 40.0 / 901.5,
        says="passes only at nominal values",
    ),
    Row(
        name="10 nH at 100 MHz is 6.283 Ω",
        pieces=requirement("return-impedance", 'limit = "7 ohm"\nband = ["1 MHz", "100 MHz"]'),
        bridge=branch('{ kind = "copper", inductance = "10 nH" }'),
        outcome="pass",
        value=6.283,
        within=7e-3,
    ),
    Row(
        name="the same with 20 % on 10 nH passes only at nominal values",
        pieces=requirement("return-impedance", 'limit = "7 ohm"\nband = ["1 MHz", "100 MHz"]'),
        bridge=branch('{ kind = "copper", inductance = "10 nH", tolerance = 0.2 }'),
        outcome="fail",
        value=7.54,
        within=1e-2,
        says="passes only at nominal values",
    ),
    Row(
        name="1 V between earths over 20 and 30 mΩ of bonds sends 6.667 A through a screen of 0.1 Ω",
        pieces=requirement("common-mode-voltage", 'limit = "2 V"') + _LIFTED_EARTH,
        bridge=branch('{ kind = "copper", resistance = "100 mohm" }'),
        outcome="pass",
        value=math.sqrt(2.0) * 0.1 / 0.15,
        says="offset sends 6.67 A rms round the loop, over the bridge.",
    ),
    Row(
        name="the same held to 10 mA",
        pieces=requirement("loop-current", 'limit = "10 mA"') + _LIFTED_EARTH,
        bridge=branch('{ kind = "copper", resistance = "100 mohm" }'),
        outcome="fail",
        value=1.0 / 0.15,
        says="offset sends 6.67 A rms round the loop",
    ),
    Row(
        name="100 Ω of 5 % in the loop: 1 V over 95.05 Ω is over 10 mA, 1 V over 100.05 Ω is not",
        pieces=requirement("loop-current", 'limit = "10 mA"') + _LIFTED_EARTH,
        bridge=branch('{ kind = "resistor", resistance = 100.0, tolerance = 0.05 }'),
        outcome="fail",
        value=1.0 / 95.05,
        says="passes only at nominal values",
    ),
    Row(
        name="copper of no impedance closes the loop over 20 and 30 mΩ of bonds alone",
        pieces=requirement("loop-current", 'limit = "10 mA"') + _LIFTED_EARTH,
        bridge=branch('{ kind = "copper" }'),
        outcome="fail",
        value=20.0,
        says="offset sends 20 A rms round the loop",
    ),
    Row(
        name="10 nF at 50 Hz lets 3.14 µA round",
        pieces=requirement("loop-current", 'limit = "10 mA"') + _LIFTED_EARTH,
        bridge=branch(capacitor(10e-9)),
        outcome="pass",
        value=3.1416e-6,
    ),
    Row(
        name="without a bridge no loop closes over it",
        pieces=requirement("loop-current", 'limit = "10 mA"') + _LIFTED_EARTH,
        outcome="pass",
        value=0.0,
        says="no loop closes",
    ),
    Row(
        name="a bridge to a region without an earth closes no loop",
        pieces=requirement("loop-current", 'limit = "10 mA"') + _BOND_OF_S + _OFFSET,
        bridge=branch('{ kind = "copper", resistance = "100 mohm" }'),
        outcome="pass",
        value=0.0,
        says="no loop closes",
    ),
    Row(
        name="1 V over bonds of no impedance sends 10 A through 0.1 Ω",
        pieces=requirement("loop-current", 'limit = "10 mA"') + _FIRM_EARTHS + _OFFSET,
        bridge=branch('{ kind = "copper", resistance = "100 mohm" }'),
        outcome="fail",
        value=10.0,
    ),
    Row(
        name="and stands across the pair",
        pieces=requirement("common-mode-voltage", 'limit = "2 V"') + _FIRM_EARTHS + _OFFSET,
        bridge=branch('{ kind = "copper", resistance = "100 mohm" }'),
        outcome="pass",
        value=math.sqrt(2.0),
    ),
    Row(
        name="nothing limits the current of a loop of no impedance",
        pieces=requirement("loop-current", 'limit = "10 mA"') + _FIRM_EARTHS + _OFFSET,
        bridge=branch('{ kind = "copper" }'),
        outcome="fail",
        value=None,
        says="nothing in the loop has an impedance",
    ),
    Row(
        name="a loop current counts beyond the end of the sweep",
        pieces='[sweep]\nstart = "1 Hz"\nstop = "20 Hz"\n'
        + requirement("loop-current", 'limit = "10 mA"')
        + _LIFTED_EARTH,
        bridge=branch('{ kind = "copper", resistance = "100 mohm" }'),
        outcome="fail",
        value=1.0 / 0.15,
    ),
    Row(
        name="without an offset there is no loop current",
        pieces=requirement("loop-current", 'limit = "10 mA"') + T1 + SWITCH,
        bridge=branch(_COPPER),
        outcome="not-applicable",
        says="No source is an offset of the earths",
    ),
    Row(
        name="no lead ends in a LISN, so nothing is conducted",
        pieces=requirement("conducted-emission", 'limit_line = "CISPR 32 class B"') + T1 + SWITCH,
        bridge=branch(capacitor(1e-9)),
        outcome="not-applicable",
        says="No lead ends in a LISN",
    ),
    Row(
        name="0.4 A through 0.3 Ω of bead",
        pieces=requirement("dc-drop", 'limit = "0.1 V"') + CONVERTER,
        bridge=branch(_BEAD),
        outcome="fail",
        value=0.12,
    ),
    Row(
        name="the means of two sources add up: 0.4 A and 3.3 V/50 Ω·0.5 through 0.3 Ω",
        pieces=requirement("dc-drop", 'limit = "0.1 V"') + CONVERTER + _clock("p", "s"),
        bridge=branch(_BEAD),
        outcome="fail",
        value=0.1299,
        says="The means of buck and clock together drop 130 mV",
    ),
    Row(
        name="what comes the other way may be off",
        pieces=requirement("dc-drop", 'limit = "0.1 V"') + CONVERTER + _clock("s", "p"),
        bridge=branch(_BEAD),
        outcome="fail",
        value=0.12,
        says="The mean of buck drops 120 mV",
    ),
    Row(
        name="1 MΩ and 1.15 nF bleed to 1 % in 5.296 ms",
        pieces=requirement("static-bleed", 'limit = "6 ms"'),
        bridge=_bleed(1e6) + branch(capacitor(1.1485e-9)),
        outcome="pass",
        value=5.296e-3,
    ),
    Row(
        name="a capacitor alone never bleeds",
        pieces=requirement("static-bleed", 'limit = "1 s"'),
        bridge=branch(capacitor(1e-9)),
        outcome="fail",
        says="a charge stays",
    ),
    Row(
        name="10 GΩ of insulation is a least value: nobody counts on its 46 s",
        pieces=requirement("static-bleed", 'limit = "100 s"'),
        bridge=branch(capacitor(1e-9, "insulation_resistance = 1e10")),
        outcome="fail",
        says="or longer, since insulation is promised as a least value",
    ),
    Row(
        name="copper holds no charge",
        pieces=requirement("static-bleed", 'limit = "1 s"'),
        bridge=branch(_COPPER),
        outcome="pass",
        value=0.0,
        says="joined by 1 mΩ: a charge leaves at once",
    ),
)
