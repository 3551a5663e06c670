"""What stands on top of every answer: loosened limits, withdrawal, draft, what governs."""

from __future__ import annotations

from upstand.edition import Edition
from upstand.words.fill import Words

__all__ = ["list_notices"]


def list_notices(edition: Edition, words: Words) -> list[str]:
    """List the notices of an edition in the words' language, the gravest first.

    Parameters: edition with its overlay laid over it; words of that edition.
    """
    notices = [
        words.say(
            "loosened",
            path=str(loosened["path"]),
            **{end: str(loosened[end]) for end in ("from", "to")},
            reason=loosened["reason"][words.lang],
        )
        for loosened in edition.loosened
    ]
    if edition.status == "withdrawn":
        notices.append(
            words.say("withdrawn-edition", note=(edition.note or {}).get(words.lang, ""))
        )
    if edition.status == "draft":
        notices.append(words.say("draft-edition"))
    notices.append(words.say("product-governs"))
    if words.lang != "en":
        notices.append(words.say("english-governs"))
    return notices
