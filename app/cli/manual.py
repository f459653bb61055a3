"""`isthmus manual`: the manual page, made from the same help that the commands print."""

from __future__ import annotations

import re
from collections.abc import Iterator

import click

_CAUTION = (
    "Every number is an estimate for design decisions, not a certification. Where mains, insulation, medical use or "
    "discharge are concerned, the current edition of the applicable standard and local codes decide, and licensed or "
    "qualified people check safety insulation and protective parts."
)


@click.command(short_help="Print the manual page.")
def manual() -> None:
    """Print the manual page; to read it at once: isthmus manual | man -l -."""
    print(manual_page())


def manual_page() -> str:
    """Return the manual page of all commands, for man."""
    from app.cli.main import commands
    from app.present.origin import version

    top = click.Context(commands, info_name="isthmus")
    names = commands.list_commands(top)
    lines = [
        f'.TH ISTHMUS 1 "" "Isthmus {version()}" "User Commands"',
        ".SH NAME",
        r"isthmus \- explore what should join two ground regions, from DC to a gigahertz",
        ".SH SYNOPSIS",
        r".B isthmus",
        r"[\fICASE\fR] | \fICOMMAND\fR [\fIOPTIONS\fR] [\fIARGUMENTS\fR]",
        ".SH DESCRIPTION",
        *_prose(commands.help or ""),
        ".SH COMMANDS",
        *(line for name in names for line in _command(top, commands, name)),
        ".SH EXIT STATUS",
        *_terms(
            {
                "0": "done",
                "1": "a requirement is not met (check only)",
                "2": "bad usage or bad input",
                "130": "stopped by Ctrl-C",
            }
        ),
        ".SH ENVIRONMENT",
        *_terms(
            {
                "ISTHMUS_CATALOGUE": "another folder for parts of your own",
                "ISTHMUS_LIMITS": "another folder for limit lines of your own",
            }
        ),
        ".SH CAUTION",
        *_prose(_CAUTION),
    ]
    return "\n".join(lines)


def _command(top: click.Context, group: click.Group, name: str) -> Iterator[str]:
    command = group.get_command(top, name)
    if command is None or command.hidden:
        return
    context = click.Context(command, info_name=name, parent=top)
    usage = " ".join(command.collect_usage_pieces(context))
    yield ".SS " + _escaped(f"isthmus {'' if name == 'window' else name + ' '}{usage}")
    yield from _prose(command.help or "")
    records = (each.get_help_record(context) for each in command.get_params(context) if isinstance(each, click.Option))
    yield from _terms({record[0]: record[1] for record in records if record is not None})


def _terms(meanings: dict[str, str]) -> Iterator[str]:
    for term, meaning in meanings.items():
        yield ".TP"
        yield rf"\fB{_escaped(term)}\fR"
        yield _escaped(meaning) or "."


def _prose(text: str) -> Iterator[str]:
    for number, paragraph in enumerate(each for each in re.split(r"\n\s*\n", text.strip()) if each.strip()):
        if number:
            yield ".PP"
        yield _escaped(" ".join(paragraph.split()))


def _escaped(text: str) -> str:
    """Return text as man shows it to the letter."""
    plain = text.replace("\\", r"\e").replace("-", r"\-")
    return rf"\&{plain}" if plain.startswith((".", "'")) else plain
