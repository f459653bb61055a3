from pathlib import Path

import pytest

from models.catalogue.read import read_catalogue_file
from models.errors import CaseError
from models.outcomes.limits import read_limit_file
from models.toml_text import LARGEST_BYTES, parse_tables, read_text

WRONG = {
    "a = 1" + "0" * 5000: "thousands of digits",
    "a" + ".a" * 3000 + " = 1": "dots on line 1",
    "a = " + "[" * 40_000: "a TOML text",
    "a = ": "broken TOML",
}


@pytest.mark.parametrize("text", WRONG, ids=WRONG.values())
def test_refuses_in_one_message(text: str) -> None:
    with pytest.raises(CaseError, match=WRONG[text]) as refused:
        parse_tables(text, "made-up")
    assert len(refused.value.problems) == 1


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
