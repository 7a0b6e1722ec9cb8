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
