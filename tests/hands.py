"""What a hand does on a form: open, type, pick, wait until the page says that it is kept."""

from __future__ import annotations

import time
from contextlib import contextmanager


@contextmanager
def first_screen(browser, site):
    """Today from a folder of files, on a small phone whose network is off; a mistake in a script of the site fails."""
    context = browser.new_context(viewport={"width": 360, "height": 640}, reduced_motion="reduce", color_scheme="light", locale="en-GB")
    context.set_offline(True)
    page = context.new_page()
    raised = []
    page.on("pageerror", lambda error: raised.append(str(error)))
    page.goto((site / "index.html").as_uri())
    page.wait_for_selector("#alm-day[data-ready]")
    yield page
    assert raised == []
    context.close()


def open_form(page, address):
    """The page with its form, ready to be typed into."""
    page.goto(address)
    page.wait_for_selector(".alm-form[data-ready]")
    return page.locator(".alm-form")


def again(page):
    """The same page, loaded anew."""
    page.reload()
    page.wait_for_selector(".alm-form[data-ready]")


def unfold(part):
    """Open the folds around an element as a reader does: by the summary of each, the outermost first; by the keyboard, which opens what a finger opens."""
    for fold in part.locator("xpath=ancestor::details").all():
        if fold.get_attribute("open") is None:
            fold.locator("> summary").press("Enter")


def pick(form, name, value, place=0):
    """Choose in a list."""
    field = form.locator(f'.alm-entry[data-name="{name}"] select').nth(place)
    unfold(field)
    field.select_option(value)


def type_in(form, name, value, place=0):
    """Put a text into a field, all at once."""
    field = form.locator(f'.alm-entry[data-name="{name}"] :is(input, textarea)').nth(place)
    unfold(field)
    field.fill(value)


def until(page, expression, timeout=30_000):
    """Wait until an expression is true on the page. Asked from outside: the site's policy lets nothing be made into a script inside."""
    end = time.monotonic() + timeout / 1000
    while not page.evaluate(expression):
        assert time.monotonic() < end, f"never true: {expression}; the page says {page.locator('.alm-state, .alm-told').all_inner_texts()}"
        page.wait_for_timeout(40)


def kept(page):
    """Wait until the page itself says that all is kept."""
    until(page, "document.querySelector('.alm-state').textContent.startsWith('✓ Kept')")


def choose_record(page, words):
    """Open the record whose name holds these words."""
    found = page.evaluate("(words) => [...document.querySelectorAll('.alm-which option')].filter((one) => one.textContent.includes(words)).map((one) => one.value)", words)
    assert len(found) == 1, found
    page.locator(".alm-which").select_option(value=found[0])


def records(page):
    """Every record of this device as plain names and texts, from what the page holds."""
    return page.evaluate("almanacKeeper.load('*').then(() => almanacRecords.all())")


def file_of(page):
    """The file that would be taken out, as text."""
    return page.evaluate("almanacRecords.exportText()")


BRING = """(text) => almanacRecords.importBytes(new TextEncoder().encode(text)).then(
  (told) => ["in", told],
  (error) => [error instanceof almanacRecords.Refusal ? "refused" : "threw " + error, error.message])"""


def bring(page, text):
    """A file brought in: ("in", counts) or ("refused", why)."""
    return page.evaluate(BRING, text)
