"""Schemas of the health answers."""

from __future__ import annotations

from upstand_api.openapi.shapes_of_answers.parts import ToldSchema, choice, string

__all__ = ["HealthSchema", "ReadySchema"]


class HealthSchema(ToldSchema):
    """The process runs."""

    status = choice("always ok", ("ok",))


class ReadySchema(ToldSchema):
    """The process can answer."""

    status = choice("always ready", ("ready",))
    edition = string("the edition that answers where none is named")
    digest = string("its digest")
    software = string("the version of this software")
