"""The working behind verdicts: equation with numbers, what was assumed, source, caution."""

from __future__ import annotations

from collections.abc import Iterator

from app.present.answers import question
from app.present.numbers import signed_db
from app.report.blocks import Block, Bullets, Cell, Grid, Heading, Paragraph
from app.report.matter import Matter
from models.decide.verdict import Verdict

_WORDS = {"pass": "pass", "fail": "fail", "not-applicable": "not applicable"}


def working(matter: Matter, *kinds: str) -> Iterator[Block]:
    """Yield the working of every requirement of some kinds, and then what all of them rest on."""
    if not matter.case.candidates:
        return
    for index, verdicts in matter.verdicts_on(kinds):
        yield Heading(text=question(matter.case.requirements[index]))
        note = matter.case.requirements[index].note
        if note:
            yield Paragraph(text=note)
        yield _table(matter, verdicts, question(matter.case.requirements[index]))
        yield from _grounds(matter, verdicts)


def _table(matter: Matter, verdicts: tuple[Verdict, ...], asked: str) -> Grid:
    rows = zip(matter.case.candidates, verdicts, strict=True)
    return Grid(
        caption=f"{asked}: every candidate",
        head=("Candidate", "Verdict", "Working"),
        rows=tuple(
            (Cell(text=candidate.name), Cell(text=_verdict_text(each), outcome=each.outcome), Cell(text=_why(each)))
            for candidate, each in rows
        ),
        wide=True,
    )


def _verdict_text(verdict: Verdict) -> str:
    word = _WORDS[verdict.outcome]
    return word if verdict.margin_db is None else f"{word}, {signed_db(verdict.margin_db)}"


def _why(verdict: Verdict) -> str:
    return f"{verdict.why}\n{verdict.equation}" if verdict.equation else verdict.why


def _grounds(matter: Matter, verdicts: tuple[Verdict, ...]) -> Iterator[Block]:
    """Yield assumptions, those of some candidates alone with their names, then sources and cautions."""
    assumed = dict.fromkeys(text for each in verdicts for text in each.assumed)
    items = [f"{text}{_whose(matter, verdicts, text)}" for text in assumed]
    sources = dict.fromkeys(each.source for each in verdicts if each.source)
    items += [f"Source: {text}." if not text.endswith(".") else f"Source: {text}" for text in sources]
    if items:
        yield Bullets(items=tuple(items))
    for text in dict.fromkeys(each.caution for each in verdicts if each.caution):
        yield Paragraph(text=text, role="caution")


def _whose(matter: Matter, verdicts: tuple[Verdict, ...], text: str) -> str:
    owners = [c.name for c, each in zip(matter.case.candidates, verdicts, strict=True) if text in each.assumed]
    return "" if len(owners) == len(verdicts) else f" ({', '.join(owners)})"
