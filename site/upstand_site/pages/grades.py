"""How well founded all this is: how many values carry which grade, counted from the data."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition import Edition
from upstand.edition.schema.values import GRADES
from upstand_site.context import Context
from upstand_site.markdown import Page, bullets, table
from upstand_site.pages.sources import _graded


def count_grades(edition: Edition) -> dict[str, dict[str, int]]:
    """Return kind -> grade -> how many values and rules carry it."""
    counted: dict[str, dict[str, int]] = {}
    for kind, records in edition.records.items():
        row = dict.fromkeys(GRADES, 0)
        for record in records.values():
            for grade, _ in _graded(record.data):
                row[grade] += 1
        if any(row.values()):
            counted[kind] = row
    return counted


def write(context: Context) -> Iterator[Page]:
    """Write the one page of counts."""
    label = context.label
    counted = count_grades(context.edition)
    total = sum(sum(row.values()) for row in counted.values())
    read = sum(row["standard"] for row in counted.values())
    used = [g for g in GRADES if any(row[g] for row in counted.values())]
    page = Page("grades.md", label("page.grades"), "lookup", about=label("about.grades"))
    page.add(label("grades-lead", total=f"{total:,}", read=f"{read:,}"))
    page.add(
        bullets(
            f"**{context.grade_word(grade)}**: {label(f'grade-means.{grade}')}" for grade in GRADES
        )
    )
    heads = [label("head.kind"), *(context.grade_word(g) for g in used), label("head.all")]
    rows = [
        [label(f"kind.{kind}"), *(str(row[g]) for g in used), str(sum(row.values()))]
        for kind, row in counted.items()
    ]
    sums = [sum(row[g] for row in counted.values()) for g in used]
    rows.append([f"**{label('head.all')}**", *(f"**{s}**" for s in sums), f"**{total}**"])
    page.heading(label("head.counts"), "counts").add(table(heads, rows, "counts"))
    page.add(label("grades-end"))
    yield page
