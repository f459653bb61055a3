"""Small cases as text: the pair, what stands there, one candidate, one requirement."""

from __future__ import annotations

from models.case.document import Case
from models.case.read import parse_case
from models.decide.judges import judge
from models.decide.verdict import Verdict
from models.outcomes.evaluation import Evaluator

HEAD = 'isthmus = 1\n[pair]\na = "p"\nb = "s"\nothers = ["chassis"]\n'
GAP = '[[coupling]]\nname = "gap"\nbetween = ["p", "s"]\nparts = [{ kind = "capacitor", capacitance = "1.5 pF" }]\n'
CHASSIS = (
    '[[coupling]]\nname = "stray"\nbetween = ["s", "chassis"]\nparts = [{ kind = "capacitor", capacitance = "1 fF" }]\n'
)
T1 = '[[transformer]]\nname = "T1"\nbetween = ["p", "s"]\ninterwinding_capacitance = "100 pF"\ndriven_fraction = 0.4\n'
SWITCH = (
    '[[source]]\nname = "switch"\nkind = "switch-node"\nthrough = "T1"\namplitude = "400 V"\nfrequency = "100 kHz"\n'
    'duty = 0.5\nrise = "50 ns"\nfall = "50 ns"\n'
)
CONVERTER = (
    '[[source]]\nname = "buck"\nkind = "return-current"\nbetween = ["p", "s"]\namplitude = "1 A"\n'
    'frequency = "500 kHz"\nduty = 0.4\nrise = "10 ns"\nfall = "10 ns"\n'
)
USB_SHIELD = (
    '[[coupling]]\nname = "USB shield"\nbetween = ["p", "s"]\n'
    'parts = [{ kind = "copper", resistance = "20 mohm", inductance = "500 nH" }]\n'
)


def mains(voltage_v: float = 230.0, frequency_hz: float = 50.0, tolerance: float = 0.1) -> str:
    """Return mains that feed p and are touched at s."""
    return (
        f"[mains]\nvoltage = {voltage_v}\nfrequency = {frequency_hz}\ntolerance = {tolerance}\n"
        'feeds = "p"\ntouched = "s"\n'
    )


def coupling(name: str, one: str, other: str, parts: str) -> str:
    """Return a coupling between two nodes."""
    return f'[[coupling]]\nname = "{name}"\nbetween = ["{one}", "{other}"]\nparts = [{parts}]\n'


def capacitor(farad: float, more: str = "") -> str:
    """Return a capacitor as an inline table."""
    return f'{{ kind = "capacitor", capacitance = {farad!r}{", " + more if more else ""} }}'


def branch(*parts: str, between: str = "") -> str:
    """Return one branch of the candidate."""
    ends = f"between = {between}\n" if between else ""
    return f"[[candidate.branch]]\n{ends}parts = [{', '.join(parts)}]\n"


def requirement(kind: str, more: str = "") -> str:
    """Return one requirement."""
    return f'[[requirement]]\nkind = "{kind}"\n{more}\n'


def case_of(*pieces: str, bridge: str = "") -> Case:
    """Return a case of these pieces with one candidate; a gap and a stray to the chassis always stand."""
    return parse_case(HEAD + GAP + CHASSIS + "".join(pieces) + f'[[candidate]]\nname = "it"\n{bridge}')


def verdict_of(case: Case) -> Verdict:
    """Return the verdict on the only requirement of the only candidate."""
    evaluator = Evaluator()
    evaluation = evaluator.evaluate(case)
    (verdict,) = judge(evaluator, case, evaluation.outcomes[0])
    return verdict
