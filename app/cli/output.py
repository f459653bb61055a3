"""What commands print, whoever reads: a terminal, a code page without Ω, a pipe whose reader leaves early."""

from __future__ import annotations

import codecs
import io
import json
import os
import signal
import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from types import FrameType, MappingProxyType

_SIGNS = (
    'Ω=ohm µ=u °=deg ∞=inf −=- ·=* ×=x ±=+/- ²=^2 ω=w π=pi δ=delta √=sqrt Σ=sum ∥=|| ≤=<= ≥=>= ≈=~ “=" ”=" ’=\' …=... '
    "–=- →=-> ✓=ok ✗=no ▲=^"
)
_STAND_INS: Mapping[str, str] = MappingProxyType({each[0]: each[2:] for each in _SIGNS.split(" ")})
"""How a sign is written where the encoding has none such."""


def prepare_streams() -> None:
    """Make standard output and error take any text: where one is closed, and where its encoding lacks a sign."""
    codecs.register_error("stand-in", _stand_in)
    sys.stdout = sys.stdout or _nowhere()
    sys.stderr = sys.stderr or _nowhere()
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="stand-in")


def say(text: str) -> None:
    """Print one line on standard error, whatever a file name or a key has in it."""
    line = "".join(sign if sign.isprintable() else sign.encode("unicode_escape").decode("ascii") for sign in text)
    with suppress(OSError):
        print(f"isthmus: {line}", file=sys.stderr)


def print_json(plain: object) -> None:
    """Print one JSON object, with escapes where the encoding might not have its signs."""
    print(json_text(plain))


def json_text(plain: object) -> str:
    """Return one JSON object as standard output can hold it."""
    unicode = (getattr(sys.stdout, "encoding", None) or "utf-8").lower().startswith("utf")
    return json.dumps(plain, ensure_ascii=not unicode, allow_nan=False)


@contextmanager
def reader_may_leave() -> Iterator[None]:
    """Print inside; where the reader of standard output leaves early, what is still to come goes nowhere."""
    try:
        yield
        sys.stdout.flush()
    except BrokenPipeError:
        let_go_of_output()


def let_go_of_output() -> None:
    """Send what is still to be written nowhere, so that the end of the program does not fail over it."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


@contextmanager
def interrupts_held() -> Iterator[None]:
    """Let Ctrl-C wait until something is loaded that it would break."""
    came: list[int] = []

    def note(number: int, _: FrameType | None) -> None:
        came.append(number)

    before = signal.signal(signal.SIGINT, note)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
    if came:
        raise KeyboardInterrupt


def _nowhere() -> io.TextIOWrapper:
    return open(os.devnull, "w", encoding="utf-8")


def _stand_in(error: UnicodeError) -> tuple[str, int]:
    """Return how the signs that an encoding lacks are written in it, and where to go on."""
    if not isinstance(error, UnicodeEncodeError):
        raise error
    return "".join(_STAND_INS.get(sign, "?") for sign in error.object[error.start : error.end]), error.end
