"""What a command may write over: only what an earlier run of the same command made, and never a source.

A folder that we fill bears a mark: a small file with the name and the digest of all that was put there. So a foreign or
a changed file is seen before anything is touched. Such a folder is refused, not merged: what lies there gets published,
and a stranger's file must not go along unasked, nor be lost. A site of before there were marks is known by its sw.js.
"""

from generators.owned.folders import folder, making
from generators.owned.mark import MARK
from generators.owned.pdf import KEYWORD, pdf, whole_file, write
from generators.owned.sources import NotOurs, links_that_lead_out, outside_sources

__all__ = ["KEYWORD", "MARK", "NotOurs", "folder", "links_that_lead_out", "making", "outside_sources", "pdf", "whole_file", "write"]
