"""Sections of members: from dimensions in inches to an outline that can be measured and wrapped."""

from __future__ import annotations

from upstand.sections.designations import (
    StandardShape,
    UnknownDesignation,
    find_designation,
    find_pipe_size,
)
from upstand.sections.model import Face, Fault, Section, SectionFault
from upstand.sections.outlines import build, build_polygon
from upstand.sections.validity import FIELDS, Fields, polygon_faults, section_faults

__all__ = [
    "FIELDS",
    "Face",
    "Fault",
    "Fields",
    "Section",
    "SectionFault",
    "StandardShape",
    "UnknownDesignation",
    "build",
    "build_polygon",
    "find_designation",
    "find_pipe_size",
    "polygon_faults",
    "section_faults",
]
