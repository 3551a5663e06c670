"""Quantities of a detail for common sizes, each computed by the engine, its request beside it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from html import escape
from typing import Any

from upstand.edition import Record
from upstand.scene import scene
from upstand_site.context import Context
from upstand_site.examples import Example, put, sizes_of
from upstand_site.markdown import Page, bullets, folded, prose, table, wrapped
from upstand_site.pages.order import example_words

Sized = Sequence[tuple[Mapping[str, Any], Example]]


def size_tables(context: Context, page: Page, record: Record, example: Example) -> Iterator[str]:
    """Yield the tables of materials and of pieces to cut; nothing without computed geometry."""
    label = context.label
    if not example.answer.layout.built:
        if example.document["surfaces"] and example.document["surfaces"][0]["area_why"]:
            yield f"## {label('head.quantities')} {{#quantities}}"
            yield context.plain(example.document["surfaces"][0]["area_why"])
        return
    sizes = [({"name": name}, put(context, body)) for name, body in sizes_of(context, record)]
    yield f"## {label('head.quantities')} {{#quantities .screen}}"
    yield wrapped("screen", label("quantities-lead", common=_common_words(context)))
    yield table(_material_heads(context), _material_rows(context, sizes), "sizes screen")
    shared = _shared_packs(sizes)
    if shared:
        yield wrapped("screen", f"**{label('packs-besides')}**\n\n{bullets(shared)}")
    yield f"### {label('head.pieces')} {{#pieces .screen}}"
    yield wrapped("screen", label("pieces-lead"))
    yield table(
        [label("head.size"), label("head.mask"), label("head.pieces-cut")],
        _piece_rows(context, sizes),
        "sizes pieces screen",
    )
    yield folded(label("head.worked"), "\n\n".join(_worked(context, example)))
    yield wrapped("screen", label("requests-lead"))


def _common_words(context: Context) -> str:
    """Say what all rows share."""
    shared = scene()["shared"]
    parts = [f"substrates/{shared['roof']}", f"resins/{shared['resin']}"]
    return "; ".join(context.name(path) for path in parts)


def _material_heads(context: Context) -> list[str]:
    names = ("size", "resin", "fleece", "tape", "primer", "packs")
    return [context.label(f"head.{name}") for name in names]


def _packs(example: Example) -> list[str]:
    """List the packs of everything that one example takes."""
    return [
        f"{pack['count']}\u00a0× {prose(pack['name'])}"
        for material in example.document["materials"]
        for pack in material["packs"]
    ]


def _shared_packs(sizes: Sized) -> list[str]:
    """Return the packs that every row takes alike: said once, under the table."""
    first, *others = [_packs(example) for _, example in sizes]
    return [pack for pack in first if others and all(pack in other for other in others)]


def _material_rows(context: Context, sizes: Sized) -> Iterator[list[str]]:
    shared = _shared_packs(sizes)
    for size, example in sizes:
        by_kind: dict[str, list[str]] = {}
        for material in example.document["materials"]:
            amount = material["with_allowance"]
            if amount is None:
                continue
            text = prose(amount["text"])
            if material["kind"] == "primer":
                text = f"{_small(text)} {prose(_short(material['name']))}"
            by_kind.setdefault(material["kind"], []).append(text)
        cells = ["<br>".join(by_kind.get(k, ())) for k in ("resin", "fleece", "tape", "primer")]
        packs = [pack for pack in _packs(example) if pack not in shared]
        yield [_size(context, size, example), *cells, "<br>".join(packs)]


def _size(context: Context, size: Mapping[str, Any], example: Example) -> str:
    """Name a size, with the request that its row answers."""
    code = escape(example.request(), quote=False).replace("_", "&#95;").replace("*", "&#42;")
    return (
        f'**{context.said(size["name"])}** <details class="ask-how"><summary>'
        f'{context.label("request")}</summary><code class="request">{code}</code></details>'
    )


def _small(text: str) -> str:
    """Of `0.7 fl oz (0.005 gal)` keep what is measured out on a roof: `0.7 fl oz`."""
    first, _, second = text.rstrip(")").partition("(")
    return first.strip() if "fl" in first or not second else second


def _short(name: str) -> str:
    """Drop what follows the comma in a product's name."""
    return name.partition(",")[0]


def _piece_rows(context: Context, sizes: Sized) -> Iterator[list[str]]:
    for size, example in sizes:
        fleece, masking = example.document["fleece"], example.document["masking"]
        pieces = [
            f"{p['count']}\u00a0× {prose(p['label'])}, "
            f"{prose(p['width']['text'])} × {prose(p['length']['text'])}"
            for p in fleece["pieces"]
        ]
        mask = ", ".join(
            f"{prose(m['width']['text'])} × {prose(m['length']['text'])}" for m in masking["flat"]
        )
        yield [f"**{context.said(size['name'])}**", mask, ";<br>".join(pieces)]


def _worked(context: Context, example: Example) -> Iterator[str]:
    """Show the resin of the example coat by coat, so that the sum can be done by hand."""
    label, document = context.label, example.document
    yield label("worked-lead", example=example_words(context, example))
    rows = [
        [
            prose(coat["label"]),
            prose(coat["area"]["text"]),
            prose(coat["thickness"]["text"]),
            f"**{prose(coat['volume']['text'])}**",
        ]
        for coat in document["coats"]
    ]
    yield table([label(f"head.{n}") for n in ("coat", "area", "thickness", "volume")], rows)
    resin = next(m for m in document["materials"] if m["kind"] == "resin")
    yield label(
        "worked-sum",
        need=prose(resin["need"]["text"]),
        allowed=prose(resin["with_allowance"]["text"]),
    )
    words = {w["formula"]: w["words"] for w in document["workings"]}
    used = [w for name in ("film_volume", "with_allowance") if (w := words.get(name))]
    yield "<br>".join(prose(text) for text in used)
