"""The question of POST /v1/drawing, as the document shows it."""

from __future__ import annotations

from marshmallow import fields, validate

from upstand.query.drawing import VIEWS
from upstand_api.openapi.questions.requirements import RequirementsSchema


class DrawingSchema(RequirementsSchema):
    """One detail, described as for its requirements, and the view of it that is wanted."""

    view = fields.String(
        required=True,
        validate=validate.OneOf(VIEWS),
        metadata={
            "description": "plan (from above), section (from the side), cut-sheet (the pieces)",
            "example": "plan",
        },
    )
