"""The MkDocs plugin: an adapter over build_pages and build_assets, and nothing more."""

from __future__ import annotations

import html
import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from jinja2 import Environment
from markupsafe import Markup
from material.plugins.search.plugin import SearchPlugin
from mkdocs.commands.build import _populate_page as populate
from mkdocs.config import config_options
from mkdocs.config.base import Config
from mkdocs.exceptions import PluginError
from mkdocs.plugins import BasePlugin, PluginCollection
from mkdocs.structure.files import File, Files
from mkdocs.theme import Theme

from generators import layers, progress
from generators.beside import can_part
from generators.site import offline, search
from generators.site.by_two import ByTwo
from generators.site.finished import Anew, Change, begun, finished, is_kept
from generators.site.fold import folded
from generators.site.joined import join
from generators.site.made import Finished, some_pages
from generators.site.passed_by import put_back, set_aside
from generators.site.policy import Policy, base_path, headers
from generators.site.preview import SCRIPT, Glance, Kept, Templates, with_script
from generators.site.tidy import tidy, tidy_scripts

THEME = Path(__file__).parent / "theme"
ROOMS = Path(__file__).parents[1]
LOOK = "assets/look.css"
PRINT, PRINT_EDITION = "assets/print.css", "assets/print-edition.css"
_TO_WORDS = re.compile(r'<a href="((?:\.\./)*(?:reference/)?words\.html#[a-z0-9-]+)">')  # a link to a trade word is a quiet one
MANY_LIVE = 20  # a page of more live answers than this fetches the sum of each when its fold is opened
_NO_OTHERS = {"almanac", "search", "material/search"}  # plugins that keep nothing of a page but what the two processes tell each other
_ROOMS_THAT_STAY = ("generators.site", "generators.cli", "generators.progress")


class AlmanacConfig(Config):
    """Options in mkdocs.yml; the environment's ALMANAC_REGION comes first."""

    region = config_options.Optional(config_options.Type(str))  # a file in site_data/regions


class AlmanacPlugin(BasePlugin[AlmanacConfig]):
    """Fills the site with pages from facts. In `serve` an error is shown on the page instead of stopping."""

    def on_startup(self, *, command: str, dirty: bool) -> None:
        """Having this method keeps one plugin object through `serve`."""
        self.serving, self.dirty = command == "serve", dirty
        self.last: dict[str, str | bytes] = {}
        self.addresses: set[str] = set()
        self.search: Any = None
        self.colour = "#0b3d45"
        self.found: dict[str, Any] = {}  # what the search keeps of each page
        self.glance, self.templates = Glance(), Templates()
        self.whole: Finished | None = None
        self.change: Change | None = None
        self.by_two: ByTwo | None = None
        self.anew = False
        self.later: frozenset[str] = frozenset()  # pages that are rendered when the change is made, behind all the others
        self.given: dict[str, Any] = {}
        self.first: list[str] = []  # pages of this build that are newer than all the others

    def on_config(self, config: Any) -> Any:
        """Supply the theme's own part, so that a handbook needs no copy of it; watch facts, words and code."""
        self.root = Path(os.environ.get("ALMANAC_ROOT") or Path(config.config_file_path).parent)
        config.nav = with_own_pages(config.nav, self.root)
        if not self.serving and (address := os.environ.get("ALMANAC_BASE_URL") or published_at(self.root)):
            config.site_url = address.rstrip("/") + "/"
        _silence_theirs(config.plugins)
        _without_icons(config.theme)
        if str(THEME) not in config.theme.dirs:
            config.theme.dirs.insert(0, str(THEME))
        config.extra_css += [sheet for sheet in (PRINT, PRINT_EDITION) if sheet not in config.extra_css]  # ours, so that a handbook's settings need not name them
        if self.serving:
            config.watch.extend(
                str(self.root / name) for name in ("site_data", "generators", layers.SETTINGS) if (self.root / name).exists()
            )
        return config

    def on_files(self, files: Files, *, config: Any) -> Files:
        """Replace what lies in handbook/ by finished pages, and add the generated ones."""
        self.read = self.posted = 0
        if self.serving:
            code = {path: path.stat().st_mtime_ns for path in sorted(ROOMS.rglob("*")) if path.is_file() and path.suffix != ".pyc"}
            if code != getattr(self, "code", code):
                forget_rooms()  # and with them all that was kept; where only facts or words changed, the rest need not be worked again
            self.code = code
        try:
            made = self._made()
            pages, assets, day = made.pages, dict[str, str | bytes](made.assets), made.about["date"]
            self._told_of(made, config)
            if made.about["logo"]:
                config.theme["logo"] = made.about["logo"]
            if LOOK in made.assets and LOOK not in config.extra_css:
                config.extra_css.append(LOOK)
            assets[PRINT_EDITION] = edition_sheet(made.about)
        except Exception as error:
            problems = told(error)
            if not self.serving:
                raise PluginError("\n" + "\n".join(problems)) from error
            # Generated pages too, so that whoever is reading one sees the error at that same address.
            print("\n".join([*problems, "mend that and save: the page comes back"]), file=sys.stderr, flush=True)
            addresses = self.addresses | {file.src_uri for file in files.documentation_pages()} | {"index.md"}
            pages = {address: error_page(problems) for address in sorted(addresses)}
            assets, day = {}, None
            config.extra.setdefault("almanac", {"revision": "?", "date": "", "region": ""})
            config.nav = None
        if day:
            # The only date that MkDocs may stamp is the handbook's own: same facts, same bytes.
            os.environ["SOURCE_DATE_EPOCH"] = str(int(datetime.fromisoformat(day).replace(tzinfo=UTC).timestamp()))
        self.addresses |= set(pages)
        everything: dict[str, str | bytes] = {**pages, **assets}
        if self.serving:
            everything[SCRIPT] = (THEME / SCRIPT).read_text(encoding="utf-8")
        same_menu = [(one, _first_head(pages[one])) for one in sorted(pages)] == [(one, _first_head(str(self.last[one]))) for one in sorted(self.last) if one.endswith(".md")]
        for address, content in everything.items():
            known = files.get_file_from_path(address)
            if known:
                files.remove(known)
            kept = self.dirty and same_menu and self.last.get(address) == content
            files.append((Kept if kept else File).generated(config, address, content=content))
        self.last = everything
        return files

    def _made(self) -> Finished:
        """Every page and file; in `serve`, first those that somebody looks at, beside all the others as they were."""
        given = (self.root, os.environ.get("ALMANAC_REGION") or self.config.region, os.environ.get("ALMANAC_BASE_URL"))
        self.first = []
        if not self.serving:
            begin = begun(*given)
            self.change, self.anew = begin.change, begin.anew
            return begin.finished
        rest, self.glance.rest = self.glance.rest, False
        if self.whole is not None and not rest and not is_kept(*given):
            looked = [one for one in self.glance.seen if one in self.whole.pages]
            try:
                some = some_pages(*given, looked) if looked else {}
            except Exception:  # whatever it is, the build of everything tells it, with all the other problems
                some = {}
            if some:
                self.first, self.whole = list(some), replace(self.whole, pages={**self.whole.pages, **some})
                return self.whole
        if rest and self.whole is not None:
            self.glance.behind_their_backs()
        try:
            with progress.while_wanted(self.glance.overtaken):
                self.whole = finished(*given)
        except progress.Overtaken:
            assert self.whole is not None  # nothing overtakes the first build: there is no server yet
        return self.whole

    def _told_of(self, made: Finished, config: Any) -> None:
        """What the theme and the search are told of an edition."""
        self.about = config.extra["almanac"] = made.about
        config.site_name = plain(made.about["title"])
        self.search, self.colour = made.about["search"], made.about["colour"]

    def on_nav(self, nav: Any, *, config: Any, files: Files) -> Any:
        """Where all was made anew, pages are read and rendered by two processes; not where a crew's own plugin or hook may look at each."""
        if self.anew and can_part() and set(config.plugins) <= _NO_OTHERS:
            self.by_two = ByTwo(self, files, config)
        return nav

    def read_of(self, page: Any) -> tuple[Any, Any]:
        """What the plugin keeps of a page that was read."""
        return self.given.get(page.file.src_uri), self.found.get(page.file.dest_uri)

    def take(self, page: Any, told: tuple[Any, Any]) -> None:
        """Keeps it of a page that was read elsewhere."""
        self.given[page.file.src_uri] = told[0]
        if told[1] is not None:
            self.found[page.file.dest_uri] = told[1]

    def one_more_read(self) -> None:
        """Says how far we are."""
        self.read += 1
        progress.at("site", self.read, 2 * len(self.addresses))

    def one_more_rendered(self) -> None:
        """Says how far we are."""
        self.posted += 1
        progress.at("site", len(self.addresses) + self.posted, 2 * len(self.addresses))

    def _ask(self, files: Files, config: Any) -> None:
        """Pages that a changed paint touches come last: all the others are rendered while a second process makes these."""
        assert self.change is not None
        with _told_by_mkdocs():
            touches = self.change.touches()
        if touches is None:
            self._over(config, files)
            return
        self.later = touches
        for file in [one for one in files.documentation_pages() if one.src_uri in touches]:
            files.remove(file)
            files.append(file)

    def _over(self, config: Any, files: Files) -> None:
        """Pages and files that a changed paint touches, over those of before, which were read while a second process made these."""
        assert self.change is not None
        change, late, self.change = self.change, bool(self.later), None
        with _told_by_mkdocs():
            made = change.made()
        if late and made.about != self.about:
            change.shown_by_all(made)
        self._told_of(made, config)
        for address, content in {**made.pages, **made.assets}.items():
            file = files.get_file_from_path(address)
            if file is None or self.last[address] == content:
                continue
            if isinstance(content, bytes):
                file.content_bytes = content
                if late:
                    file.copy_file()  # the others are in their places
                continue
            assert isinstance(content, str) and file.page is not None
            page, file.content_string, title = file.page, content, file.page.title
            if (given := self.given[address]) is None:
                page.__dict__.pop("title", None)  # read from the page again
            else:
                page.title = given
            populate(page, config, files)
            if late and page.title != title:
                change.shown_by_all(made)

    def on_env(self, env: Any, *, config: Any, files: Files) -> Any:
        """Mark the theme's own scripts, so that no other can pass for one of them."""
        if self.serving:
            env.bytecode_cache = self.templates
        self.files = files
        if self.by_two is not None:
            self.by_two.all_read()
        if self.change is not None:
            self._ask(files, config)
        self.policy = Policy()
        return self.policy.guard(env)

    def on_page_markdown(self, markdown: str, *, page: Any, config: Any, files: Files) -> str:
        """What is HTML already need not be read as Markdown."""
        text, self.passed = set_aside(markdown)
        return text

    def on_page_content(self, content: str, *, page: Any, config: Any, files: Files) -> str:
        """Titles that the theme may print raw, stripped or escaped: the same words each time."""
        sentences, content = put_back(content, [one if search.says(one) else "" for one in self.passed]), put_back(content, self.passed)
        self.one_more_read()
        self.given.setdefault(page.file.src_uri, page.__dict__.get("title"))  # by the menu; None: it is read from the page
        page.title = plain(html.unescape(html.unescape(str(page.title or ""))))
        if "title" in page.meta:
            page.meta["title"] = plain(str(page.meta["title"]))
        if self.search is not None:
            asked, words, question = (self.search[part].get(page.file.src_uri, none) for part, none in (("asked", []), ("words", []), ("question", "")))
            page.meta["question"] = question
            self.found[page.file.dest_uri] = search.entry(page.file.dest_uri, html.unescape(str(page.title)), question, sentences, asked, words)
        answers = list(dict.fromkeys(re.findall(r'class="alm-live" data-formula="([a-z0-9-]+)"', content)))
        page.meta["answers"], page.meta["live"] = bool(answers), answers if len(answers) <= MANY_LIVE else []  # live: the formulas it loads
        page.meta["swept"] = " data-swept=" in content
        page.meta["forms"] = []
        for scripts, formulas in re.findall(r'<div class="alm-(?:form|lesson)"[^>]* data-scripts="([a-z -]*)" data-formulas="([a-z0-9 -]*)"', content):
            page.meta["live"] = list(dict.fromkeys([*page.meta["live"], *formulas.split()]))
            page.meta["forms"] = list(dict.fromkeys([*page.meta["forms"], *scripts.split()]))
        return folded(_TO_WORDS.sub(r'<a class="alm-word" href="\1">', content), page.file.src_uri)

    def on_page_context(self, context: Any, *, page: Any, config: Any, nav: Any) -> Any:
        """The first page that a change touches waits for it."""
        if self.change is not None and page.file.src_uri in self.later:
            self._over(config, self.files)
            config._current_page = page
        return context

    def on_post_page(self, output: str, *, page: Any, config: Any) -> str:
        """Move the theme's scripts into files, and write the policy."""
        self.one_more_rendered()
        return tidy(self.policy.page(output, page.file.dest_uri))

    def on_post_template(self, output_content: str, *, template_name: str, config: Any) -> str:
        """The same for pages that are templates: 404.html."""
        return tidy(self.policy.page(output_content, template_name, base_path(config))) if template_name.endswith(".html") else output_content

    def on_post_build(self, *, config: Any) -> None:
        """The scripts that were moved, search that knows the reader's words, and the whole site kept on the device."""
        if self.by_two is not None:
            self.by_two.all_rendered()
        if self.change is not None:
            self._over(config, self.files)
        site = Path(config.site_dir)
        for name, content in {**self.policy.scripts, "_headers": headers()}.items():
            target = site / name
            target.parent.mkdir(parents=True, exist_ok=True)
            target.write_text(content, encoding="utf-8", newline="\n")
        if self.search is not None and not self.first:  # after a glance all the others follow, and the index with them
            (site / search.INDEX).write_text(search.index(list(self.found.values()), self.search), encoding="utf-8", newline="\n")
        search.replace_theirs(site)
        offline.remove_unused(site)
        if not self.serving:
            tidy_scripts(site)
            (site / SCRIPT).unlink(missing_ok=True)
            join(site)
            offline.keep(site, config.site_name, self.colour)
            return
        if self.first:
            self.glance.again(self.first)
        else:
            self.glance.done()

    def on_serve(self, server: Any, *, config: Any, builder: Any) -> Any:
        """A page that reloads by a file of ours: the policy refuses the script that MkDocs would write into it."""
        server._inject_js_into_html = with_script
        self.glance.watch(server)
        return server


@contextmanager
def _told_by_mkdocs() -> Iterator[None]:
    """What goes wrong inside becomes an error that MkDocs knows, its lines as ours."""
    try:
        yield
    except Anew:
        raise
    except Exception as error:
        raise PluginError("\n" + "\n".join(told(error))) from error


def _silence_theirs(plugins: PluginCollection) -> None:
    """The theme's search shows its box, and reads no page: the index is ours, and theirs took a fifth of an unchanged build to be thrown away."""
    for event in ("page_context", "post_build"):
        plugins.events[event] = [method for method in plugins.events[event] if not isinstance(getattr(method, "__self__", None), SearchPlugin)]


def _without_icons(theme: Theme) -> None:
    """Of the theme's files MkDocs copies those that are no template; its eleven thousand icons, none of which it copies, are not looked at to find them."""
    made = theme.get_env

    def environment() -> Environment:
        env, found = made(), set[str]()
        for folder in theme.dirs:
            for within, inner, names in os.walk(folder, followlinks=True):
                inner[:] = [name for name in inner if not name.startswith(".")]
                found.update(Path(within, name).relative_to(folder).as_posix() for name in names)
        env.list_templates = lambda extensions=None, filter_func=None: sorted(filter(filter_func, found))  # type: ignore[method-assign]
        return env

    theme.get_env = environment  # type: ignore[method-assign]


def with_own_pages(nav: Any, root: Path) -> Any:
    """The stock's menu, and behind it the pages that only the crew has: a new page needs no setting to be found."""
    if not nav or layers.under(root) is None or (root / "mkdocs.yml").is_file():
        return nav
    own = [name for name in layers.listed(root, "handbook", "**/*.md") if layers.below(root, f"handbook/{name}") is None]
    return [*nav, {"Our own": own}] if own else nav


def published_at(root: Path) -> str | None:
    """The address in handbook.yaml, once it is a true one: names under .example belong to nobody."""
    try:
        found = re.search(r"^base_url:\s*[\"']?(https?://[^\s\"'#]+)", (root / "site_data" / "handbook.yaml").read_text(encoding="utf-8"), re.MULTILINE)
    except (OSError, ValueError):
        return None
    return found[1] if found and not re.search(r"://[^/]*\.example(?::\d+)?(?:/|$)", found[1]) else None


def _first_head(page: str) -> str:
    """What the menu shows of a page."""
    found = re.search(r"^# .*|^title:.*", page, re.MULTILINE)
    return found[0] if found else ""


def edition_sheet(about: dict[str, Any]) -> str:
    """The foot of each printed sheet. Whatever a title holds, each letter that could be read as style is written as its number."""
    said = f"{about['title']}. Edition {about['revision']}, {about['date']}, for {str(about['region']).upper()}. Data sheet, law and a competent person come first."
    text = "".join(one if one.isalnum() or one in " .,-" else f"\\{ord(one):x} " for one in said)
    return f'@page {{ @bottom-left {{ content: "{text}"; font: 8pt "Almanac", sans-serif; color: #000; white-space: nowrap; }} }}\n'


def plain(title: str) -> Markup:
    """A title that holds no markup, whether a template of the theme escapes it, strips it, or does neither."""
    return Markup(title.translate({ord("<"): "‹", ord(">"): "›", ord('"'): "”"}).replace("&", "&amp;"))


def told(error: Exception) -> list[str]:
    """Problems as lines. An error in code is told with its file and line: `serve` shows it to its author."""
    problems = getattr(error, "problems", None)
    if problems:
        return [str(problem) for problem in problems]
    frame = error.__traceback__
    while frame is not None and frame.tb_next is not None:
        frame = frame.tb_next
    where = f"{frame.tb_frame.f_code.co_filename}:{frame.tb_lineno}: " if frame else ""
    return [f"{where}{type(error).__name__}: {error}"]


def error_page(problems: list[str]) -> str:
    """A page that shows the problems and nothing else."""
    items = "".join(f"<li><code>{html.escape(problem)}</code></li>" for problem in problems)
    return f'# Mend this first\n\n<ol class="alm-problems">{items}</ol>\n'


def forget_rooms() -> None:
    """Drop the rooms behind this door from memory, so that the next build reads their files again."""
    for name in [name for name in sys.modules if name.startswith("generators.")]:
        if not name.startswith(_ROOMS_THAT_STAY):
            del sys.modules[name]
            # `from generators import tables` looks at the package's own attribute before it looks at files.
            package, _, room = name.rpartition(".")
            if package in sys.modules:
                vars(sys.modules[package]).pop(room, None)
