"""What makes the handbook an app: a service worker with a hash for every file, and manifests."""

from __future__ import annotations

import gzip
import hashlib
import json
from collections.abc import Sequence
from pathlib import Path

from upstand.edition import Edition
from upstand_site.labels import Labels
from upstand_site.places import find_sources

WORKER = "sw.js"
NOT_STORED = (WORKER, "stamp.json")
PACKED = ".gz"
PACKS_WELL = (".html", ".js", ".css", ".json", ".svg", ".webmanifest")
LEAST_BYTES = 2048


def hashes_of(folder: Path) -> dict[str, str]:
    """Return file -> SHA-256 for everything that is stored on the phone, in order of names."""
    return {
        path.relative_to(folder).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
        and path.suffix != PACKED
        and path.relative_to(folder).as_posix() not in NOT_STORED
    }


def write_packed(out: Path) -> None:
    """Write a gzipped copy beside each file that shrinks, for servers to send; last of all."""
    for path in sorted(out.rglob("*")):
        if path.suffix in PACKS_WELL and path.is_file() and path.stat().st_size > LEAST_BYTES:
            packed = gzip.compress(path.read_bytes(), 9, mtime=0)
            path.with_name(path.name + PACKED).write_bytes(packed)


def write_offline(out: Path, stamp: str, edition: Edition, languages: Sequence[Labels]) -> None:
    """Write manifests and, last of all, the service worker of a built handbook."""
    for labels in languages:
        start = "index.html" if labels.lang == "en" else f"{labels.lang}/index.html"
        manifest = {
            "name": f"{labels('site.name')}: {labels('site.sub')}",
            "short_name": labels("site.name"),
            "description": labels("site.about"),
            "lang": labels.lang,
            "start_url": f"./{start}",
            "scope": "./",
            "display": "standalone",
            "background_color": "#ffffff",
            "theme_color": "#12262b",
            "icons": [
                {"src": "assets/icon-192.png", "sizes": "192x192", "type": "image/png"},
                {"src": "assets/icon-512.png", "sizes": "512x512", "type": "image/png"},
                {
                    "src": "assets/icon-512.png",
                    "sizes": "512x512",
                    "type": "image/png",
                    "purpose": "maskable",
                },
                {"src": "assets/mark.svg", "sizes": "any", "type": "image/svg+xml"},
            ],
        }
        path = out / f"manifest-{labels.lang}.webmanifest"
        path.write_text(json.dumps(manifest, ensure_ascii=False, indent=1) + "\n", "utf-8")
    worker = (find_sources() / "theme" / "worker.js").read_text("utf-8")
    files = json.dumps(hashes_of(out), ensure_ascii=False, indent=0)
    worker = worker.replace('"@STAMP@"', json.dumps(stamp)).replace('"@FILES@"', files)
    (out / WORKER).write_text(worker, encoding="utf-8")
