"""Pages written by hand, in `pages/<language>/`, with a few lists put in from the data.

A line `<!-- details -->` (or substrates, resins, edition) is replaced by the list of that name.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from upstand import LANGUAGES
from upstand.edition import Record
from upstand_site.context import Context
from upstand_site.forms import FORMS
from upstand_site.markdown import Page, bullets, join_units, wrapped
from upstand_site.pages.figures import drawn_small
from upstand_site.pages.indexes import record_list, row_of_links
from upstand_site.pages.reckon import form_of
from upstand_site.places import find_sources

#: file -> where the menu lists it
SECTIONS = {
    "index.md": "home",
    "reading.md": "about",
    "offline.md": "about",
    "overlays.md": "about",
    "record.md": "about",
    "about.md": "about",
    "not-found.md": "hidden",
}


MARKS = ("standard", "secondary", "computed", "practice", "memory", "assumed", "product")
"""Grades, as pages of details mark them with a small letter."""


def write(context: Context) -> Iterator[Page]:
    """Write every page of the folder of the context's language."""
    folder = find_sources() / "pages" / context.lang
    for name, section in SECTIONS.items():
        title, about, body = _parts((folder / name).read_text("utf-8"))
        page = Page(name, title, section, about=about)
        page.kind = {"index.md": "home", "record.md": "record"}.get(name, "page")
        for mark, put in _lists(context, page).items():
            body = body.replace(f"<!-- {mark} -->", put())
        page.add(join_units(body))
        yield page


def _parts(text: str) -> tuple[str, str, str]:
    """Split a page into its title (first line, `# …`), its first `> …` line, and the rest."""
    title, _, rest = text.partition("\n")
    about, _, body = rest.strip().partition("\n")
    if not title.startswith("# ") or not about.startswith("> "):
        raise ValueError(f"a hand-written page begins with '# title' and '> about': {title!r}")
    return title[2:].strip(), about[2:].strip(), body.strip()


def _lists(context: Context, page: Page) -> dict[str, Callable[[], str]]:
    def of(kind: str) -> Callable[[], str]:
        return lambda: record_list(context, page, list(context.edition.kind(kind).values()))

    def drawn() -> str:
        kind, order = context.edition.kind("details"), context.samples["frequent"]
        records = sorted(kind.values(), key=lambda r: order.index(r.id))
        held = drawn_small(context)
        cards = (_card(context, page, record, record.id in held) for record in records)
        return wrapped("drawn-cards", bullets(cards))

    def links(kind: str) -> Callable[[], str]:
        return lambda: row_of_links(context, page, list(context.edition.kind(kind).values()))

    return {
        "details": drawn,
        "substrates": links("substrates"),
        "resins": of("resins"),
        "marks": lambda: bullets(
            f"**{context.label(f'mark.{each}')}** {context.label(f'grade-means.{each}')}"
            for each in MARKS
        ),
        "now": lambda: form_of(context, FORMS[0]),
    }


def _card(context: Context, page: Page, record: Record, drawn: bool) -> str:
    """Return a detail's name below a small section of it; the drawing says nothing besides."""
    if not drawn:
        return context.link(page, record.path)
    up = "" if context.lang == LANGUAGES[0] else "../"
    image = f'<img src="{up}assets/small/{record.id}.svg" alt="" loading="lazy">'
    return f"{image}{context.link(page, record.path)}"
