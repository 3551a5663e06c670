"""The API's own few pages: plain, high in contrast, with no script and nothing from elsewhere."""

from __future__ import annotations

from typing import Final

from flask import Flask, Response
from markupsafe import Markup, escape

from upstand_api.http.headers import page_policy

__all__ = ["STYLE", "code", "html", "register"]

STYLE: Final = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0; background: #fff; color: #111;
  font: 1.125rem/1.55 system-ui, "Segoe UI", Roboto, sans-serif; }
header { align-items: center; background: #12262b; color: #fff; display: flex; gap: .5rem;
  letter-spacing: .06em; min-height: 60px; padding: 0 .75rem; }
.page { margin: 0 auto; max-width: 62rem; padding: 1.5rem 1rem 4rem; }
nav { margin-bottom: 1.25rem; }
h1 { font-size: 1.9rem; line-height: 1.2; margin: 0 0 .5rem; }
h2 { font-size: 1.35rem; margin: 2.5rem 0 .5rem; padding-top: .75rem; border-top: 3px solid #111; }
h3 { font-size: 1.1rem; margin: 1.5rem 0 .25rem; }
a { color: #14397a; text-underline-offset: .15em; }
a:focus-visible { outline: 4px solid #b35300; outline-offset: 2px; }
.ways { display: grid; gap: 1rem; grid-template-columns: repeat(auto-fit, minmax(16rem, 1fr));
  list-style: none; margin: 1.5rem 0; padding: 0; }
.ways li { border: 3px solid #111; padding: 1rem; }
.ways h2 { border: 0; margin: 0 0 .25rem; padding: 0; }
.ways a { display: block; font-weight: 700; padding: .75rem 0; }
code, pre { font: 1rem/1.5 ui-monospace, Consolas, monospace; }
pre { background: #f1f1ec; border-left: 6px solid #111; overflow-x: auto; padding: .75rem 1rem;
  white-space: pre-wrap; overflow-wrap: anywhere; }
table { border-collapse: collapse; width: 100%; }
th, td { border-bottom: 1px solid #767676; padding: .4rem .75rem .4rem 0; text-align: left;
  vertical-align: top; }
h2 code { font-size: 1em; overflow-wrap: anywhere; }
td code { overflow-wrap: anywhere; }
.method { border: 2px solid #111; font-weight: 700; padding: 0 .4rem; }
.quiet { color: #444; }
@media (prefers-color-scheme: dark) {
  :root { color-scheme: dark; }
  body { background: #111; color: #fff; }
  a { color: #ffd873; }
  h2, .ways li, .method { border-color: #fff; }
  pre { background: #222; border-color: #fff; }
  .quiet { color: #ddd; }
}
@media print { header { background: none; color: #000; } }
"""


def html(text: str, status: int = 200) -> Response:
    """Answer with one of these pages."""
    response = Response(text, status, content_type="text/html; charset=utf-8")
    response.headers["Content-Security-Policy"] = page_policy(STYLE)
    response.headers["Cache-Control"] = "no-cache"
    return response


def code(text: str) -> Markup:
    """Show what stands between backticks as code, everything escaped.

    >>> code("write `<8 in>`")
    Markup('write <code>&lt;8 in&gt;</code>')
    """
    parts = [
        Markup("<code>{}</code>").format(part) if number % 2 else escape(part)
        for number, part in enumerate(text.split("`"))
    ]
    return Markup("").join(parts)


def register(app: Flask) -> None:
    """Give an app's templates the style, and the filter `code`."""
    app.jinja_env.globals["STYLE"] = STYLE
    app.jinja_env.filters["code"] = code
