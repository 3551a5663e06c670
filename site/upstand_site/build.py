"""Building the handbook: Markdown from data and engine, MkDocs a language, then what binds it.

The finished folder holds English at its top, each other language in a folder of its own, the
scripts once, a search list a language, and a service worker with a hash for every file.
"""

from __future__ import annotations

import logging
import os
import shutil
import tempfile
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import yaml

from upstand import LANGUAGES, __version__
from upstand.edition import Edition, load
from upstand_site.answers import answers_of
from upstand_site.both_units import lay_over
from upstand_site.by_degree import write_times
from upstand_site.context import Context
from upstand_site.examples import load_samples
from upstand_site.forms import write_forms
from upstand_site.labels import Labels, load_labels
from upstand_site.markdown import Page
from upstand_site.offline import write_offline, write_packed
from upstand_site.pages import write_pages
from upstand_site.pages.figures import write_small
from upstand_site.places import find_sources
from upstand_site.search import write_search
from upstand_site.stamp import (
    find_built,
    last_checked,
    read_stamp,
    stamp_of,
    write_stamp,
)

__all__ = ["LANGUAGES", "BuildFault", "Built", "build", "find_built"]

SECTIONS = ("home", "details", "substrates", "primers", "resins", "rules", "lookup", "about")


class BuildFault(RuntimeError):
    """The handbook could not be built; the message says what to mend."""


@dataclass(frozen=True, slots=True)
class Built:
    """A finished handbook: its folder, stamp, edition, and how many pages a language has."""

    folder: Path
    stamp: str
    edition: str
    pages: Mapping[str, int]


def build(
    out_dir: Path | str,
    specdata_root: Path | str | None = None,
    languages: Sequence[str] = LANGUAGES,
    edition: str | None = None,
) -> Built:
    """Build the handbook into a folder, which must be empty, missing, or an older handbook.

    Parameters
    ----------
    out_dir : where to; written beside it first and renamed whole, so that it is never half there.
    specdata_root : the folder of spec data, as for `upstand.edition.load`.
    languages : of `LANGUAGES`. English, where asked for, lies at the top.
    edition : an edition's id; the default edition where not given.

    Raises
    ------
    BuildFault : a folder that holds something else, an unknown language, a broken link.
    """
    out = Path(out_dir).absolute()
    for lang in languages:
        if lang not in LANGUAGES:
            raise BuildFault(f"{lang!r} is not a language of the handbook: {', '.join(LANGUAGES)}")
    if out.exists() and (not out.is_dir() or (any(out.iterdir()) and not read_stamp(out))):
        raise BuildFault(f"{out} holds something that is not a handbook: give another folder")
    data = load(edition, root=specdata_root)
    out.parent.mkdir(parents=True, exist_ok=True)
    with _beside(out) as making:
        built = _build(making, data, tuple(languages))
        held = read_stamp(out)
        # the same handbook, put there meanwhile by another process, may already be read
        if held is None or held["stamp"] != built.stamp:
            if out.exists():
                shutil.rmtree(out)
            os.rename(making, out)
    return Built(out, built.stamp, built.edition, built.pages)


@contextmanager
def _beside(out: Path) -> Iterator[Path]:
    """Give a folder on the same disk; gone afterwards where it was not renamed."""
    holder = Path(tempfile.mkdtemp(prefix=f".{out.name}-", dir=out.parent))
    try:
        making = holder / "handbook"
        making.mkdir()
        making.chmod(0o755)
        yield making
    finally:
        shutil.rmtree(holder, ignore_errors=True)


def _build(out: Path, edition: Edition, languages: tuple[str, ...]) -> Built:
    sources = find_sources()
    stamp = stamp_of(edition, languages)
    samples = load_samples(sources)
    counts = {}
    with tempfile.TemporaryDirectory(prefix="upstand-handbook-") as scratch:
        for lang in sorted(languages, key=LANGUAGES.index):
            labels = load_labels(lang, sources)
            context = Context(edition, lang, labels, samples)
            pages = write_pages(context)
            both = lay_over(pages, write_pages(replace(context, units="si")))
            docs = Path(scratch) / lang / "docs"
            for page in both:
                file = docs / page.path
                file.parent.mkdir(parents=True, exist_ok=True)
                file.write_text(page.text(), encoding="utf-8")
            site = Path(scratch) / lang / "site"
            _run_mkdocs(_config(docs, site, sources, edition, labels, pages, stamp, languages))
            place = out if lang == LANGUAGES[0] else out / lang
            _take_over(site, place, pages)
            write_search(out, pages, context, answers_of(context))
            counts[lang] = len(pages)
    _copy_assets(sources, out)
    write_forms(out, edition)
    write_times(out, edition)
    write_small(out, context)
    if LANGUAGES[0] not in languages:
        _forward(out, languages[0])
    write_stamp(out, stamp, edition, languages)
    write_offline(out, stamp, edition, [load_labels(lang, sources) for lang in languages])
    write_packed(out)
    return Built(out, stamp, edition.id, counts)


def _config(
    docs: Path,
    site: Path,
    sources: Path,
    edition: Edition,
    labels: Labels,
    pages: Sequence[Page],
    stamp: str,
    languages: Sequence[str],
) -> Path:
    """Write the small configuration that inherits the shared one; return its path."""
    lang = labels.lang
    first = lang == LANGUAGES[0]
    checked = last_checked(edition)
    oldest = min(checked.values(), default="")
    slots = {
        "site.edition": {"id": edition.id},
        "site.checked": {"days": _days_by_grade(labels, checked)},
        "site.software": {"version": __version__},
        "site.old": {"date": oldest},
        "site.offline-ready": {"id": edition.id},
        "site.offline-file": {"id": edition.id},
    }
    words = {
        name: labels(name, **slots.get(name, {}))
        for name in labels.texts
        if name.startswith(("site.", "nav."))
    }
    config = {
        "INHERIT": str(sources / "mkdocs.yml"),
        "docs_dir": str(docs),
        "site_dir": str(site),
        "site_description": labels("site.about"),
        "theme": {"language": lang, "custom_dir": str(sources / "theme")},
        "nav": _nav(labels, pages),
        "extra": {
            "up": "" if first else "/..",
            "other_path": "es/" if first else "",
            "words": words,
            "status": edition.status,
            "checked": oldest,
            "stamp": stamp[:12],
            "languages": list(languages),
        },
    }
    path = docs.parent / "mkdocs.yml"
    path.write_text(yaml.safe_dump(config, allow_unicode=True, sort_keys=False), encoding="utf-8")
    return path


def _days_by_grade(labels: Labels, checked: Mapping[str, str]) -> str:
    """Say each day once, with the grades whose oldest value was checked on it."""
    days = {
        day: [labels(f"grade.{g}") for g in checked if checked[g] == day]
        for day in checked.values()
    }
    return "; ".join(f"{day} ({', '.join(grades)})" for day, grades in sorted(days.items()))


def _nav(labels: Labels, pages: Sequence[Page]) -> list[dict[str, Any]]:
    """Lay out the menu: the parts in order, each with its pages, its list first."""
    nav: list[dict[str, Any]] = []
    for section in SECTIONS:
        inside = [page for page in pages if page.section == section]
        inside.sort(key=lambda page: not page.path.endswith("index.md"))
        title = labels(f"nav.{section}")
        if section == "home":
            nav.append({title: "index.md"})
        elif inside:
            nav.append({title: [{_plain(page.title): page.path} for page in inside]})
    return nav


def _plain(title: str) -> str:
    return title.replace("\\", "").replace("&amp;", "&").replace("&lt;", "<").replace("&gt;", ">")


class _Warnings(logging.Handler):
    """Collects what MkDocs warns of: a broken link is a fault, not a line to scroll past."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.found: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        self.found.append(record.getMessage())


def _run_mkdocs(config_file: Path) -> None:
    """Run MkDocs in this process; raises BuildFault with everything it warned of."""
    from mkdocs.commands.build import build as run
    from mkdocs.config import load_config
    from mkdocs.exceptions import Abort, ConfigurationError

    log, warnings = logging.getLogger("mkdocs"), _Warnings()
    level, spread = log.level, log.propagate
    log.addHandler(warnings)
    log.setLevel(logging.WARNING)
    log.propagate = False
    try:
        run(load_config(str(config_file)))
    except (Abort, ConfigurationError) as error:
        raise BuildFault(f"MkDocs stopped: {error}") from error
    finally:
        log.removeHandler(warnings)
        log.setLevel(level)
        log.propagate = spread
    if warnings.found:
        raise BuildFault("pages that don't hold together:\n" + "\n".join(warnings.found))


def _take_over(site: Path, place: Path, pages: Sequence[Page]) -> None:
    """Move one language's pages to their place; what else the parent theme made stays behind."""
    for page in pages:
        name = page.path.removesuffix(".md") + ".html"
        (place / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.move(str(site / name), str(place / name))


def _copy_assets(sources: Path, out: Path) -> None:
    """Copy our own scripts and styles, and what is vendored, once for all languages."""
    for name in ("assets", "vendor"):
        shutil.copytree(
            sources / "theme" / name,
            out / name,
            dirs_exist_ok=True,
            ignore=shutil.ignore_patterns("__pycache__", ".*", "*.md"),
        )


def _forward(out: Path, lang: str) -> None:
    """Without English at the top, a page there leads to the language that is there."""
    (out / "index.html").write_text(
        f'<!doctype html><html lang="{lang}"><meta charset="utf-8"><title>Upstand</title>'
        f'<meta http-equiv="refresh" content="0; url={lang}/index.html">'
        f'<p><a href="{lang}/index.html">Upstand</a></p></html>\n',
        encoding="utf-8",
    )
