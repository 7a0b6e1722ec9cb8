"""Something is wrong: every fault is whole, and the finder reaches each in at most three choices with no dead end and no orphan."""

from __future__ import annotations

import itertools
import json
import math
import re

import pytest

from generators.facts import FactsError
from generators.formulas.own_cups import open_handbook
from generators.pages import build_pages


def test_every_fault_is_whole(facts):
    assert len(facts.faults) >= 34
    for key, fault in facts.faults.items():
        assert len(fault.causes) >= 2 and len(set(fault.causes)) == len(fault.causes), key
        for part in (fault.looks, fault.test, fault.now, fault.later, fault.prevent):
            assert len(part.split()) >= 2, key
        assert bool(fault.number) != bool(fault.no_number), key


def test_the_finder_reaches_each_in_at_most_three_choices(site, facts):
    """Door on the first page, then what is seen, then the fault: every path is walked in the built site."""
    home = (site / "index.html").read_text(encoding="utf-8")
    assert 'href="faults/index.html"' in home  # choice one
    finder = (site / "faults/index.html").read_text(encoding="utf-8")
    parts = re.split(r"<h2\b", finder)[1:]
    reached = set()
    for part in parts:  # choice two: a heading; choice three: a line under it
        lines = re.findall(r'href="([a-z-]+)\.html">', part)
        if "Change one thing" not in part[:80]:
            assert 1 <= len(lines) <= 12, part[:60]
        reached |= set(lines)
    assert set(facts.faults) <= reached, set(facts.faults) - reached
    for key in facts.faults:
        page = (site / f"faults/{key}.html").read_text(encoding="utf-8")
        assert "Now, while it is wet" in page and 'href="index.html"' in page


def test_the_page_says_now_first(facts, pages):
    for key in facts.faults:
        page = pages[f"faults/{key}.md"]
        order = [page.index(mark) for mark in ("**Now", "## Find the cause", "## Later", "## The number behind it", "## Next time")]
        assert order == sorted(order)


def test_every_rule_of_thumb_is_tested_and_no_figure_is_typed(pages):
    """Each rule has our verdict and what to use instead; figures come from formulas: the source page calls them."""
    from conftest import ROOT

    source = (ROOT / "handbook/rules.md").read_text(encoding="utf-8")
    rows = [line for line in source.splitlines() if line.startswith("| ") and "rule says" not in line and "---" not in line]
    assert len(rows) >= 22
    for row in rows:
        cells = [cell.strip() for cell in row.strip("|").split(" | ")]
        assert ("**" in row and "](" in cells[-1]) or "data sheet" in cells[-1], row
    assert source.count("{{ figure(") >= 10
    page = pages["rules.md"]
    assert "12.7 %" in page and "4.5 %" not in source


def live_on(page):
    """(formula, {key: where it begins}) of every set of keys on a page."""
    found = []
    for part in re.findall(r'<section class="alm-live".*?</section>', page, re.S):
        name = re.search(r'data-formula="([a-z0-9-]+)"', part)[1]
        found.append((name, {key: float(start) for key, start in re.findall(r'data-name="([a-z-]+)".*?inputmode="decimal"[^>]*value="([^"]*)"', part, re.S)}))
    return found


def test_a_fault_with_a_number_has_its_keys_on_the_page_or_says_why_not(facts, site):
    keyed = set()
    for key, fault in facts.faults.items():
        page = (site / "faults" / f"{key}.html").read_text(encoding="utf-8")
        names = [name for name, _ in live_on(page)]
        if fault.number and not fault.no_sum:
            assert 1 <= len(names) <= 2, (key, names)
            keyed.add(key)
            assert "The keys begin at " in page and f'href="../{fault.number}.html"' in page, key
            for name in names:
                assert f"assets/formulas/{name}.js" in page and "assets/answers.js" in page, key
        else:
            assert not names, key
            reason = fault.no_number or fault.no_sum
            assert reason.rstrip(".").split(".")[0] in page, key
            assert 4 <= len(reason.split()) <= 20, key
    assert len(keyed) == len(facts.faults) - sum(bool(fault.no_number or fault.no_sum) for fault in facts.faults.values()) >= 28


def test_keys_begin_at_the_kit(facts, site):
    """Held against the kit's own file and school geometry, not against the code that fills them in."""
    kit = facts.kits[facts.handbook.default_kit]
    middle = (kit.near.to("mm") + kit.far.to("mm")) / 2

    def keys(fault, formula):
        return dict(live_on((site / f"faults/{fault}.html").read_text(encoding="utf-8")))[formula]

    assert keys("orange-peel", "thinner-for-target")["target-time"] == kit.limit.seconds
    assert abs(keys("dry-spray", "distance-film")["distance"] - middle) <= 5
    fan = keys("heavy-centre", "fan-angle")
    assert fan["fan-width"] == pytest.approx(2 * fan["distance"] * math.tan(math.radians(kit.fan_angle.to("deg") / 2)), abs=0.6) and abs(fan["distance"] - middle) <= 5
    assert keys("stripes", "stroke-spacing")["fan-width"] == fan["fan-width"]
    assert keys("spitting", "pot-minutes") == {"pot": kit.pot.to("L"), "flow": kit.flow.to("mL/min")}
    assert keys("overspray", "drift-distance")["wind"] == facts.value("limits.wind_max_near_cars").to("m/s")
    assert keys("blush", "worst-dew-margin")["surface-error"] == facts.value("limits.surface_error").to("Δ°C")
    sag, level = keys("runs", "sag-speed"), keys("runs", "levelling-time")
    assert sag["wet-film"] == level["wet-film"] and sag["viscosity"] == level["viscosity"]
    paint = next(one for one in facts.coatings.values() if one.density.to("kg/m³") == sag["density"] and round(100 * one.dry_film.to("µm") / one.volume_solids.to("%")) == sag["wet-film"])
    law = facts.cups[kit.limit.cup]
    felt = law.A * (kit.limit.seconds - law.C) - law.B / kit.limit.seconds
    assert sag["viscosity"] == pytest.approx(felt * paint.density.to("kg/m³") * 1e-6, rel=0.06)  # two digits


def test_the_page_shows_the_window_of_todays_set_up(facts, site):
    """A matter of viscosity, film, distance, drying, drift or dew names the kit's or the sheets' own limits."""
    kit = facts.kits[facts.handbook.default_kit]
    reach = f"{kit.near.to('mm'):g} mm to {kit.far.to('mm'):g} mm"
    for key, fault in facts.faults.items():
        page = (site / "faults" / f"{key}.html").read_text(encoding="utf-8")
        part = re.sub(r"<section.*?</section>", "", page[page.index('id="the-number-behind-it"'): page.index('id="next-time"')], flags=re.S)
        part = re.sub(r"</?a\b[^>]*>", "", part)  # a trade word may be a link
        if not fault.number:
            continue
        wanted = {"mix/thinning": f"{kit.limit.seconds:g} s in ", "gun/": reach, "air/drift": reach, "film/": " lays that at ", "air/dew-point": "over the dew point",
                  "air/go-or-wait": "over the dew point", "air/drying": "humidity or less", "mix/stirring": kit.name}
        words = next(words for start, words in wanted.items() if fault.number.startswith(start))
        assert words in part, (key, words)
        assert not re.search(r"\d s\b(?! in )", part), key  # never bare seconds


def test_the_bubble_rises_as_the_pigment_sinks(catalogue):
    """Stokes' one law, both ways: held against the other formula, which is held against published values."""
    sinks = float(catalogue["settling-in-liquid"].column({"particle-diameter": 20.0, "density-difference": 1200.0, "viscosity": 0.1}))
    rises = float(catalogue["bubble-rise"].column({"bubble-diameter": 20.0, "depth": 100.0, "density": 1200.0, "viscosity": 0.1}))
    assert rises * 60 * sinks == pytest.approx(0.1, rel=1e-9)
    assert math.isnan(float(catalogue["bubble-rise"].column({"bubble-diameter": 2000.0, "depth": 100.0, "density": 1200.0, "viscosity": 0.01})))  # too quick for a slow law


def test_a_us_reader_gets_us_units_in_the_window(pages_in):
    pages = pages_in("us")
    stripes, wind, film = (pages[f"faults/{key}.md"].split("## The number behind it")[1].split("<section")[0] for key in ("stripes", "overspray", "grinning"))
    assert re.search(r"[0-9] in\b", stripes) and " mm" not in stripes
    assert " mph" in wind and "m/s" not in wind
    assert " mil" in film and "µm" not in film and " in/s" in film


SVG = "{http://www.w3.org/2000/svg}"


def drawn(facts, key, title=None):
    from generators.render import fault_svg

    fault = facts.faults[key]
    return fault_svg(key, title or fault.name, facts.fault_drawings[fault.drawing])


def read(svg):
    from xml.etree import ElementTree

    return ElementTree.fromstring(svg.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1))


def places(node):
    """Every place that one element of a drawing touches, with the room that a circle takes; a text takes 2.45 for each letter."""
    name, at = node.tag.removeprefix(SVG), {key: float(value) for key, value in node.attrib.items() if key in ("x", "y", "width", "height", "cx", "cy", "r", "rx", "ry")}
    if name == "rect":
        return [(at["x"], at["y"]), (at["x"] + at["width"], at["y"] + at["height"])]
    if name in ("circle", "ellipse"):
        rx, ry = at.get("rx", at.get("r")), at.get("ry", at.get("r"))
        return [(at["cx"] - rx, at["cy"] - ry), (at["cx"] + rx, at["cy"] + ry)]
    if name == "text":
        return [(at["x"], at["y"] - 4), (at["x"] + 2.45 * len(node.text), at["y"])]
    if name == "path":
        assert re.fullmatch(r"[MLCQZ0-9. -]+", node.attrib["d"]), node.attrib["d"][:80]  # only places, none relative: so each number is a place
        numbers = [float(part) for part in re.findall(r"-?[0-9.]+", node.attrib["d"])]
        return list(zip(numbers[::2], numbers[1::2], strict=True))
    return []


def test_every_fault_has_a_drawing_of_its_own(facts, site):
    """Also on its page. Two that draw the same shapes are one drawing, whatever their words."""
    shapes = {}
    for key, fault in facts.faults.items():
        assert fault.drawing, key
        svg = drawn(facts, key)
        bare = re.sub(r"<(text|title|desc)\b.*?</\1>", "", svg.replace(key, ""))
        assert bare not in shapes, (key, shapes.get(bare))
        shapes[bare] = key
        page = (site / "faults" / f"{key}.html").read_text(encoding="utf-8")
        assert page.count('class="alm-drawing alm-fault"') == 1, key
        assert len(svg) < 14_000, (key, len(svg))
    assert set(facts.fault_drawings) == {fault.drawing for fault in facts.faults.values()}  # none lies unused


def test_a_drawing_says_in_words_what_is_seen(facts):
    for key, fault in facts.faults.items():
        drawing, root = facts.fault_drawings[fault.drawing], read(drawn(facts, key))
        title, desc = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
        assert root.attrib["aria-labelledby"].split() == [title.attrib["id"], desc.attrib["id"]]
        assert fault.name in title.text and drawing.front.seen in desc.text and drawing.cut.seen in desc.text
        assert len(drawing.front.seen.split()) >= 6 and len(drawing.cut.seen.split()) >= 8, key
        words = [text.text for text in root.iter(f"{SVG}text")]
        assert "from the front" in words and "cut through" in words and drawing.cut.on in words
        assert drawing.front.words and drawing.cut.words, key


def test_a_drawing_stays_on_its_sheet_and_has_no_colour_of_its_own(facts):
    for key in facts.faults:
        svg = drawn(facts, key)
        root = read(svg)
        left, top, width, height = map(float, root.attrib["viewBox"].split())
        for node in root.iter():
            for x, y in places(node):
                assert left <= x <= left + width and top <= y <= top + height, (key, node.tag, x, y)
            assert not set(node.attrib) & {"style", "fill", "stroke", "onload"}, key
        assert not re.search(r"#[0-9a-f]{3,8}\b|\brgb|\bhsl|<script|<style", svg, re.I), key


def test_each_class_of_a_drawing_is_dressed(facts):
    """A mark with a class that no sheet knows would be a black blot."""
    from conftest import ROOT

    sheet = (ROOT / "generators/site/theme/assets/almanac.css").read_text(encoding="utf-8")
    used = {look for key in facts.faults for group in re.findall(r'class="([^"]+)"', drawn(facts, key)) for look in group.split()}
    dressed = set(re.findall(r"\.alm-fault \.(alm-[a-z-]+) \{", sheet)) | {"alm-drawing", "alm-fault"}
    assert used <= dressed, used - dressed


def test_a_drawing_is_true_to_its_fault(facts):
    """What the words of the matrix say about thickness, held against the declared heights. Common practice, no source."""
    from generators.render.fault_drawing import _height

    def film(key):
        return facts.fault_drawings[facts.faults[key].drawing].cut.film

    def peak(key):
        return max(film(key), key=lambda place: place[1])

    run = film("runs")
    assert peak("runs")[0] > 40 and peak("runs")[1] > 2 * _height(run, 20)  # thin above, a bead at the lower edge
    for key in ("fisheyes", "pinholes", "mud-cracking"):
        assert min(y for _, y in film(key)) <= 0, key  # down to the ground
    assert 0 < min(y for _, y in film("craters")) < 1 < peak("craters")[1]  # a bowl with a raised rim that keeps its bottom
    assert peak("mud-cracking")[1] > 2 and peak("solvent-pop")[1] > 1.5 and peak("grinning")[1] < 0.5 and max(y for _, y in film("dry-spray")) < 0.6
    for key in ("blush", "surfactant", "bloom", "amine-blush"):
        assert {y for _, y in film(key)} == {1.0}, key  # what is wrong lies in or on the film, not in its thickness
    assert 45 <= peak("heavy-centre")[0] <= 55
    assert _height(film("split-fan"), 50) < 0.2 * peak("split-fan")[1]
    for key in ("split-fan", "fingers"):
        assert abs(_height(film(key), 25) - _height(film(key), 75)) < 0.1, key  # both sides alike
    assert _height(film("fingers"), 12) > 3 * _height(film("fingers"), 50)
    assert peak("one-end-heavy")[0] < 25 and peak("crescent")[0] > 55
    for key, beat in (("stripes", 20), ("pulsing", 25)):
        tops = [b[0] for a, b, c in zip(film(key), film(key)[1:], film(key)[2:], strict=False) if a[1] < b[1] > c[1]]
        assert len(tops) == 4 and {round(b - a, 6) for a, b in itertools.pairwise(tops)} == {beat}, key  # an even beat
    edge, bridge = (facts.fault_drawings[key].cut for key in ("thin-edges", "bridging"))
    over = {x: _height(edge.film, x) - _height(edge.ground, x) for x in (20, 50, 80)}
    assert over[50] < 0.15 * over[20] and over[20] == pytest.approx(over[80])
    assert _height(bridge.under, 50) - _height(bridge.ground, 50) > 1  # air behind
    for key in ("peeling", "wrinkling"):
        cut = facts.fault_drawings[key].cut
        assert max(_height(cut.under, x) for x in range(0, 101, 2)) > 1, key  # it has let go


def test_each_kind_of_mark_can_be_drawn_and_is_explained():
    from conftest import ROOT

    from generators.facts.sketch import MARKS
    from generators.render.fault_drawing import _DRAWERS

    assert set(MARKS) == set(_DRAWERS)
    said = (ROOT / "site_data/fault_drawings.yaml").read_text(encoding="utf-8").split("runs:")[0]
    assert all(re.search(rf"\b{kind}\b", said) for kind in MARKS)


def test_smooth_heights_never_pass_what_is_declared(facts):
    """A curve that shot over would show a film that nobody declared: every handle stays between the ends of its piece."""
    from generators.render.fault_drawing import _curves

    for key, drawing in facts.fault_drawings.items():
        for line in filter(None, (drawing.cut.film, drawing.cut.under, drawing.cut.ground)):
            for a, c, d, b in _curves(line):
                assert min(a[1], b[1]) - 1e-9 <= min(c[1], d[1]) and max(c[1], d[1]) <= max(a[1], b[1]) + 1e-9, key
                assert a[0] <= c[0] <= d[0] <= b[0] or a[0] == b[0], key


def test_texts_in_a_drawing_are_data(facts):
    from generators.facts.sketch import Label
    from generators.render import fault_svg

    evil = "<script>alert(1)</script> & \"'"
    old = facts.fault_drawings["runs"]
    drawing = old.model_copy(update={"front": old.front.model_copy(update={"seen": evil, "words": [Label((2, 20), None, evil)]}), "cut": old.cut.model_copy(update={"on": evil, "seen": evil})})
    svg = fault_svg("runs", evil, drawing)
    root = read(svg)
    assert "<script" not in svg and evil in root.find(f"{SVG}title").text and root.find(f"{SVG}desc").text.count(evil) == 2
    assert [text.text for text in root.iter(f"{SVG}text")].count(evil) == 2


@pytest.fixture
def copied(tmp_path):
    import conftest

    return conftest.copied(tmp_path)


def test_a_fault_without_a_drawing_still_has_its_page(copied):
    path = copied / "site_data/faults.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("  drawing: runs\n", ""), encoding="utf-8")
    page = build_pages(open_handbook(copied), only={"faults/runs.md"}.__contains__)["faults/runs.md"]
    assert "alm-fault" not in page and "## Find the cause" in page and "Runs and sags" in page


def assert_said(facts):
    from generators import formulas
    from generators.pages import fault_numbers, words

    now = fault_numbers.Today(words.Desk(facts, formulas.catalogue(facts)))
    for key, fault in facts.faults.items():
        told = fault_numbers.shown(now, key, fault)
        assert not re.search(r"\b(nan|inf)\b", " ".join([*told.window, told.begun, told.answers])), key
        assert bool(told.answers) == bool(fault.number and not fault.no_sum), key


@pytest.mark.parametrize("edits", [
    {"near: 125 mm": "near: 1600 mm", "far: 200 mm": "far: 2000 mm"}, {"limit: 28 s in ford-4": "limit: 100 s in ford-4"},
    {"flow: 110 mL/min": "flow: 5 mL/min"}, {"pot: 1 L": "pot: 100 L"}, {"fan_angle: 45 deg": "fan_angle: 110 deg"},
])
def test_the_numbers_of_an_odd_kit_are_said_or_left_out(copied, edits):
    """Outside a formula's range the sentence is left out; nothing says nan, and nothing breaks."""
    path = copied / "site_data/kits/two-stage-tote.yaml"
    text = path.read_text(encoding="utf-8")
    for old, new in edits.items():
        assert old in text
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")
    assert_said(open_handbook(copied))


@pytest.mark.parametrize(("old", "new"), [("dry_film: 36 µm", "dry_film: 900 µm"), ("volume_solids: 56 %", "volume_solids: 31 %")])
def test_the_numbers_of_an_odd_paint_are_said_or_left_out(copied, old, new):
    path = copied / "site_data/coatings/anchor-alkyd-gloss.yaml"
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")
    assert_said(open_handbook(copied))


@pytest.mark.parametrize(("old", "new", "said"), [
    ("'dash 36 0 36 80'", "'dash 36 0 36 90'", "wanted a mark on its panel: x from 0 to 50, y from 0 to 80; came 'dash 36 0 36 90'"),
    ("'dash 36 0 36 80'", "'dahs 36 0 36 80'", "did you mean 'dash'?"),
    ("'dash 36 0 36 80'", "'dash 36 0 36'", "wanted front.marks.3: dash and 4 or more, in pairs"),
    ("'dash 36 0 36 80'", "'pebbles 0 0 50 80 900'", "wanted front.marks.3: pebbles with sizes above zero, and at most 20 of them"),
    ("'dash 36 0 36 80'", "'hatch 0 0 50 0'", "wanted front.marks.3: hatch with sizes above zero"),
    ("'3 6: drapes'", "'30 6: drapes and more'", "wanted words on their panel"),
    ("'3 6: drapes'", "'3: drapes'", "wanted front.words.1: a place and words"),
    ("46 .5, 54 1,", "46 .5, 40 1,", "wanted cut.film: places and heights, left to right"),
    ("46 .5, 54 1,", "46 .5, 54 9,", "wanted places from 0 to 80, heights from -1.4 to 3.4"),
    ("46 .5, 54 1,", "46 nan, 54 1,", "wanted cut.film: places and heights, left to right"),
])
def test_a_drawing_that_cannot_be_drawn_is_told_with_its_line(copied, old, new, said):
    path = copied / "site_data/fault_drawings.yaml"
    text = path.read_text(encoding="utf-8")
    assert text.count(old) == 1
    path.write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(FactsError) as caught:
        open_handbook(copied)
    line = text[: text.index(old)].count("\n") + 1
    told = [str(problem) for problem in caught.value.problems]
    assert any(said in problem and problem.startswith(f"site_data/fault_drawings.yaml:{line}:") for problem in told), told


def test_a_drawing_that_is_not_there_is_told_with_the_nearest(copied):
    path = copied / "site_data/faults.yaml"
    text = path.read_text(encoding="utf-8")
    path.write_text(text.replace("drawing: orange-peel", "drawing: orange-pele"), encoding="utf-8")
    with pytest.raises(FactsError) as caught:
        open_handbook(copied)
    line = text[: text.index("drawing: orange-peel")].count("\n") + 1
    assert [str(problem) for problem in caught.value.problems] == [
        f"site_data/faults.yaml:{line}: wanted a known drawing in fault_drawings.yaml; came 'orange-pele'; did you mean 'orange-peel'?"]


def test_a_file_of_drawings_that_is_missing_or_broken_is_told_once(copied):
    drawings = copied / "site_data/fault_drawings.yaml"
    drawings.write_text("runs: [", encoding="utf-8")
    with pytest.raises(FactsError) as caught:
        open_handbook(copied)
    assert len(caught.value.problems) == 1 and str(caught.value.problems[0]).startswith("site_data/fault_drawings.yaml:")
    drawings.unlink()
    with pytest.raises(FactsError) as caught:
        open_handbook(copied)
    assert all("add the file, or remove this key" in str(problem) for problem in caught.value.problems)


def test_the_words_of_a_drawing_do_not_crowd_the_search(site):
    """A search for «wanted» or «cut» would else find every fault."""
    told = (site / "assets/search-pages.js").read_text(encoding="utf-8")
    docs = json.loads(told[told.index("{"):told.rindex(";")])["pages"]
    said = {doc["at"]: set(doc["text"].split()) for doc in docs if doc["at"].startswith("faults/")}  # an index keeps words, not sentences
    assert {"drips", "drapes"} <= said["faults/runs.html"]
    drawn = {"drawn", "exaggerated", "front", "larger", "life"}  # what only captions and descriptions of the drawings say
    assert "Thickness is drawn far larger than life" in (site / "faults/runs.html").read_text(encoding="utf-8")
    assert not {address: words & drawn for address, words in said.items() if words & drawn}


def test_the_heaviest_marks_stay_light():
    """Whatever numbers a crew writes, a drawing is drawn at once and stays under a megabyte."""
    from generators.facts.model import FaultDrawing
    from generators.facts.sketch import MARKS, ROWS, outside
    from generators.render import fault_svg

    for kind, pattern in MARKS.items():
        if not pattern.startswith("b"):
            continue
        most = ROWS if kind in ("cracks", "crinkles", "pebbles") else 1500
        for box in ("0 0 100 36", "0 0 100 .01", "0 0 .01 36"):
            mark = f"{kind} {box}" + f" {most}" * ("n" in pattern) + " .5" * ("r" in pattern)
            drawing = FaultDrawing.model_validate({"front": {"seen": "x", "marks": [mark]}, "cut": {"seen": "x", "on": "work", "film": "0 1, 100 1"}})
            assert not list(outside(drawing))
            svg = fault_svg("x", "x", drawing)
            read(svg)
            assert len(svg) < 1_000_000, (mark, len(svg))
