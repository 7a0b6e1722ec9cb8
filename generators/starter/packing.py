"""Used only while a wheel is built: packs this project's pages and facts, so that `almanac new` works without the repository."""

from __future__ import annotations

import shutil
from pathlib import Path

from setuptools.command.build_py import build_py


class BuildPy(build_py):
    """The usual step, then handbook/, site_data/ and mkdocs.yml beside the starter."""

    def run(self) -> None:
        """Copy; an editable install reads them where they lie."""
        super().run()
        if getattr(self, "editable_mode", False):
            return
        stock = Path(self.build_lib) / "generators" / "starter" / "stock"
        shutil.rmtree(stock, ignore_errors=True)
        for name in ("handbook", "site_data"):
            shutil.copytree(name, stock / name)
        shutil.copyfile("mkdocs.yml", stock / "mkdocs.yml")
