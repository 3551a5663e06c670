"""Parts that several kinds of page share: cautions, preparation steps, what is confirmed, times."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from upstand.edition import Record
from upstand.edition.rules.statements import POINTS
from upstand.procedure.cautions import SEVERITIES, Caution, find_cautions
from upstand_site.context import Context
from upstand_site.markdown import Page, box, bullets, prose, table, wrapped


def caution_summary(
    context: Context, page: Page, cautions: Sequence[Caution], in_full: bool = True
) -> str:
    """Return the box at the head of a page: each caution that counts here, and what is done.

    Where each is told `in_full` at its step, the box names it and the measure in a few words.
    """
    if not cautions:
        return ""
    worst = min((c.record.get("severity") for c in cautions), key=SEVERITIES.index)
    title = context.title(worst, context.label("cautions-first", count=str(len(cautions))))
    if in_full:
        items = [
            f"**{context.link(page, c.record.path)}{_grave(context, c.record)}** "
            f"{context.text(c.record, 'measure')}"
            for c in cautions
        ]
        return box(worst, title, bullets(items))
    briefs = []
    for c in cautions:
        hazard, _, measure = context.text(
            c.record, "short" if c.record.has("short") else "name"
        ).partition(":")
        link = context.link(page, c.record.path, hazard)
        briefs.append(f"**{link}:**{measure}" if measure else f"**{link}**")
    return wrapped("brief", box(worst, title, bullets(briefs)))


def _grave(context: Context, record: Record) -> str:
    """Say how grave a caution is; in a box that is sorted by it, in the fewest words."""
    return f" ({context.label('severity.' + record.get('severity'))})."


def cautions_of(context: Context, tokens: Iterable[str]) -> tuple[Caution, ...]:
    """Return the cautions that tokens such as `hazard/solvent` call, the gravest first."""
    return find_cautions(frozenset(tokens), context.edition)


def hazard_tokens(*records: Record) -> set[str]:
    """Name the hazards that records carry, those of their steps included."""
    tokens = set()
    for record in records:
        tokens |= {f"hazard/{hazard}" for hazard in record.get("hazards", ())}
        for step in record.get("steps", ()):
            tokens |= {f"hazard/{hazard}" for hazard in step.get("hazards", ())}
            tokens.add(f"activity/{str(step['activity']).partition('/')[2]}")
    return tokens


def preparation_step(context: Context, page: Page, step: Any) -> list[str]:
    """Return the lines of one preparation step: what is done, until when, and then what."""
    lines = [context.said(step["do"])]
    if "grit" in step:
        lines.append(f"**{context.label('grit')}** {context.graded(page, step['grit'])}")
    lines.append(f"**{context.label('until')}** {context.said(step['target'])}")
    if "wait" in step:
        lines.append(f"**{context.label('then-wait')}** {context.said(step['wait'])}")
    if "standard" in step:
        rule = step["standard"]
        lines.append(
            f"**{context.label('rule')}** {context.said(rule['says'])} {context.grade(page, rule)}"
        )
    return lines


def never_box(context: Context, record: Record) -> str:
    """Return the box of what is never done."""
    items = context.texts(record, "never")
    if not items:
        return ""
    return box("stop", context.title("stop", context.label("never")), bullets(items))


def confirm_list(context: Context, page: Page, paths: Iterable[Any]) -> str:
    """Return checks to be ticked, each with what is good enough and who has to say so."""
    items = []
    for path in paths:
        record = context.edition.record(str(path))
        item = f"**{context.link(page, record.path)}.** {context.text(record, 'method')} "
        item += f"*{context.label('good')}* {context.text(record, 'acceptance')}"
        items.append(item + statement_of(context, page, record))
    return wrapped("ticks", bullets(items)) if items else ""


def statement_of(context: Context, page: Page, check: Record) -> str:
    """Return the number that a check goes by, with its grade and source; nothing where none."""
    rule = check.get("standard")
    return f" {context.said(rule['says'])} {context.grade(page, rule)}" if rule else ""


def statement_pointed_at(context: Context, check: Record) -> str:
    """Return a check's statement where its sentence points at it: it stands beside, everywhere."""
    good = check.text("acceptance", context.lang) + check.text("method", context.lang)
    if not check.has("standard") or not POINTS[context.lang].search(good):
        return ""
    said = check.get("standard")
    return f" **{context.said(said['says'])}**{context.mark(said['basis']['grade'])}"


def statements(context: Context, page: Page, rules: Iterable[Any]) -> str:
    """Return published rules, each with its grade and source."""
    return bullets(f"{context.said(rule['says'])} {context.grade(page, rule)}" for rule in rules)


def value_table(context: Context, rows: Sequence[Sequence[str]]) -> str:
    """Return the table of a record's values; nothing where it has none."""
    if not rows:
        return ""
    heads = [context.label(f"head.{name}") for name in ("what", "value", "grade")]
    return table(heads, rows, "values")


def value_name(context: Context, where: str) -> str:
    """Name a value by its record and its field, such as `resins/pu-2k: layers.base`."""
    path, _, field = where.partition(": ")
    name = prose(context.edition.record(path).text("name", context.lang))
    key = f"field.{'.'.join(step for step in field.split('.') if not step.isdecimal())}"
    return f"{name}: {context.label(key)}" if context.label.has(key) else name
