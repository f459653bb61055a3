"""What becomes of what is printed: readers that leave, streams that are closed or full, encodings that lack signs."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from app.cli.output import interrupts_held
from models.assets import DEMO_CASE
from tests.files.cases.bad import GOOD

RUN = (sys.executable, "-c", "from app.cli.main import run; run()")
posix = pytest.mark.skipif(os.name != "posix", reason="needs a shell")


def shell(line: str, *arguments: object) -> subprocess.CompletedProcess[str]:
    """Run a line of bash in which "$@" is the program with its arguments."""
    return subprocess.run(
        ["bash", "-c", line, "bash", *RUN, *map(str, arguments)], capture_output=True, text=True, check=False
    )


@posix
@pytest.mark.parametrize("command", ["evaluate", "size", "parts", "manual", "evaluate --json"])
def test_a_reader_that_leaves_has_what_was_asked_for(command: str) -> None:
    name, *options = command.split()
    case = () if name in ("parts", "manual") else (DEMO_CASE,)
    done = shell('"$@" | true; exit ${PIPESTATUS[0]}', name, *case, *options)
    assert (done.returncode, done.stderr) == (0, "")


@posix
@pytest.mark.parametrize("limit", ["1 A", "0.01 mA"])
def test_check_judges_though_nobody_reads(limit: str, tmp_path: Path) -> None:
    path = tmp_path / "case.toml"
    path.write_text(GOOD.replace("0.25 mA", limit).replace("1 ohm", "1 Gohm"), encoding="utf-8")
    met = shell('"$@"', "check", path).returncode
    assert met == (0 if limit == "1 A" else 1)
    assert shell('"$@" | true; exit ${PIPESTATUS[0]}', "check", path).returncode == met


@posix
@pytest.mark.parametrize("command", ["parts", "manual", "keys"])
def test_closed_streams_are_no_trouble(command: str) -> None:
    for redirection in (">&-", "2>&-", "<&-"):
        done = shell(f'"$@" {redirection}', command)
        assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="needs a device that is always full")
def test_a_full_disk_is_one_line() -> None:
    done = shell('"$@" > /dev/full', "manual")
    assert done.returncode == 2
    (line,) = done.stderr.splitlines()
    assert line.startswith("isthmus: standard output: found No space left on device; accepted: ")
    assert shell('"$@" 2> /dev/full', "evaluate", "missing.toml").returncode == 2


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "cp437"])
def test_an_encoding_without_some_signs_gets_others(encoding: str, tmp_path: Path) -> None:
    path = tmp_path / "case.toml"
    path.write_text(GOOD.replace("right", "Ω 漢"), encoding="utf-8")
    environment = {**os.environ, "PYTHONIOENCODING": encoding}
    table, plain = (
        subprocess.run([*RUN, "evaluate", str(path), *more], capture_output=True, check=True, env=environment).stdout
        for more in ((), ("--json",))
    )
    assert ("Ω ?" if encoding == "cp437" else "ohm ?") in table.decode(encoding)
    assert json.loads(plain.decode(encoding))["case"]["title"] == "Ω 漢"


def test_an_interrupt_waits_until_it_breaks_nothing() -> None:
    done: list[str] = []
    before = signal.getsignal(signal.SIGINT)

    def load() -> None:
        with interrupts_held():
            signal.raise_signal(signal.SIGINT)
            done.append("loaded")

    with pytest.raises(KeyboardInterrupt):
        load()
    assert done == ["loaded"]
    assert signal.getsignal(signal.SIGINT) is before
