"""Speed and size, as ratios measured in one run: `python tests/benchmark.py`. Never a test: machines differ."""

from __future__ import annotations

import argparse
import gzip
import os
import re
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

import numpy as np

ROOT = Path(__file__).resolve().parent.parent
RUNS = 3


def timed(call) -> float:
    """Median seconds of a few runs."""
    took = []
    for _ in range(RUNS):
        start = time.perf_counter()
        call()
        took.append(time.perf_counter() - start)
    return statistics.median(took)


def command(*arguments: str, cwd: Path = ROOT) -> None:
    """Run one command as a user would, quietly; a failure stops the benchmark."""
    done = subprocess.run([sys.executable, "-m", *arguments], cwd=cwd, capture_output=True, text=True, env={**os.environ, "NO_MKDOCS_2_WARNING": "1"}, check=False)
    if done.returncode:
        raise SystemExit(done.stdout + done.stderr)


def builds(folder: Path) -> None:
    """`almanac build` against a bare `mkdocs build` of the same finished Markdown and the same assets."""
    from generators.formulas.own_cups import open_handbook
    from generators.pages import build_assets

    command("generators.cli", "pages", "--out", str(folder / "docs"))
    for address, content in build_assets(open_handbook(ROOT)).items():
        target = folder / "docs" / address
        target.parent.mkdir(parents=True, exist_ok=True)
        target.write_bytes(content if isinstance(content, bytes) else content.encode())
    settings = (ROOT / "mkdocs.yml").read_text(encoding="utf-8").replace("  - almanac\n", "").replace("docs_dir: handbook", "docs_dir: docs")
    settings = settings.replace("  name: material\n", f"  name: material\n  custom_dir: {ROOT / 'generators/site/theme'}\n")
    settings = settings.replace("extra:\n", "extra:\n  almanac: {date: 2026-11-25, revision: 1, region: uk}\n")
    (folder / "mkdocs.yml").write_text(settings, encoding="utf-8")
    bare = timed(lambda: command("mkdocs", "build", "--quiet", "--site-dir", str(folder / "bare"), cwd=folder))
    os.environ["ALMANAC_ANEW"] = "1"
    anew = timed(lambda: command("generators.cli", "build", "--out", str(folder / "site")))
    del os.environ["ALMANAC_ANEW"]
    command("generators.cli", "build", "--out", str(folder / "site"))
    again = timed(lambda: command("generators.cli", "build", "--out", str(folder / "site")))
    print(f"almanac build, everything anew ÷ bare mkdocs build: {anew:.2f} s ÷ {bare:.2f} s = {anew / bare:.2f}  (goal 1.3 or less)")
    print(f"almanac build, nothing changed ÷ bare mkdocs build: {again:.2f} s ÷ {bare:.2f} s = {again / bare:.2f}")


def changed_fact(folder: Path) -> None:
    """One fact of one coating changed in a crew's folder, against a build of it unchanged; and the same bytes as anew."""
    from generators.starter import write

    own = folder / "own"
    write(own)

    def build(out: str) -> None:
        command("generators.cli", "--handbook", str(own), "build", "--out", str(folder / out))

    build("own-site")
    again = timed(lambda: build("own-site"))
    tin = own / "site_data/coatings/my-trim-paint.yaml"
    tin.write_text(tin.read_text(encoding="utf-8").replace("recoat_after: 5 h", "recoat_after: 6 h"), encoding="utf-8")
    began = time.perf_counter()  # once: a second run would find it kept
    build("own-site")
    changed = time.perf_counter() - began
    os.environ["ALMANAC_ANEW"] = "1"
    build("own-anew")
    del os.environ["ALMANAC_ANEW"]
    one, other = ({path.relative_to(place): path.read_bytes() for path in place.rglob("*") if path.is_file()} for place in (folder / "own-site", folder / "own-anew"))
    same = "the same bytes as anew" if one == other else "OTHER BYTES THAN ANEW"
    print(f"one fact of one coating changed ÷ nothing changed: {changed:.2f} s ÷ {again:.2f} s = {changed / again:.2f}  (goal 1.2 or less); {same}")


def cells() -> None:
    """Vectorised dew points against psychrolib's own loop on the same 100,000 pairs."""
    import psychrolib

    from generators.formulas import DECLARED

    psychrolib.SetUnitSystem(psychrolib.SI)
    rng = np.random.default_rng(1)
    air, humidity = rng.uniform(5, 40, 100_000), rng.uniform(20, 100, 100_000)
    formula = DECLARED["dew-point"]
    formula.column({"air-temperature": 20.0, "relative-humidity": 50.0})
    ours = timed(lambda: formula.column({"air-temperature": air, "relative-humidity": humidity}))
    start = time.perf_counter()
    for t, h in zip(air.tolist(), (humidity / 100).tolist(), strict=True):
        psychrolib.GetTDewPointFromRelHum(t, h)
    loop = time.perf_counter() - start
    print(f"100,000 dew points: ours {1e5 / ours:,.0f} cells/s, psychrolib's loop {1e5 / loop:,.0f} cells/s = {loop / ours:.0f}×  (goal 20× or more)")


def first_load(site: Path) -> None:
    """Gzipped bytes of everything that one table page asks for on a first visit over http."""
    page = site / "air/dew-point.html"
    text = page.read_text(encoding="utf-8")
    wanted = {page}
    for address in re.findall(r'<(?:link[^>]+rel="(?:stylesheet|icon)"[^>]+href|script[^>]+src|img[^>]+src)="([^"#]+)"', text):
        wanted.add((page.parent / address).resolve())
    wanted |= set((site / "assets/fonts").glob("*.woff2"))
    sizes = {path: len(gzip.compress(path.read_bytes(), 9)) if path.suffix != ".woff2" else path.stat().st_size for path in wanted}
    for path, size in sorted(sizes.items(), key=lambda item: -item[1]):
        print(f"    {size / 1000:6.1f} kB  {path.relative_to(site)}")
    print(f"first load of a table page, gzipped: {sum(sizes.values()) / 1000:.0f} kB  (goal 130 kB or less)")


def choose(page: Any) -> None:
    """On Today, the first kit and the first paint."""
    for press in ("[data-reading=kit]", ".alm-panel-choices button", "[data-reading=set-pot]", ".alm-panel-choices button"):
        page.locator(press).first.click()
        page.wait_for_timeout(500)


def today_screen(site: Path) -> None:
    """Gzipped bytes that the first screen really asks for, with a kit and a paint chosen; and what each later press fetches."""
    import functools
    import http.server
    import threading

    from playwright.sync_api import sync_playwright

    class Quiet(http.server.SimpleHTTPRequestHandler):
        """A file server that says nothing."""

        def log_message(self, *_: object) -> None:
            """Nothing."""

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), functools.partial(Quiet, directory=str(site)))
    threading.Thread(target=server.serve_forever, daemon=True).start()
    address = f"http://127.0.0.1:{server.server_address[1]}/"
    files = [path for path in site.rglob("*") if path.is_file() and path.suffix in (".html", ".js", ".css", ".woff2", ".png")]
    size = {path: path.stat().st_size if path.suffix == ".woff2" else len(gzip.compress(path.read_bytes(), 9)) for path in files}
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"), args=["--no-sandbox", "--disable-gpu"])
        page = browser.new_context(viewport={"width": 360, "height": 640}, service_workers="block").new_page()
        asked: list[Path] = []
        page.on("request", lambda request: asked.append(site / request.url.removeprefix(address)))

        def told(what: str) -> None:
            page.wait_for_load_state("networkidle")
            print(f"    {sum(size.get(path, 0) for path in set(asked)) / 1000:6.1f} kB  {what}, in {len(set(asked))} files")
            asked.clear()

        page.goto(f"{address}index.html")
        page.wait_for_selector("#alm-day[data-ready]")
        told("first load of Today (goal 130 kB or less)")
        choose(page)
        told("the first presses: key pad, one kit, one paint")
        page.locator("#alm-day-search").click()
        page.wait_for_timeout(1500)
        told("search, at its first use")
        browser.close()
    server.shutdown()


def ready(site: Path) -> None:
    """Seconds from asking for Today, with a kit and a paint chosen, until all its lines stand, on a processor throttled four times: in a browser that runs, and in one started for it."""
    from playwright.sync_api import sync_playwright

    mark = """new MutationObserver((_, one) => {
      if (document.querySelector('#alm-day[data-ready]')) { performance.mark('ready'); one.disconnect(); }
    }).observe(document, {subtree: true, childList: true, attributes: true});"""
    address, flags = (site / "index.html").as_uri(), ["--no-sandbox", "--disable-gpu", "--allow-file-access-from-files"]
    running: list[float] = []
    started: list[float] = []
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as kept:
        for turn in range(RUNS + 1):
            context = playwright.chromium.launch_persistent_context(kept, executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"), args=flags, viewport={"width": 360, "height": 640})
            page = context.pages[0]
            page.add_init_script(mark)
            context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
            for times in (started, running):
                page.goto(address)
                page.wait_for_selector("#alm-day[data-ready]")
                page.wait_for_timeout(500)
                if turn:
                    times.append(page.evaluate("performance.getEntriesByName('ready')[0].startTime") / 1000)
            if not turn:
                choose(page)
            context.close()
    told = (f"{statistics.median(times):.2f} s in {where}, at most {max(times):.2f}" for times, where in ((running, "a browser that runs"), (started, "one started for it")))
    print(f"Today ready, throttled 4 times (goal 1 s): {'; '.join(told)}")


def linking() -> None:
    """Trade words on a page eight times as long: work grows with the length, not with its square."""
    from generators.formulas.own_cups import open_handbook
    from generators.pages.linking import link_words

    words = open_handbook(ROOT).words

    def page(times: int) -> dict[str, str]:
        return {"a.md": "x " + "[a `b dew point " * times, "reference/words.md": '<dfn id="dew-point">dew point</dfn>'}

    few, many = (timed(lambda times=times: link_words(page(times), words)) for times in (2_000, 16_000))
    print(f"words linked on a page eight times as long: {many / few:.1f}× the time  (64 would be its square)")


def card() -> None:
    """Seconds and bytes of one card."""
    from generators import formulas
    from generators.formulas.own_cups import open_handbook
    from generators.pages.card import card_pdf

    facts = open_handbook(ROOT)
    catalogue = formulas.catalogue(facts)
    start = time.perf_counter()
    made = card_pdf(facts, catalogue, facts.handbook.default_kit)
    first = time.perf_counter() - start
    again = timed(lambda: card_pdf(facts, catalogue, facts.handbook.default_kit))
    print(f"card: first {first:.2f} s, then {again:.2f} s, {len(made) / 1000:.0f} kB  (goals 1 s, 200 kB)")


def whole_book(folder: Path) -> None:
    """The book on each paper: seconds, and the most memory that any one of its processes took."""
    for size in ("a4", "letter", "pocket"):
        start = time.perf_counter()
        process = subprocess.Popen([sys.executable, "-m", "generators.cli", "book", "--size", size, "--quiet", "--out", str(folder / f"{size}.pdf")], cwd=ROOT)
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = os.waitstatus_to_exitcode(status)
        assert process.returncode == 0, size
        print(f"book, {size}: {time.perf_counter() - start:.1f} s, {usage.ru_maxrss * 1024 / 1e6:.0f} MB  (goals 20 s, 700 MB)")


def answers(site: Path) -> None:
    """Milliseconds from a press to the changed answer, its style and its layout, on a processor throttled four times; and over a press that only writes a text."""
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"), args=["--no-sandbox", "--disable-gpu", "--allow-file-access-from-files"])
        context = browser.new_context(viewport={"width": 360, "height": 800})
        page = context.new_page()
        page.goto((site / "mix/thinning.html").as_uri())
        context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
        ours, bare = page.evaluate("""() => {
          const part = document.querySelector('.alm-live'), key = part.querySelector('.alm-more'), is = part.querySelector('.alm-answer-is');
          const note = document.querySelector('.alm-footer p'), plain = document.createElement('button');
          plain.addEventListener('click', () => { note.textContent = String(Math.random()); });
          const median = (key) => {
            const times = [];
            for (let i = 0; i < 41; i++) { const start = performance.now(); key.click(); is.getBoundingClientRect(); times.push(performance.now() - start); }
            return times.sort((a, b) => a - b)[20];
          };
          return [median(key), median(plain)];
        }""")
        pages = []
        page.goto((site / "index.html").as_uri())
        doors = [link.get_attribute("href") for link in page.locator(".alm-doors a").all()]
        for door in doors:
            page.goto((site / "index.html").as_uri())
            page.locator(f'.alm-doors a[href="{door}"]').click()
            page.wait_for_load_state("load")
            pages.append(page.evaluate("performance.getEntriesByName('first-contentful-paint')[0].startTime"))
        browser.close()
    print(f"a page behind a door, from the tap to its first paint, throttled 4 times: {statistics.median(pages):.0f} ms in the middle, {max(pages):.0f} ms at most, of {len(pages)}")
    print(f"a live answer, processor throttled 4 times: {ours:.1f} ms (goal 50 ms or less), {ours / max(bare, 0.05):.1f}× a press that writes one text and lays the page out")


def typing(site: Path) -> None:
    """Milliseconds that one key takes in the daily log of a device with 1,000 records of 60 words each, on a processor throttled four times, style and layout included."""
    from conftest import serving
    from playwright.sync_api import sync_playwright

    with serving(site) as base, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"), args=["--no-sandbox", "--disable-gpu"])
        context = browser.new_context(viewport={"width": 360, "height": 800})
        page = context.new_page()
        page.goto(f"{base}/job/daily-log.html")
        page.wait_for_selector(".alm-form[data-ready]")
        page.evaluate("""async () => {
          const { journal } = almanacKeeper, list = [];
          for (let rec = 0; rec < 1000; rec += 1) {
            const name = almanacRecords.newId("log");
            const fields = ["title", "batch", "seen", "area", "mask", "date"];
            list.push(journal.type(name, "", "~kind", "log"), ...Array.from({ length: 60 }, (_, n) => journal.type(name, "", fields[n % 6], `words of record ${rec}, ${n}`)));
          }
          const others = new almanacJournal.Journal("otherphone1"); for (const edit of list) others.take({ ...edit, dev: "otherphone1" });
          await almanacKeeper.bring(others.edits(), []);
        }""")
        context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
        start = time.perf_counter()
        page.reload()
        page.wait_for_selector(".alm-form[data-ready]", timeout=120_000)
        opened = time.perf_counter() - start
        took = page.evaluate("""async () => {
          const out = {};
          const fields = { title: '.alm-form [data-name="title"] :is(input, textarea)', figure: '.alm-form .alm-entry input[inputmode="decimal"]', notes: '.alm-form .alm-entry textarea' };
          for (const [name, select] of Object.entries(fields)) {
            const input = document.querySelector(select), times = [];
            for (let n = 0; n < 120; n += 1) {
              const start = performance.now();
              input.value += String(n % 10);
              input.dispatchEvent(new Event("input", { bubbles: true }));
              input.getBoundingClientRect();
              times.push(performance.now() - start);
              await new Promise((good) => setTimeout(good, 30));
            }
            times.sort((a, b) => a - b);
            out[name] = [times[60], times[113]];
          }
          return out;
        }""")
        browser.close()
    print(f"a log with 1,000 records on the device opens in {opened:.1f} s, processor throttled 4 times")
    print("a key typed there, median and 95th of 100: " + ", ".join(f"{name} {half:.1f} and {most:.1f} ms" for name, (half, most) in took.items()) + "  (goal 16 ms or less)")


def asking(site: Path) -> None:
    """Milliseconds until the search is ready, and that one key takes in its box, on a processor throttled four times, drawing and layout included."""
    from playwright.sync_api import sync_playwright

    asked = ("how do i stop runs on a panelled door", "isocianates in a garage", "overspray on neighbors car", "how much paint for 20 doors")
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=os.environ.get("CHROMIUM", "/usr/bin/chromium"), args=["--no-sandbox", "--disable-gpu", "--allow-file-access-from-files"])
        page = browser.new_page(viewport={"width": 360, "height": 800})
        page.goto((site / "survey/masking.html").as_uri())
        page.wait_for_load_state("load")
        page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 4})
        start = time.perf_counter()
        page.locator("label.md-header__button[for=__search]").click()
        page.fill("input[name=query]", "r")
        page.wait_for_selector("#alm-found a", timeout=60_000)
        ready = time.perf_counter() - start
        times = page.evaluate("""async (asked) => {
          const box = document.querySelector("input[name=query]"), find = almanacFind(almanacSearchPages, MiniSearch), alone = [], times = [];
          for (const text of asked) for (let end = 1; end <= text.length; end += 1) {
            const start = performance.now();
            find.search(text.slice(0, end), true, {});
            alone.push(performance.now() - start);
            await new Promise((good) => setTimeout(good, 5));
          }
          for (const text of asked) for (let end = 1; end <= text.length; end += 1) {
            const start = performance.now();
            box.value = text.slice(0, end);
            box.dispatchEvent(new Event("input", { bubbles: true }));
            box.getBoundingClientRect();
            times.push(performance.now() - start);
            await new Promise((good) => setTimeout(good, 20));
          }
          return [alone, times].map((list) => list.sort((a, b) => a - b));
        }""", list(asked))
        browser.close()
    alone, drawn = (f"{statistics.median(one):.0f} ms in the middle, {one[int(0.95 * len(one))]:.0f} ms for the 95th of 100" for one in times)
    print(f"the search answers its first key {ready:.1f} s after the tap, processor throttled 4 times; "
          f"a key is then ranked in {alone}, drawn and laid out with it in {drawn}  (goal 16 ms or less)")


def main() -> None:
    """Everything, in one run."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=RUNS, help="the middle one of so many is told")
    globals()["RUNS"] = parser.parse_args().runs
    with tempfile.TemporaryDirectory() as temporary:
        builds(Path(temporary))
        changed_fact(Path(temporary))
        cells()
        first_load(Path(temporary) / "site")
        today_screen(Path(temporary) / "site")
        ready(Path(temporary) / "site")
        answers(Path(temporary) / "site")
        typing(Path(temporary) / "site")
        asking(Path(temporary) / "site")
        card()
        whole_book(Path(temporary))
        linking()


if __name__ == "__main__":
    main()
