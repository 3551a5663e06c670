"""Sizes of a detail: a picker for the size nearest the reader's, and all of them in one table.

Every number is the engine's answer to that size, put with what the page's example is asked with.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from html import escape
from typing import Any

from upstand_site.context import Context
from upstand_site.examples import Example, Sized
from upstand_site.markdown import join_units, prose, table, wrapped


def size_picker(context: Context, sized: Sequence[Sized]) -> Iterator[str]:
    """Yield the picker and, for each size, its quantities and its pieces by letter."""
    label, example = context.label, sized[0].example
    yield f"## {label('head.quantities')} {{#quantities}}"
    if example.document["fleece"] is None:
        yield context.plain(example.document["surfaces"][0]["area_why"] or label("no-sizes"))
        return
    if len(sized) > 1:
        options = "".join(
            f'<option value="{n}">{escape(join_units(each.name[context.lang]))}</option>'
            for n, each in enumerate(sized)
        )
        yield (
            f'<p class="pick needs-js"><label for="size">{escape(label("pick-size"))}</label>'
            f'<select id="size">{options}</select></p>'
        )
    for n, each in enumerate(sized):
        yield _one(context, each, n)
    yield wrapped("hint", label("pieces-lead"))


def all_sizes(context: Context, sized: Sequence[Sized]) -> str:
    """Return the table of all sizes for paper: a line a size, pieces by their letters."""
    if not sized[0].example.document["fleece"]:
        return ""
    label, rows = context.label, []
    for each in sized:
        document = each.example.document
        amounts = {m["kind"]: m["with_allowance"] for m in document["materials"]}
        row = [_small(amounts[k]["text"]) if amounts[k] else "–" for k in ("resin", "tape")]
        masks = ", ".join(_by(mask) for mask in document["masking"]["flat"])
        alike = list(_alike(document).values())
        pieces = "; ".join(
            f"**{_letters(pieces)}**\u00a0{_counted(context, pieces, last=pieces is alike[-1])}"
            for pieces in alike
        )
        rows.append([f"**{context.said(each.name)}**", *map(prose, row), masks, pieces])
    heads = [label(f"head.{name}") for name in ("size", "resin", "tape", "mask", "pieces-cut")]
    return wrapped("paper sizes", table(heads, rows))


def _alike(document: Mapping[str, Any]) -> Mapping[tuple[str, str], list[Mapping[str, Any]]]:
    """Put pieces of one kind and one size together, lowest first."""
    alike: dict[tuple[str, str], list[Mapping[str, Any]]] = {}
    for piece in document["fleece"]["pieces"]:
        alike.setdefault((piece["label"], _by(piece)), []).append(piece)
    return alike


def _counted(context: Context, alike: Sequence[Mapping[str, Any]], last: bool) -> str:
    """Say the size of pieces, with its unit at the last, and how many where more than one."""
    count, size = alike[0]["count"], _by(alike[0])
    size = size if last else size.rpartition("\u00a0")[0]
    return context.label("so-many", count=str(count), size=size) if count > 1 else size


def _by(sides: Mapping[str, Any]) -> str:
    """Write two sides with their unit once: `12 × 7 in`."""
    width, length = prose(sides["width"]["text"]), prose(sides["length"]["text"])
    unit = length.rpartition("\u00a0")[2]
    return f"{width.removesuffix(f'{chr(160)}{unit}')}\u00a0×\u00a0{length}"


def needs(context: Context, document: Mapping[str, Any]) -> list[tuple[str, str, str]]:
    """Name what is taken along, each with the amount, loss allowed for, and its packs."""
    found = []
    for material in document["materials"]:
        amount = material["with_allowance"]
        if amount is None:
            continue
        kind = material["kind"]
        name = (
            context.label(f"head.{kind}")
            if kind in ("resin", "fleece", "tape")
            else _short(material["name"])
        )
        packs = ", ".join(
            f"{pack['count']}\u00a0× {prose(_own(pack['name']))}" for pack in material["packs"]
        )
        found.append((prose(name), prose(_small(amount["text"])), packs))
    return found


def _own(name: str) -> str:
    """Of a pack's name keep what the product's name does not say: how large, and what it is."""
    return name.partition(", ")[2] or name


def piece_lines(document: Mapping[str, Any]) -> list[str]:
    """List the pieces, lowest first: letters, how many, what, size to cut; like ones together."""
    lines = []
    for (what, _), pieces in _alike(document).items():
        size = f"{prose(pieces[0]['width']['text'])} × {prose(pieces[0]['length']['text'])}"
        count = sum(piece["count"] for piece in pieces)
        lines.append(f"**{_letters(pieces)}** {count}\u00a0× {prose(what)}, {size}")
    return lines


def _letters(pieces: Sequence[Mapping[str, Any]]) -> str:
    """Name the letters of like pieces: `C1`, `C1, C4`, or in a run `E1` to `E4`."""
    letters = [str(piece["letter"]) for piece in pieces]
    numbers = [int(each[1:] or 0) for each in letters]
    if len(letters) > 2 and numbers[-1] - numbers[0] == len(letters) - 1:
        return f"{letters[0]}\u2060–\u2060{letters[-1]}"
    return ", ".join(letters)


def _one(context: Context, each: Sized, number: int) -> str:
    label, document = context.label, each.example.document
    rows = [
        [name, f"**{amount}**" + (f"; {packs}" if packs else "")]
        for name, amount, packs in needs(context, document)
    ]
    rows.append([label("head.mask"), f"**{_masks(document)}**"])
    rows.append([label("head.pieces-cut"), "<br>".join(piece_lines(document))])
    shown = table([context.said(each.name), label("head.need")], rows, "run size")
    on = " on" if number == 0 else ""
    return f'<div class="v block{on}" data-v="{number}" markdown="1">\n\n{shown}\n\n</div>'


def _masks(document: Mapping[str, Any]) -> str:
    return ", ".join(
        f"{prose(m['width']['text'])} × {prose(m['length']['text'])}"
        for m in document["masking"]["flat"]
    )


def _small(text: str) -> str:
    """Of `0.7 fl oz (0.005 gal)` keep what is measured out on a roof: `0.7 fl oz`."""
    first, _, second = text.rstrip(")").partition("(")
    return first.strip() if "fl" in first or not second else second


def _short(name: str) -> str:
    """Drop what follows the comma in a product's name."""
    return name.partition(",")[0]


def worked(context: Context, example: Example) -> Iterator[str]:
    """Show the resin of the example coat by coat, so that the sum can be done by hand."""
    label, document = context.label, example.document
    if not document["coats"]:
        return
    yield f"## {label('head.worked')} {{#worked}}"
    rows = [
        [
            prose(coat["label"]),
            f"{prose(coat['area']['text'])} × {prose(coat['thickness']['text'])} = "
            f"**{prose(coat['volume']['text'])}**",
        ]
        for coat in document["coats"]
        if coat["area"] and coat["thickness"] and coat["volume"]
    ]
    yield table([label("head.coat"), label("head.volume")], rows, "narrow")
    resin = next(m for m in document["materials"] if m["kind"] == "resin")
    if resin["need"] and resin["with_allowance"]:
        yield label(
            "worked-sum",
            need=prose(resin["need"]["text"]),
            allowed=prose(resin["with_allowance"]["text"]),
        )
    words = {w["formula"]: w["words"] for w in document["workings"]}
    used = [w for name in ("film_volume", "with_allowance") if (w := words.get(name))]
    yield "<br>".join(prose(text) for text in used)
