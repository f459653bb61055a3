"""Unsaved work kept beside the file, so that a kill or a power cut costs seconds, not the day."""

from __future__ import annotations

import json
import os
import sys
from pathlib import Path

from attrs import frozen

from app.state.files import write_whole
from models.case.document import Case
from models.case.read import parse_case
from models.case.write import case_text
from models.errors import IsthmusError

_SUFFIX = ".unsaved.json"


@frozen(kw_only=True)
class Unsaved:
    """Work that a program left unsaved: its case, the file that it belongs to, and where it was kept."""

    case: Case
    text: str | None
    """The text that the case was opened from, for its comments."""
    path: Path | None
    kept: Path


class Keeper:
    """Keeps the unsaved work of one window in a file of its own."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._file = folder / f"{os.getpid()}-{id(self):x}{_SUFFIX}"

    def keep(self, case: Case, text: str | None, path: Path | None) -> None:
        """Write the present work, whole or not at all; a folder that cannot be written is no reason to stop.

        The text that it was opened from goes with it, so that a recovered case keeps its comments.
        """
        record = {
            "process": os.getpid(),
            "path": None if path is None else str(path.resolve()),
            "case": case_text(case),
            "text": text,
        }
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            write_whole(self._file, json.dumps(record, ensure_ascii=False))
        except OSError:
            return

    def clear(self) -> None:
        """Forget the work: it is saved, or was given up."""
        self._file.unlink(missing_ok=True)


def left_behind(folder: Path) -> tuple[Unsaved, ...]:
    """Return the work that programs which no longer run left unsaved, newest first; what they half wrote goes."""
    for half in folder.glob(f".*{_SUFFIX}.*.new"):
        process = half.name[1:].partition("-")[0]
        if process.isdecimal() and not _runs(int(process)):
            half.unlink(missing_ok=True)
    files = sorted(folder.glob(f"*{_SUFFIX}"), key=lambda each: each.stat().st_mtime, reverse=True)
    found = (_read(each) for each in files)
    return tuple(each for each in found if each is not None)


def _read(file: Path) -> Unsaved | None:
    """Return what a file keeps, None where its program still runs or it keeps nothing that can be read."""
    try:
        record = json.loads(file.read_text(encoding="utf-8"))
        if _runs(int(record["process"])):
            return None
        path = None if record["path"] is None else Path(record["path"])
        return Unsaved(
            case=parse_case(record["case"], file.name, folder=Path() if path is None else path.parent),
            text=record["text"],
            path=path,
            kept=file,
        )
    except (OSError, ValueError, LookupError, TypeError, OverflowError, RecursionError, IsthmusError):
        return None


def _runs(process: int) -> bool:
    """Return whether a process runs; one that belongs to somebody else does."""
    if sys.platform == "win32":
        import ctypes

        handle = ctypes.windll.kernel32.OpenProcess(0x1000, 0, process)  # PROCESS_QUERY_LIMITED_INFORMATION
        return bool(handle) and bool(ctypes.windll.kernel32.CloseHandle(handle))
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    return True
