"""JSON as it is meant: no key twice, no NaN, no text that is not text, no more than fits."""

from __future__ import annotations

import json
import math
from collections import Counter
from typing import Any, NoReturn

SIZE_LIMIT = 256 * 1024
"""Bytes that are read; the API takes as many."""


class JsonFault(ValueError):
    """Text that is not the JSON wanted; the message says what to put right."""


def read_json(content: bytes) -> Any:
    """Read JSON strictly.

    Raises JsonFault for more than `SIZE_LIMIT` bytes, bytes that are not UTF-8, what is not JSON,
    a key that stands twice in an object, NaN and infinities, and nesting beyond reason.

    >>> read_json(b'{"air": "72 F"}')
    {'air': '72 F'}
    """
    if len(content) > SIZE_LIMIT:
        raise JsonFault(f"is over {SIZE_LIMIT // 1024} KB: one request describes one detail")
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise JsonFault(f"is not UTF-8 text (byte {error.start + 1}): save it as UTF-8") from None
    if not text.strip():
        raise JsonFault('is empty: write a request, such as {"detail": "post", "roof": "tpo"}')
    try:
        found = json.loads(
            text,
            object_pairs_hook=_once,
            parse_constant=_not_a_number,
            parse_float=_finite,
        )
        json.dumps(found, ensure_ascii=False).encode("utf-8")
    except json.JSONDecodeError as error:
        where = f"line {error.lineno}, column {error.colno}"
        raise JsonFault(f"is not JSON: {error.msg} ({where})") from None
    except UnicodeEncodeError:
        raise JsonFault("holds half of a character (a lone surrogate): write it whole") from None
    except RecursionError:
        raise JsonFault("is nested too deep: a request is a few levels deep") from None
    except JsonFault:
        raise
    except ValueError:
        raise JsonFault("holds a number with too many digits") from None
    return found


def _once(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    found = dict(pairs)
    if len(found) < len(pairs):
        times = Counter(key for key, _ in pairs)
        twice = sorted(key for key, count in times.items() if count > 1)
        named = ", ".join(f'"{key[:40]}"' for key in twice[:5])
        raise JsonFault(f"has {named} twice in one object: keep one of the two")
    return found


def _not_a_number(word: str) -> NoReturn:
    raise JsonFault(f"holds {word}, which is not a number: leave out what is not known")


def _finite(text: str) -> float:
    number = float(text)
    if not math.isfinite(number):
        raise JsonFault(f"holds {text[:20]}, which is beyond any roof")
    return number
