"""The command line: a thin door. Every command prints what it did, or every problem, and exits as `say.EXITS` has it.

A file for each group of commands; what they share stands in `shared`, how they speak in `say`.
"""

from generators.cli.door import almanac, main, run, understood

__all__ = ["almanac", "main", "run", "understood"]
