"""Words on drawings, in both languages; numbers come in already written, with their units."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from upstand.words.fill import fill

LABELS: Final[Mapping[str, tuple[str, str]]] = {
    "section-title": ("Section: {detail}", "Corte: {detail}"),
    "plan-title": ("Plan: {detail}", "Planta: {detail}"),
    "cut-title": ("Pieces to cut: {detail}", "Piezas por cortar: {detail}"),
    "section-about": (
        "The roof and the upright seen from the side, left half. Reinforced height {height}, "
        "tape line at {line}, fleece {flange} on to the roof, tape {reveal} beyond it.",
        "El techo y el elemento vistos de lado, mitad izquierda. Altura reforzada {height}, "
        "línea de cinta a {line}, vellón {flange} sobre el techo, cinta {reveal} más afuera.",
    ),
    "plan-about": (
        "The roof seen from above. Inside of the tape {mask}. Fleece {flange} on to the roof, "
        "tape {reveal} beyond it.",
        "El techo visto desde arriba. Por dentro de la cinta {mask}. Vellón {flange} sobre el "
        "techo, cinta {reveal} más afuera.",
    ),
    "cut-about": (
        "Each piece of fleece with its count and the size to cut, lowest first: {pieces}.",
        "Cada pieza de vellón con su cantidad y la medida de corte, la de más abajo primero: "
        "{pieces}.",
    ),
    "primed": (
        "{substrate}, prepared and primed to the tape",
        "{substrate}, con preparación e imprimador hasta la cinta",
    ),
    "prepared": (
        "{substrate}, prepared to the tape",
        "{substrate}, con preparación hasta la cinta",
    ),
    "base-coat": ("Base coat, {base} left under the fleece", "Capa base, {base} bajo el vellón"),
    "base-fleece": (
        "Base fleece, turned up {turn_up} on the upright",
        "Vellón base, doblado {turn_up} hacia arriba",
    ),
    "wrap": (
        "Wrap up to {height}, its foot {foot} on the base",
        "Envoltura hasta {height}, su pie {foot} sobre la base",
    ),
    "top-coat": (
        "Top coat, {top}, over the fleece edge and out to the tape",
        "Capa superior, {top}, sobre el borde del vellón y hasta la cinta",
    ),
    "tape": ("Tape, pulled while the resin is wet", "Cinta, se quita con la resina fresca"),
    "film-scale": (
        "Lengths to scale; the film is drawn {times}\u00a0times as thick.",
        "Longitudes a escala; la película se dibuja {times}\u00a0veces más gruesa.",
    ),
    "plan-scale": ("To scale, seen from above.", "A escala, visto desde arriba."),
    "cut-scale": (
        "All pieces to one scale. Sizes are rounded up to the next {step}.",
        "Todas las piezas a la misma escala. Medidas redondeadas hacia arriba a {step}.",
    ),
    "mask-line": ("Inside of the tape, {mask}", "Por dentro de la cinta, {mask}"),
    "fleece-edge": (
        "Fleece edge, {reveal} short of the tape",
        "Borde del vellón, {reveal} antes de la cinta",
    ),
    "member": ("{substrate}, up through the roof", "{substrate}, atraviesa el techo"),
    "lap": ("Base pieces lap {lap}", "Las bases traslapan {lap}"),
    "plate": ("Fastener plate", "Placa de fijación"),
    "cover": (
        "Cover, {margin} past the plate on each side",
        "Cubierta, {margin} más allá de la placa por lado",
    ),
    "slit": ("slit to reach in", "con corte para entrar"),
}


def say(name: str, lang: str, /, **slots: str) -> str:
    """Return a label in `lang` ("en" or "es") with its slots filled; KeyError for a missing one."""
    return fill(LABELS[name][("en", "es").index(lang)], slots)
