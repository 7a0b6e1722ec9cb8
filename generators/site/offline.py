"""What is done to a finished site: a worker that keeps it all on the device."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

_NOT_KEPT = (".map", ".xml", ".gz", ".csv")  # nothing that a page opens without signal; nor what hosts read and do not hand out: _headers and dot files

_TYPES = {  # what the copy on the device says a file is: hosts are not agreed
    "html": "text/html; charset=utf-8", "css": "text/css; charset=utf-8", "js": "text/javascript; charset=utf-8", "json": "application/json", "txt": "text/plain; charset=utf-8",
    "webmanifest": "application/manifest+json", "svg": "image/svg+xml", "png": "image/png", "jpg": "image/jpeg", "jpeg": "image/jpeg", "gif": "image/gif", "webp": "image/webp",
    "ico": "image/x-icon", "woff2": "font/woff2", "pdf": "application/pdf", "wasm": "application/wasm",
}


def remove_unused(site: Path) -> None:
    """The theme ships maps of its sources. No page of ours opens them."""
    for path in site.glob("assets/**/*.map"):
        path.unlink()


def keep(site: Path, title: str, colour: str = "#0b3d45") -> None:
    """Write the manifest, and into sw.js every file of this edition with its digest."""
    manifest = {
        "name": title, "short_name": "Almanac", "start_url": "index.html", "scope": "./", "display": "standalone",
        "background_color": "#fbf8f1", "theme_color": colour,
        "icons": [{"src": f"assets/icon-{size}.png", "sizes": f"{size}x{size}", "type": "image/png"} for size in (192, 512)],
    }
    (site / "manifest.webmanifest").write_text(json.dumps(manifest, ensure_ascii=False, indent=1) + "\n", encoding="utf-8", newline="\n")
    worker = site / "sw.js"
    source = site / "assets" / "sw.js"
    text = source.read_text(encoding="utf-8")
    source.unlink()
    files = {path.relative_to(site).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()[:16]
             for path in sorted(site.rglob("*")) if path.is_file() and not path.name.endswith(_NOT_KEPT) and path.name[0] not in "_." and path != worker}
    listed = json.dumps(files, ensure_ascii=False, separators=(",", ":"))
    edition = hashlib.sha256(listed.encode()).hexdigest()[:16]
    worker.write_text(text.replace("__EDITION__", edition).replace("__TYPES__", json.dumps(_TYPES)).replace("__FILES__", listed), encoding="utf-8", newline="\n")
