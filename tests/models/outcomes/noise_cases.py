"""Small cases with cables, whose answers are known."""

from __future__ import annotations

from models.case.document import Case
from models.case.read import parse_case

HEAD = """
isthmus = 1
[pair]
a = "primary"
b = "secondary"
others = ["inlet"]
[sweep]
stop = "30 MHz"
[[transformer]]
name = "T1"
between = ["primary", "secondary"]
interwinding_capacitance = "100 pF"
driven_fraction = 0.4
[[candidate]]
name = "none"
[[candidate]]
name = "2.2 nF"
[[candidate.branch]]
parts = [ { kind = "capacitor", capacitance = "2.2 nF" } ]
[[source]]
name = "switch"
kind = "switch-node"
through = "T1"
amplitude = "400 V"
frequency = "100 kHz"
duty = 0.4
rise = "50 ns"
fall = "20 ns"
"""
"""C_hot = 40 pF, C_cold = 60 pF, and the trapezoid of physics §5."""


def chain(choke: str, secondary: str, far_end: str = "25 ohm") -> Case:
    """The worked chain of physics §6.3: a lead of no length, a choke before it, the secondary earthed or floating."""
    return parse_case(
        HEAD
        + f"""
[[coupling]]
name = "choke"
between = ["primary", "inlet"]
parts = [ {choke} ]
[[coupling]]
name = "secondary to earth"
between = ["secondary", "earth"]
parts = [ {secondary} ]
[[cable]]
name = "mains lead"
region = "inlet"
length = "1 um"
diameter = "1 mm"
height = "1 m"
far_end = "{far_end}"
"""
    )


def wired(
    sources: str = "", *, far_ends: tuple[str, str] = ("lisn", "open"), heights: tuple[str, str] = ("", "")
) -> Case:
    """A supply with losses, a mains lead and an output lead."""
    cables = "".join(
        f"""
[[cable]]
name = "{name}"
region = "{region}"
length = "{length}"
diameter = "6 mm"
far_end = "{far_end}"
{height}
"""
        for name, region, length, far_end, height in zip(
            ("mains lead", "output lead"), ("inlet", "secondary"), ("1.5 m", "1.2 m"), far_ends, heights, strict=True
        )
    )
    return parse_case(
        HEAD.replace('stop = "30 MHz"', 'stop = "300 MHz"')
        + """
[[coupling]]
name = "choke"
between = ["primary", "inlet"]
parts = [
  { kind = "inductor", inductance = "2 mH", rdc = "0.2 ohm", capacitance = "8 pF", parallel_resistance = "8 kohm" },
]
[[coupling]]
name = "stray"
between = ["primary", "earth"]
parts = [ { kind = "capacitor", capacitance = "20 pF", dissipation_factor = 0.01 } ]
[[candidate]]
name = "damped"
[[candidate.branch]]
parts = [
  { kind = "capacitor", capacitance = "1 nF", esr = "0.3 ohm", esl = "9 nH", dissipation_factor = 0.02 },
]
[[candidate.branch]]
between = ["secondary", "inlet"]
parts = [ { kind = "capacitor", capacitance = "100 pF", esr = "2 ohm" } ]
"""
        + cables
        + sources
    )


RETURN_CURRENT = """
[[source]]
name = "ripple"
kind = "ripple"
between = ["secondary", "primary"]
amplitude = "0.1 A"
mean = "0.4 A"
frequency = "230 kHz"
"""
