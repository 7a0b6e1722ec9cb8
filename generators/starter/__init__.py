"""A handbook of one's own: a small folder over the stock, to be filled in line by line, and kept for years.

`write` makes one, `take_over` makes a stock page or entry the crew's own, `upgrade` carries a folder to this edition.
"""

from generators.starter.new import NotEmpty, UnknownRegion, starters_own, write
from generators.starter.over import NoSuchPage, take_over
from generators.starter.upgrade import upgrade

__all__ = ["NoSuchPage", "NotEmpty", "UnknownRegion", "starters_own", "take_over", "upgrade", "write"]
