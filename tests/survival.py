"""Kill the whole browser after "kept": `python tests/survival.py --count 200`. What the page called kept is there afterwards, every time.

A real browser with its own folder types into the daily log of a built handbook, as fast as a hand does. At a random moment after the page said "kept" all its
processes are killed at once. The next browser on the same folder must show each text that was ever called kept, or what was typed over it later.
Then the files of the store are spoiled on the disk, and all must come back out of the second copy. Then histories of several devices are merged in Node, thousands of them: tests/merge.js.
"""

from __future__ import annotations

import argparse
import contextlib
import json
import os
import random
import shutil
import signal
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FIELDS = ("title", "operator", "batch", "area", "prepared", "mask", "thinner-name", "waste-to", "seen", "faults", "incident", "photos")
SAYS = "document.querySelector('.alm-state').textContent"
# Every field in sight.
OPEN = "document.querySelectorAll('.alm-short [data-do=short]').forEach((one) => one.click()); document.querySelectorAll('.alm-fold[aria-expanded=false]').forEach((one) => one.click())"


class Browser:
    """Chromium in a process group of its own, on a folder that outlives it."""

    def __init__(self, play, folder: Path, chromium: str, flags: list[str]) -> None:
        (folder / "DevToolsActivePort").unlink(missing_ok=True)
        command = [chromium, *flags, "--headless=new", "--remote-debugging-port=0", f"--user-data-dir={folder}", "--no-first-run", "about:blank"]
        self.process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True)
        port, end = folder / "DevToolsActivePort", time.monotonic() + 60
        while not port.exists() or "\n" not in port.read_text():
            assert time.monotonic() < end, "the browser did not start"
            time.sleep(0.05)
        self.driver = play.chromium.connect_over_cdp(f"http://127.0.0.1:{port.read_text().splitlines()[0]}")
        self.page = self.driver.contexts[0].new_page()

    def kill(self) -> None:
        """All of its processes at once, as when the battery is pulled."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()
        with contextlib.suppress(Exception):  # the other end is dead: that is the point
            self.driver.close()


def until(page, what: str, seconds: float = 60) -> None:
    """Wait for something to be true on the page. The site's policy lets no waiting function in, so it is asked again and again."""
    end = time.monotonic() + seconds
    while not page.evaluate(what):
        assert time.monotonic() < end, f"never came true: {what}; the page says {page.evaluate(SAYS)!r}"
        time.sleep(0.05)


def held(page) -> dict[str, str]:
    """What the store of this browser holds in the log that is open."""
    return page.evaluate("(names) => Object.fromEntries(names.map((name) => [name, almanacForms[0].pages ? almanacForms[0].pages.text('', name) : '']))", list(FIELDS))


def kills(count: int, seed: int, address: str, folder: Path, chromium: str, flags: list[str]) -> Counter[str]:
    """What was found after each of `count` kills: texts that were called kept, and are there or are lost."""
    from playwright.sync_api import sync_playwright

    rng = random.Random(seed)
    found: Counter[str] = Counter()
    kept: dict[str, str] = {}
    after: dict[str, list[str]] = {}  # what was typed since, and never called kept: it may be there or not
    with sync_playwright() as play:
        for number in range(count + 1):
            browser = Browser(play, folder, chromium, flags)
            page = browser.page
            page.goto(address)
            page.wait_for_selector(".alm-form[data-ready]")
            page.evaluate(OPEN)
            now = held(page)
            for name, text in kept.items():
                good = now[name] == text or now[name] in after.get(name, [])
                found["there" if good else f"LOST {name}: {text!r}, came {now[name]!r}"] += 1
            kept, after = {name: text for name, text in now.items() if text}, {}
            if number == count:
                browser.kill()
                break
            for turn in range(rng.randint(1, 4)):
                name, text = rng.choice(FIELDS), f"{number}.{turn} " + "x" * rng.choice([0, 5, 60, 3000])
                page.fill(f'.alm-entry[data-name="{name}"] :is(input, textarea)', text)
                until(page, f"{SAYS}.startsWith('✓ Kept')")
                kept[name] = text
            if rng.random() < 0.5:  # killed in the middle of a word
                name = rng.choice(FIELDS)
                text = f"{number}.half"
                page.fill(f'.alm-entry[data-name="{name}"] :is(input, textarea)', text)
                after[name] = [text]
            time.sleep(rng.choice([0, 0, rng.uniform(0, 0.4)]))
            browser.kill()
            found["killed"] += 1
            if found["killed"] % 20 == 0:
                lost = sum(number for what, number in found.items() if what.startswith("LOST"))
                print(f"{found['killed']} kills, {found['there']} texts there, {lost} lost", file=sys.stderr, flush=True)
    return found


DAMAGE = {
    "noise": lambda data, rng: bytes(rng.randrange(256) if place % 50 == 0 else byte for place, byte in enumerate(data)),
    "cut in half": lambda data, rng: data[: len(data) // 2],
    "empty": lambda data, rng: b"",
    "zeros": lambda data, rng: bytes(len(data)),
}


def damaged(how: str, seed: int, address: str, folder: Path, chromium: str, flags: list[str]) -> str:
    """The store's own files are spoiled on the disk between two visits: the words that came back out of the second copy, or what went wrong."""
    from playwright.sync_api import sync_playwright

    rng = random.Random(seed)
    words = {name: f"{name} {rng.randrange(10**6)}" for name in ("title", "operator", "batch", "seen")}
    with sync_playwright() as play:
        browser = Browser(play, folder, chromium, flags)
        browser.page.goto(address)
        browser.page.wait_for_selector(".alm-form[data-ready]")
        for name, text in words.items():
            browser.page.fill(f'.alm-entry[data-name="{name}"] :is(input, textarea)', text)
        until(browser.page, f"{SAYS}.startsWith('✓ Kept')")
        browser.page.evaluate("almanacSecond.flush()")
        time.sleep(2.5)
        browser.kill()
        spoiled = 0
        for path in sorted(folder.rglob("IndexedDB/*.leveldb/*")):
            if path.suffix in (".log", ".ldb") or path.name.startswith("MANIFEST"):
                path.write_bytes(DAMAGE[how](path.read_bytes(), rng))
                spoiled += 1
        if not spoiled:
            return "nothing was spoiled: the browser keeps its store elsewhere"
        browser = Browser(play, folder, chromium, flags)
        page = browser.page
        page.goto(address)
        page.wait_for_selector(".alm-form[data-ready]")
        page.wait_for_selector(".alm-say button:has-text('Bring them back')", timeout=60_000)
        told = page.locator(".alm-say").inner_text()
        page.locator(".alm-say button", has_text="Bring them back").click()
        until(page, "almanacRecords.all().some((one) => Boolean(one.fields.title))")
        until(page, f"{SAYS}.startsWith('Nothing') || {SAYS}.startsWith('✓')")
        page.reload()
        page.wait_for_selector(".alm-form[data-ready]")
        page.evaluate("almanacKeeper.load('*')")
        there = page.evaluate("almanacRecords.all().map((one) => one.fields)")
        browser.kill()
    lost = [text for name, text in words.items() if not any(one.get(name) == text for one in there)]
    return "" if not lost and "second copy" in told else f"{how}: lost {lost}; told {told!r}"


def merges(runs: int, seed: int) -> dict:
    """What tests/merge.js did, or what it found wrong."""
    done = subprocess.run([shutil.which("node") or "node", str(ROOT / "tests/merge.js"), str(runs), str(seed)], capture_output=True, text=True, check=False)
    return json.loads(done.stdout or json.dumps({"failed": done.stderr}))


def main() -> int:
    """Figures; 1 where anything was lost."""
    sys.path.insert(0, str(ROOT / "tests"))
    from conftest import CHROMIUM, CHROMIUM_FLAGS, serving

    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--merges", type=int, default=3000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--site", type=Path, help="a built site; without it one is built")
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as temporary:
        site = options.site or Path(temporary) / "site"
        if not options.site:
            from generators.site.build import build

            build(ROOT, site)
        with serving(site) as base:
            found = kills(options.count, options.seed, f"{base}/job/daily-log.html", Path(temporary) / "profile", str(CHROMIUM), CHROMIUM_FLAGS)
            spoiled = [damaged(how, options.seed, f"{base}/job/daily-log.html", Path(temporary) / how.replace(" ", "-"), str(CHROMIUM), CHROMIUM_FLAGS) for how in DAMAGE]
    print(f"{len(DAMAGE)} ways to damage the store on the disk: {len(DAMAGE) - len([one for one in spoiled if one])} brought back whole; {[one for one in spoiled if one]}")
    lost = {what: number for what, number in found.items() if what.startswith("LOST")}
    print(f"{found['killed']} kills of the whole browser: {found['there']} texts that were called kept looked for again, {sum(lost.values())} lost")
    for what in lost:
        print("   ", what)
    told = merges(options.merges, options.seed)
    print("histories merged: " + json.dumps(told))
    return 1 if lost or any(spoiled) or "failed" in told else 0


if __name__ == "__main__":
    sys.exit(main())
