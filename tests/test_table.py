"""A table checks its own parts: what does not fit is refused where it is made, with the table's name."""

from __future__ import annotations

import numpy as np
import pandas as pd
import pytest

from generators.table import Axis, Rounding, Table

ROWS, COLUMNS = Axis.of("Air", "°C", [5, 10, 15]), Axis.of("Humidity", "%", [50, 60], " %")


def made(**parts):
    usual = {"name": "t", "title": "T", "caption": "", "rows": ROWS, "columns": COLUMNS, "body": pd.DataFrame(np.zeros((3, 2))), "unit": "°C"}
    asked = usual | {"rounding": Rounding("up", 1), "system": "metric"} | parts
    return Table(**asked)


def test_heads_come_from_the_values_that_the_sum_takes():
    assert ROWS.heads == ("5", "10", "15") and ROWS.values == (5.0, 10.0, 15.0) and COLUMNS.heads == ("50 %", "60 %")
    assert Axis.of("Drift", "mm", [-50]).heads == ("−50",)
    assert made().cell(0, 0).text == "0"


def test_a_shade_that_a_table_has_no_words_for_is_told_in_plain_ones():
    """A paint of somebody's own can bring up what its builder did not think of: never a mark that nothing explains."""
    table = Table("t", "T", "", Axis("Air", "", ("a",)), Axis("", "", ("x", "y", "z")), pd.DataFrame([[1.0, 2.0, 3.0]]), "s", Rounding("up", 1), "metric",
                  zones=pd.DataFrame([["fine", "unknown", "stop"]]), zone_words={"fine": "runs off by itself"})
    assert table.zones_used() == [("fine", "✓", "runs off by itself"), ("unknown", "?", "not known: measure, or ask"), ("stop", "✕", "do not")]


@pytest.mark.parametrize(("parts", "words"), [
    ({"body": pd.DataFrame(np.zeros((2, 3)))}, "body is 2 × 3"),
    ({"zones": pd.DataFrame([["fine"] * 2] * 2)}, "zones is 2 × 2"),
    ({"reasons": pd.DataFrame([[""] * 3] * 3)}, "reasons is 3 × 3"),
    ({"zones": pd.DataFrame([["green", "fine"]] * 3)}, "'green', which has no mark"),
    ({"roundings": (Rounding("up", 1),)}, "1 roundings"),
    ({"rows": Axis.of("Air", "°C", [5, 5, 10])}, "says '5' twice"),
    ({"rows": Axis("Air", "°C", ("5", "10", "15"), (5.0, 10.0))}, "2 values for 3 heads"),
])
def test_parts_that_do_not_fit_are_refused(parts, words):
    with pytest.raises(ValueError, match=f"table t: .*{words}"):
        made(**parts)
