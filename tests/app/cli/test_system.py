"""What makes a program of it: version, manual page, completion, desktop entries."""

from __future__ import annotations

import configparser
import re
import xml.etree.ElementTree as ET
from pathlib import Path

import click
import pytest

from app.cli.desktop import _quoted
from app.cli.main import commands, main
from app.cli.manual import manual_page
from app.present.origin import version


def test_the_version_is_that_of_the_package(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert capsys.readouterr().out.strip() == f"isthmus, version {version()}"
    assert re.fullmatch(r"\d+\.\d+\.\d+.*", version())


def test_the_manual_has_every_command_and_option(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["manual"]) == 0
    page = capsys.readouterr().out
    assert page == manual_page() + "\n"
    plain = page.replace("\\-", "-")
    top = click.Context(commands, info_name="isthmus")
    for name in commands.list_commands(top):
        command = commands.get_command(top, name)
        assert command is not None
        assert f".SS isthmus {'' if name == 'window' else name}".rstrip() in plain
        for each in command.params:
            if isinstance(each, click.Option):
                assert max(each.opts, key=len) in plain
    assert "not a certification" in plain


def test_a_slip_in_the_name_of_a_command_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    for arguments in (["evalute"], ["evalute", "case.toml"], ["evalute", "--json"]):
        assert main(arguments) == 2
        (line,) = capsys.readouterr().err.splitlines()
        assert line.startswith(
            'isthmus: found "evalute", neither a command nor a file; accepted: a case file, or one of'
        )
        assert "evaluate" in line


def test_the_list_of_commands_says_each_in_a_whole_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--help"]) == 0
    text = capsys.readouterr().out
    assert "..." not in text.partition("Commands:")[2]


def test_what_is_missing_is_one_line(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["export", "case.toml"]) == 2
    said = capsys.readouterr().err
    assert said.startswith("isthmus: Missing option '--what'. Choose from: impedance, transfer,")
    assert said.count("\n") == 1
    assert "\\" not in said


def test_the_manual_hides_no_line_from_man() -> None:
    known = (".TH", ".SH", ".SS", ".TP", ".PP", ".B")
    for line in manual_page().splitlines():
        assert line, "an empty line is none in man"
        assert not line.startswith("'")
        assert not line.startswith(".") or line.split()[0] in known
        assert not re.search(r"(?<!\\)-", line) or line.startswith((".TH", ".B"))


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_every_shell_has_its_script(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", shell]) == 0
    assert "_ISTHMUS_COMPLETE" in capsys.readouterr().out


def completed(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], words: str, at: int) -> list[str]:
    monkeypatch.setenv("COMP_WORDS", words)
    monkeypatch.setenv("COMP_CWORD", str(at))
    monkeypatch.setenv("_ISTHMUS_COMPLETE", "bash_complete")
    with pytest.raises(SystemExit):
        commands.main([], prog_name="isthmus")
    return capsys.readouterr().out.splitlines()


def test_words_are_completed(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    first = completed(monkeypatch, capsys, "isthmus ev", 1)
    assert first == ["plain,evaluate", "file,ev"]
    assert "plain,--resume" in completed(monkeypatch, capsys, "isthmus sweep --re", 2)
    assert completed(monkeypatch, capsys, "isthmus fit --kind b", 3) == ["plain,bead"]
    assert completed(monkeypatch, capsys, "isthmus check ", 2) == ["file,"]


def test_the_desktop_learns_the_program_and_forgets_it(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    share = tmp_path / "share"
    assert main(["desktop", "--to", str(share)]) == 0
    written = [Path(line) for line in capsys.readouterr().out.splitlines()]
    assert len(written) == 5
    assert all(path.is_relative_to(share) and path.stat().st_size for path in written)
    entry = configparser.ConfigParser(interpolation=None)
    entry.optionxform = str  # type: ignore[assignment,method-assign]
    entry.read(share / "applications" / "isthmus.desktop", encoding="utf-8")
    keys = entry["Desktop Entry"]
    assert keys["Exec"].endswith("isthmus %f")
    assert keys["Icon"] == "isthmus"
    kind = ET.parse(share / "mime" / "packages" / "isthmus.xml").getroot()[0]
    assert kind.get("type") == keys["MimeType"].rstrip(";")
    picture = ET.parse(share / "icons" / "hicolor" / "scalable" / "apps" / "isthmus.svg").getroot()
    assert picture.get("viewBox") == "0 0 128 128"
    assert main(["desktop", "--to", str(share), "--remove"]) == 0
    assert not any(path.exists() for path in written)


@pytest.mark.parametrize(
    ("program", "quoted"),
    [
        ("/usr/bin/isthmus", "/usr/bin/isthmus"),
        ("/home/a b/isthmus", '"/home/a b/isthmus"'),
        ("/x/100%/isthmus", '"/x/100%%/isthmus"'),
        ('/x/"y"/isthmus', '"/x/\\\\"y\\\\"/isthmus"'),
    ],
)
def test_odd_paths_are_quoted_as_a_desktop_entry_wants(program: str, quoted: str) -> None:
    assert _quoted(program) == quoted


def test_a_closed_folder_is_said_in_a_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "share").write_text("a file")
    assert main(["desktop", "--to", str(tmp_path / "share")]) == 2
    assert "accepted: a folder that can be written" in capsys.readouterr().err
