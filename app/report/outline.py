"""What Qt leaves out of a PDF: its headings as an outline, its language, its title in the bar of the window.

They are added behind the file, as ISO 32000-1, 7.5.6 has it: objects that are new or take the place of old ones, a
table of where these stand, and a trailer that leads back to the one before.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from attrs import frozen

_TRAILER = re.compile(rb"trailer\s*<<\s*/Size (\d+)\s+(.*?)>>\s*startxref\s+(\d+)\s+%%EOF\s*\Z", re.DOTALL)
_KIDS = re.compile(rb"/Kids\s*\[(.*?)\]", re.DOTALL)


@frozen(kw_only=True)
class Place:
    """A heading: its text, its page counted from 0, and how far above the foot of the page it stands, points."""

    text: str
    page: int
    above_pt: float


def with_outline(raw: bytes, places: Sequence[Place]) -> bytes:
    """Return a PDF with its headings as an outline, and its language named; as it is where Qt writes another sort."""
    trailer = _TRAILER.search(raw)
    if trailer is None:
        return raw
    size, rest, before = int(trailer[1]), trailer[2], int(trailer[3])
    root = _number(rest, b"Root")
    catalog = _object(raw, root)
    kids = _KIDS.search(_object(raw, _number(catalog, b"Pages")))
    assert kids is not None
    pages = [int(number) for number in re.findall(rb"(\d+) 0 R", kids[1])]
    view = b"/Lang (en)\n/ViewerPreferences << /DisplayDocTitle true >>\n/PageMode /UseOutlines\n"
    added = {root: catalog.rstrip().removesuffix(b">>") + view + b"/Outlines %d 0 R\n>>" % size}
    added |= dict(enumerate(_items(places, pages, size), start=size))
    return raw + _appended(added, len(raw), b"%b/Prev %d\n" % (rest, before))


def _number(text: bytes, key: bytes) -> int:
    """Return the number of the object that a key of a dictionary points to."""
    match = re.search(rb"/%b (\d+) 0 R" % key, text)
    assert match is not None
    return int(match[1])


def _object(raw: bytes, number: int) -> bytes:
    match = re.search(rb"(?:^|\n)%d 0 obj\s*(.*?)\s*endobj" % number, raw, re.DOTALL)
    assert match is not None
    return match[1]


def _items(places: Sequence[Place], pages: Sequence[int], first: int) -> list[bytes]:
    """Return the outline and its items, numbered from one on: each leads to its heading and to its neighbours."""
    last = first + len(places)
    items = [b"<< /Type /Outlines /First %d 0 R /Last %d 0 R /Count %d >>" % (first + 1, last, len(places))]
    for number, place in enumerate(places, start=first + 1):
        beside = b"/Prev %d 0 R " % (number - 1) if number > first + 1 else b""
        beside += b"/Next %d 0 R " % (number + 1) if number < last else b""
        title = ("\ufeff" + place.text).encode("utf-16-be").hex().encode()
        where = b"[%d 0 R /XYZ 0 %d null]" % (pages[place.page], round(place.above_pt))
        items.append(b"<< /Title <%b> /Parent %d 0 R %b/Dest %b >>" % (title, first, beside, where))
    return items


def _appended(added: dict[int, bytes], start: int, trailer: bytes) -> bytes:
    """Return objects with the table of where they stand in the file, of which this is the end."""
    out, table = b"", b"xref\n"
    for number, body in sorted(added.items()):
        table += b"%d 1\n%010d 00000 n \n" % (number, start + len(out))
        out += b"%d 0 obj\n%b\nendobj\n" % (number, body)
    size = max(added) + 1
    return out + table + b"trailer\n<<\n/Size %d\n%b>>\nstartxref\n%d\n%%%%EOF\n" % (size, trailer, start + len(out))
