"""Reports of every shipped case: written without a screen, opened again, the same bytes for the same input."""

from __future__ import annotations

import re
import unicodedata
from base64 import b64decode
from datetime import date
from html.parser import HTMLParser
from pathlib import Path

import pytest

from app.present.origin import fingerprint, version
from app.report.content import document
from app.report.figures import text_width
from app.report.options import SECTIONS, Options, ReportError
from app.report.write import report_bytes, write_report
from models.assets import CASES, DEMO_CASE
from models.case.read import load_case, parse_case
from tests.app.report.pdf_text import Pdf

DAY = date(2026, 3, 4)
SHIPPED = sorted(CASES.glob("*.toml"))
SMALL = Options(date=DAY, sections=("impedance", "case"))
VOID = {"meta", "br", "path", "rect", "polyline", "circle", "ellipse", "line", "polygon", "link"}


class Page(HTMLParser):
    """HTML read strictly: every element closed in its turn."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.seen: list[tuple[str, dict[str, str | None]]] = []
        self.words: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open, f"</{tag}> closes nothing"
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open and self.open[-1] != "style":
            self.words.append(data)

    def of(self, tag: str) -> list[dict[str, str | None]]:
        return [attrs for name, attrs in self.seen if name == tag]

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.words).split())


def squeezed(text: str) -> str:
    return "".join(unicodedata.normalize("NFKC", text).split())


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_every_shipped_case_as_pdf(path: Path, tmp_path: Path) -> None:
    case = load_case(path)
    target = tmp_path / "report.pdf"
    write_report(case, target, Options(date=DAY, case_text=path.read_text(encoding="utf-8")))
    found = Pdf(target.read_bytes())
    assert found.raw.startswith(b"%PDF-1.")
    assert found.pages() >= 5
    assert found.pictures() == 0, "vector throughout"
    assert found.fonts() <= {"Inter-Regular", "Inter-SemiBold", "Inter-Bold", "Inter-Medium", "DejaVuSans"}
    assert found.embedded() == len(found.fonts())
    text = found.text()
    assert "�" not in text
    for wanted in (case.title, *(each.name for each in case.candidates), "2026-03-04", fingerprint(case), version()):
        # a sign from another font stands in a run of its own
        assert squeezed(wanted) in squeezed(text)
    assert "not a certification" in text
    assert "1 MHz" in text
    assert found.attached() == {"case.toml": path.read_bytes()}
    assert list(tmp_path.iterdir()) == [target]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_every_shipped_case_as_html(path: Path) -> None:
    case = load_case(path)
    page = Page(report_bytes(case, ".html", Options(date=DAY)).decode())
    assert page.open == []
    assert page.of("html")[0]["lang"] == "en"
    assert [len(page.of(tag)) for tag in ("h1", "main", "nav", "footer")] == [1, 1, 1, 1]
    assert len(page.of("figure")) == len(page.of("svg"))
    titles = {str(each["aria-labelledby"]) for each in page.of("svg")}
    assert titles <= {str(each.get("id")) for each in page.of("title")}
    assert all(each["role"] == "img" for each in page.of("svg"))
    assert len(page.of("caption")) == len(page.of("table"))
    assert all(each.get("scope") in ("col", "row") for each in page.of("th"))
    ids = [str(attrs["id"]) for _, attrs in page.seen if "id" in attrs]
    assert len(ids) == len(set(ids))
    *inside, own = (str(each["href"]) for each in page.of("a"))
    assert {each.removeprefix("#") for each in inside} <= set(ids)
    assert parse_case(b64decode(own.partition("base64,")[2]).decode()) == case
    assert case.title in page.text
    assert "not a certification" in page.text
    assert "fail:" in page.text, "an outcome is a word too"
    assert not page.of("script")
    outside = [attrs for _, attrs in page.seen if not str(attrs.get("href", "#")).startswith(("#", "data:"))]
    assert not outside, "self-contained"
    assert not any("src" in attrs for _, attrs in page.seen), "self-contained"


@pytest.mark.parametrize("ending", [".pdf", ".html"])
def test_same_input_same_bytes_but_for_the_date(ending: str) -> None:
    case = load_case(DEMO_CASE)
    first = report_bytes(case, ending, SMALL)
    assert report_bytes(case, ending, SMALL) == first
    other = report_bytes(case, ending, Options(date=date(2026, 3, 5), sections=SMALL.sections))
    assert other != first
    if ending == ".html":
        assert other.replace(b"2026-03-05", b"2026-03-04") == first


def test_a_figure_is_in_the_file_once() -> None:
    case = load_case(DEMO_CASE)
    options = Options(date=DAY, sections=("drawing", "impedance"))
    drawings = [each for each in document(case, options, text_width()).figures if each.alt.startswith("Section")]
    text = Pdf(report_bytes(case, ".pdf", options)).text()
    assert text.count("stray of the sensor lead") == len(drawings)


def test_chosen_sections_title_and_notes() -> None:
    case = load_case(DEMO_CASE)
    options = Options(date=DAY, title="Review of March", notes="First.\n\nSecond <b>one</b>.", sections=("sizing",))
    page = Page(report_bytes(case, ".html", options).decode())
    assert [each["id"] for each in page.of("section")] == ["answer", "sizing"]
    assert "Review of March" in page.text
    assert "Second <b>one</b>." in page.text
    text = Pdf(report_bytes(case, ".pdf", options)).text()
    assert "Review of March" in text
    assert "Second <b>one</b>." in text
    assert "Conducted" not in text


def test_who_answers_for_it_stands_under_the_title_and_in_the_file() -> None:
    case = load_case(DEMO_CASE)
    options = Options(date=DAY, author="Lab 3, <EMC>", sections=("sizing",))
    page = Page(report_bytes(case, ".html", options).decode())
    assert "2026-03-04 · Lab 3, <EMC>" in page.text
    assert {"name": "author", "content": "Lab 3, <EMC>"} in page.of("meta")
    found = Pdf(report_bytes(case, ".pdf", options))
    assert "Lab 3, <EMC>" in found.text()
    assert "Lab 3, <EMC>".encode("utf-16-be") in found.raw
    assert found.attached() == {}, "without the section on the case there is none of it"


def test_headings_of_a_pdf_are_its_outline_and_lead_to_their_places() -> None:
    case = load_case(DEMO_CASE)
    options = Options(date=DAY, sections=("drawing", "impedance", "case"))
    raw = report_bytes(case, ".pdf", options)
    found = Pdf(raw)
    catalog = next(body for body in found.objects.values() if b"/Type /Catalog" in body)
    assert b"/Lang (en)" in catalog
    titles = [section.title for section in document(case, options, text_width()).sections[1:]]
    items = [body for body in found.objects.values() if b"/Parent" in body and b"/Title" in body]
    codes = [str(re.findall(r"/Title <([0-9a-f]+)>", each.decode())[0]) for each in items]
    said = [bytes.fromhex(each).decode("utf-16").replace("\u00a0", " ") for each in codes]
    assert said == [case.title, *titles]
    places = [re.findall(rb"/Dest \[(\d+) 0 R /XYZ 0 (\d+) null\]", each)[0] for each in items]
    assert all(b"/Type /Page\n" in found.objects[int(page)] for page, _ in places)
    assert 700 < int(places[0][1]) < 842
    assert places[1][0] != places[0][0]
    assert int(places[1][1]) > int(places[2][1]), "the impedance stands below the drawings"
    start = int(re.findall(rb"startxref\s+(\d+)", raw)[-1])
    assert raw[start:].startswith(b"xref\n")
    for number, at in re.findall(rb"(\d+) 1\n(\d{10}) 00000 n", raw[start:]):
        assert raw[int(at) :].startswith(number + b" 0 obj")


def test_every_page_says_what_it_is_a_page_of() -> None:
    case = load_case(DEMO_CASE)
    found = Pdf(report_bytes(case, ".pdf", Options(date=DAY, title="T" * 200, sections=("impedance",))))
    assert found.pages() == found.text().count("T... · Isthmus") > 1


def test_what_the_case_has_nothing_for_is_left_out() -> None:
    sensor = load_case(CASES / "sensor-board.toml")
    keys = [each.key for each in document(sensor, Options(date=DAY), text_width()).sections]
    assert keys[0] == "answer"
    assert not set(keys) & {"conducted", "radiated", "touch-current", "separation", "sizing"}
    earthed = load_case(CASES / "earthed-or-floating.toml")
    assert {"conducted", "radiated"} <= {
        each.key for each in document(earthed, Options(date=DAY), text_width()).sections
    }


def test_bare_cases_have_a_report_too() -> None:
    bare = 'isthmus = 1\n[pair]\na = "<x>"\nb = "y & z"\n'
    link = '[[coupling]]\nname = "k"\nbetween = ["<x>", "y & z"]\nparts = [ { kind = "resistor", resistance = 1 } ]\n'
    open_pair = '[[candidate]]\nname = "Nothing"\n'
    for text in (bare + link, bare + link + open_pair):
        case = parse_case(text)
        page = Page(report_bytes(case, ".html", Options(date=DAY)).decode())
        assert "<x> to y & z" in page.text
        assert Pdf(report_bytes(case, ".pdf", Options(date=DAY))).pages() >= 1


def test_the_case_in_the_appendix_is_the_case() -> None:
    case = load_case(DEMO_CASE)
    page = report_bytes(case, ".html", SMALL).decode()
    start = page.index('aria-label="Case file">') + len('aria-label="Case file">')
    from html import unescape

    assert parse_case(unescape(page[start : page.index("</pre>", start)])) == case


def test_wrong_wishes_are_refused_in_a_sentence(tmp_path: Path) -> None:
    case = load_case(DEMO_CASE)
    with pytest.raises(ReportError, match=r"\.pdf or \.html"):
        write_report(case, tmp_path / "report.docx")
    with pytest.raises(ReportError, match="impedance, common-mode"):
        Options(sections=("everything",))
    with pytest.raises(ReportError, match="No such file"):
        write_report(case, tmp_path / "nowhere" / "report.html", SMALL)
    assert list(tmp_path.iterdir()) == []
    assert set(SECTIONS) >= {"drawing", "case"}
