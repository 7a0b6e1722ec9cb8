"""Fit what each measure of the search is worth: python tests/fit_search.py SITE [--write]

A page's score is the sum of its measures (find.js) times their weights, and a small number for its kind. The weights are those that make the right pages
likeliest (softmax over all pages, a penalty of `SHRINK` on the squares, no evidence counting against a page), over the questions that the search was
taught on and the tenth set and later ones that were taught. Each question is measured by an index without the phrases that nearly repeat it. The second half of questions.yaml and the
sets that are never taught take no part. Prints shares by folds (fitted on the others), then writes generators/site/search-weights.json.
"""

from __future__ import annotations

import json
import subprocess
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import numpy
import yaml
from scipy.optimize import minimize

TESTS = Path(__file__).parent
KEPT = TESTS.parent / "generators/site/search-weights.json"
# Written before the ranking saw them, measured once, then taught: each file says what was measured. And the first half of questions.yaml.
SETS = ("fourth", "fifth", "sixth", "tenth", "eleventh", "twelfth", "fourteenth", "fifteenth", "sixteenth")
FOLDS, SHRINK = 5, 1e-3
ALIKE, COUNTS = ("twelfth", "fourteenth", "fifteenth", "sixteenth"), 0.01  # sets that ask for every page alike count less: a rarely wanted page is rarely asked for
FIXED = {"figures": 5.0}  # figures alone lead to their page whatever the words: asked too seldom to be fitted


def questions() -> list[tuple[str, set[str], float]]:
    """(question, the addresses that rightly answer, how much it counts), in an order that mixes sets and pages and is the same each time."""
    lists = [(pages, halves[0], 1.0) for pages, halves in yaml.safe_load((TESTS / "questions.yaml").read_text(encoding="utf-8")).items()]
    for name in SETS:
        lists += [(pages, some, COUNTS if name in ALIKE else 1.0) for pages, some in yaml.safe_load((TESTS / f"questions_{name}.yaml").read_text(encoding="utf-8")).items()]
    asked = [(str(question), {f"{page}.html" for page in pages.split()}, counts) for pages, some, counts in lists for question in some]
    return [asked[place] for place in numpy.random.default_rng(11).permutation(len(asked))]


class Measured:
    """Measures of every page for every question: `x` (questions × pages × measures), `right` (questions × pages), `fold` of each question."""

    def __init__(self, site: Path, index: list[str]) -> None:
        asked = questions()
        folds = [asked[fold::FOLDS] for fold in range(FOLDS)]
        typed = json.dumps([[question for question, _, _ in one] for one in folds])
        ran = subprocess.run(["node", str(TESTS / "measure_search.js"), str(site), *index], input=typed, capture_output=True, text=True, check=True)
        told: dict[str, Any] = json.loads(ran.stdout)
        self.names: list[str] = told["names"]
        self.kinds = sorted({kind for _, kind in told["pages"]})
        addresses = [at for at, _ in told["pages"]]
        rows = [(fold, pages, right, counts) for fold, (one, measured) in enumerate(zip(folds, told["folds"], strict=True)) for (_, right, counts), pages in zip(one, measured, strict=True)]
        self.fold, self.counts = numpy.array([fold for fold, _, _, _ in rows]), numpy.array([counts for _, _, _, counts in rows])
        self.x = numpy.zeros((len(rows), len(addresses), len(self.names) + len(self.kinds)))
        self.right = numpy.zeros((len(rows), len(addresses)), bool)
        for place, (_, pages, right, _) in enumerate(rows):
            for page, *values in pages:
                self.x[place, page, :len(self.names)] = values
            self.right[place] = [at in right for at in addresses]
        for page, (_, kind) in enumerate(told["pages"]):
            self.x[:, page, len(self.names) + self.kinds.index(kind)] = 1

    def fitted(self, some: Any) -> Any:
        """The weights that make the right pages of `some` questions likeliest."""
        x, right, counts = self.x[some], self.right[some], self.counts[some] / self.counts[some].sum()

        def lost(weights: Any) -> tuple[float, Any]:
            score = x @ weights
            likely = numpy.exp(score - score.max(axis=1, keepdims=True))
            likely /= likely.sum(axis=1, keepdims=True)
            both = (likely * right).sum(axis=1) + 1e-12
            pull = numpy.einsum("q,qp,qpm->m", counts, likely - likely * right / both[:, None], x, optimize=True)
            return float(-(counts * numpy.log(both)).sum() + SHRINK * weights @ weights), pull + 2 * SHRINK * weights

        bounds = [(FIXED[name],) * 2 if name in FIXED else (0, None) for name in self.names] + [(None, None)] * len(self.kinds)
        start = numpy.array([FIXED.get(name, 0.5) for name in self.names] + [0.0] * len(self.kinds))
        return minimize(lost, start, jac=True, method="L-BFGS-B", bounds=bounds, options={"maxiter": 300}).x

    def shares(self, weights: Any, some: Any) -> tuple[float, float]:
        """How many have a right page first, and among the first three."""
        order = numpy.argsort(-(self.x[some] @ weights), axis=1, kind="stable")[:, :3]
        hit = numpy.take_along_axis(self.right[some], order, axis=1)
        return float(hit[:, 0].mean()), float(hit.any(axis=1).mean())


def main() -> None:
    site, index = Path(sys.argv[1]), [one for one in sys.argv[2:] if one != "--write"]
    measured = Measured(site, index)
    held = [measured.shares(measured.fitted(measured.fold != fold), measured.fold == fold) for fold in range(FOLDS)]
    for fold, (first, three) in enumerate(held):
        print(f"fold {fold + 1}, fitted on the others: first {first:.1%}, in the first three {three:.1%}")
    print(f"mean: first {numpy.mean([first for first, _ in held]):.1%}, in the first three {numpy.mean([three for _, three in held]):.1%} of {len(measured.x)}")
    weights = dict(zip([*measured.names, *measured.kinds], (round(float(one), 2) for one in measured.fitted(measured.fold >= 0)), strict=True))
    print(weights)
    if "--write" in sys.argv:
        told = {"method": "Fitted by tests/fit_search.py: softmax over all pages, squares penalised, each question measured without the phrases that nearly repeat it.",
                "date": f"{datetime.now(UTC):%Y-%m-%d}", "questions": len(measured.x),
                "folds": f"first {numpy.mean([one for one, _ in held]):.1%}, in the first three {numpy.mean([one for _, one in held]):.1%}",
                "weigh": {**{name: weights[name] for name in measured.names}, "kinds": {kind: weights[kind] for kind in measured.kinds}}}
        KEPT.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
