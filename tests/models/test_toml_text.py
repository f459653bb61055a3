from pathlib import Path

import pytest

from models.catalogue.read import read_catalogue_file
from models.errors import CaseError
from models.limits import read_limit_file
from models.toml_text import LARGEST_BYTES, parse_tables, read_text

WRONG = {
    "a = 1" + "0" * 5000: "thousands of digits",
    "a" + ".a" * 3000 + " = 1": "dots on line 1",
    "a = 1\n" + "\n".join(f"{'b.' * 1900}c{number} = 1" for number in range(1000)): "dots on line 3",
    "a = " + "[" * 40_000: "a TOML text",
    "a = ": "broken TOML",
}


@pytest.mark.parametrize("text", WRONG, ids=WRONG.values())
def test_refuses_in_one_message(text: str) -> None:
    with pytest.raises(CaseError, match=WRONG[text]) as refused:
        parse_tables(text, "made-up")
    assert len(refused.value.problems) == 1


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (
            "\nlimit = 0.25 mA\n",
            "line 2, file: found broken TOML: more text after the value at column 14; .*quotes",
        ),
        ("c = 2n2\n", "line 1, file: found broken TOML: more text after the value at column 6"),
        ("p = { c = 2.2 nF }\n", "neither a comma nor } in a table at column 15; .*in quotes"),
        ("p = [1 2]\n", "neither a comma nor ] in a list"),
        ("duty = .5\n", "something that is no value at column 8; accepted: a number such as 0.5"),
        ('a = "x\n', "a text without its closing quote"),
        ("a = 'x", "a text without its closing quote at the end of the file"),
        (r'f = "C:\data\z.s1p"', r"a \\ in a text at column 10; accepted: / in the name of a file"),
        ("a = 1\na = 2\n", "line 2, file: .*a key or table that stands there already"),
        ("[p]\n[p]\n", "line 2, file: .*a key or table that stands there already"),
        ("a = { b = 1, b = 2 }", "a key or table that stands there already"),
        ("Dear all,\n", "a line that TOML does not have"),
        ("[[p]\n", "a table whose name does not end"),
        ('a = "\x01"\n', r"broken TOML: Illegal character .* at column 6; accepted: a TOML text"),
    ],
)
def test_broken_toml_is_told_in_plain_words(text: str, says: str) -> None:
    with pytest.raises(CaseError, match=says):
        parse_tables(text, "made-up")


@pytest.mark.parametrize("text", WRONG, ids=WRONG.values())
def test_a_broken_file_of_one_s_own_is_a_message(text: str, tmp_path: Path) -> None:
    path = tmp_path / "own.toml"
    path.write_text(text)
    assert WRONG[text] in (read_catalogue_file(path).message or "")
    assert WRONG[text] in (read_limit_file(path).message or "")


def test_a_file_names_what_it_should_be(tmp_path: Path) -> None:
    huge = tmp_path / "huge.toml"
    huge.write_bytes(b"#" * (LARGEST_BYTES + 1))
    with pytest.raises(CaseError, match="more than 4 MB; accepted: a limit file"):
        read_text(huge, "limit file")
    with pytest.raises(CaseError, match="accepted: a lesson that can be read"):
        read_text(tmp_path / "none.toml", "lesson")
