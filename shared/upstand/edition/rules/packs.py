"""Every product is sold in a pack, and a pack says what it holds."""

from __future__ import annotations

from collections.abc import Iterator

from upstand.edition.faults import Fault
from upstand.edition.source import Source

NEEDS = {"resins": ("size",), "primers": ("size",), "fleeces": ("width", "length"), "tools": ()}


def check(source: Source) -> Iterator[Fault]:
    """Yield products without a pack, packs without a measure, loose packs of what is whole."""
    sold = {str(thing.node.get("of")) for thing in source.kind("packs")}
    for kind in ("resins", "primers", "fleeces"):
        for thing in source.kind(kind):
            if thing.path not in sold:
                why, cure = "is in no pack", f"write packs/ID with of: {thing.path}"
                yield thing.fault("", thing.path, "packs", why, cure)
    for thing in source.kind("packs"):
        kind, _, id = str(thing.node.get("of")).partition("/")
        for name in NEEDS.get(kind, ()):
            if name not in thing.node:
                why = f"is missing: a pack of {kind} has it"
                yield thing.fault(name, None, "packs", why, "write it with its unit")
        if kind == "tools" and not {"size", "width", "length"} & set(thing.node):
            why = "holds no measure"
            yield thing.fault("", None, "packs", why, "write size, or width and length")
        product = source.raw.get(kind, {}).get(id)
        whole = isinstance(product, dict) and product.get("whole_packs") is True
        if whole and thing.node.get("pre_proportioned") is not True:
            why = f"is not true, and {kind}/{id} is mixed in whole packs only"
            cure = "write pre_proportioned: true"
            yield thing.fault("pre_proportioned", None, "packs", why, cure)
