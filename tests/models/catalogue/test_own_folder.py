"""A person's own folder: it adds, it survives, and what is broken in it stops nothing."""

from __future__ import annotations

from pathlib import Path

import pytest

from models.catalogue.folder import own_folder
from models.catalogue.shelf import catalogue, shipped
from tests.models.catalogue.conftest import Put

GOOD = """isthmus_catalogue = 1
family = "bead"
[[entry]]
id = "bead-bench-drawer"
title = "Bead from the drawer"
kind = "bead"
cells = [ { resistance = "700 ohm", inductance = "1.39 uH" } ]
"""


@pytest.mark.parametrize(
    ("environment", "platform", "expected"),
    [
        ({"ISTHMUS_CATALOGUE": "/x/y", "XDG_DATA_HOME": "/d"}, "linux", "/x/y"),
        ({"XDG_DATA_HOME": "/d", "HOME": "/h"}, "linux", "/d/isthmus/catalogue"),
        ({"HOME": "/h"}, "linux", "/h/.local/share/isthmus/catalogue"),
        ({"HOME": "/h"}, "darwin", "/h/Library/Application Support/isthmus/catalogue"),
        ({"APPDATA": "/a", "USERPROFILE": "/u"}, "win32", "/a/isthmus/catalogue"),
        ({"USERPROFILE": "/u"}, "win32", "/u/AppData/Roaming/isthmus/catalogue"),
    ],
)
def test_where_it_lies(environment: dict[str, str], platform: str, expected: str) -> None:
    assert own_folder(environment, platform) == Path(expected)


def test_it_lies_outside_the_program() -> None:
    import models

    program = Path(models.__file__).parent.parent
    assert program not in own_folder({"HOME": str(Path.home())}, "linux").parents


def test_own_entries_stand_beside_the_shipped_ones(put: Put) -> None:
    put("mine.toml", GOOD)
    shelf = catalogue()
    assert shelf.entries["bead-bench-drawer"].own
    assert not shelf.entries["bead-0603-600r-signal"].own
    assert shelf.messages == ()


def test_a_folder_that_is_not_there_is_no_trouble(tmp_path: Path) -> None:
    assert len(catalogue(tmp_path / "none").entries) == sum(len(file.entries) for file in shipped())


def test_a_changed_file_is_read_again(put: Put) -> None:
    put("mine.toml", GOOD)
    assert catalogue().entries["bead-bench-drawer"].title == "Bead from the drawer"
    put("mine.toml", GOOD.replace("the drawer", "another drawer"))
    assert catalogue().entries["bead-bench-drawer"].title == "Bead from another drawer"


def test_what_did_not_change_is_not_read_again(put: Put) -> None:
    put("mine.toml", GOOD)
    assert catalogue() is catalogue()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("isthmus_catalogue = 1\n[[entry", "broken TOML"),
        ('title = "x"', "isthmus_catalogue missing; accepted: isthmus_catalogue = 1"),
        (GOOD.replace("= 1", "= 2"), "isthmus_catalogue = 2"),
        (GOOD.replace("= 1", "= true"), "isthmus_catalogue = true"),
        (GOOD.replace('"700 ohm"', '"700 V"'), 'entry[0].cells[0].resistance: found "700 V"'),
        (GOOD.replace("cells", "sells"), "entry[0].sells: found an unknown key"),
        (GOOD.replace('kind = "bead"', 'kind = "catalogue"'), "entry[0].kind"),
        (GOOD.replace('"bead-bench-drawer"', '"Bench Drawer"'), "small letters"),
        (GOOD.replace('id = "bead-bench-drawer"', ""), "entry[0].id: found nothing"),
        (GOOD.replace("[[entry]]", "[entry]"), "entries, each under [[entry]]"),
        (GOOD + "\n[further]\nx = 1", "further: found an unknown key"),
        ("isthmus_catalogue = 1\nentry = [1]", "found 1; accepted: a table"),
        ("x = " + "[" * 100_000, "file: found"),
    ],
)
def test_a_broken_file_is_one_message_and_blocks_nothing(put: Put, text: str, says: str) -> None:
    put("good.toml", GOOD.replace("bead-bench-drawer", "bead-other"))
    path = put("broken.toml", text)
    shelf = catalogue()
    assert len(shelf.messages) == 1
    assert str(path) in shelf.messages[0]
    assert says in shelf.messages[0]
    assert "\n" not in shelf.messages[0]
    assert "bead-other" in shelf.entries
    assert "bead-0603-600r-signal" in shelf.entries


def test_bytes_that_are_no_text_are_one_message(put: Put, tmp_path: Path) -> None:
    (tmp_path / "noise.toml").write_bytes(bytes(range(256)))
    assert "not UTF-8" in catalogue(tmp_path).messages[0]


def test_good_entries_of_a_file_with_a_broken_one_are_kept(put: Put) -> None:
    put("mixed.toml", GOOD + '[[entry]]\nid = "x"\ntitle = "x"\nkind = "resistor"\n[[entry]]\nid = "y"\n')
    shelf = catalogue()
    assert "bead-bench-drawer" in shelf.entries
    assert "x" not in shelf.entries
    assert "and 2 more" in shelf.messages[0]


def test_an_own_entry_takes_the_place_of_a_shipped_one_and_says_so(put: Put) -> None:
    put("mine.toml", GOOD.replace("bead-bench-drawer", "bead-0603-600r-signal"))
    shelf = catalogue()
    assert shelf.entries["bead-0603-600r-signal"].own
    assert "takes the place of that of the shipped catalogue" in shelf.messages[0]
