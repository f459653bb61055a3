"""A small reader of PDF as Qt writes it: pages, text as a person can copy it, fonts, pictures."""

from __future__ import annotations

import re
import unicodedata
import zlib
from collections.abc import Iterator

_OBJECT = re.compile(rb"(\d+) 0 obj\n(.*?)endobj", re.DOTALL)
_STREAM = re.compile(rb"stream\r?\n(.*)\r?\nendstream", re.DOTALL)
_SHOWN = re.compile(rb"/(F\d+) [\d.]+ Tf|<([0-9A-Fa-f]+)> ?Tj")


class Pdf:
    """A file taken apart."""

    def __init__(self, raw: bytes) -> None:
        self.raw = raw
        self.objects = {int(match[1]): match[2] for match in _OBJECT.finditer(raw)}

    def pages(self) -> int:
        return sum(bool(re.search(rb"/Type */Page\b", body)) for body in self.objects.values())

    def pictures(self) -> int:
        return sum(b"/Subtype /Image" in body for body in self.objects.values())

    def fonts(self) -> set[str]:
        found = (re.search(rb"/FontName /(?:[A-Z]{6}\+)?([\w-]+)", body) for body in self.objects.values())
        return {match[1].decode() for match in found if match}

    def embedded(self) -> int:
        return sum(b"/FontFile" in body for body in self.objects.values())

    def attached(self) -> dict[str, bytes]:
        """Return the files inside by their names."""
        found = {}
        for body in self.objects.values():
            match = re.search(rb"/F \(\xfe\xff(.*?)\)\n/EF <</F (\d+) 0 R>>", body, re.DOTALL)
            if match:
                found[match[1].decode("utf-16-be")] = self._stream(self.objects[int(match[2])])
        return found

    def text(self) -> str:
        """Return all text, through the tables that copying goes through."""
        tables = {name: self._table(number) for name, number in self._font_names().items()}
        return " ".join(run for body in self.objects.values() for run in _runs(self._stream(body), tables))

    def _font_names(self) -> dict[str, int]:
        return {match[1].decode(): int(match[2]) for match in re.finditer(rb"/(F\d+) (\d+) 0 R", self.raw)}

    def _table(self, font: int) -> dict[int, str]:
        match = re.search(rb"/ToUnicode (\d+) 0 R", self.objects[font])
        assert match, "a font without a way back to text"
        table: dict[int, str] = {}
        text = self._stream(self.objects[int(match[1])]).decode("latin-1")
        for block in re.findall(r"beginbfrange(.*?)endbfrange", text, re.DOTALL):
            for first, last, what in re.findall(r"<(\w+)> *<(\w+)> *(<\w+>|\[[^\]]*\])", block):
                targets = re.findall(r"<(\w+)>", what)
                for glyph in range(int(first, 16), int(last, 16) + 1):
                    step = glyph - int(first, 16)
                    code = targets[step] if what[0] == "[" else f"{int(targets[0], 16) + step:04x}"
                    table[glyph] = bytes.fromhex(code).decode("utf-16-be", "replace")
        return table

    def _stream(self, body: bytes) -> bytes:
        match = _STREAM.search(body)
        if match is None:
            return b""
        return zlib.decompress(match[1]) if b"FlateDecode" in body else match[1]


def _runs(stream: bytes, tables: dict[str, dict[int, str]]) -> Iterator[str]:
    for block in re.findall(rb"BT\n(.*?)\nET", stream, re.DOTALL):
        table: dict[int, str] = {}
        run = ""
        for font, shown in _SHOWN.findall(block):
            table = tables[font.decode()] if font else table
            glyphs = bytes.fromhex(shown.decode())
            run += "".join(table.get(int.from_bytes(glyphs[at : at + 2]), "�") for at in range(0, len(glyphs), 2))
        # a font has one glyph for space and tab, and one for the Greek letter and the sign of the ohm
        yield unicodedata.normalize("NFKC", run.replace("\t", " "))
