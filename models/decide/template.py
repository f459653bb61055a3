"""The capacitor that is being sized: the branch it stands in, and what stands beside it."""

from __future__ import annotations

from attrs import evolve, field, frozen

from models.case.document import Branch, Candidate, Case
from models.parts.capacitor import Capacitor
from models.parts.part import Part


@frozen(kw_only=True)
class Template:
    """A branch across the pair whose one capacitor takes any value; the rest of the branch stays as it is.

    Attributes
    ----------
    origin : the candidate it comes from, None for an ideal capacitor
    parts, place : the branch's parts in series, and which of them is the capacitor
    beside : further branches that stay
    """

    origin: str | None = None
    parts: tuple[Part, ...] = field(factory=lambda: (Capacitor(capacitance_f=1e-9),))
    place: int = 0
    beside: tuple[Branch, ...] = ()

    @property
    def tolerance(self) -> float:
        """Tolerance of the capacitor."""
        return self.parts[self.place].rating.tolerance

    @property
    def text(self) -> str:
        """What is sized, in words."""
        if self.origin is None:
            return "An ideal capacitor is sized: no candidate has one whose leads and tolerance could be taken."
        more = ", with its other branches" if self.beside else ""
        return f'The capacitor of "{self.origin}" is sized, with its leads, loss and tolerance{more}.'

    @property
    def stated_inductance_h(self) -> float:
        """Sum of every stated inductance of the branch, H."""
        return sum(float(getattr(part, key)) for part in self.parts if (key := _inductance_key(part)) is not None)

    def candidate(self, capacitance_f: float) -> Candidate:
        """Return the candidate with a capacitance in F; 0 stands for the capacitor left out."""
        if capacitance_f <= 0.0:
            return Candidate(name="without the capacitor", branches=self.beside)
        part = self.parts[self.place]
        assert isinstance(part, Capacitor)
        sized = evolve(part, capacitance_f=capacitance_f / part.count)
        parts = (*self.parts[: self.place], sized, *self.parts[self.place + 1 :])
        return Candidate(name="sized capacitor", branches=(Branch(parts=parts), *self.beside))

    def with_less_inductance(self, factor: float) -> Template:
        """Return the template with every stated inductance of the branch multiplied."""
        return evolve(self, parts=tuple(_less_inductance(part, factor) for part in self.parts))


def _inductance_key(part: Part) -> str | None:
    return next((name for name in ("esl_h", "inductance_h") if isinstance(getattr(part, name, None), float)), None)


def _less_inductance(part: Part, factor: float) -> Part:
    key = _inductance_key(part)
    return part if key is None else evolve(part, **{key: getattr(part, key) * factor})  # type: ignore[misc]


def template_of(case: Case, name: str | None = None) -> Template:
    """Return the template that a case offers.

    Without a name: the first branch across the pair with exactly one capacitor, one with a Y class before any other,
    alone; other branches of its candidate are left out. With a name: that candidate, its other branches kept. An ideal
    capacitor where there is none.

    Parameters
    ----------
    case : the case
    name : of a candidate

    Raises
    ------
    ValueError
        the named candidate has no branch across the pair with exactly one capacitor
    """
    found = [
        (candidate, number, branch)
        for candidate in case.candidates
        if name in (None, candidate.name)
        for number, branch in enumerate(candidate.branches)
        if case.is_across(branch) and sum(part.blocks_dc() for part in branch.parts) == 1 and _place(branch) is not None
    ]
    if not found:
        if name is not None:
            raise ValueError(f'"{name}" has no branch across the pair with exactly one capacitor')
        return Template()
    candidate, number, branch = next((each for each in found if _classed(each[2])), found[0])
    others = () if name is None else (*candidate.branches[:number], *candidate.branches[number + 1 :])
    return Template(origin=candidate.name, parts=branch.parts, place=_place(branch) or 0, beside=others)


def _place(branch: Branch) -> int | None:
    return next((place for place, part in enumerate(branch.parts) if isinstance(part, Capacitor)), None)


def _classed(branch: Branch) -> bool:
    return any((part.rating.safety_class or "").startswith("Y") for part in branch.parts)
