"""For everyone: every page, both palettes, phone and desk, against WCAG 2.2 A and AA by axe-core."""

from __future__ import annotations

from pathlib import Path

import pytest

AXE = Path(pytest.importorskip("axe_playwright_python").__file__).parent / "axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]


# One page of each kind, and those with the most keys.
SAMPLE = ("index.html", "mix/thinning.html", "safety/ppe.html", "coatings/spar-two-pack-finish.html", "job/daily-log.html")


def complaints(page, site, served, pages, width):
    """What axe says of pages at one width, one line each."""
    script = AXE.read_text(encoding="utf-8")
    found = []
    for path in pages:
        page.goto(f"{served}/{path.relative_to(site)}")
        page.evaluate(script)
        for palette in ("default", "slate"):
            page.evaluate("palette => document.body.setAttribute('data-md-color-scheme', palette)", palette)
            # The second palette differs in nothing but colour, and colour in nothing by width: looked at once, on the phone.
            if palette == "slate" and width > 360:
                continue
            run = {"type": "tag", "values": RULES} if palette == "default" else {"type": "rule", "values": ["color-contrast", "link-in-text-block"]}
            told = page.evaluate("run => axe.run(document, {runOnly: run, resultTypes: ['violations'], elementRef: false, ancestry: false})", run)
            for one in told["violations"]:
                node = one["nodes"][0]
                why = node["any"][0]["message"][:160] if node["any"] else ""
                found.append(f"{path.relative_to(site)} {palette}: {one['id']} ({len(one['nodes'])}) {node['html'][:150]} {why}")
    return "\n".join(found)


def test_no_kind_of_page_shuts_anyone_out(look, site, served):
    assert not complaints(look, site, served, [site / name for name in SAMPLE], 360)


# In shares, so that workers can divide the pages.
@pytest.mark.sweep
@pytest.mark.parametrize("share", range(4))
@pytest.mark.parametrize("width", [360, 1280])
def test_no_page_shuts_anyone_out(shared_page, site, served, width, share):
    pages = sorted(path for path in site.rglob("*.html"))
    assert len(pages) > 40
    if width > 360:
        # Pages made from one template differ in their texts, and texts in nothing by width: on the desk a few of each family are looked at.
        families = {name: [path for path in pages if path.parent.name == name or path.name.startswith(name)] for name in ("faults", "coatings", "ppe-")}
        pages = [path for path in pages if not any(path in family[3:] for family in families.values())]
    shared_page.set_viewport_size({"width": width, "height": 800})
    assert not complaints(shared_page, site, served, pages[share::4], width)


# Words that stand on more than one line, without a hyphen of their own: broken in the middle.
BROKEN = """() => { const broken = [], walk = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT);
  for (let node = walk.nextNode(); node; node = walk.nextNode()) {
    const within = node.parentElement;
    if (!within.checkVisibility({ checkOpacity: true, checkVisibilityCSS: true }) || within.closest('.alm-scroll, code, svg')) continue;
    for (const word of node.textContent.matchAll(/[A-Za-z0-9’'.,%]+/g)) {
      const range = document.createRange();
      range.setStart(node, word.index);
      range.setEnd(node, word.index + word[0].length);
      if (new Set([...range.getClientRects()].filter((box) => box.width > 0.5).map((box) => Math.round(box.top / 4))).size > 1) broken.push(word[0]);
    }
  }
  return [...new Set(broken)]; }"""
LARGE = ("index.html", "mix/thinning.html", "air/go-or-wait.html", "safety/emergencies.html", "safety/ppe.html", "faults/runs.html", "job/daily-log.html", "own/paint.html")


@pytest.mark.parametrize(("width", "text", "whole"), [(320, 1, True), (360, 2, True), (320, 2, False)])
def test_a_larger_text_fits_a_narrow_phone(look, site, width, text, whole):
    """WCAG 2.2, 1.4.4 and 1.4.10: the reader's own text size, twice the usual, and 320 px: nothing scrolls sideways, and no word is broken (both at once may break one)."""
    look.set_viewport_size({"width": width, "height": 800})
    for address in LARGE:
        look.goto((site / address).as_uri())
        size = "parseFloat(getComputedStyle(document.querySelector('main p')).fontSize)"
        before = look.evaluate(size)
        look.evaluate("text => { document.documentElement.style.fontSize = `${125 * text}%`; }", text)
        look.wait_for_timeout(200)
        assert look.evaluate(size) == pytest.approx(before * text, rel=0.01), f"{address}: its text does not grow with the reader's"
        assert look.evaluate("document.documentElement.scrollWidth") <= width, f"{address} scrolls sideways"
        assert not whole or look.evaluate(BROKEN) == [], address
    look.set_viewport_size({"width": 360, "height": 800})
