"""Which values of the case can be worked out from geometry; the estimates themselves are loaded when one is. No Qt."""

from __future__ import annotations

from collections.abc import Iterator

from attrs import frozen

from models.case.document import Case
from models.codec import KeyPath
from models.declare import get_path, keys_of
from models.parts.capacitor import Capacitor
from models.parts.copper import Copper
from models.parts.inductor import Inductor
from models.parts.part import Part
from models.parts.resistor import Resistor

_OF_PARTS: tuple[tuple[type[Part], str], ...] = (
    (Capacitor, "capacitance"),
    (Copper, "inductance"),
    (Copper, "resistance"),
    (Inductor, "inductance"),
    (Resistor, "inductance"),
)


@frozen(kw_only=True)
class Target:
    """A value of the case that an estimate can stand for."""

    path: KeyPath
    key: str
    of: tuple[str, ...]
    """Names of what has it, from the outside in."""

    @property
    def words(self) -> str:
        """The key as a person reads it."""
        return self.key.replace("_", " ")


def targets(case: Case) -> tuple[Target, ...]:
    """Return every value of the case that an estimate can stand for: what couples first, then the bridges."""
    return (*_of_transformers(case), *_of_couplings(case), *_of_candidates(case))


def _of_transformers(case: Case) -> Iterator[Target]:
    for index, each in enumerate(case.transformers):
        for key in ("interwinding_capacitance", "driven_fraction"):
            path = keys_of(type(each))[key].path
            yield Target(path=("transformers", index, *path), key=key, of=(each.name,))


def _of_couplings(case: Case) -> Iterator[Target]:
    for index, coupling in enumerate(case.couplings):
        yield from _of_parts(case, ("couplings", index), (coupling.name,))


def _of_candidates(case: Case) -> Iterator[Target]:
    """Yield what the copper of bridges has; their capacitors are parts that are bought, not strays."""
    for index, candidate in enumerate(case.candidates):
        for number in range(len(candidate.branches)):
            where = (candidate.name, f"branch {number + 1}")
            found = _of_parts(case, ("candidates", index, "branches", number), where)
            yield from (each for each in found if each.key != "capacitance")


def _of_parts(case: Case, path: KeyPath, names: tuple[str, ...]) -> Iterator[Target]:
    parts = get_path(case, (*path, "parts"))
    for place, part in enumerate(parts):
        for of, key in _OF_PARTS:
            # copper given by its geometry has its values from there
            if isinstance(part, of) and getattr(part, "length_m", None) is None:
                where = names if len(parts) == 1 else (*names, f"{part.kind} {place + 1}")
                yield Target(path=(*path, "parts", place, *keys_of(of)[key].path), key=key, of=where)
