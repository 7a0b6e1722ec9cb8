"""The handbook on paper, set by Typst from the same values as the site: no browser, no screen.

`typeset.book` is the door. It imports nothing heavy: what reads facts runs in a process that ends before the setting begins.
"""

from generators.paper.typeset import NoBook, book

__all__ = ["NoBook", "book"]
