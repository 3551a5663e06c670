"""How a member or a plate is typed on one line, in a terminal or a table: a small closed grammar.

    member    = shape [material] [place] [turn]              plate = sizes [material] [place]
    shape     = name sizes | "nps" size | designation        name  = angle, channel, i-section, tee,
    sizes     = size "x" size …  [unit]                              tube, pipe, bar, rod
    material  = ["in" | "of"] words of a substrate
    place     = "at" length "," length                       turn  = "turn" angle

The first `in` behind a size is the unit inch: `angle 3x3x1/4 in carbon-steel`. Sizes without a unit
take the one that is named; with a fraction among them they are inches. Nothing is computed here:
lengths stay text and are judged, like the substrate, where every request is.

>>> read_member("angle 3x3x1/4 in carbon-steel")["thickness"]
'1/4 in'
>>> read_plate("3x3 in at 6,0 in")
{'width': '3 in', 'length': '3 in', 'at': ['6 in', '0 in']}
"""

from __future__ import annotations

import re
from typing import Any, Final, NamedTuple

from upstand.quantity.spellings import SPELLINGS
from upstand.query.faults import nearest
from upstand.telling.said import Said, say

LONGEST: Final = 120


class Shape(NamedTuple):
    """How a section is typed: its fields in the order of the sizes, and an example."""

    called: Said
    fields: tuple[str, ...]
    example: str
    may: tuple[str, ...] = ()


_ROLLED: Final = ("depth", "flange_width", "web_thickness", "flange_thickness")

SHAPES: Final[dict[str, Shape]] = {
    "angle": Shape(
        say("called-angle"), ("leg_a", "leg_b", "thickness"), "angle 3x3x1/4 in carbon-steel"
    ),
    "channel": Shape(say("called-channel"), _ROLLED, "channel 6x2x1/4x3/8 in carbon-steel"),
    "i-section": Shape(say("called-i-section"), _ROLLED, "i-section 8x8x1/4x3/8 in carbon-steel"),
    "tee": Shape(say("called-tee"), _ROLLED, "tee 4x4x1/4x3/8 in carbon-steel"),
    "tube": Shape(
        say("called-tube"),
        ("width", "depth", "thickness"),
        "tube 4x4x1/4 in galvanized-steel",
        ("corner_radius",),
    ),
    "pipe": Shape(say("called-pipe"), ("od",), "pipe 4 1/2 in carbon-steel", ("thickness",)),
    "bar": Shape(say("called-bar"), ("width", "depth"), "bar 1/4x3 in carbon-steel"),
    "rod": Shape(say("called-rod"), ("diameter",), "rod 1 in carbon-steel"),
}

#: Nominal sizes of pipe that crews say as if they were diameters.
NOMINAL: Final = frozenset(
    (
        "1/2",
        "3/4",
        "1",
        "1-1/4",
        "1-1/2",
        "2",
        "2-1/2",
        "3",
        "3-1/2",
        "4",
        "5",
        "6",
        "8",
        "10",
        "12",
        "14",
        "16",
        "18",
        "20",
        "22",
        "24",
    )
)

PLATE: Final = Shape(say("called-plate"), ("width", "length"), "3x3 in at 6,0 in")

_SAID: Final = {"od": "outside diameter", "leg_a": "leg a", "leg_b": "leg b"}

_FORMS: Final = say("shape-forms")

_NUMBER: Final = r"(?:\d+[ -]\d+/\d+|\d+/\d+|\d*\.\d+|\d+)"
_DESIGNATION: Final = re.compile(
    rf"(?:pipe ?{_NUMBER} ?(?:xxs|xs|std|sch ?[48]0)|[a-z]{{1,3}} ?{_NUMBER}(?: ?x ?{_NUMBER})*"
    rf"|{_NUMBER} ?x ?{_NUMBER}(?= lumber))(?= |$)",
    re.IGNORECASE | re.ASCII,
)
_NOMINAL: Final = re.compile(rf'(?:pipe )?nps ?({_NUMBER})(?: ?(?:in|"))?(?= |$)', re.I | re.ASCII)
_INCHES: Final = re.compile(rf'({_NUMBER}) ?(?:in\b|inch\b|inches\b|")', re.I | re.ASCII)
_WORD: Final = re.compile(r"[^\W\d_]+(?:-[^\W_]+)*")
_BY: Final = re.compile(r" ?[x\u00d7] ?", re.IGNORECASE)
_UNIT: Final = re.compile(r"[^\W\d_]+\.?$|[\"'\u2032\u2033\u2019\u201d]+$")
_UNITS: Final = frozenset(SPELLINGS["length"])
_PREPOSITIONS: Final = ("in", "of")
_MATERIAL: Final = re.compile(r"[a-z0-9-]{1,64}", re.ASCII)


class TextFault(ValueError):
    """Text that is not in the grammar; the message says what would be."""

    def __init__(self, message: Said) -> None:
        """Keep the message."""
        self.message = message
        super().__init__(message)


def read_member(text: str) -> dict[str, Any]:
    """Read one member as typed into the body of a request; raises TextFault."""
    head, at, turn = _clauses(text, ("at", "turn"), _FORMS)
    body = _shape(head)
    if at is not None:
        body["at"] = _place(at)
    if turn is not None:
        body["turn"] = turn
    return body


def read_plate(text: str) -> dict[str, Any]:
    """Read one fastener plate as typed into the body of a request; raises TextFault."""
    head, at, _ = _clauses(
        text, ("at",), say("write-it-as", [PLATE.example], example=PLATE.example)
    )
    sizes, material = _split_material(head)
    body: dict[str, Any] = {**_sizes(sizes, PLATE), **_substrate(material)}
    if at is not None:
        body["at"] = _place(at)
    return body


def said(field: str) -> str:
    """Say a field of a request as people do: `leg_a` is leg a."""
    return _SAID.get(field, field.replace("_", " "))


def _clauses(text: str, known: tuple[str, ...], form: Said) -> tuple[str, str | None, str | None]:
    """Split what is typed at the words `at` and `turn`: (shape, place, turn)."""
    if len(text) > LONGEST:
        told = say("line-too-long", length=str(len(text)), most=str(LONGEST), form=form)
        raise TextFault(told)
    words = text.replace("\u00a0", " ").split()
    if not words:
        raise TextFault(say("line-empty", form=form))
    parts: dict[str, list[str]] = {"": []}
    now = ""
    for word in words:
        if word.lower() in ("at", "turn"):
            now = word.lower()
            if now not in known:
                told = say("clause-not-taken", word=now, called=PLATE.called, form=form)
                raise TextFault(told)
            if now in parts:
                raise TextFault(say("clause-twice", word=now))
            parts[now] = []
        else:
            parts[now].append(word)
    for clause, example in (("at", "at 6,0 in"), ("turn", "turn 30 deg")):
        if clause in parts and not parts[clause]:
            raise TextFault(say("clause-empty", [example], word=clause, example=example))
    head, at, turn = (" ".join(parts[k]) if k in parts else None for k in ("", "at", "turn"))
    return head or "", at, turn


def _shape(head: str) -> dict[str, Any]:
    nominal = _NOMINAL.match(head)
    if nominal:
        substrate = _substrate(head[nominal.end() :])
        return {"section": "pipe", "nps": nominal[1], **substrate}
    name, _, rest = head.partition(" ")
    listed = _DESIGNATION.match(head)
    if listed and (name.lower() not in SHAPES or name.lower() == "pipe"):
        return {"designation": listed[0], **_substrate(head[listed.end() :])}
    if name[:1].isdigit() or name[:1] == ".":
        turned = _name_first(head)
        if turned is not None:
            return _shape(turned)
    shape = SHAPES.get(name.lower())
    if shape is None:
        near = nearest(name, [*SHAPES, "nps"])
        raise TextFault(say("no-shape", nearest=near, forms=_FORMS))
    if name.lower() == "pipe":
        rest = _outside(rest)
    sizes, material = _split_material(rest)
    return {"section": name.lower(), **_sizes(sizes, shape), **_substrate(material)}


def _name_first(head: str) -> str | None:
    """Turn `2x2x3/16 angle` and `4 inch pipe` round: the name of the shape goes first."""
    words = head.split()
    for place, word in enumerate(words):
        if word.lower() in SHAPES:
            return " ".join([word, *words[:place], *words[place + 1 :]])
    return None


def _outside(rest: str) -> str:
    """Read what stands behind `pipe`: a size that is also a nominal one has to say which it is."""
    first, _, behind = rest.partition(" ")
    if first.lower() == "od":
        return behind
    found = _INCHES.match(rest)
    if found and found[1].replace(" ", "-") in NOMINAL:
        size = found[1]
        ways = (f"pipe od {size} in carbon-steel", f"nps {size} carbon-steel")
        raise TextFault(say("outside-or-nominal", ways, size=size))
    return rest


def _split_material(rest: str) -> tuple[str, str]:
    """Split `3x3x1/4 in carbon-steel` where the first word stands that is no unit and no x."""
    cut = len(rest)
    for found in _WORD.finditer(rest):
        word = found[0].lower()
        if word not in _UNITS and word != "x" and word != "of":
            cut = found.start()
            break
    sizes, material = rest[:cut].strip(), rest[cut:]
    before, _, last = sizes.rpartition(" ")
    # behind a unit, `in` is a preposition: 75 mm in carbon-steel, 3 in in carbon-steel
    if last.lower() == "of" or (last.lower() == "in" and _unit(before) is not None):
        sizes = before.strip()
    return sizes, material


def _unit(part: str) -> str | None:
    found = _UNIT.search(part)
    return found[0] if found else None


def _sizes(text: str, shape: Shape) -> dict[str, str]:
    order = " x ".join(said(field) for field in shape.fields)
    count = len(shape.fields)
    many = say("sizes-many" if count > 1 else "sizes-one", many=str(count), order=order)
    form = say("write-as", [shape.example], example=shape.example)
    if not text:
        raise TextFault(say("no-size", called=shape.called, many=many, form=form))
    parts = [part.strip() for part in _BY.split(text)]
    fields = shape.fields + shape.may
    if not len(shape.fields) <= len(parts) <= len(fields) or not all(parts):
        number = sum(1 for part in parts if part)
        given = say("given-one" if number == 1 else "given-many", given=str(number))
        raise TextFault(say("sizes-given", called=shape.called, many=many, given=given, form=form))
    units = [_unit(part) for part in parts]
    named = {unit.lower().rstrip(".") for unit in units if unit}
    if not named and "/" in text:  # nobody writes a fraction of a millimeter
        named, units[-1] = {"in"}, "in"
        parts[-1] += " in"
    if not named:
        raise TextFault(say("line-bare", (f"{text} in", f"{text} mm"), text=text))
    if None in units and (len(named) > 1 or units[-1] is None):
        bare = parts[units.index(None)]
        raise TextFault(say("line-bare-beside", (f"{bare} in",), bare=bare))
    unit = units[-1]
    full = [part if own else f"{part} {unit}" for part, own in zip(parts, units, strict=True)]
    return dict(zip(fields, full, strict=False))


def _substrate(text: str) -> dict[str, str]:
    """Read the material: an id, or its words with blanks between; absent where none is said."""
    words = text.lower().split()
    if words and words[0] in _PREPOSITIONS:
        words = words[1:]
    if not words:
        return {}
    material = "-".join(words)
    if not _MATERIAL.fullmatch(material):
        raise TextFault(say("no-material", ("carbon-steel",), text=" ".join(words)[:64]))
    return {"substrate": material}


def _place(text: str) -> list[str]:
    """Read `6,0 in`: one unit for both, or each its own."""
    parts = [part.strip() for part in text.split(",")]
    if len(parts) != 2 or not all(parts):
        raise TextFault(say("line-not-a-place", ("at 6,0 in",), text=text))
    unit = _unit(parts[1])
    if unit is not None and _unit(parts[0]) is None:
        parts[0] = f"{parts[0]} {unit}"
    return parts
