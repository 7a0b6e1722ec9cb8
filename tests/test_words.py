"""Trade words linked where a page first uses them: in plain text only, once, to an anchor that is there, and nothing else changed."""

from __future__ import annotations

import re

import markdown
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generators.facts.model import Word
from generators.pages import build_pages
from generators.pages.linking import WORDS, link_words

TO_WORDS = re.compile(r'<a href="[^"]*words\.md#([a-z0-9-]+)">(.*?)</a>', re.DOTALL)
DEW = Word(uk="dew point", us="dew point", meaning="x")
SDS = Word(uk="safety data sheet", us="SDS", meaning="x")
SHEET = Word(uk="data sheet", us="technical data sheet", meaning="x")
RUN = Word(uk="run", us="run, sag", meaning="x", everyday=["run"])
ALL = (DEW, SDS, SHEET, RUN)


def list_of(words):
    """A page of words with an anchor for each."""
    return "# Words\n\n" + " ".join(f'<dfn id="{word.anchor}">{word.uk}</dfn>' for word in words) + "\n"


def link(text, words=ALL, address="air/go.md"):
    """One page after linking."""
    return link_words({address: text, WORDS: list_of(words)}, words)[address]


def html(text):
    """As MkDocs reads it, with the extensions of mkdocs.yml."""
    return markdown.markdown(text, extensions=["attr_list", "md_in_html", "tables", "toc", "meta"])


def test_the_first_use_is_linked_and_the_second_is_not():
    assert link("Mind the dew point. The dew point again.\n") == "Mind the [dew point](../reference/words.md#dew-point). The dew point again.\n"


def test_the_address_is_as_seen_from_the_page():
    assert "](reference/words.md#dew-point)" in link("The dew point.", address="index.md")
    assert "](words.md#dew-point)" in link("The dew point.", address="reference/units.md")


def test_the_longest_word_wins_in_either_spelling_and_any_case():
    assert link("Safety data sheets and an SDS. A data sheet.") == "[Safety data sheets](../reference/words.md#safety-data-sheet) and an SDS. A [data sheet](../reference/words.md#data-sheet)."
    assert "[technical data sheet](" in link("Read the technical data sheet.")
    assert "[sag](../reference/words.md#run)" in link("Run it, or it will sag.")


LEFT_ALONE = {
    "heading": "## The dew point\n", "underlined heading": "The dew point\n-------------\n", "link": "See [the dew point](x.md).\n", "link over two lines": "See [the\ndew point](x.md).\n",
    "image": "![dew point](x.png)\n", "reference": "[dew point][1]\n\n[1]: dew.md\n", "definition": "[dew point]: dew-point.md\n", "code": "Write `dew point` here.\n",
    "double ticks": "``dew point ` ``\n",
    "fence": "```\ndew point\n\ndew point\n```\n", "tilde fence": "~~~ text\ndew point\n~~~\n", "indented code": "Text\n\n    dew point\n", "html": "<div>dew point</div>\n",
    "html on lines": "<section>\n<p>dew point</p>\n\n<p>dew point</p>\n</section>\n", "html in a sentence": "Text <span title='dew point'>dew point</span>.\n", "comment": "<!-- dew point -->\n",
    "table head": "| dew point | b |\n|---|---|\n| 1 | 2 |\n", "front matter": "---\ntitle: dew point\n---\nText\n", "address": "https://example.org/SDS and sds@example.org\n",
    "a hard stop": "- A paint **STOP: over the dew point. A data sheet decides.**\n",
    "half a word": "The dew pointer, a dew-pointed, mildew point.\n", "attributes": "Text {: title='dew point' }\n", "part of a path": "reference/data sheet/x\n",
}


@pytest.mark.parametrize("name", LEFT_ALONE)
def test_what_is_not_plain_text_is_left_alone(name):
    assert link(LEFT_ALONE[name]) == LEFT_ALONE[name]


def test_text_after_what_is_left_alone_is_still_read():
    for name in ("heading", "fence", "html", "html on lines", "table head", "code", "link", "comment"):
        assert link(LEFT_ALONE[name] + "\nThe dew point.\n") == LEFT_ALONE[name] + "\nThe [dew point](../reference/words.md#dew-point).\n", name


def test_a_cell_of_a_table_is_linked_and_stays_a_cell():
    page = "| a | b |\n|---|---|\n| the dew point | 2 |\n"
    assert TO_WORDS.sub(r"\2", html(link(page))) == html(page) and "](../reference" in link(page)


@pytest.mark.parametrize("odd", ["v.o.c.", "c++", "(2K)", "a|b", "x*y", "[z]", "(?:", "\\d+", "^$", ".*", "<b>", "a{2}", "#"])
def test_a_word_of_odd_characters_is_safe(odd):
    word = Word(uk=odd, us="vapour odd", meaning="x")
    for text in (f"This is {odd} here. The dew point.", "Nothing odd: aaaa 111 bbb. The dew point."):
        made = link(text, (word, DEW))
        assert made.count("#dew-point)") == 1
        assert TO_WORDS.sub(r"\2", html(made)) == html(text)


def test_without_an_anchor_or_a_page_of_words_nothing_changes():
    assert link_words({"a.md": "The dew point."}, ALL) == {"a.md": "The dew point."}
    assert link_words({"a.md": "The dew point.", WORDS: "# Words\n"}, ALL)["a.md"] == "The dew point."


@pytest.mark.parametrize("piece", ["[", "[a", "`a ", "` `` ``` ", "{a", 'x <a "', "a", "a@", "[x](", "dew ", "&#", "|-", "\\", "<a b='", "word\n"])
def test_a_long_page_of_nothing_but_marks_keeps_its_text(piece):
    """Forty thousand of one mark: nothing is lost. How long it takes is tests/benchmark.py's."""
    text = "x " + piece * 40_000
    made = link(text)
    assert re.sub(r"\[([^\[\]]*)\]\(\.\./reference/words\.md#[a-z-]+\)", r"\1", made) == text


PIECES = st.sampled_from([
    "dew point", "data sheet", "SDS", "sag", " ", " ", "\n", "\n\n", "`", "``", "[", "]", "(x)", "](y.md)", "**", "*", "_", "<b>", "</b>", "<div>", "</div>\n", "# ", "- ", "1. ", "> ", "|",
    "\n|---|---|\n", "```\n", "~~~\n", "    ", "&lt;", "&#42;", "\\", "{: .a }", "![", "---\n", "===\n", "<!-- ", " -->", "text", "\t"])


@settings(max_examples=400, deadline=None)
@given(st.lists(PIECES, max_size=30).map("".join))
def test_no_text_is_lost_and_once_is_once(text):
    made = link(text)
    assert re.sub(r"\[([^\[\]]*)\]\(\.\./reference/words\.md#[a-z-]+\)", r"\1", made) == text
    assert all(made.count(f"words.md#{word.anchor})") <= 1 for word in ALL)


@pytest.fixture(scope="module")
def pages(facts, pages):
    """The handbook before and after: the same builder, with the linking left out and in."""
    from generators.pages import build

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(build, "link_words", lambda pages, words: dict(pages))
        before = build_pages(facts)
    return before, pages


def test_the_handbook_reads_the_same_but_for_its_links(pages):
    before, after = pages
    changed = [address for address in before if before[address] != after[address]]
    assert len(changed) > 40
    for address in changed:
        told = html(after[address])
        assert TO_WORDS.sub(r"\2", told) == html(before[address]), address
        for heading in re.findall(r"<(?:h\d|th|code|summary|caption|button)\b.*?</", told):
            assert "words.md#" not in heading, (address, heading[:200])


def test_every_link_has_its_anchor_and_each_anchor_is_one(pages, facts):
    after = pages[1]
    there = re.findall(r'<dfn id="([a-z0-9-]+)"', after[WORDS])
    assert len(there) == len(set(there)) == len(facts.words)
    for address, page in after.items():
        found = re.findall(r"words\.md#([a-z0-9-]+)\)", page)
        assert len(found) == len(set(found)) and set(found) <= set(there), address


def test_a_page_on_dew_links_it_once(pages):
    assert pages[1]["air/dew-point.md"].count("](../reference/words.md#dew-point)") == 1


def test_on_the_site_each_quiet_link_lands_on_its_word(site):
    """As a browser would follow it: the file is there, the word is there once, and no link to a word is a loud one."""
    there = re.findall(r'<dfn id="([a-z0-9-]+)"', (site / "reference/words.html").read_text(encoding="utf-8"))
    seen = 0
    for path in site.rglob("*.html"):
        page = path.read_text(encoding="utf-8")
        quiet = re.findall(r'<a class="alm-word" href="([^"#]+)#([a-z0-9-]+)"', page)
        assert len(quiet) == len(re.findall(r'words\.html#[a-z0-9-]+"', page)), path
        for address, anchor in quiet:
            assert (path.parent / address).resolve() == (site / "reference/words.html").resolve() and there.count(anchor) == 1, (path, address)
        seen += len(quiet)
    assert seen > 100
