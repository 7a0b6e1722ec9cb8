"""Bad input, by the thousand: `python tests/fuzz.py --count 100000 --seed 1`.

Each input is one hurt file (or a few) in a folder that was sound. What may come of it: problems as `path:line: wanted …`,
or pages. What may not: any other exception, a problem without its line, a page with a text from facts that turned into
markup. One input in `--every` goes through `almanac build` itself with a last good site beside it, which must be whole afterwards,
old or new.
"""

from __future__ import annotations

import argparse
import contextlib
import csv
import io
import os
import random
import re
import resource
import shutil
import sys
import tempfile
import time
import traceback
from collections import Counter
from dataclasses import dataclass, field
from html.parser import HTMLParser
from pathlib import Path

from generators.cli import main as almanac
from generators.facts import FactsError, load
from generators.facts.read import MAX_BYTES
from generators.pages import PageError, build_assets, build_pages

ROOT = Path(__file__).resolve().parent.parent
TOLD = re.compile(r"^[^:\n]+:\d+: wanted .+; came .+; .+", re.DOTALL)
SCRIPT = "window.__pwned=1"
MARKUP = (
    f"<script>{SCRIPT}</script>",
    f'"><img src=x onerror={SCRIPT}>',
    f"' onmouseover='{SCRIPT}",
    f"<svg/onload={SCRIPT}>",
    f"[x](javascript:{SCRIPT})",
    f"</script><script>{SCRIPT}//",
    f"<a href=javascript:{SCRIPT}>x</a>",
    "{{ facts.root }}",
    "{% for x in range(10) %}x{% endfor %}",
    "{{ ''.__class__.__mro__ }}",
    f"<!--<script>{SCRIPT}</script>-->",
    f"]]><script>{SCRIPT}</script>",
    "{#",
    "{{",
    "}}",
    "{%",
    "| a | b |",
    "# head",
    "```",
    "~~~",
    "<div>",
    "</div></details>",
    "<table>",
    f"![x](x onerror={SCRIPT})",
    f"{{: onclick={SCRIPT} }}",
    f'x{{: onclick="{SCRIPT}" }}',
    f"<iframe srcdoc='<script>{SCRIPT}</script>'>",
    "&lt;script&gt;",
    "*x* _y_ `z`",
    f"<style>@import'x'</style><math><mtext><script>{SCRIPT}</script>",
    "=HYPERLINK(1)",
    "+1+1",
    "@SUM(1)",
    "-1+1",
    "#set page(width: 1pt)",
    "#panic()",
    '#read("/etc/passwd")',
)
VALUES = (
    "",
    " ",
    "null",
    "~",
    "true",
    "no",
    "0",
    "-1",
    "1e308",
    "1e309",
    "-1e309",
    "NaN",
    ".nan",
    ".inf",
    "-.inf",
    "inf",
    "Infinity",
    "1e-320",
    "0x1F",
    "1_000",
    "١٢ mm",
    "²",
    "½ L",
    "12:30",
    "2026-13-45",
    "9999999999999999999999",
    "NaN %",
    "inf mm",
    "-5 °C",
    "1e9 °C",
    "5 furlongs",
    "5",
    "5 %%",
    "% 5",
    "5 mm mm",
    "5 g/L",
    "5 Δ°C",
    "30 s",
    "30 s in teacup",
    "30 s in ford-4 in ford-4",
    "1e400 s in ford-4",
    "0.0.0 s in ford-4",
    ". s in iso-4",
    "[",
    "]",
    "{",
    "}",
    "[a, b",
    "{a: b}",
    "[[]]",
    "- x",
    "&a x",
    "*a",
    "!!python/object:os.system x",
    "!!binary aGk=",
    "! x",
    "|",
    ">",
    "|9",
    "? x",
    ": x",
    "%YAML 9",
    "---",
    "...",
    "'",
    '"',
    '"\\x"',
    '"\\ud800"',
    '"\\0"',
    "\\",
    "\t",
    "\tx",
    "x\ty",
    "\x00",
    "\x07",
    "\x1b[31m",
    "\u202e",
    "\ufeff",
    "\u2028",
    "\x85",
    "\U0010ffff",
    "💥" * 20,
    "x" * 70,
    "x" * 3000,
    "../../etc/passwd",
    "/dev/zero",
    "con",
    "a/b",
    "a\\b",
    "..",
    ".",
    "uk\n",
    "<<: x",
    "constructor",
    "__proto__",
    "__class__",
)
SHAPES = (
    "drop line",
    "double line",
    "swap lines",
    "value",
    "value",
    "value",
    "markup",
    "markup",
    "key",
    "indent",
    "tab",
    "truncate",
    "byte",
    "bytes",
    "insert",
    "bom",
    "utf-16",
    "latin-1",
    "empty",
    "noise",
    "nested",
    "anchor",
    "laughs",
    "long line",
    "delete file",
    "huge file",
    "link out",
    "ring of links",
    "folder",
    "crlf",
    "number",
    "number",
    "unit",
    "merge",
    "many keys",
    "pipe",
    "markup value",
    "markup value",
)
MEMORY = 4_000_000_000  # a long run stops here instead of taking the machine with it
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


@dataclass
class Tally:
    """What came of the inputs."""

    inputs: int = 0
    refused: int = 0
    built: int = 0
    whole_builds: int = 0
    bad: list[str] = field(default_factory=list)
    shapes: Counter[str] = field(default_factory=Counter)


def sound(folder: Path) -> None:
    """A sound, small handbook, with a spreadsheet row and this project's own pages."""
    from older import whole

    whole(folder)
    sheet = folder / "site_data/coatings.csv"
    sheet.write_text(sheet.read_text(encoding="utf-8").replace("# my-ceiling", "my-ceiling"), encoding="utf-8")
    (folder / "site").mkdir()
    (folder / "site/index.html").write_text("last good", encoding="utf-8")


def targets(folder: Path) -> list[Path]:
    """Every file that a crew fills in."""
    return sorted(path for base in ("site_data", "handbook") for path in (folder / base).rglob("*") if path.is_file() and "schemas" not in path.parts)


def hurt(path: Path, shape: str, rng: random.Random) -> None:
    """Spoil one file in one way."""
    raw = path.read_bytes()
    if path.suffix == ".gz":  # packed weather: bytes turned and ends cut off, whatever the shape
        spoilt = bytearray(raw)
        for _ in range(rng.randint(1, 20)):
            spoilt[rng.randrange(len(spoilt))] = rng.randrange(256)
        path.write_bytes(bytes(spoilt[: rng.choice((len(spoilt), rng.randrange(len(spoilt))))]))
        return
    lines = raw.decode().split("\n")
    at = rng.randrange(len(lines))

    def rest() -> None:
        path.write_bytes("\n".join(lines).encode("utf-8", "surrogatepass"))

    def replace_value(new: str) -> None:
        if path.suffix == ".csv":
            cells = next(iter(csv.reader([lines[at]])), [""]) or [""]
            cells[rng.randrange(len(cells))] = new
            out = io.StringIO()
            csv.writer(out, lineterminator="").writerow(cells)
            lines[at] = out.getvalue()
        elif path.suffix == ".yaml" and ": " in lines[at]:
            spot = rng.choice([found.end() for found in re.finditer(r": ", lines[at])])
            tail = re.search(r"[,}]", lines[at][spot:]) if "{" in lines[at] else None
            lines[at] = lines[at][:spot] + new + (lines[at][spot + tail.start() :] if tail else "")
        else:
            lines[at] = new

    if shape == "drop line":
        del lines[at]
        rest()
    elif shape == "double line":
        lines.insert(at, lines[at])
        rest()
    elif shape == "swap lines":
        other = rng.randrange(len(lines))
        lines[at], lines[other] = lines[other], lines[at]
        rest()
    elif shape == "value":
        replace_value(rng.choice(VALUES))
        rest()
    elif shape in ("markup", "markup value"):
        text = rng.choice(MARKUP)
        if shape == "markup value" and path.suffix == ".yaml":
            text = "'" + text.replace("'", "''") + "'"
        elif path.suffix == ".md":
            text = rng.choice(
                (
                    "{{",
                    "{%",
                    "{{ table('x') }}",
                    "{{ 1/0 }}",
                    "{{ ''.__class__.__mro__[1].__subclasses__() }}",
                    "{% for a in range(10**9) %}x{% endfor %}",
                    "{{ table('dew-surface', kit=1) }}",
                    "{{ work('wet-film', thinner='x') }}",
                    "{{ value('limits.') }}",
                    "{{ facts.kits.__class__ }}",
                    "{% include '/etc/passwd' %}",
                    "{% import 'os' as os %}",
                    "{{ stop('x') }}",
                    "{{ protection('x') }}",
                    "{{ kit.name.format.__globals__ }}",
                    "{{ facts.kits.clear() }}",
                    "{{ 'x' * 10**10 }}",
                    "{{ measure(1) }}",
                    "{{ origin(2) }}",
                    "{% raw %}",
                    "[x](../../../../etc/passwd)",
                    "---",
                )
            )
        replace_value(text)
        rest()
    elif shape == "key":
        lines[at] = re.sub(r"[\w-]+(?=:)", lambda found: rng.choice((found[0][:-1], found[0] + "x", "", "1", "__class__", "{a: b}", "[a]", "name")), lines[at], count=1)
        rest()
    elif shape == "indent":
        lines[at] = " " * rng.randrange(1, 5) + lines[at]
        rest()
    elif shape == "tab":
        lines[at] = "\t" + lines[at]
        rest()
    elif shape == "truncate":
        path.write_bytes(raw[: rng.randrange(len(raw) + 1)])
    elif shape == "byte":
        spot = rng.randrange(len(raw) or 1)
        path.write_bytes(raw[:spot] + bytes([rng.randrange(256)]) + raw[spot + 1 :])
    elif shape == "bytes":
        hit = bytearray(raw or b"x")
        for _ in range(rng.randrange(1, 30)):
            hit[rng.randrange(len(hit))] = rng.randrange(256)
        path.write_bytes(bytes(hit))
    elif shape == "insert":
        spot = rng.randrange(len(raw) + 1)
        path.write_bytes(raw[:spot] + rng.choice(VALUES + MARKUP).encode("utf-8", "surrogatepass") + raw[spot:])
    elif shape == "bom":
        path.write_bytes(b"\xef\xbb\xbf" * rng.randrange(1, 3) + raw)
    elif shape == "utf-16":
        path.write_bytes(raw.decode().encode("utf-16"))
    elif shape == "latin-1":
        path.write_bytes(raw.decode().encode("latin-1", "replace"))
    elif shape == "empty":
        path.write_bytes(rng.choice((b"", b"\n", b"#", b"---\n", b"\x00", b"null", b"[]", b"{}", b"--- {}\n--- {}\n")))
    elif shape == "noise":
        path.write_bytes(rng.randbytes(rng.randrange(1, 500)))
    elif shape == "nested":
        count = rng.choice((50, 5000, 200_000))
        lines.append("deep: " + rng.choice(("[", "{a: ", "- ", "[" * 3)) * count)
        rest()
    elif shape == "anchor":
        lines[at] = lines[at].replace(": ", ": &a ", 1)
        lines.append("again: *a")
        rest()
    elif shape == "laughs":
        path.write_text("a: &a [x,x,x,x,x,x,x,x,x]\n" + "".join(f"{b}: &{b} [*{a},*{a},*{a},*{a},*{a},*{a},*{a},*{a},*{a}]\n" for a, b in zip("abcdefghi", "bcdefghij", strict=True)), encoding="utf-8")
    elif shape == "long line":
        lines[at] += "x" * rng.choice((1000, 100_000, 900_000))
        rest()
    elif shape == "delete file":
        path.unlink()
    elif shape == "huge file":
        path.unlink()
        with path.open("wb") as out:
            out.truncate(rng.choice((MAX_BYTES + 1, 100_000_000)))
    elif shape in ("link out", "ring of links", "folder", "pipe"):
        path.unlink()
        if shape == "folder":
            path.mkdir()
        elif shape == "pipe":
            os.mkfifo(path)
        else:
            path.symlink_to(path if shape == "ring of links" else rng.choice((Path("/etc/passwd"), Path("/dev/zero"), Path("/nowhere"), ROOT / "README.md")))
    elif shape == "crlf":
        path.write_bytes(raw.replace(b"\n", rng.choice((b"\r\n", b"\r"))))
    elif shape == "number":
        found = list(NUMBER.finditer(lines[at]))
        if found:
            one = rng.choice(found)
            new = rng.choice(("0", "-1", "1e308", "NaN", "inf", "1,5", "", "1e-308", "99999999", "0.0000001", "-" + one[0], one[0] + "0", one[0] + "000000", "x", str(rng.uniform(0, 200))))
            lines[at] = lines[at][: one.start()] + new + lines[at][one.end() :]
        rest()
    elif shape == "unit":
        units = ("°C", "°F", "%", "mm", "in", "µm", "mil", "L", "qt", "kg/L", "g/L", "lb/gal", "s", "h", "deg", "dBA", "mL/min", "Δ°C", "K", "Pa", "m/s", "1")
        lines[at] = re.sub(r"(?<=\d )(?:°C|%|mm|µm|L|kg/L|g/L|h|deg|dBA|mL/min)(?=$|[\s,\]}])", lambda _: rng.choice(units), lines[at])
        rest()
    elif shape == "merge":
        lines.append("<<: {a: 1}")
        rest()
    elif shape == "many keys":
        lines += [f"key{number}: {number}" for number in range(rng.choice((10, 3000)))]
        rest()


class Markup(HTMLParser):
    """Finds what no text from facts may make: scripts, handlers, script addresses, frames."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []

    def handle_starttag(self, tag, attrs):
        ours = tag == "img" and re.fullmatch(r"\.\./assets/faults/[a-z-]+\.png", dict(attrs).get("src") or "")  # a fault's picture, drawn at build
        if tag in ("script", "iframe", "object", "embed", "img", "style", "base", "form") and not ours:
            self.found.append(f"<{tag}>")
        for name, value in attrs:
            if name.startswith("on") or (value or "").strip().lower().startswith("javascript:"):
                self.found.append(f"{tag} {name}={value}")


def markup_in(pages: dict[str, str]) -> list[str]:
    """Live markup in finished pages, after Markdown: every page with a payload in it."""
    import markdown

    found = []
    for address, text in pages.items():
        if "__pwned" in text:
            seen = Markup()
            seen.feed(markdown.markdown(text, extensions=["attr_list", "md_in_html", "tables", "toc"]))
            found += [f"{address}: {one}" for one in seen.found]
    return found


def formulas_in(assets: dict[str, bytes | str]) -> list[str]:
    """Cells of any CSV that a spreadsheet would run."""
    found = []
    for address, text in assets.items():
        if address.endswith(".csv") and isinstance(text, str):
            for row in csv.reader(io.StringIO(text)):
                found += [f"{address}: {cell}" for cell in row if cell[:1] in ("=", "+", "@", "\t", "\r") or re.match(r"-(?!\d+(\.\d+)?( \(\w+\))?$)", cell)]
    return found


def told_well(problems: list[str]) -> list[str]:
    """Problems that do not say where, what was wanted, what came and how to mend."""
    return [problem for problem in problems if not TOLD.match(problem)]


def try_one(folder: Path, hurt_page: bool, pages_too: bool) -> tuple[str, list[str]]:
    """("refused" | "built", complaints)."""
    try:
        facts = load(folder)
        if not pages_too:
            return "built", []
        pages = build_pages(facts)
        assets = build_assets(facts)
        # A crew's own page is its own Markdown, and may hold markup; a text from facts may not.
        return "built", ([] if hurt_page else markup_in(pages)) + formulas_in(assets)
    except FactsError as error:
        return "refused", told_well([str(problem) for problem in error.problems]) + ([] if error.problems else ["a refusal without a problem"])
    except PageError as error:
        return "refused", told_well([str(problem) for problem in error.problems]) + ([] if error.problems else ["a refusal without a problem"])


def build_whole(folder: Path) -> tuple[str, list[str]]:
    """The same through the command, with a last good site beside it."""
    out, err = io.StringIO(), io.StringIO()
    good = folder / "site/index.html"
    good.write_text("last good", encoding="utf-8")
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = almanac(["--handbook", str(folder), "build"])
    complaints = [f"left behind: {path.name}" for path in folder.iterdir() if path.name.startswith(".site")]
    text = good.read_text(encoding="utf-8") if good.exists() else ""
    if code == 0 and "</html>" not in text:
        complaints.append("a build that says it went well, and a first page that is not whole")
    if code and text != "last good":
        complaints.append("a build that failed, and a last good site that is gone")
    if code not in (0, 1) or "Traceback" in err.getvalue() or (code and not err.getvalue().strip()):
        complaints.append(f"no clear error, exit {code}: " + err.getvalue()[-300:])
    if code == 0:
        shutil.rmtree(folder / "site")
        (folder / "site").mkdir()
    return ("refused" if code else "built"), complaints


def run(count: int, seed: int, every: int = 500, pages_every: int = 10, seconds: float | None = None, markup_every: int = 1) -> Tally:
    """`count` inputs, or as many as fit in `seconds`. One in `pages_every`, and of those with markup one in `markup_every`, goes as far as pages."""
    tally = Tally()
    marked = 0
    rng = random.Random(seed)
    started = time.monotonic()
    with tempfile.TemporaryDirectory() as temporary:
        folder = Path(temporary) / "own"
        sound(folder)
        files = targets(folder)
        kept = {path: path.read_bytes() for path in files}
        pages = [path for path in files if path.suffix == ".md"]
        facts = [path for path in files if path.suffix != ".md"]
        while tally.inputs < count and (seconds is None or time.monotonic() - started < seconds):
            number = tally.inputs
            # A page is only read when pages are built, so those inputs always go that far.
            hurt_page = number % pages_every == 0 and (number // pages_every) % 2 == 0
            picked = rng.sample(pages if hurt_page else facts, rng.choice((1, 1, 1, 2)))
            shapes = [rng.choice(SHAPES) for _ in picked]
            what = f"input {number} of seed {seed}: " + ", ".join(f"{shape} in {path.relative_to(folder)}" for path, shape in zip(picked, shapes, strict=True))
            try:
                for path, shape in zip(picked, shapes, strict=True):
                    hurt(path, shape, rng)
                    tally.shapes[shape] += 1
                whole = number % every == every - 1
                marked += "markup" in shapes
                came, complaints = build_whole(folder) if whole else try_one(folder, hurt_page, number % pages_every == 0 or ("markup" in shapes and marked % markup_every == 0))
                tally.whole_builds += whole
                tally.refused += came == "refused"
                tally.built += came == "built"
                tally.bad += [f"{what}: {complaint}" for complaint in complaints]
            except Exception:
                tally.bad.append(f"{what}: {traceback.format_exc(limit=-6)}")
            finally:
                for path in picked:
                    if path.is_symlink() or not path.is_dir():
                        path.unlink(missing_ok=True)
                    else:
                        shutil.rmtree(path)
                    path.write_bytes(kept[path])
            tally.inputs += 1
            if tally.inputs % 5000 == 0:
                print(f"{tally.inputs:,} inputs, {len(tally.bad)} went wrong", file=sys.stderr, flush=True)
    return tally


def main() -> int:
    """A long run, told in figures; 1 where anything went wrong."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=10_000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--every", type=int, default=500, help="one input in so many goes through the whole build")
    parser.add_argument("--pages-every", type=int, default=10, help="one input in so many is taken as far as pages and assets")
    parser.add_argument("--markup-every", type=int, default=1, help="of the inputs with markup, one in so many goes that far too")
    options = parser.parse_args()
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    started = time.monotonic()
    tally = run(options.count, options.seed, options.every, options.pages_every, markup_every=options.markup_every)
    for complaint in tally.bad[:40]:
        print(complaint, file=sys.stderr)
    print(
        f"{tally.inputs:,} inputs in {time.monotonic() - started:.0f} s: {tally.refused:,} told clearly, {tally.built:,} read or built, {tally.whole_builds:,} through the whole build; "
        f"{len(tally.bad)} went wrong"
    )
    return 1 if tally.bad else 0


if __name__ == "__main__":
    sys.exit(main())
