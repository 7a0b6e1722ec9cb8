"""A static host as they are: files over http with gzip and long cache times. `python .ci/serve.py FOLDER PORT`."""

from __future__ import annotations

import gzip
import http.server
import sys
from pathlib import Path

TYPES = {".html": "text/html; charset=utf-8", ".css": "text/css", ".js": "text/javascript", ".json": "application/json", ".svg": "image/svg+xml",
         ".webmanifest": "application/manifest+json", ".woff2": "font/woff2", ".png": "image/png", ".pdf": "application/pdf"}


class Host(http.server.BaseHTTPRequestHandler):
    """One folder, read only."""

    protocol_version = "HTTP/1.1"
    root = Path(sys.argv[1]).resolve() if len(sys.argv) > 1 else Path.cwd()

    def do_GET(self):
        """A file, or 404."""
        path = (self.root / self.path.split("?")[0].lstrip("/")).resolve()
        path = path / "index.html" if path.is_dir() else path
        found = path.is_file() and path.is_relative_to(self.root)
        body = path.read_bytes() if found else b"no such page"
        self.send_response(200 if found else 404)
        self.send_header("Content-Type", TYPES.get(path.suffix, "application/octet-stream"))
        self.send_header("Cache-Control", "no-cache" if path.suffix in (".html", ".js") else "max-age=31536000")
        if path.suffix not in (".woff2", ".png", ".pdf") and "gzip" in self.headers.get("Accept-Encoding", ""):
            body = gzip.compress(body)
            self.send_header("Content-Encoding", "gzip")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, *_):
        """Nothing."""


if __name__ == "__main__":
    http.server.ThreadingHTTPServer(("127.0.0.1", int(sys.argv[2])), Host).serve_forever()
