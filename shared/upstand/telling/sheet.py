"""Reads the sheets of sentences: YAML files of ids, each with a few texts, and nothing else.

Some thousand texts are read at each start; taken as they come from the parser, without asking of
each whether it is a number or a date, they take a third of the time.
"""

from __future__ import annotations

from typing import Any

import yaml

__all__ = ["read_sheet"]

_LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


def read_sheet(text: str) -> dict[str, dict[str, str]]:
    """Read a sheet as id -> name -> text. Raises ValueError where it is no sheet.

    >>> read_sheet("dew-point: {en: 'dew point', es: 'punto de rocío'}")["dew-point"]["en"]
    'dew point'
    """
    loader = _LOADER(text)
    try:
        _next(loader, yaml.StreamStartEvent)
        if isinstance(loader.get_event(), yaml.StreamEndEvent):
            return {}
        _next(loader, yaml.MappingStartEvent)
        found: dict[str, dict[str, str]] = {}
        while (id := _key(loader)) is not None:
            _next(loader, yaml.MappingStartEvent)
            texts = found[id] = {}
            while (name := _key(loader)) is not None:
                texts[name] = _next(loader, yaml.ScalarEvent).value
        return found
    finally:
        loader.dispose()


def _key(loader: Any) -> str | None:
    """Return the next key; None at the end of the mapping."""
    event = loader.get_event()
    if isinstance(event, yaml.MappingEndEvent):
        return None
    return str(_as(event, yaml.ScalarEvent).value)


def _next(loader: Any, kind: type) -> Any:
    return _as(loader.get_event(), kind)


def _as(event: Any, kind: type) -> Any:
    if not isinstance(event, kind):
        raise ValueError(f"is no sheet of sentences: {event.start_mark}")
    return event
