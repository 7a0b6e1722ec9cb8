"""A strict content security policy: no page of ours runs a script that is not a file of ours.

The theme's templates hold small inline scripts. They are marked, with a secret made for this build, as the template
is read, and moved into files after the page is rendered. A script that came by way of a text has no mark: it stays
inline, and the policy refuses to run it.
"""

from __future__ import annotations

import hashlib
import posixpath
import re
import secrets
from collections.abc import Callable
from typing import Any

import jinja2

POLICY = {
    "default-src": "'none'", "script-src": "'self'", "style-src": "'self'", "img-src": "'self' data:", "font-src": "'self'", "connect-src": "'self'",
    "worker-src": "'self'", "manifest-src": "'self'", "frame-src": "'self'", "base-uri": "'none'", "form-action": "'none'",
}
# These two work in a header only.
HEADER_ONLY = {"frame-ancestors": "'none'"}
FOLDER = "assets/scripts"


def written(policy: dict[str, str]) -> str:
    """The policy as the value of a header."""
    return "; ".join(f"{name} {value}" for name, value in policy.items())


def headers() -> str:
    """A `_headers` file, which several static hosts read; for others it is the list to copy from."""
    return ("/*\n"
            f"  Content-Security-Policy: {written(POLICY | HEADER_ONLY)}\n"
            "  X-Content-Type-Options: nosniff\n"
            "  Referrer-Policy: no-referrer\n"
            "  Permissions-Policy: geolocation=(), camera=(), microphone=()\n")


class _Marking(jinja2.BaseLoader):
    """The theme's own loader, with a mark on each inline script that a template holds."""

    def __init__(self, inner: jinja2.BaseLoader, mark: str) -> None:
        self.inner, self.mark = inner, mark

    def get_source(self, environment: jinja2.Environment, template: str) -> tuple[str, str | None, Callable[[], bool] | None]:
        source, path, fresh = self.inner.get_source(environment, template)
        return source.replace("<script>", f'<script data-{self.mark}="">'), path, fresh

    def list_templates(self) -> list[str]:
        return self.inner.list_templates()


class Policy:
    """One build's policy: marks templates, rewrites pages, and keeps the scripts that it moved."""

    def __init__(self) -> None:
        self.mark = "a" + secrets.token_hex(16)
        self.scripts: dict[str, str] = {}
        self._inline = re.compile(rf'<script data-{self.mark}="">(.*?)</script>', re.DOTALL)

    def guard(self, environment: jinja2.Environment) -> jinja2.Environment:
        """Have this environment mark what it reads."""
        assert environment.loader is not None
        environment.loader = _Marking(environment.loader, self.mark)
        return environment

    def page(self, text: str, address: str, absolute: str | None = None) -> str:
        """A rendered page with the theme's scripts moved out and the policy written into its head.

        `absolute` is the site's path for a page that may be shown at any address (404.html).
        """
        def moved(found: re.Match[str]) -> str:
            script = found[1].strip() + "\n"
            name = f"{FOLDER}/{hashlib.sha256(script.encode()).hexdigest()[:12]}.js"
            self.scripts[name] = script
            place = absolute + name if absolute is not None else posixpath.relpath(name, posixpath.dirname(address) or ".")
            return f'<script src="{place}"></script>'

        text = self._inline.sub(moved, text)
        return text.replace("<head>", f'<head><meta http-equiv="Content-Security-Policy" content="{written(POLICY)}">', 1)


def base_path(config: Any) -> str:
    """Path of the site at its address, with a slash at its end."""
    from urllib.parse import urlsplit

    return (urlsplit(config.site_url or "").path or "/").rstrip("/") + "/"
