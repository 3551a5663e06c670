"""From what was typed to the body of a request, and from its faults back to what was typed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Final

from upstand import LANGUAGES
from upstand.query.shape_text import TextFault, read_member, read_plate, said
from upstand.scene import question
from upstand.telling.said import Said, say, tell
from upstand_api.cli.typed.options import Option

OPTIONS: Final = ("units", "lang", "edition", "overlay")
"""Options of the terminal's own with one text; every other is an input."""

EXAMPLE: Final[Mapping[str, Any]] = question()
"""A stanchion of the made-up theater, for a first look and for trying changes on."""

DETAIL: Final = "DETAIL, the word behind `need`"

_TYPED: Final[Mapping[str, str]] = {
    "/members": '--member "angle 3x3x1/4 in carbon-steel"',
    "/plates": '--plate "3x3 in at 6,0 in"',
}
#: Sentences about values of JSON, and those that say it where everything typed is text.
_PLAINER: Final[Mapping[str, str]] = {
    "not-whole": "not-whole-typed",
    "not-a-flag": "not-a-flag-typed",
}


@dataclass
class Typed:
    """The body as far as it could be read, and for each place in it what was typed."""

    body: dict[str, Any]
    file: str = ""
    labels: dict[str, str] = field(default_factory=dict)
    faults: list[tuple[str, str]] = field(default_factory=list)
    unread: set[str] = field(default_factory=set)
    options: tuple[Option, ...] = ()

    def put(self, path: tuple[str, ...], value: object, label: str) -> None:
        """Put a value into the body, over what stood there, and remember what it was typed as."""
        at: dict[str, Any] = self.body
        for step in path[:-1]:
            inner = at.get(step)
            # a file may hold anything here; what is no object is judged by the schema instead
            if inner is not None and not isinstance(inner, Mapping):
                return
            at[step] = dict(inner or {})
            at = at[step]
        at[path[-1]] = value
        self.labels["/" + "/".join(path)] = label

    def place(self, pointer: str) -> str:
        """Name the place of a fault as the person knows it: an option, or a field of the file."""
        steps = pointer.split("/")[1:]
        for end in range(len(steps), 0, -1):
            label = self.labels.get("/" + "/".join(steps[:end]))
            if label is not None:
                return label + "".join(f", {_step(s)}" for s in steps[end:])
        if self.file:
            return f"{self.file}, {pointer or 'the whole'}"
        for option in self.options:
            if option.input is not None and option.input.pointer == pointer:
                return f"--{option.name}"
        return _OPTION_OF.get(pointer, pointer or "the request")

    def retell(self, faults: Iterable[tuple[str, str]]) -> list[tuple[str, str]]:
        """Return faults (pointer, sentence) as (option or field, sentence), in the same order.

        Each is told in the language that was asked for.
        """
        lang = self.body.get("lang")
        told = []
        for pointer, sentence in faults:
            if pointer in self.unread:
                continue  # what could not be read is said already; its absence is no news
            if not self.file and isinstance(sentence, Said):
                sentence = _as_typed(sentence, pointer)
            said = tell(sentence, str(lang) if lang in LANGUAGES else LANGUAGES[0])
            told.append((self.place(pointer), said))
        return told


_OPTION_OF: Final[Mapping[str, str]] = {
    "/detail": DETAIL,
    "/members": "--member",
    "/plates": "--plate",
    **{f"/{name}": f"--{name}" for name in OPTIONS},
}


def _as_typed(sentence: Said, pointer: str) -> Said:
    """Say a fault with an example as it is typed, and without quotes that nobody typed."""
    slots = dict(sentence.slots)
    if pointer in _TYPED and "example" in slots:
        slots["example"] = _TYPED[pointer]
    return say(_PLAINER.get(sentence.id, sentence.id), sentence.accepted, **slots)


def _step(step: str) -> str:
    return f"number {int(step) + 1}" if step.isdecimal() and len(step) < 4 else said(step)


def build(
    base: Mapping[str, Any],
    file: str,
    details: Sequence[str],
    members: Sequence[str],
    plates: Sequence[str],
    options: Mapping[str, Any],
    made: Sequence[Option],
) -> Typed:
    """Lay what was typed over a base (a file's request, the example, or nothing).

    `options` are values by name, `made` the options of the inputs; None is not given. Members and
    plates that are typed stand in place of all those of the base.
    """
    typed = Typed(dict(base), file, options=tuple(made))
    if len(details) > 1:
        typed.faults.append(
            (
                DETAIL,
                f"there are {len(details)} words, {', '.join(d[:40] for d in details[:6])}: one "
                'names the detail. A value with a blank stands in quotes, such as --air "72 F"',
            )
        )
        typed.unread.add("/detail")
    elif details:
        typed.put(("detail",), details[0], DETAIL)
    for name in OPTIONS:
        if options.get(name) is not None:
            typed.put((name,), options[name], f"--{name}")
    if options.get("confirmed"):
        typed.put(("confirmed",), list(options["confirmed"]), "--confirmed")
    for option in made:
        given = options.get(option.dest)
        values = given if isinstance(given, tuple) else () if given is None else (given,)
        for value in values:
            _input(typed, option, value)
    _shapes(typed, "members", "--member", members, read_member)
    _shapes(typed, "plates", "--plate", plates, read_plate)
    return typed


def _input(typed: Typed, option: Option, value: Any) -> None:
    """Put what one option gives: a size or a choice in its place, a material with its part."""
    if option.gives_part(value) and option.part is not None:
        rows = [dict(row) for row in typed.body.get("surfaces", ()) if isinstance(row, Mapping)]
        rows = [row for row in rows if row.get("part") != option.part.part]
        typed.labels[f"/surfaces/{len(rows)}"] = f"--{option.name}"
        typed.body["surfaces"] = [*rows, {"part": option.part.part, "substrate": value}]
        return
    if option.input is None:
        return
    if option.whole and isinstance(value, str) and _whole(value):
        value = int(value)
    shown = option.name
    if isinstance(value, bool):
        shown = f"{option.name}/--{option.input.record.get('opposite', f'no-{option.name}')}"
    typed.put(option.input.place, value, f"--{shown}")


def _whole(text: str) -> bool:
    return text.isascii() and text.isdecimal() and len(text) < 10


def _shapes(
    typed: Typed,
    name: str,
    option: str,
    texts: Sequence[str],
    read: Callable[[str], dict[str, Any]],
) -> None:
    if not texts:
        return
    rows: list[dict[str, Any]] = []
    typed.labels[f"/{name}"] = option
    for text in texts:
        label = f'{option} "{text[:60]}{"…" if len(text) > 60 else ""}"'
        try:
            row = read(text)
        except TextFault as fault:
            lang = typed.body.get("lang")
            say_in = str(lang) if lang in LANGUAGES else LANGUAGES[0]
            typed.faults.append((label, tell(fault.message, say_in)))
            typed.unread.add(f"/{name}")
        else:
            typed.labels[f"/{name}/{len(rows)}"] = label
            rows.append(row)
    typed.body[name] = rows
