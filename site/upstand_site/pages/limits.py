"""Every limit: its value and grade, what happens where it does not hold, what clears it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from upstand.edition import Record, Value
from upstand.words.fill import SLOT
from upstand_site.context import Context
from upstand_site.markdown import Page, box, bullets, prose

BOUNDS = ("at_least", "at_most", "under", "over", "is", "margin")
KIND = {"hold": "hold", "ask": "ask", "refuse": "stop", "confirm": "note"}


def write(context: Context) -> Iterator[Page]:
    """Write the one page of limits: those that stop work first, then working figures."""
    label = context.label
    page = Page("limits.md", label("page.limits"), "rules", about=label("about.limits"), terse=True)
    page.add(label("limits-lead"))
    for record in context.edition.kind("limits").values():
        page.heading(context.name(record.path), record.id)
        page.add(f"{limit_text(context, page, record)}")
        page.add(_consequence(context, record))
    page.heading(label("head.parameters"), "parameters")
    page.add(label("parameters-lead"))
    for record in context.edition.kind("parameters").values():
        page.heading(context.name(record.path), record.id, 3)
        page.add(limit_text(context, page, record))
    yield page


def limit_text(context: Context, page: Page, record: Record, product: Record | None = None) -> str:
    """Say a limit's bounds in words, each with its grade.

    `product` stands for the products of a job where the limit is read off them.
    """
    label, lines = context.label, []
    taken = [node for bound in BOUNDS for node in _several(record.get(bound)) if _is_taken(node)]
    if taken:
        lines.append(_taken(context, page, taken[0], product))
    for bound in BOUNDS:
        nodes = _several(record.get(bound))
        if record.id == "dew-point-margin":
            # one number on the roof: the stricter
            nodes = (
                (max((n for n in nodes if isinstance(n, Value)), key=_degrees),) if nodes else ()
            )
        for node in nodes:
            if not isinstance(node, Value):
                continue
            if node.flag is not None:
                said = context.text(record, "confirm") if record.has("confirm") else ""
                lines.append(f"{said} {context.grade(page, node)}")
            else:
                lines.append(f"{label(f'bound.{bound}')} {context.graded(page, node)}")
    if context.marks:
        lines = list(dict.fromkeys(lines))  # read in several sources, shown once
    if record.has("value"):
        lines.append(context.graded(page, record.value("value")))
    if record.has("choice"):
        lines.append(f"{label('taken')} {context.link(page, str(record.get('choice')))}")
    return "<br>".join(lines)


def applies(record: Record, product: Record) -> bool:
    """Tell whether a limit says anything on a job with one product."""
    taken = [node for bound in BOUNDS for node in _several(record.get(bound)) if _is_taken(node)]
    fields = {str(node["take"]).split(".")[1] for node in taken}
    return not fields or any(product.has(field) for field in fields)


def _is_taken(node: Any) -> bool:
    return not isinstance(node, Value)


def _taken(context: Context, page: Page, node: Any, product: Record | None) -> str:
    """Say a bound that is read off the products: a job's own, or each that has one on file."""
    kind, field = str(node["take"]).split(".")[:2]
    kinds = ("resins", "primers") if kind == "product" else (f"{kind}s",)
    products = [product] if product is not None else _products(context, kinds)
    if context.marks and product is not None:
        return f"{context.label(f'field.{field}')} {context.graded(page, product.value(field))}"
    lines = [context.label("taken-from", field=context.label(f"field.{field}"))]
    lines += [
        f"{context.link(page, each.path)}: {context.graded(page, each.value(field))}"
        for each in products
        if isinstance(each.get(field), Value)
    ]
    return "<br>".join(lines)


def _products(context: Context, kinds: Iterable[str]) -> list[Record]:
    return [record for kind in kinds for record in context.edition.kind(kind).values()]


def _several(node: Any) -> tuple[Any, ...]:
    if node is None:
        return ()
    return node if isinstance(node, tuple) else (node,)


def _consequence(context: Context, record: Record) -> str:
    """Return the box that says what the answer is where the limit does not hold."""
    label = context.label
    state = str(record.get("else", "confirm"))
    kind = KIND[state]
    parts = []
    if record.has("clears"):
        parts.append(f"**{label('clears')}** {_filled(context, record, 'clears')}")
    whom = record.get("whom")
    if whom is not None and record.get("facts"):
        own = whom == "crew-lead"
        who = label("needed") if own else label("ask-whom", whom=context.whom(str(whom)))
        parts.append(f"**{who}**" + ("" if own else f" {label('facts-ready')}"))
        parts.append(bullets(context.texts(record, "facts")))
    missing = record.get("missing")
    if missing in ("ask", "confirm"):
        parts.append(label(f"missing.{missing}"))
    return box(kind, label(f"else.{state}"), "\n\n".join(parts) or label("no-more"))


def _filled(context: Context, record: Record, field: str) -> str:
    """Fill the slots of a limit's sentence with what they stand for on every job."""
    node = record.get("at_least") or record.get("at_most") or record.get("under")
    limits = [v for v in _several(node) if isinstance(v, Value)]

    def slot(name: str) -> str:
        if name == "limit" and limits:
            strictest = max(limits, key=_degrees)
            return context.amount(strictest)
        return context.label(f"slot.{name}")

    text = record.text(field, context.lang)
    return prose(SLOT.sub(lambda found: slot(found.group(1)), text))


def _degrees(value: Value) -> float:
    unit = "delta_degF" if value.unit in ("delta_degC", "delta_degF") else str(value.unit)
    return value.magnitude(unit)
