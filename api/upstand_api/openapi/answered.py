"""Each operation's own example, answered by the app and put beside its 200 response."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Final

from flask import Flask

from upstand_api.http.negotiate import CSV, HTML, JSON, SVG

__all__ = ["OWN", "answer_examples"]

OWN: Final = "upstand.own"
"""Marks requests of the app to itself, which count for nobody's rate; no caller can set it."""

#: Entries of a list that an example shows; the last is never cut in half.
MOST_SHOWN: Final = 2


def answer_examples(app: Flask, whole: dict[str, Any], since: str) -> None:
    """Answer the examples of a document in it; `since` is the edition that changes are told from.

    Lists are cut to their first entries. What can't be answered now has no example.
    """
    client = app.test_client()
    for path, held in whole["paths"].items():
        names = {p["name"]: p.get("example") for p in held.get("parameters", ())}
        address = path.format(**names)
        for method in ("get", "post"):
            if method not in held:
                continue
            operation = held[method]
            query = {"limit": "2"} if _takes(operation, "limit") else {}
            if _takes(operation, "since"):
                query["since"] = since
            told = operation["responses"]["200"]["content"]
            body = operation.get("requestBody", {}).get("content", {}).get(JSON, {}).get("example")
            for media in told:
                answer = client.open(
                    address,
                    method=method,
                    json=body,
                    query_string=query,
                    headers={"Accept": media},
                    environ_overrides={OWN: True},
                )
                if answer.status_code == 200:
                    text = answer.get_data(as_text=True)
                    told[media]["example"] = shortened(answer.get_json()) if media == JSON else text


def _takes(operation: Mapping[str, Any], name: str) -> bool:
    return any(p["name"] == name for p in operation.get("parameters", ()))


def shortened(node: Any) -> Any:
    """Cut lists to their first entries.

    >>> shortened({"a": [1, 2, 3]})
    {'a': [1, 2]}
    """
    if isinstance(node, dict):
        return {name: shortened(value) for name, value in node.items()}
    return [shortened(each) for each in node[:MOST_SHOWN]] if isinstance(node, list) else node


#: Other media types that a view may answer in, and what comes in them.
TEXTS: Final[Mapping[str, str]] = {
    SVG: "a drawing",
    CSV: "a table in UTF-8, commas between, the first row its headings",
    HTML: "a sheet to print, with nothing from elsewhere",
}


def describe_others(whole: dict[str, Any], offers: Mapping[str, tuple[str, ...]]) -> None:
    """List every media type of a view's answer beside the usual one."""
    for held in whole["paths"].values():
        for operation in (held[m] for m in ("get", "post") if m in held):
            content = operation["responses"]["200"]["content"]
            for media in offers.get(operation["operationId"], ()):
                text = {"type": "string", "description": TEXTS.get(media, "")}
                content.setdefault(media, {"schema": text})
