"""The cancellation notice of a contract made at home: the days by the law of the region, and a slip to send back."""

from __future__ import annotations

from typing import Any

from generators.form import Block, Form
from generators.pages.forms.parts import SCRIPTS, date, long, text


def cancellation(facts: Any) -> Form:
    """What a customer is given with a contract made at home: how long, to whom, and a slip."""
    rule = facts.rule(None, "contracts", "cancel")
    days = f" ({rule.amount} by the law here, {rule.origin.basis})" if rule else ""
    said = f"{rule.says[0].upper()}{rule.says[1:]} ({rule.origin.basis}, checked {rule.checked})." if rule else "No rule of this place is in the handbook: ask before you begin."
    return Form(
        "cancel",
        "Cancellation notice",
        (
            Block("job", "The contract", (text("title", "Job"), text("customer", "Customer"), long("address", "Where it was signed"), date("date", "Signed on", today=True)), hint=said),
            Block("notice", "You may cancel", (text("until", f"Until the end of{days}"), text("to", "Write to: our name, address, mail"), text("begun",
                "Work asked for before that day: yes, signed"))),
            Block("slip", "I cancel this contract", (text("slip-name", "Name"), long("slip-address", "Address"), date("slip-date", "Date"), text("slip-signed", "Signed"))),
        ),
        ("title", "customer"),
        SCRIPTS,
    )
