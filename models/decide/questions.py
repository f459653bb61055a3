"""What the guided start asks: each question with the answers that it takes."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from attrs import frozen

from models.decide.presets import presets


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


def refuse_unknown(answers: Answers) -> None:
    """Refuse what no question asks or takes.

    Raises
    ------
    ValueError
        an answer that the question does not have, or several where one is asked for
    """
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
