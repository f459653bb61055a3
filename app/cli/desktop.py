"""`isthmus desktop`: the program in the menu, its icon, its files opened by a click, its manual page."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import click

from app.cli.completion import completion_text
from app.cli.manual import manual_page
from models.assets import ASSETS
from models.errors import IsthmusError

_REFRESH = (("update-mime-database", "mime"), ("update-desktop-database", "applications"))


class DesktopError(IsthmusError):
    """A desktop that has no such entries, or a folder that cannot be written."""


@click.command(short_help="Put isthmus into the menu of a Linux desktop.")
@click.option("--remove", is_flag=True, help="Take them away again.")
@click.option("--to", "folder", type=click.Path(path_type=Path), help="Another data folder, such as /usr/local/share.")
def desktop(remove: bool, folder: Path | None) -> None:
    """Put isthmus into the menu of a Linux desktop, with its icon, file type, manual page and completion."""
    share = folder or _data_folder()
    entries = {share / name: text for name, text in _entries().items()}
    try:
        for path, text in entries.items():
            if remove:
                path.unlink(missing_ok=True)
            else:
                path.parent.mkdir(parents=True, exist_ok=True)
                path.write_text(text, encoding="utf-8")
            print(path)
    except OSError as error:
        raise DesktopError(f"{share}: found {error.strerror}; accepted: a folder that can be written") from None
    _refresh(share)


def _data_folder() -> Path:
    """Return the person's own data folder.

    Raises
    ------
    DesktopError
        on systems whose menus are made otherwise
    """
    if sys.platform in ("win32", "darwin"):
        raise DesktopError(f"desktop: found {sys.platform}; accepted: Linux; elsewhere choose isthmus under Open with")
    return Path(os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share")


def _entries() -> dict[str, str]:
    entry = (ASSETS / "desktop" / "isthmus.desktop").read_text(encoding="utf-8")
    return {
        "applications/isthmus.desktop": entry.format(program=_quoted(_program())),
        "icons/hicolor/scalable/apps/isthmus.svg": (ASSETS / "icons" / "isthmus.svg").read_text(encoding="utf-8"),
        "mime/packages/isthmus.xml": (ASSETS / "desktop" / "isthmus.xml").read_text(encoding="utf-8"),
        "man/man1/isthmus.1": manual_page() + "\n",
        "bash-completion/completions/isthmus": completion_text("bash"),
    }


def _program() -> str:
    """Return the program that is running, as a menu can start it from anywhere."""
    if getattr(sys, "frozen", False):
        return sys.executable
    beside = Path(sys.executable).with_name("isthmus")
    return str(beside) if beside.exists() else shutil.which("isthmus") or "isthmus"


def _quoted(program: str) -> str:
    """Return a path as the desktop entry's key Exec has it."""
    if not set(program) & set(" \t\"'\\><~|&;$*?#()`%"):
        return program
    marked = "".join(f"\\{sign}" if sign in '"`$\\' else sign for sign in program)
    return '"' + marked.replace("\\", "\\\\").replace("%", "%%") + '"'


def _refresh(share: Path) -> None:
    """Tell the desktop, where its own programs for that are there."""
    for program, name in _REFRESH:
        if shutil.which(program) and (share / name).is_dir():
            subprocess.run([program, str(share / name)], check=False, capture_output=True)
