"""The typeset book, read back from its PDF: every number of every table, tags, links, captions, margins, the same bytes twice."""

from __future__ import annotations

import io
import json
import re
import shutil
import subprocess
from collections import Counter
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from conftest import ROOT
from made_once import made_once
from pypdf import PdfReader

from generators import tables
from generators.cli import main
from generators.paper import NoBook, book, typeset
from generators.paper.maths import broken
from generators.table import Table, TextTable

MM = 72 / 25.4
SIZES = {"a4": (210, 297), "letter": (215.9, 279.4), "pocket": (105, 148)}
MARGINS = {"a4": (12, 8), "letter": (12, 8), "pocket": (6, 3)}  # mm that stay empty: left and right, above the head and under the foot
# A4 in the usual run; the other sheets in the sweep that CI runs after it.
every_size = pytest.mark.parametrize("size", ["a4", *(pytest.param(size, marks=pytest.mark.sweep) for size in ("letter", "pocket"))])
needs_poppler = pytest.mark.skipif(shutil.which("pdftotext") is None, reason="NOT READ BACK: no pdftotext; install poppler-utils")


def _set(folder, size):
    (folder / "book.pdf").write_bytes(book(ROOT, None, size))


@pytest.fixture(scope="session")
def set_book():
    """Path of the whole book in one size: set once for this tree, whichever worker or run wants it first."""
    return lambda size: made_once(f"book-{size}", _IN[size]) / "book.pdf"


_IN = {"a4": lambda folder: _set(folder, "a4"), "letter": lambda folder: _set(folder, "letter"), "pocket": lambda folder: _set(folder, "pocket")}


@pytest.fixture(scope="session")
def small():
    """One chapter of the book, in one process's memory."""
    return book(ROOT, None, "a4", "train")


@cache
def _sheets(path):
    """Text of each sheet as it lies there, marks and line ends as single spaces."""
    text = subprocess.run(["pdftotext", "-layout", str(path), "-"], capture_output=True, text=True, check=True).stdout
    return [" ".join(re.sub("[✓△✕?\u00a0]", " ", sheet).split()) for sheet in text.split("\f")[:-1]]


def _every_table(facts, catalogue):
    shelf = tables.Book(facts, catalogue, facts.handbook.system)
    for name, builder in tables.BUILDERS.items():
        for slug in {"handbook": [""], "kit": facts.kits, "coating": facts.coatings}[builder.per]:
            yield f"{name} {slug}".strip(), builder(shelf, *([slug] if slug else []))


def _plain(text):
    return " ".join(re.sub("[✓△✕?\u00a0]", " ", text).split())


def _in_pieces(cells, text):
    """Whether a row stands in the text as it is, or cut into pieces of at least two cells where its columns were."""
    while cells:
        length = next((count for count in range(len(cells), 0, -1) if f" {' '.join(cells[:count])} " in text), 0)
        if not length or (length == 1 and len(cells) > 2):
            return False
        cells = cells[length:]
    return True


@needs_poppler
@every_size
def test_every_number_of_every_table_is_printed(set_book, facts, catalogue, size):
    """Rows of the Table objects themselves, looked for on the sheets that carry the table's title and on the three after."""
    sheets = _sheets(set_book(size))
    lost, rows = [], 0
    for name, table in _every_table(facts, catalogue):
        if not isinstance(table, Table):
            continue
        title = _plain(table.title)
        near = sorted({number for first, sheet in enumerate(sheets) if title in sheet for number in range(first, min(first + 4, len(sheets)))})
        text = f" {' '.join(sheets[number] for number in near)} "
        for head, cells in table.grid():
            rows += 1
            if not (_in_pieces([_plain(cell.text) for cell in cells], text) and all(word in text for word in re.split(r"[ /]|(?<=-)", _plain(head)))):  # a long name may break after its own hyphen
                lost.append((name, head))
    assert rows > 1000 and not lost, (len(lost), lost[:10])


@needs_poppler
def test_a_number_that_is_not_there_is_missed(set_book):
    """The search itself can fail: a row that no table holds is not found."""
    text = " ".join(_sheets(set_book("a4")))
    assert not _in_pieces(["31.41", "59.26", "53.58"], text) and not _in_pieces(["97.3", "1"], text)


@needs_poppler
def test_every_table_of_words_that_a_page_shows_is_whole(set_book, facts, catalogue):
    text = " ".join(_sheets(set_book("a4")))
    words = set(text.split())
    seen = 0
    for name, table in _every_table(facts, catalogue):
        if isinstance(table, TextTable) and _plain(table.title) in text and name != "coating-lines":
            seen += 1
            missing = [word for row in table.rows for cell in row for word in _plain(cell).split() if word not in words and not any(word in one for one in words)]
            assert not missing, (name, missing[:5])
    assert seen > 10


@every_size
def test_tagged_with_words_for_every_picture_contents_and_outline(set_book, size):
    """PDF/UA-1 (ISO 14289-1) and PDF/A-2a: the typesetter refuses a file that fails them; here the finished file is asked again."""
    reader = PdfReader(set_book(size))
    root = reader.trailer["/Root"]
    box = reader.pages[0].mediabox
    assert (float(box.width) / MM, float(box.height) / MM) == pytest.approx(SIZES[size], abs=0.3)
    assert root["/MarkInfo"]["/Marked"] and root["/Lang"].startswith("en") and root["/ViewerPreferences"]["/DisplayDocTitle"]
    about = root["/Metadata"].get_data().decode()
    assert 'pdfuaid:part>1<' in about and 'pdfaid:part>2<' in about
    assert len(list(_flat(reader.outline))) > 100
    found, silent = Counter(), []

    def walk(one):
        one = one.get_object()
        if isinstance(one, list):
            for part in one:
                walk(part)
        elif isinstance(one, dict):
            if "/S" in one:
                found[one["/S"]] += 1
                if one["/S"] in ("/Figure", "/Formula") and not one.get("/Alt"):
                    silent.append(one["/S"])
            if "/K" in one:
                walk(one["/K"])

    if size == "a4":  # the same template sets all three; walking one takes some seconds
        walk(root["/StructTreeRoot"]["/K"])
        assert not silent and found["/Table"] > 180 and found["/TH"] > 1000 and found["/Figure"] > 50 and found["/Formula"] > 150, (found, silent[:3])


def _flat(outline):
    for one in outline:
        yield from _flat(one) if isinstance(one, list) else [one]


@needs_poppler
@every_size
def test_title_crew_edition_region_and_page_on_every_sheet_and_none_is_blank(set_book, facts, size):
    sheets = _sheets(set_book(size))
    handbook = facts.handbook
    for number, sheet in enumerate(sheets, 1):
        for wanted in (handbook.title, handbook.crew, f"Edition {handbook.revision}, {handbook.date}, for {handbook.region.upper()}", f"{number} / {len(sheets)}"):
            assert all(word in sheet for word in wanted.split()), (number, wanted)
        assert len(sheet) > 170, (number, sheet)


@needs_poppler
@every_size
def test_no_word_is_cut(set_book, size):
    """No letter outside the sheet or in its margins, and no two words of one line on top of each other."""
    path = set_book(size)
    text = subprocess.run(["pdftotext", "-bbox", str(path), "-"], capture_output=True, text=True, check=True).stdout
    side, foot = (one * MM for one in MARGINS[size])
    width, height = (one * MM for one in SIZES[size])
    bad = []
    for number, sheet in enumerate(text.split("<page ")[1:], 1):
        lines = {}
        for found in re.finditer(r'<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">(.*?)</word>', sheet):
            left, top, right, bottom = map(float, found.groups()[:4])
            if left < side or right > width - side or top < foot or bottom > height - foot:
                bad.append((number, found[5], left, right))
            lines.setdefault(round(bottom), []).append((left, right, found[5]))
        for line in lines.values():
            line.sort()
            bad += [(number, one[2], other[2]) for one, other in pairwise(line) if one[1] - other[0] > 1.5 and len(one[2]) > 1 and len(other[2]) > 1]
    assert not bad, (len(bad), bad[:10])


@needs_poppler
@every_size
def test_no_caption_is_parted_from_its_table_and_no_stop_from_its_text(set_book, facts, catalogue, size):
    sheets = _sheets(set_book(size))
    parted, seen = [], 0
    for name, table in _every_table(facts, catalogue):
        if not isinstance(table, Table):
            continue
        caption, first = _plain(f"{table.title} {table.caption}"), _words(f"{table.rows.label} {table.columns.label} {table.rows.heads[0]}")
        for number, sheet in enumerate(sheets, 1):
            if caption in sheet:
                seen += 1
                after = sheet.partition(caption)[2]
                if not first <= _words(after):
                    parted.append((name, number))
    assert seen > 120 and not parted, (seen, parted)
    for stop in facts.stops.values():
        signs = [sheet for sheet in sheets if "STOP" in sheet.split() and _words(f"{stop.title} {stop.what_can_happen}") <= _words(sheet)]
        said = _words(f"{stop.what_can_happen} Do: {stop.do} Never: {stop.never} Who decides: {stop.who_decides}")
        assert signs and all(said <= _words(sheet) for sheet in signs), stop.title


def _words(text):
    return set(re.findall(r"\w+", text))  # a line may end at a hyphen


def test_each_link_inside_the_book_has_a_printed_page(set_book):
    """Every link leads to a sheet; the page number printed with it is that sheet's."""
    reader = PdfReader(set_book("a4"))
    place = {page.indirect_reference.idnum: number for number, page in enumerate(reader.pages, 1)}
    links = 0
    for page in list(reader.pages)[4:]:
        text = page.extract_text()
        said = {int(one) for one in re.findall(r"(?:p\.\s*|\. |\xa0)(\d+)", text)}  # beside the words, or after the dots of the contents
        if "Where each word is explained and used" in text:  # the index, by the name at its foot: all the pages of a word in one run
            said |= {int(one) for one in re.findall(r"\d+", text)}
        for note in page.get("/Annots", []):
            note = note.get_object()
            action = note.get("/A", {}).get_object() if "/A" in note else {}
            target = note.get("/Dest") or action.get("/D")
            if target is None:
                assert str(action.get("/URI", "")).startswith("http"), note
                continue
            target = reader.named_destinations[target].dest_array if isinstance(target, str) else target.get_object()
            number = place[target[0].idnum]
            links += 1
            # A trade word's dotted line leads to the page of words, which the index at the end gives.
            assert number in said or re.search("Words|UK US What it is", reader.pages[number - 1].extract_text()), (place[page.indirect_reference.idnum], number, said)
    assert links > 100


@needs_poppler
def test_a_link_lands_where_its_heading_lies(set_book):
    """Places come from a first layout of the book; bookmarks, which the second makes for itself, say where the headings truly are. A line off at most."""
    reader, sheets = PdfReader(set_book("a4")), _sheets(set_book("a4"))
    place = {page.indirect_reference.idnum: number for number, page in enumerate(reader.pages, 1)}
    heads = {(reader.get_destination_page_number(one) + 1, round(float(one.top))) for one in _flat(reader.outline)}
    asked = 0
    for page, sheet in zip(reader.pages, sheets, strict=True):
        for note in page.get("/Annots", []):
            note = note.get_object()
            target = note.get("/Dest") or (note["/A"].get_object().get("/D") if "/A" in note else None)
            if target is None:
                continue
            number, top = place[target.get_object()[0].idnum], float(target.get_object()[3])
            if "Where each word is explained and used" in sheet or re.search("Words|UK US What it is", sheets[number - 1]):
                continue  # to a word, which has no bookmark
            asked += 1
            assert any(number == at and abs(top - high) < 20 for at, high in heads), (place[page.indirect_reference.idnum], number, top)
    assert asked > 500


def test_a_book_that_does_not_stand_still_is_no_book(monkeypatch):
    """Would notice: page numbers of a layout that the last one did not keep."""
    step, asked = typeset._step, []

    def wrong(module, folder, said=""):
        found = step(module, folder, said)
        if module == "generators.paper.places":
            path = Path(folder) / "places.json"
            places = json.loads(path.read_text(encoding="utf-8"))
            name = next(iter(places["marks"]))
            places["marks"][name][0] += 1
            path.write_text(json.dumps(places), encoding="utf-8")
            asked.append(name)
        return found

    monkeypatch.setattr(typeset, "_step", wrong)
    with pytest.raises(NoBook, match="stand still"):
        book(ROOT, None, "a4", "", ["mix/thinning", "air/dew-point"])
    assert len(asked) == typeset._ROUNDS


@needs_poppler
def test_words_of_the_screen_are_not_on_paper(set_book):
    text = " ".join(_sheets(set_book("a4")))
    for word in ("Short form", "The keys begin", "kept on this device", "Type a word", "These keys want a script", "Check answer"):
        assert word not in text, word
    assert "{{" not in text and "alm-" not in text and "data-kept" not in text


@needs_poppler
def test_index_names_uk_and_us_words(set_book, facts):
    text = " ".join(_sheets(set_book("a4"))[-4:])
    found = text[text.index("Where each word is explained"):]
    for word in facts.words:
        assert word.uk in found and word.us in found, word


def test_the_same_bytes_twice_and_its_own_date(small, facts):
    assert small == book(ROOT, None, "a4", "train")
    reader = PdfReader(io.BytesIO(small))
    assert reader.metadata["/CreationDate"].startswith("D:" + str(facts.handbook.date).replace("-", ""))
    assert "wash" not in reader.pages[0].extract_text() and len(reader.pages) < 60


def test_a_chapter_and_chosen_pages(small, tmp_path, capsys):
    titles = {one.title for one in _flat(PdfReader(io.BytesIO(small)).outline)}
    assert "Exercise sheets" in titles and "Cup times" not in titles
    out = tmp_path / "two.pdf"
    assert main(["--handbook", str(ROOT), "book", "--pages", "mix/thinning,air/dew-point.md", "--size", "letter", "--region", "us", "--out", str(out)]) == 0
    reader = PdfReader(out)
    titles = {one.title for one in _flat(reader.outline)}
    assert {"How much thinner?", "Dew point"} <= titles and "Cup times" not in titles
    assert "°F" in " ".join(page.extract_text() for page in reader.pages)


@pytest.mark.parametrize(("wanted", "told"), [
    ({"part": "nothing-such"}, "train"), ({"chosen": ["mix/thining"]}, "did you mean 'mix/thinning.md'"), ({"size": "a0"}, "pocket"), ({"chosen": ["card"]}, "for paper")])
def test_what_cannot_be_printed_is_told(wanted, told):
    with pytest.raises(NoBook, match=re.escape(told)):
        book(ROOT, None, **{"size": "a4", **wanted})


def test_a_lesser_or_greater_is_printed_by_its_name_and_is_that_number(catalogue):
    """Each formula's declared text against what is printed of it, both worked by sympy with numbers drawn at random; no spelled-out root of a square is left in print."""
    import random

    import sympy

    from generators.formula import printed

    rng, named = random.Random(4), 0
    for formula in catalogue.values():
        for text in [formula.expression, *(step.expression for step in formula.steps if hasattr(step, "expression"))]:
            tree = formula.parse(text)
            said = printed._said(tree)
            if said == tree:
                continue
            named += 1
            assert "sqrt{\\left" not in printed._latex(text, tuple(printed._names(formula).items())), (formula.name, text)
            numbers = said.replace(printed._Lesser, sympy.Min).replace(printed._Greater, sympy.Max)
            for _ in range(3):
                at = {one: rng.uniform(0.2, 3) for one in tree.free_symbols}
                first, other = (complex(one.subs(at).doit().evalf()) for one in (tree, numbers))
                assert first == pytest.approx(other, rel=1e-9, abs=1e-9), (formula.name, text, at)
    assert named >= 15


def test_a_line_wider_than_its_sheet_goes_on_at_the_signs_of_its_sum():
    """`a = b - (c + d) + e` has three pieces; what stands in brackets is never parted."""
    sign = {one: {"m": "sym", "t": one} for one in "=+−"}
    letter = {one: {"m": "it", "t": one} for one in "abcde"}
    inner = {"m": "lr", "c": [letter["c"], sign["+"], letter["d"]]}
    row = {"m": "row", "c": [{"m": "row", "c": [letter["a"], sign["="], sign["−"], letter["b"], sign["−"], inner, sign["+"], letter["e"]]}]}
    assert [len(piece["c"]) for piece in broken(row)] == [4, 2, 2]


def test_text_stays_data(tmp_path):
    """Marks of the typesetter's own language in facts are printed as they are."""
    from generators.starter import write

    folder = tmp_path / "own"
    write(folder, "uk")
    settings = folder / "site_data" / "handbook.yaml"
    evil = '#panic("x") $ @all _a_ *b* [e] #read("/etc/passwd")'
    settings.write_text(re.sub(r"crew: .*", f"crew: '{evil}'", settings.read_text(encoding="utf-8")), encoding="utf-8")
    text = " ".join(PdfReader(io.BytesIO(book(folder, None, "a4", "mix"))).pages[0].extract_text().split())
    assert "#panic" in text and "#read" in text and "root:" not in text
