"""Finished HTML passes by the Markdown reader: the page is the same as if it had been read."""

from __future__ import annotations

import markdown
import pytest

from generators.site.passed_by import put_back, set_aside

TABLE = '<div class="alm-table" data-x="a > b"><table>\n<tr><td>1 *2* 3</td></tr>\n\n<tr><td>_4_</td></tr>\n</table></div>'.replace("1 *2* 3", "1 *2* 3 " * 50)


def read(text):
    return markdown.Markdown(extensions=["attr_list", "md_in_html", "tables", "toc"], extension_configs={"toc": {"permalink": False, "toc_depth": 3}}).convert(text)


@pytest.mark.parametrize("every", [9, pytest.param(1, marks=pytest.mark.sweep)])
def test_every_page_is_as_if_it_had_been_read(pages, every):
    """The reader's own HTML for every page, letter for letter; most of the letters of all pages pass it by."""
    whole = left = 0
    for address, text in list(pages.items())[::every]:
        rest, blocks = set_aside(text)
        assert put_back(read(rest), blocks) == read(text), address
        whole, left = whole + len(text), left + len(rest)
    assert left < 0.5 * whole


@pytest.mark.parametrize("text", [
    f"before\n\n{TABLE}\n\nafter *that*", f"{TABLE}\nat once after", f"- an item\n\n    {TABLE}\n", f"{TABLE} {{: .kind }}\n", f"text\n{TABLE}\n",
    f'<div markdown="1">\n\n{TABLE}\n\n*read*\n\n</div>\n', f"<div>\n<h2>a head</h2>\n{TABLE}\n</div>\n", f"```\n{TABLE}\n```\n", f"<!--\n{TABLE}\n-->\n\n{TABLE}\n",
    f"<div>\n{TABLE}\n", f"{TABLE}\n\n</div>\n",
    f"{TABLE}\n\n{TABLE}\n\n# a head {{: .x }}\n\n{TABLE}", '<div data-passed="0"></div>\n\n' + TABLE, f"`{TABLE}`", f"> {TABLE}\n"])
def test_what_somebody_may_write_round_a_table_is_as_if_it_had_been_read(text):
    rest, blocks = set_aside(text)
    assert put_back(read(rest), blocks) == read(text)
