"""What a caution or a check waits for exists: hazards, activities, substrates, tools, sections."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault, near
from upstand.edition.schema.kinds.vocabulary import HAZARDS, TRIGGER_KINDS, TRIGGERS
from upstand.edition.source import Source


def check(source: Source) -> Iterator[Fault]:
    """Yield tokens that nothing can ever bring up."""
    for thing in (*source.kind("cautions"), *source.kind("checks")):
        when = thing.node.get("when")
        for outer, tokens in enumerate(when if isinstance(when, list) else []):
            for inner, token in enumerate(tokens if isinstance(tokens, list) else []):
                cure = _cure(source, str(token))
                if cure:
                    why = "is nothing that a detail can bring up"
                    yield thing.fault(f"when.{outer}.{inner}", token, "tokens", why, cure)


def _cure(source: Source, token: str) -> str:
    """Return what to write instead, or nothing where the token is good."""
    name, _, id = token.partition("/")
    if token in TRIGGERS:
        return ""
    if name == "hazard":
        nearest = ", ".join(near(id, HAZARDS) or HAZARDS)
        return "" if id in HAZARDS else f"nearest: {nearest}"
    if name == "family":
        rows = [thing.node for thing in source.kind("substrates")]
        held = list(dict.fromkeys(str(row.get("family")) for row in rows))
        return "" if id in held else f"nearest: {', '.join(near(id, held) or held)}"
    if name in TRIGGER_KINDS:
        known = source.raw.get(TRIGGER_KINDS[name], {})
        nearest = ", ".join(f"{name}/{found}" for found in near(id, known)) or f"{name}/ID"
        return "" if id in known else f"nearest: {nearest}"
    forms = (*TRIGGERS, "hazard/ID", "family/ID", *(f"{kind}/ID" for kind in TRIGGER_KINDS))
    return f"write one of: {', '.join(forms)}"
