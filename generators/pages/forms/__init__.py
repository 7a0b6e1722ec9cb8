"""What a crew writes down: job sheet, daily log, recipe, care sheet, sign-off, own paint and kit; and the papers of a job. A form in a file of its own; `facts` is what their scripts fill in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from generators.form import Form
from generators.pages.forms import facts as _facts
from generators.pages.forms.buying import buying_list
from generators.pages.forms.cancel import cancellation
from generators.pages.forms.care import care_sheet
from generators.pages.forms.incident import incident
from generators.pages.forms.invoice import invoice
from generators.pages.forms.job import job_sheet
from generators.pages.forms.loading import load_list
from generators.pages.forms.log import daily_log
from generators.pages.forms.method import method
from generators.pages.forms.neighbour import neighbours_note
from generators.pages.forms.own import own_kit, own_paint
from generators.pages.forms.quote import quote
from generators.pages.forms.recipe import recipe
from generators.pages.forms.signoff import sign_off
from generators.pages.forms.survey import survey_sheet
from generators.pages.forms.variation import variation

FORMS: dict[str, Callable[[Any], Form]] = {"job": job_sheet, "log": daily_log, "recipe": recipe, "care": care_sheet, "signoff": sign_off,
                                              "survey": survey_sheet, "quote": quote, "variation": variation, "buying": buying_list, "loading": load_list, "neighbour": neighbours_note,
                                              "incident": incident, "method": method, "invoice": invoice, "cancel": cancellation, "own-paint": own_paint, "own-kit": own_kit}
recipe_line = _facts.recipe_line


def job_facts(facts: Any) -> str:
    """The script that hands the handbook's facts, and the units of every form, to the forms' scripts."""
    return _facts.job_facts(facts, [form(facts) for form in FORMS.values()])


job_chain = _facts.job_chain
__all__ = ["FORMS", "job_chain", "job_facts", "recipe_line"]
