"""Cases for the tests of the section drawing: the shipped ones and a dozen at random."""

from __future__ import annotations

import random
from pathlib import Path

from app.present.section import Drafter
from app.present.section_specs import DrawingSpec
from app.state.results import Desk
from app.state.usual import PARTS, Y_CAPACITOR
from app.state.view import View
from models.case.document import Branch, Cable, Candidate, Case, Coupling, Pair, Transformer
from models.case.read import parse_case
from models.parts.capacitor import Capacitor
from models.sources.current import ReturnCurrent
from models.sources.trapezoid import Trapezoid

CASES = sorted((Path(__file__).parents[3] / "assets" / "cases").glob("*.toml"))
SIZES = ((1056.0, 190.0), (1056.0, 150.0), (640.0, 150.0), (420.0, 150.0), (1800.0, 320.0))
WORDS = ("primary", "secondary side", "stray", "heat sink of the drive", "isolator", "lead", "chassis", "screen", "T1")


def measure(text: str, face: str) -> float:
    return len(text) * {"strong": 7.6, "small": 6.4, "tiny": 6.0}[face]


def drawn(case: Case, size: tuple[float, float] = SIZES[0], *, f_hz: float = 1.2e6, candidate: int = 0) -> DrawingSpec:
    view = View(cursor_hz=f_hz, candidate=candidate, subject=("candidate", candidate))
    return Drafter(measure).draw(case, Desk().readings(case, f_hz), view, size)


def opened(path: Path) -> Case:
    return parse_case(path.read_text(encoding="utf-8"), path.name)


def made_up(seed: int) -> Case:
    """Return a case with up to four regions, a dozen branches, and a little of everything."""
    chance = random.Random(seed)
    others = tuple(f"{chance.choice(WORDS)} {k}" for k in range(chance.randint(0, 2)))
    pair = Pair(a="region of the input", b="output", others=others)
    nodes = ("region of the input", "output", *others, "earth")

    def ends(*, across: float = 0.5) -> tuple[str, str]:
        if chance.random() < across:
            return nodes[0], nodes[1]
        first, second = chance.sample(nodes, 2)
        return first, second

    def parts(most: int) -> tuple[object, ...]:
        return tuple(chance.choice((*PARTS.values(), Y_CAPACITOR)) for _ in range(chance.randint(1, most)))

    def name(kind: str, k: int) -> str:
        return f"{kind} {' '.join(chance.sample(WORDS, chance.randint(0, 2)))} {k}".replace("  ", " ")

    wave = Trapezoid(frequency_hz=1e5, duty=0.5, rise_s=1e-8, fall_s=1e-8)
    return Case(
        pair=pair,
        transformers=tuple(
            Transformer(name=name("T", k), between=ends(across=0.8), interwinding_capacitance_f=3e-11)
            for k in range(chance.randint(0, 2))
        ),
        couplings=tuple(
            Coupling(name=name("stray", k), between=ends(across=0.3), parts=(Capacitor(capacitance_f=1e-12),))
            for k in range(chance.randint(0, 7))
        ),
        cables=tuple(
            Cable(name=name("lead", k), region=chance.choice(nodes[:-1]), length_m=1.0, diameter_m=5e-3)
            for k in range(chance.randint(0, 3))
        ),
        candidates=(
            Candidate(
                name="one",
                branches=tuple(
                    Branch(between=ends(across=0.9), parts=parts(3))  # type: ignore[arg-type]
                    for _ in range(chance.randint(0, 12))
                ),
            ),
        ),
        sources=tuple(
            ReturnCurrent(name=name("ripple", k), between=ends(across=0.5), amplitude_a=0.1, wave=wave)
            for k in range(chance.randint(0, 4))
        ),
    )


RANDOM = [made_up(seed) for seed in range(14)]
ALL = [*(opened(path) for path in CASES), *RANDOM]
NAMES = [*(path.stem for path in CASES), *(f"random {seed}" for seed in range(14))]
