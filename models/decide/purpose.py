"""The guided start: why are the grounds separate? Each answer adds a requirement with its reason, or is no reason.

Estimates for design, not a certification: see `verdict.SAFETY_CAUTION`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

from attrs import frozen

from models.case.document import Case
from models.case.requirement import Requirement
from models.decide.insulation import hopeless
from models.decide.presets import Preset, preset_of, presets, requirement_from

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
class Choice:
    """One possible answer."""

    key: str
    text: str


@frozen(kw_only=True)
class Question:
    """One question of the guided start.

    Attributes
    ----------
    key : name of the answer
    text : the question
    choices : what can be answered
    several : whether more than one may be chosen
    """

    key: str
    text: str
    choices: tuple[Choice, ...]
    several: bool = False


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


Answers = Mapping[str, tuple[str, ...]]
"""Question → keys of the chosen answers; a question that is left out is not answered."""


def _question(key: str, text: str, choices: Mapping[str, str], *, several: bool = False) -> Question:
    return Question(
        key=key,
        text=text,
        several=several,
        choices=tuple(Choice(key=name, text=each) for name, each in choices.items()),
    )


_REGION: Mapping[str, str] = MappingProxyType(
    {
        "mains": "joined to the mains",
        "touchable": "an output or a housing that a person touches",
        "digital": "digital ground of a board",
        "analogue": "quiet ground of small signals",
        "power": "ground of a converter or a motor",
        "chassis": "chassis or shield",
        "battery": "a device on its battery",
    }
)

QUESTIONS: tuple[Question, ...] = (
    _question("first", "What is the first region?", _REGION),
    _question("second", "What is the second region?", _REGION),
    _question(
        "apart",
        "What must not get across?",
        {
            "safety": "mains, so that a person is safe",
            "dc": "direct current",
            "loop": "current of a ground loop at mains frequency",
            "noise": "switching noise",
            "surge": "surge or electrostatic discharge",
        },
        several=True,
    ),
    _question(
        "across",
        "What must get across?",
        {
            "signals": "single-ended signals, whose return needs a way back",
            "isolated-signals": "signals through isolators",
            "load": "the load current of a converter",
            "noise-return": "noise current, back to where it comes from",
        },
        several=True,
    ),
    _question(
        "feed",
        "What feeds the second region?",
        {
            "isolated": "an isolated converter",
            "common": "a converter with one ground terminal, or not isolated",
            "own": "its own battery or supply",
        },
    ),
    _question(
        "touch",
        "Who can touch what the mains could reach?",
        {"nobody": "nobody", "person": "anyone", "earthed": "anyone, but it is earthed"},
    ),
    Question(
        key="product",
        text="What kind of product is it?",
        choices=tuple(Choice(key=each.id, text=each.title) for each in presets()),
    ),
)

_WITHSTAND_V: Mapping[str, float] = MappingProxyType({"reinforced": 4000.0, "basic": 2000.0})
_DEFAULT_PRODUCT = "household-class-ii"


def purpose(answers: Answers, case: Case | None = None) -> Purpose:
    """Turn answers into requirements, each with its reason.

    Parameters
    ----------
    answers : question → chosen keys, see `QUESTIONS`
    case : where there is one, it is asked whether any candidate could isolate its pair

    Returns
    -------
    Purpose

    Raises
    ------
    ValueError
        an answer that the question does not have, or several where one is asked for
    """
    _check(answers)
    found = tuple(_reasoned(answers))
    kinds = {each.requirement.kind for each in found}
    apart = bool(kinds & {"blocks-dc", "separation", "withstand", "touch-current", "loop-current"})
    return Purpose(
        reasoned=found,
        recommendation="" if apart else COPPER,
        warnings=tuple(_warnings(answers, case)) if apart else (),
    )


def _check(answers: Answers) -> None:
    known = {each.key: each for each in QUESTIONS}
    for key, chosen in answers.items():
        if key not in known:
            raise ValueError(f'no question "{key}"; there are {", ".join(known)}')
        question = known[key]
        keys = [choice.key for choice in question.choices]
        wrong = [each for each in chosen if each not in keys]
        if wrong:
            raise ValueError(f'"{wrong[0]}" answers nothing of "{question.text}"; accepted: {", ".join(keys)}')
        if len(chosen) > 1 and not question.several:
            raise ValueError(f'{len(chosen)} answers to "{question.text}"; accepted: one')


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
