"""Reports as text, Markdown, HTML and CSV: whole, escaped, and what is to be hidden is gone."""

from __future__ import annotations

import csv
import io
from html.parser import HTMLParser

import pytest

from core.errors import BackToBackError, NotFoundError
from core.report import Block, Bullets, Chart, Column, Facts, Heading, Paragraph, Report, Table
from core.report.hiding import hidden, secrets_of
from core.report.html import as_html, print_size
from core.report.markdown import as_markdown
from core.report.pictures import Bar, Dot, Picture, PictureRow
from core.report.reports import FORMS, REPORTS, made_report, written
from core.report.svg import as_svg
from core.report.table_csv import as_csv
from core.session import Book
from tests.tui.season import HOSTILE

ABOUT = {
    "session": ("S05",), "comparison": ("S03", "S08"), "season": (), "shelf": (), "part": ("63T",),
    "due": ("moth",), "plan": ("rockers=Stock 1.0", "rocker ratio=1.0", "moth"), "blank": (),
}  # fmt: skip
VOID = {"meta", "br", "path", "circle"}


class Tree(HTMLParser):
    """Reads a page strictly: every element that opens closes, in order."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[str] = []
        self.words: list[str] = []
        self.loads: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self.loads += [v or "" for k, v in attrs if k in ("src", "href", "srcset", "onclick")]
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        if tag not in VOID:
            assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def read(page: str) -> Tree:
    """Return a page as it was read."""
    tree = Tree()
    tree.feed(page)
    tree.close()
    assert tree.open == []
    return tree


@pytest.fixture(scope="module")
def hostile() -> Report:
    """A report whose every text is hostile."""
    columns = (Column(HOSTILE[0]), Column(HOSTILE[1], right=True))
    picture = Picture(
        tuple(
            PictureRow(text, "main", text, (Dot(7.0, "odd", (1,)),), Bar(7.0, 6.0, 8.0), text)
            for text in HOSTILE
        ),
        "s",
        2,
    )
    mean = "<script>alert(1)</script> | `x` & </svg></table>"
    blocks: list[Block] = [Heading(mean), Bullets((*HOSTILE, mean)), Chart(mean, picture)]
    blocks += [Paragraph(t) for t in (*HOSTILE, mean)]
    return Report(mean, (*blocks, Facts(((mean, mean),)), Table(columns, ((mean, HOSTILE[7]),))))


@pytest.mark.parametrize("name", REPORTS)
@pytest.mark.parametrize("form", FORMS)
def test_every_report_in_every_form(season: Book, name: str, form: str) -> None:
    text = written(made_report(season, name, ABOUT[name]), form)
    assert text.endswith("\n") or form == "html"
    assert "None" not in text
    assert "nan" not in text.split()
    if form == "html":
        tree = read(text)
        assert tree.loads == []
        assert "script" not in tree.tags
    if form == "csv":
        rows = list(csv.reader(io.StringIO(text)))
        assert len({len(row) for row in rows}) == 1


def test_what_the_text_says_every_form_says(season: Book) -> None:
    report = made_report(season, "session", ("S05",))
    said = "S05:B is 0.96 s slower than S05:A"
    assert said in " ".join(written(report, "text").split())
    assert said in " ".join(read(as_html(report)).words)
    assert said.replace("_", "\\_") in as_markdown(report)
    assert said in as_csv(report)


def test_a_session_is_drawn_once_and_counts_every_attempt(season: Book) -> None:
    tree = read(as_html(made_report(season, "session", ("S07",))))
    assert tree.tags.count("svg") == 1
    assert tree.tags.count("circle") == 8  # nine attempts, of which one is off the scale


def test_hostile_text_is_text_in_html(hostile: Report) -> None:
    tree = read(as_html(hostile))
    assert "script" not in tree.tags
    assert "b" not in tree.tags
    assert "alert(1)" in " ".join(tree.words)
    assert not [c for c in as_html(hostile) if c < " " and c != "\n"]


def test_hostile_text_is_text_in_markdown(hostile: Report) -> None:
    page = as_markdown(hostile)
    assert "<script" not in page.replace("\\<script", "")
    assert "\x1b" not in page
    table = [line for line in page.splitlines() if line.startswith("| ")]
    bars = {line.replace("\\|", "").count("|") for line in table}
    assert bars <= {3, 5}


def test_hostile_cells_are_no_formula_in_csv(hostile: Report) -> None:
    cells = [cell for row in csv.reader(io.StringIO(as_csv(hostile))) for cell in row]
    assert not [c for c in cells if c[:1] in ("=", "+", "@") or c.startswith("-2")]


def test_an_svg_of_nothing_is_nothing() -> None:
    assert as_svg(Picture((), "s", 2), "x") == ""


@pytest.mark.parametrize("name", ["session", "comparison", "season", "blank", "plan"])
def test_hidden_means_gone(season: Book, name: str) -> None:
    names = ["R1", "H1", "Vennimoor", "Quillowmere", "owner, by phone", "county hospital"]
    plain = written(made_report(season, name, ABOUT[name]), "html")
    assert name != "session" or all(n in plain for n in ("R1", "H1", "Vennimoor", "county"))
    for form in FORMS:
        text = written(made_report(season, name, ABOUT[name], hide=True), form)
        assert not [n for n in names if n in text]


def test_names_in_notes_coordinates_and_numbers_go_as_well(season: Book) -> None:
    secrets = secrets_of(season)
    note = (
        "at VENNIMOOR  strip with r1, 47.12345, 8.54321; 47° 22' 10\" N 8° 32' 5\" E, call "
        "+41 44 123 45 67, 7.26 s at 6,500 rpm on 66T"
    )
    (bullets,) = hidden(Report("", (Bullets((note,)),)), secrets).blocks
    assert isinstance(bullets, Bullets)
    (clean,) = bullets.items
    assert not [
        w for w in ("VENNIMOOR", "r1,", "47.1", "8.54", "47°", "8°", "123 45") if w in clean
    ]
    assert clean.endswith("7.26 s at 6,500 rpm on 66T")


def test_print_is_smaller_the_more_there_is_and_never_too_small() -> None:
    lines = [Report("", (Bullets(("x",) * n),)) for n in (10, 300, 5000)]
    sizes = [print_size(report) for report in lines]
    assert sizes == sorted(sizes, reverse=True)
    assert sizes[0] == 8.0
    assert sizes[-1] == 4.2


@pytest.mark.parametrize(
    ("name", "words", "says"),
    [
        ("wish", (), "There is no report"),
        ("session", (), "Which session"),
        ("session", ("S99",), "There is no session"),
        ("comparison", ("S03",), "Which two"),
        ("part", ("unicorn",), "Which part"),
        ("season", ("moth", "80m"), "ran no test"),
        ("plan", ("moth",), "What is to be changed"),
        ("plan", ("wings=2",), "No slot"),
        ("plan", ("rockers=Thistle 1.25", "moth"), "changes nothing"),
    ],
)
def test_what_cannot_be_written_is_a_sentence(
    season: Book, name: str, words: tuple[str, ...], says: str
) -> None:
    with pytest.raises(BackToBackError, match=says):
        made_report(season, name, words)
    with pytest.raises(NotFoundError, match="Nothing is written as"):
        written(Report("", ()), "docx")
