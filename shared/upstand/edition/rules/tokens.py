"""What a caution waits for exists: hazards, activities, substrates, resins, primers, details."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault, near
from upstand.edition.schema.kinds.vocabulary import HAZARDS
from upstand.edition.source import Source

KIND_OF = {
    "activity": "activities",
    "substrate": "substrates",
    "resin": "resins",
    "primer": "primers",
    "detail": "details",
}


def check(source: Source) -> Iterator[Fault]:
    """Yield tokens that nothing can ever bring up."""
    for thing in source.kind("cautions"):
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
    if token == "always":
        return ""
    if name == "hazard":
        nearest = ", ".join(near(id, HAZARDS) or HAZARDS)
        return "" if id in HAZARDS else f"nearest: {nearest}"
    if name in KIND_OF:
        held = source.raw.get(KIND_OF[name], {})
        nearest = ", ".join(f"{name}/{found}" for found in near(id, held)) or f"{name}/ID"
        return "" if id in held else f"nearest: {nearest}"
    return f"write always, hazard/ID, {', '.join(f'{kind}/ID' for kind in KIND_OF)}"
