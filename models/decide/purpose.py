"""The guided start: why are the grounds separate? Each answer adds a requirement with its reason, or is no reason.

Estimates for design, not a certification: see `verdict.SAFETY_CAUTION`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from attrs import frozen

from models.case.document import Case
from models.case.requirement import Requirement
from models.decide.insulation_judge import hopeless
from models.decide.presets import Preset, preset_of, requirement_from
from models.decide.questions import Answers, refuse_unknown

APART = ("blocks-dc", "separation", "withstand", "touch-current", "loop-current")
"""Kinds of requirement that are a reason to keep regions apart: continuous copper meets none of them."""
COPPER = (
    "Nothing here asks for a separation: join the regions with continuous copper. It has the least impedance at every "
    "frequency, so that it lets the least voltage stand between them, and a gap would only lengthen the way of every "
    "return current that has to cross."
)
NO_ISOLATION = (
    "No candidate can isolate the pair as it is fed: a converter with one ground terminal, or one that is not "
    "isolated, joins the regions itself. Take an isolated converter, or give up the separation."
)


@frozen(kw_only=True)
class Reasoned:
    """A requirement that an answer led to.

    Attributes
    ----------
    requirement : with a sensible default
    reason : why, in a sentence
    field : the key of the requirement that changes it most
    """

    requirement: Requirement
    reason: str
    field: str


@frozen(kw_only=True)
class Purpose:
    """What came of the answers.

    Attributes
    ----------
    reasoned : requirements with their reasons
    recommendation : continuous copper and why, where no reason for a separation is left; else empty
    warnings : what stands against what is wanted
    """

    reasoned: tuple[Reasoned, ...]
    recommendation: str
    warnings: tuple[str, ...]

    @property
    def requirements(self) -> tuple[Requirement, ...]:
        """The requirements alone, ready for a case."""
        return tuple(each.requirement for each in self.reasoned)


_WITHSTAND_V: Mapping[str, float] = MappingProxyType({"reinforced": 4000.0, "basic": 2000.0})
_DEFAULT_PRODUCT = "household-class-ii"


def purpose(answers: Answers, case: Case | None = None) -> Purpose:
    """Turn answers into requirements, each with its reason.

    Parameters
    ----------
    answers : question → chosen keys, see `questions.QUESTIONS`
    case : where there is one, it is asked whether any candidate could isolate its pair

    Returns
    -------
    Purpose

    Raises
    ------
    ValueError
        an answer that the question does not have, or several where one is asked for
    """
    refuse_unknown(answers)
    found = tuple(_reasoned(answers))
    kinds = {each.requirement.kind for each in found}
    apart = not kinds.isdisjoint(APART)
    return Purpose(
        reasoned=found,
        recommendation="" if apart else COPPER,
        warnings=tuple(_warnings(answers, case)) if apart else (),
    )


def _reasoned(answers: Answers) -> Iterator[Reasoned]:
    apart, across = answers.get("apart", ()), answers.get("across", ())
    regions = (*answers.get("first", ()), *answers.get("second", ()))
    touch = _touch(answers)
    if "safety" in apart or ("mains" in regions and touch != "nobody"):
        yield from _safety(answers, touch)
    if "dc" in apart:
        yield Reasoned(
            requirement=Requirement(kind="blocks-dc"),
            reason="Direct current must not get across, and takes any way that conducts.",
            field="kind",
        )
    if "loop" in apart:
        yield Reasoned(
            requirement=Requirement(kind="loop-current", limit=10e-3),
            reason="The current of a ground loop takes any way that conducts. An offset of the earths drives it: give "
            "it as a source.",
            field="limit",
        )
    if "surge" in apart:
        yield from _surge(safety="safety" in apart)
    yield from _noise(regions) if "noise" in apart else ()
    yield from _crossing(set(across))


def _touch(answers: Answers) -> str:
    """Return who touches what the mains could reach: until it is answered a person, where mains may get across."""
    regions = (answers.get("first", ()), answers.get("second", ()))
    across = ("mains",) in regions and regions[0] != regions[1]
    usual = "person" if across or "safety" in answers.get("apart", ()) else "nobody"
    return next(iter(answers.get("touch", ())), usual)


def _safety(answers: Answers, touch: str) -> Iterator[Reasoned]:
    grade = "basic" if touch == "earthed" else "reinforced"
    why = (
        "what is touched is earthed, so basic insulation and the earth protect together"
        if touch == "earthed"
        else "only this barrier stands between the mains and a person"
    )
    yield Reasoned(
        requirement=Requirement(kind="separation", insulation=grade),
        reason=f"A person must be safe, and {why}.",
        field="insulation",
    )
    yield Reasoned(
        requirement=Requirement(kind="withstand", limit=_WITHSTAND_V[grade], insulation=grade),
        reason=f"The barrier has to stand surges of the mains; {_WITHSTAND_V[grade] / 1e3:g} kV is usual for {grade} "
        "insulation at 230 V.",
        field="limit",
    )
    if touch != "nobody":
        preset = _product(answers)
        until = "" if answers.get("product") else "; taken until the kind of product is answered"
        named = f"{_lowered(preset.title)}, {preset.standard}{until}"
        yield Reasoned(
            requirement=requirement_from(preset),
            reason=f"What is touched passes a current through the person: {named}.",
            field="limit",
        )


def _lowered(title: str) -> str:
    """Return a title within a sentence: its first letter small, names such as class II as they are."""
    return title if title[1:2].isupper() else title[:1].lower() + title[1:]


def _product(answers: Answers) -> Preset:
    preset = preset_of(next(iter(answers.get("product", ())), _DEFAULT_PRODUCT))
    assert preset is not None
    return preset


def _surge(*, safety: bool) -> Iterator[Reasoned]:
    if not safety:
        yield Reasoned(
            requirement=Requirement(kind="withstand", limit=1500.0, insulation="functional"),
            reason="Surge or a discharge must not get across; 1.5 kV is usual for functional insulation.",
            field="limit",
        )
    yield Reasoned(
        requirement=Requirement(kind="static-bleed", limit=1.0),
        reason="A discharge leaves a charge on a region that floats; it has to go before the next one comes.",
        field="limit",
    )


def _noise(regions: tuple[str, ...]) -> Iterator[Reasoned]:
    yield Reasoned(
        requirement=Requirement(kind="common-mode-voltage", limit=0.1 if "analogue" in regions else 1.0),
        reason="Switching noise must not move one region against the other; what the signals there can bear decides.",
        field="limit",
    )


def _crossing(across: set[str]) -> Iterator[Reasoned]:
    if {"signals", "noise-return"} & across:
        what = "A single-ended signal" if "signals" in across else "Noise current"
        yield Reasoned(
            requirement=Requirement(kind="return-impedance", limit=1.0, band_hz=(1e6, 100e6)),
            reason=f"{what} needs a way back over the pair, or it finds a longer one and radiates.",
            field="limit",
        )
    if "load" in across:
        yield Reasoned(
            requirement=Requirement(kind="dc-drop", limit=0.01),
            reason="The load current of a converter comes back over the pair, and its drop adds to every signal.",
            field="limit",
        )


def _warnings(answers: Answers, case: Case | None) -> Iterator[str]:
    if "common" in answers.get("feed", ()) or "load" in answers.get("across", ()):
        yield NO_ISOLATION
    elif case is not None and (text := hopeless(case)) is not None:
        yield text
    if "signals" in answers.get("across", ()):
        yield "A single-ended signal joins the regions through its driver and receiver: it has to cross an isolator."
