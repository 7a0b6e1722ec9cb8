"""reading.py: reading age and length of sentences of every page, from its finished Markdown: prose and lists, without tables, headings and code.

    python tests/reading.py [--over] [--page ADDRESS]

Reading age is the Flesch-Kincaid grade plus five years; syllables are counted by groups of vowels. From memory: Kincaid and others, 1975.
"""

from __future__ import annotations

import argparse
import html
import re
import sys
from pathlib import Path
from statistics import mean

AGE = 12.0
_DROP = re.compile(r"\A---\n.*?\n---\n|"
                   r"<(table|svg|figure|script|style|form|section)\b.*?</\1>|<div class=\"alm-(?:live|form).*?(?=\n\n|\Z)|```.*?```|^#[^\n]*$|^\|[^\n]*$|\{[:.#][^}]*\}", re.DOTALL | re.MULTILINE)
_LINK = re.compile(r"!?\[([^\]]*)\]\([^)]*\)")


def sentences(markdown: str) -> list[list[str]]:
    """Each sentence as its words. A list item or a paragraph ends one, too."""
    text = _LINK.sub(r"\1", _DROP.sub("\n\n", markdown))
    text = html.unescape(re.sub(r"<(?:/?(?:p|li|summary|details|div|h\d|ul|ol|strong)\b[^>]*)>", "\n\n", text))
    text = re.sub(r"<[^>]+>|[*_`]", "", text)
    found = []
    for block in re.split(r"\n\s*\n|\n\s*(?:[-*]|\d+\.)\s+", text):
        for sentence in re.split(r"(?<=[.!?])\s+", block):
            words = re.findall(r"[A-Za-z][A-Za-z'’-]*|\d[\d.,]*", sentence)
            if len(words) > 1:
                found.append(words)
    return found


def syllables(word: str) -> int:
    """By groups of vowels; a silent e at the end is none."""
    bare = re.sub(r"[^a-z]", "", word.lower())
    if not bare:
        return 1
    groups = len(re.findall(r"[aeiouy]+", re.sub(r"(?<=[^aeiouy])(?:es?|ed)$", "", bare)))
    return max(1, groups)


def measured(markdown: str) -> tuple[float, float, int]:
    """(reading age in years, words to a sentence, words in the longest sentence)."""
    told = sentences(markdown)
    words = [word for one in told for word in one]
    if not words:
        return 0.0, 0.0, 0
    length = len(words) / len(told)
    grade = 0.39 * length + 11.8 * sum(map(syllables, words)) / len(words) - 15.59
    return max(grade, 0.0) + 5, length, max(map(len, told))


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else "")
    parser.add_argument("--over", action="store_true", help=f"only pages over reading age {AGE:g}")
    parser.add_argument("--page", help="the sentences of one page, the hardest first")
    args = parser.parse_args()
    from generators.formulas.own_cups import open_handbook
    from generators.pages import build_pages

    pages = build_pages(open_handbook(Path(__file__).parents[1], None))
    if args.page:
        for one in sorted(sentences(pages[args.page]), key=lambda one: -(0.39 * len(one) + 11.8 * mean(map(syllables, one))))[:12]:
            print(len(one), " ".join(one))
        return 0
    rows = sorted(((*measured(text), address) for address, text in pages.items()), reverse=True)
    print("  age  words/sentence  longest  page")
    for age, length, longest, address in rows:
        if not args.over or age > AGE:
            print(f"{age:5.1f} {length:15.1f} {longest:8d}  {address}")
    told = [row for row in rows if row[1]]
    print(f"{mean(row[0] for row in told):.1f} is the mean reading age; {sum(row[0] <= AGE for row in told)} of {len(told)} pages at {AGE:g} or under; "
          f"{mean(row[1] for row in told):.1f} words to a sentence")
    return 0


if __name__ == "__main__":
    sys.exit(main())
