"""Overlays: a contractor's product sheets laid over an edition.

An overlay is a file ``<id>.yaml`` or a folder ``<id>/*.yaml`` of::

    extends: 2026.1              # an edition, `next`, or another overlay
    set:
      - path: "resins/pu-2k: layers.base"
        expects: 40 mil          # what stands there now; null where nothing does
        value: 45 mil            # null takes it away
        basis: {grade: product, source: "Product sheet A, rev. 3", locator: "table 2"}
        reason: {en: "...", es: "..."}   # needed where a limit is loosened

Tightening is free. What loosens a limit, drops a caution, or cannot be shown to do neither, needs
a reason and is listed in ``Edition.loosened``.
"""

from __future__ import annotations

import copy
import hashlib
import os
import re
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from upstand.edition import build
from upstand.edition.faults import Fault, SpecFault, UnknownOverlay, near
from upstand.edition.load import ID, edition_ids, load
from upstand.edition.model import Edition
from upstand.edition.overlay.lay import Laid, Setting, lay_settings
from upstand.edition.schema.kinds import KINDS
from upstand.edition.strict_yaml import read_file

__all__ = ["ENVIRONMENT", "Overlay", "find_folder", "lay", "load_overlaid", "overlay_ids", "read"]

ENVIRONMENT = "UPSTAND_OVERLAYS"
CHAIN_LIMIT = 8
"""Overlays that may lie on one another."""

_TOP = ("extends", "set", "name", "note")
_SET = ("path", "expects", "value", "basis", "checked_on", "reason")
_COMPULSORY = ("path", "expects", "value", "basis")


@dataclass(frozen=True, slots=True)
class Overlay:
    """An overlay as read: what it extends and what it sets, in order."""

    id: str
    extends: str
    settings: tuple[Setting, ...]
    name: Mapping[str, str] = field(default_factory=dict)


def find_folder(root: Path, folder: Path | str | None = None) -> Path:
    """Return where overlays lie: argument, environment ``UPSTAND_OVERLAYS``, ``root/overlays``."""
    if folder is not None:
        return Path(folder)
    named = os.environ.get(ENVIRONMENT)
    return Path(named) if named else root / "overlays"


def overlay_ids(folder: Path) -> list[str]:
    """Return the ids of the overlays in a folder."""
    if not folder.is_dir():
        return []
    found = {path.stem if path.suffix == ".yaml" else path.name for path in _things(folder)}
    return sorted(id for id in found if ID.fullmatch(id))


def _things(folder: Path) -> Iterator[Path]:
    for path in folder.iterdir():
        if path.is_symlink() or path.name.startswith("."):
            continue
        if path.is_dir() or path.suffix == ".yaml":
            yield path


def read(folder: Path, id: str) -> Overlay:
    """Read one overlay; raises UnknownOverlay, and SpecFault for what is wrong with its form."""
    if not ID.fullmatch(id) or id not in overlay_ids(folder):
        raise UnknownOverlay(id, overlay_ids(folder))
    single, several = folder / f"{id}.yaml", folder / id
    if single.is_file() and several.is_dir():
        cure = "keep the file or the folder"
        raise SpecFault([Fault(f"overlays/{id}", "", "", "overlay", "is there twice", cure)])
    paths = [single] if single.is_file() else sorted(several.glob("*.yaml"))
    extends: str | None = None
    settings: list[Setting] = []
    name: Mapping[str, str] = {}
    faults: list[Fault] = []
    for path in paths:
        file = f"overlays/{path.relative_to(folder).as_posix()}"
        try:
            node = read_file(path, file, as_text=("extends",))
        except SpecFault as error:
            faults += error.faults
            continue
        wrong = list(_form(node, file))
        faults += wrong
        if wrong:
            continue
        if extends is not None and node["extends"] != extends:
            why = f"extends {node['extends']}, another file of this overlay {extends}"
            faults.append(Fault(file, "extends", "", "overlay", why, "extend one edition"))
        extends = node["extends"]
        name = node.get("name", name)
        settings += [_setting(file, number, row) for number, row in enumerate(node["set"])]
    if not faults and extends is None:
        cure = "write extends and set into a .yaml file in it"
        faults.append(Fault(f"overlays/{id}", "", "", "overlay", "holds no file", cure))
    if faults or extends is None:
        raise SpecFault(faults)
    return Overlay(id, extends, tuple(settings), name)


def _form(node: Any, file: str) -> Iterator[Fault]:
    def fault(path: str, value: object, why: str, cure: str) -> Fault:
        return Fault(file, path, str(value)[:80], "overlay", why, cure)

    if not isinstance(node, dict):
        yield fault("", "", "is not a mapping", "write extends: and set:")
        return
    for key in node:
        if key not in _TOP:
            yield fault(key, "", "is not a field here", f"use one of: {', '.join(_TOP)}")
    if not isinstance(node.get("extends"), str):
        yield fault("extends", "", "is missing", "name an edition, next, or an overlay")
    rows = node.get("set")
    if not isinstance(rows, list) or not rows:
        yield fault("set", "", "is not a list", "write - path, expects, value, basis")
        return
    for number, row in enumerate(rows):
        if not isinstance(row, dict):
            yield fault(f"set.{number}", row, "is not a mapping", f"write {', '.join(_SET)}")
            continue
        for key in row:
            if key not in _SET:
                nearest = ", ".join(near(key, _SET) or _SET)
                yield fault(f"set.{number}.{key}", "", "is not a field here", f"nearest: {nearest}")
        for key in _COMPULSORY:
            if key not in row:
                yield fault(f"set.{number}.{key}", "", "is missing", _CURES[key])
        if "path" in row and not isinstance(row["path"], str):
            yield fault(f"set.{number}.path", row["path"], "is not text", _CURES["path"])


_CURES = {
    "path": 'write "resins/pu-2k: layers.base"',
    "expects": "write what stands there now (null: nothing), so that a new edition is noticed",
    "value": "write what is to stand there (null takes it away)",
    "basis": "write {grade: product, source, locator}",
}


def _setting(file: str, number: int, row: Mapping[str, Any]) -> Setting:
    return Setting(
        file=file,
        place=f"set.{number}",
        path=row["path"].strip(),
        expects=row["expects"],
        value=row["value"],
        basis=row["basis"],
        checked_on=row.get("checked_on"),
        reason=row.get("reason"),
    )


def lay(edition: Edition, overlay: Overlay) -> Edition:
    """Return a new edition with the overlay laid over this one; raises SpecFault.

    ``extends`` is not looked at: :func:`load_overlaid` resolves it.
    """
    raw = {
        kind: {id: copy.deepcopy(node) for id, node in held.items()}
        for kind, held in edition.raw.items()
    }
    settings = _registered(raw, overlay)
    laid: Laid = lay_settings(raw, settings, f"overlay {overlay.id}")
    if laid.faults:
        raise SpecFault(laid.faults)
    return build.edition(
        edition.id,
        raw,
        edition.status,
        tuple(KINDS),
        overlay=overlay.id,
        date=edition.date,
        note=edition.note,
        overlaid=(*edition.overlaid, *laid.overlaid),
        loosened=(*edition.loosened, *laid.loosened),
        base=edition.base or edition.digest,
        overlay_digest=_digest(overlay, edition.overlay_digest),
    )


def _digest(overlay: Overlay, below: str | None) -> str:
    """Return the sha256, in hex, over what an overlay says and the overlays it lies on."""
    rows = [
        {"path": s.path, "expects": s.expects, "value": s.value, "basis": s.basis,
         "checked_on": s.checked_on, "reason": s.reason}
        for s in overlay.settings
    ]  # fmt: skip
    said = {"id": overlay.id, "extends": overlay.extends, "set": rows, "below": below}
    return hashlib.sha256(build.canonical(said).encode("utf-8")).hexdigest()


def _registered(raw: dict[str, dict[str, Any]], overlay: Overlay) -> list[Setting]:
    """Return the settings with each sheet that they name as a record among the sources.

    So a source is the id of a record whoever named it, and answers list sheets like any other.
    """
    ids: dict[str, str] = {}
    settings = []
    for setting in overlay.settings:
        basis = setting.basis
        sheet = basis.get("source") if isinstance(basis, dict) else None
        if isinstance(sheet, str) and sheet.strip() and not sheet.startswith("sources/"):
            if sheet not in ids:
                ids[sheet] = _free_id(sheet, overlay.id, raw.setdefault("sources", {}))
                raw["sources"][ids[sheet]] = _sheet(sheet, overlay)
            setting = replace(setting, basis={**basis, "source": f"sources/{ids[sheet]}"})
        settings.append(setting)
    return settings


def _free_id(sheet: str, overlay: str, taken: Mapping[str, Any]) -> str:
    plain = unicodedata.normalize("NFKD", f"{overlay} {sheet}").encode("ascii", "ignore").decode()
    stem = re.sub(r"[^a-z0-9]+", "-", plain.lower()).strip("-")[:58].rstrip("-")
    id, number = stem, 1
    while id in taken:
        number += 1
        id = f"{stem}-{number}"
    return id


def _sheet(title: str, overlay: Overlay) -> dict[str, Any]:
    return {
        "name": {"en": title, "es": title},
        "title": title,
        "issuer": f"overlay {overlay.id}",
        "sort": "product-sheet",
        "read": {
            "en": f"Named by the overlay {overlay.id}, which answers for it.",
            "es": f"La nombra la capa {overlay.id}, que responde por ella.",
        },
    }


def load_overlaid(
    root: Path, id: str, folder: Path | str | None = None, edition: str | None = None
) -> Edition:
    """Return the edition that an overlay extends, with it laid over.

    ``edition``: the one that was asked for; refused where the overlay extends another, since an
    overlay is written against one edition's values.
    """
    place = find_folder(root, folder)
    chain: list[Overlay] = []
    names = [id]
    known = edition_ids(root)
    while True:
        overlay = read(place, names[-1])
        chain.append(overlay)
        below = overlay.extends
        if below in known:
            break
        if below in names:
            circle = " -> ".join([*names, below])
            raise _extends(overlay, f"goes in a circle: {circle}", "extend an edition at the end")
        if below not in overlay_ids(place):
            nearest = near(below, [*known, *overlay_ids(place)])
            hint = f"nearest: {', '.join(nearest)}" if nearest else f"use: {', '.join(known)}"
            raise _extends(overlay, f"is {below}, no edition and no overlay", hint)
        names.append(below)
        if len(names) > CHAIN_LIMIT:
            why = f"lies on more than {CHAIN_LIMIT} others"
            raise _extends(overlay, why, "extend an edition nearer the start")
    if edition is not None and edition != below:
        why = f"is {below}, and {edition} was asked for"
        raise _extends(chain[-1], why, f"ask for {below}, or write the overlay for {edition}")
    laid = load(below, root)
    for overlay in reversed(chain):
        laid = lay(laid, overlay)
    return laid


def _extends(overlay: Overlay, why: str, cure: str) -> SpecFault:
    return SpecFault([Fault(f"overlays/{overlay.id}", "extends", "", "overlay", why, cure)])
