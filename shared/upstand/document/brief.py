"""The answer in brief: rows of label and text, for a call, a phone, a pocket.

A function over an answer's document: every number and every name in it stands there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final, NamedTuple

from upstand.words.fill import fill, lower_first
from upstand.words.store import label

__all__ = ["LOOSE", "TIGHTEST", "Row", "contracted", "first_clauses", "write_brief"]

#: What was left out and decides most, the weightiest first; a pointer into the question.
DECIDES: Final = tuple(
    re.compile(pointer)
    for pointer in (
        "/now/(surface|material|air|humidity)",
        "/roof",
        r"/(members/\d+/substrate|surfaces.*|substrate)",
        "/(height|riser|sill|length|width|depth|opening.*)",
        "/resin",
        "/flange",
        "/count",
    )
)
COATS: Final = ("roughness", "base", "drink", "top")
#: Sizes that a call is made for.
KEY_SIZES: Final = ("height", "fleece-lap")
#: Where there are several reasons, each is said up to here.
CLAUSE_END: Final = re.compile(r"[;.] ")
#: Points to see to days ahead that are named, and where several reasons stand before them.
MOST_AHEAD, FEW_AHEAD = 6, 3
WAITS: Final = ("cure", "flash-off")

LOOSE, TIGHTEST = 0, 7
"""How tightly the rows are written: what a screen has no room for is left to the whole answer.

1: reasons that clear alike stand together, without the facts to have ready; times that nobody knows
are left out. 2: holds of one limit stand together and say readings alone, asks name whom alone. 3:
surfaces without their preparation, packs by their first name, pieces counted. 4: key sizes, one
point of those to see to days ahead. 5: one row for all surfaces, by their primers. 6: packs
counted. 7: of film, sizes, packs and pieces, where they stand.
"""
#: What a hold says first: what was read, before what is wrong with it.
READING: Final = re.compile(
    r"^[^:;]*?\d[\d.,–-]*[ \u00a0](?:°F|°C|mph|km/h|%)[^,;:.]*?(?=[,;:]|\. |\.$| and | y )"
)


class Row(NamedTuple):
    """One row: what it is about, its label and its text in the reader's language."""

    id: str
    label: str
    text: str


def write_brief(document: Mapping[str, Any], tight: int = LOOSE) -> list[Row]:
    """Write the rows of an answer in the order of a call: reasons, dangers, work, what to ask.

    `document` is whole, as `requirements.write` makes it; `tight` is from LOOSE to TIGHTEST. Rows
    of which nothing is known are left out; where a hazard stops all work, nothing leads on to it.
    Verdict, reasons and dangers are never left out.
    """
    return list(_Brief(document, tight).rows())


class _Brief:
    def __init__(self, document: Mapping[str, Any], tight: int) -> None:
        self.document, self.lang, self.tight = document, str(document["lang"]), tight
        self.told: set[str] = set()
        self.numbered = [r for r in document["verdict"]["reasons"] if r["state"] != "plan"]

    def say(self, id: str, /, **slots: str) -> str:
        said = fill(label(f"brief-{id}", self.lang), slots)
        return contracted(said) if self.lang == "es" else said

    def row(self, id: str, text: str, about: str = "") -> Row:
        return Row(id, about or self.say(f"label-{id}"), text)

    def rows(self) -> Iterator[Row]:
        document = self.document
        verdict, many = document["verdict"], str(len(document["confirm"]))
        margin = document["conditions"]["margin"]
        over = "" if margin is None else f" {self.say('verdict-margin', margin=margin['text'])}"
        told = self.say(f"verdict-{verdict['state']}", count=many, margin=over)
        yield Row("verdict", self._state(verdict), told)
        yield from self._reasons()
        if document["cautions"]:
            short = "; ".join(caution["short"] for caution in document["cautions"])
            yield self.row("hazards", f"{short}.")
        if document["since"]:
            yield self.row("since", " ".join(each["text"] for each in document["since"]))
        if document["steps"]:
            yield from self.work()
        ahead = self._ahead()
        if ahead:
            most = MOST_AHEAD if len(self.numbered) < 2 else FEW_AHEAD
            most = most if self.tight < 4 else 1
            more = [self.say("more", n=str(len(ahead) - most))] if len(ahead) > most else []
            yield self.row("ahead", "; ".join([*ahead[:most], *more]))
        yield self.row("next", self.next(ahead))

    def work(self) -> Iterator[Row]:
        """Write what is measured, prepared, brought, cut and waited for."""
        document = self.document
        yield self.row("dew", self._dew())
        yield from self._surfaces()
        if self.tight > 6:
            yield self.row("rest", self.say("rest"))
            return
        for id, text in (
            ("film", self._film()),
            ("sizes", self._sizes()),
            ("packs", "; ".join(self._packs(document["totals"]["materials"]))),
            ("pieces", "; ".join(self._pieces())),
            ("times", "; ".join(self._times())),
        ):
            if text:
                yield self.row(id, text)

    def _state(self, judged: Mapping[str, Any]) -> str:
        return label(f"state-{judged['state']}", self.lang).upper()

    def _reasons(self) -> Iterator[Row]:
        """Write every reason; that nothing was measured is said by the verdict."""
        alike: dict[Any, list[int]] = {}
        for number, reason in enumerate(self.numbered):
            key: Any = number
            if self.tight > 1 and reason["state"] == "hold":
                key = reason["id"]
            elif self.tight:
                key = (reason["state"], reason["whom"], reason["clears"])
            alike.setdefault(key, []).append(number)
        for numbers in alike.values():
            reasons = [self.numbered[number] for number in numbers]
            shown = ", ".join(str(number + 1) for number in numbers)
            label = f"{shown}. {self._state(reasons[0])}"
            yield Row("reason", label, self._reason(reasons))

    def _reason(self, alike: Sequence[Mapping[str, Any]]) -> str:
        reason = alike[0]
        whom, text, clears = reason["whom"] or "", reason["text"], reason["clears"]
        kind = "clears-ask" if whom else "clears"
        if whom in self.told:
            kind = "clears-too"
        elif whom:
            self.told.add(whom)
        if len(self.numbered) > 1:
            said = [first_clauses(each["text"], each["clears"]) for each in alike]
            if self.tight > 1 and reason["state"] == "hold":
                said = [(_read(text), _read(clears)) for text, clears in said]
            if self.tight > 4 and whom and len(said) > 1:
                said = [said[0], (self.say("more-alike", n=str(len(said) - 1)), said[0][1])]
            text, clears = (" ".join(dict.fromkeys(parts)) for parts in zip(*said, strict=True))
        if kind == "clears-ask" and reason["facts"] and not self.tight:
            ready = "; ".join(lower_first(fact.rstrip(".")) for fact in reason["facts"])
            clears = f"{clears} {self.say('facts', facts=ready)}"
        if whom and self.tight > 1:
            kind = "clears-said" if kind == "clears-too" else "clears-whom"
        return self.say(kind, text=text, whom=whom, clears=clears)

    def _dew(self) -> str:
        held = self.document["conditions"]
        if held["dew_point"] is None:
            return self.say("dew-unknown")
        kind = self.say("frost" if held["kind"] == "frost" else "dew-name")
        given = {
            name: held[key]["text"]
            for name, key in (
                ("point", "dew_point"),
                ("margin", "margin"),
                ("least", "least_surface"),
            )
            if held[key] is not None
        }
        if "least" not in given:
            return self.say("dew-plain", kind=kind, **given)
        return self.say("dew" if "margin" in given else "dew-only", kind=kind, **given)

    def _surfaces(self) -> Iterator[Row]:
        """Write surfaces that are prepared and primed alike as one."""
        alike: dict[str, list[str]] = {}
        for surface in self.document["surfaces"]:
            alike.setdefault(self._treatment(surface), []).append(surface["label"])
        if self.tight > 4:
            every = (f"{_together(labels)}: {told}" for told, labels in alike.items())
            yield self.row("surfaces", ". ".join(every))
            return
        for treatment, labels in alike.items():
            yield self.row("surface", treatment, _together(labels))

    def _treatment(self, surface: Mapping[str, Any]) -> str:
        if surface["substrate"] is None:
            return self.say("substrate-unknown")
        named = {step["activity"]: step["name"] for step in self.document["steps"]}
        done = dict.fromkeys(part["activity"] for part in surface["preparation"])
        work = ", ".join(lower_first(named.get(activity, activity)) for activity in done)
        parts = [work] if work and self.tight < 3 else []
        if surface["primer"] is None:
            why = surface["primer_why"]
            parts.append(self.say("no-primer", why=why) if why else self.say("primer-none"))
        elif self.tight > 4:
            parts += list(self._primer(surface["primer"]))[:1]
        else:
            parts += self._primer(surface["primer"])
        return "; ".join(parts)

    def _primer(self, primer: str) -> Iterator[str]:
        """Name a primer, its wait before resin and the window it is covered in."""
        material = next((m for m in self.document["materials"] if m["id"] == primer), None)
        yield primer if material is None else _shorter(material["name"])
        times = {time["id"]: time for time in self.document["times"]}
        wait = next((times[f"{w}/{primer}"] for w in WAITS if f"{w}/{primer}" in times), None)
        if wait is not None:
            kind = "wait-sign" if wait["low"] is None else "wait"
            yield self.say(kind, time=_timed(wait, bare=True))
        window = times.get(f"cover-within/{primer}")
        if window is not None:
            id = "cover-shift" if window["high"] is None else "cover"
            yield self.say(id, time=_timed(window, bare=True))

    def _film(self) -> str:
        film = self.document["film"]
        held = {coat["id"]: coat["thickness"]["text"] for coat in self.document["coats"]}
        coats = [self.say(f"film-{id}", film=held[id]) for id in COATS if id in held]
        if film is None or not coats:
            return ""
        return self.say("film", coats=", ".join(coats), film=film["text"])

    def _sizes(self) -> str:
        document = self.document
        parts = [
            self.say("laps", size=each["size"]["text"])
            if each["id"] == "fleece-lap"
            else f"{lower_first(_shorter(each['label']))} {each['size']['text']}"
            for each in document["sizes"]
            if each["id"] != "reveal"  # the line that it makes is said below
            and (self.tight < 4 or each["id"] in KEY_SIZES)
        ]
        masking = document["masking"]
        if masking is not None:
            sides = [_size(rectangle) for rectangle in masking["flat"]]
            if sides:
                parts.append(self.say("tape", rectangles=", ".join(_counted(sides))))
            if masking["line_height"] is not None:
                parts.append(self.say("tape-line", height=masking["line_height"]["text"]))
        return "; ".join(parts)

    def _packs(self, materials: Sequence[Mapping[str, Any]]) -> Iterator[str]:
        if self.tight > 5 and materials:
            yield self.say("packs-counted", count=str(len(materials)))
            return
        for material in materials:
            # any roll of tape serves; of all else the pack's size tells which
            short = material["kind"] == "tape" or self.tight > 2
            name = _shorter if short else _plain
            packs = [f"{_times(pack['count'])}{name(pack['name'])}" for pack in material["packs"]]
            text = " + ".join(packs) or (_plain(material["name"]) if material["need"] else "")
            if not text:
                continue
            mixes = material["mixes"]
            if mixes is not None:
                many = "mixes-one" if mixes == 1 else "mixes-many"
                text = f"{text} ({self.say(many, mixes=str(mixes))})"
            yield text

    def _pieces(self) -> Iterator[str]:
        """Write pieces of one kind and size together, with their letters."""
        fleece = self.document["fleece"]
        alike: dict[tuple[str, str], list[Mapping[str, Any]]] = {}
        for piece in () if fleece is None else fleece["pieces"]:
            alike.setdefault((piece["kind"], _size(piece)), []).append(piece)
        times = self.document["totals"]["count"]
        if self.tight > 2 and alike:
            many = times * sum(p["count"] for pieces in alike.values() for p in pieces)
            yield self.say("pieces-counted", count=str(many))
            return
        for (_, size), pieces in alike.items():
            count = times * sum(piece["count"] for piece in pieces)
            name = pieces[0]["label"].rstrip("0123456789 ")
            if count > 1:
                size = f", {self.say('piece-many', count=str(count), size=size)}"
            yield f"{_letters([p['letter'] for p in pieces])} {name} {size}".replace(" ,", ",")

    def _times(self) -> Iterator[str]:
        document = self.document
        resin = document["resin"]["id"]
        times = {time["id"].partition("/")[0]: time for time in document["times"]
                 if time["id"].endswith(f"/{resin}")}  # fmt: skip
        left = next((m["lay_within"] for m in document["materials"] if m["id"] == resin), None)
        if "pot-life" in times:
            pot = self.say("times-pot", time=self._told(times["pot-life"]))
            yield pot if left is None else self.say("times-left", left=left["text"], pot_life=pot)
        for id in ("skin", "watertight"):
            if id in times and (times[id]["low"] is not None or not self.tight):
                yield self.say(f"times-{id}", time=self._told(times[id]))

    def _told(self, time: Mapping[str, Any]) -> str:
        """Say a time; why there is none is said in full elsewhere."""
        return self.say("times-none") if time["low"] is None else _timed(time)

    def _ahead(self) -> list[str]:
        points = self.document["confirm"]
        return [_plain(point["name"]) for point in points if point["by"] == "days-ahead"]

    def next(self, ahead: Sequence[str]) -> str:
        """Say the one thing to ask next: what is missing that decides most."""
        document = self.document
        for number, reason in enumerate(self.numbered, 1):
            if reason["state"] == "ask" and reason["whom"]:
                return self.say("next-reason", whom=reason["whom"], n=str(number))
        if document["verdict"]["state"] == "plan":
            return self.say("next-weather")
        for decides in DECIDES:
            for assumed in document["assumed"]:
                if decides.fullmatch(assumed["pointer"]):
                    return _plain(assumed["text"])
        return self.say("next-ahead", name=ahead[0]) if ahead else self.say("next-all")


def first_clauses(text: str, clears: str) -> tuple[str, str]:
    """Shorten a reason and what clears it to their first clauses, where there are several."""
    return _ended(CLAUSE_END.split(text)[0]), _ended(CLAUSE_END.split(clears.partition(": ")[0])[0])


def _read(sentence: str) -> str:
    """Keep of a sentence what it reads: what is wrong with that stands in the whole answer.

    >>> _read("The air is at 34 °F, outside the 40–100 °F in which it is applied.")
    'The air is at 34 °F.'
    """
    found = READING.match(sentence)
    return f"{found[0]}." if found else sentence


def _ended(clause: str) -> str:
    """End a clause as a sentence.

    >>> _ended("The wind is 30 mph"), _ended("which primer?")
    ('The wind is 30 mph.', 'which primer?')
    """
    return clause if clause.endswith(("?", "!")) else f"{clause.rstrip('.')}."


def contracted(said: str) -> str:
    """Draw together what Spanish does not leave apart.

    >>> contracted("Pregunte a el jefe, cerca de el borde")
    'Pregunte al jefe, cerca del borde'
    """
    return re.sub(r"\b([Dd]e|[Aa]) el\b", lambda found: f"{found[1]}l", said)


def _timed(time: Mapping[str, Any], *, bare: bool = False) -> str:
    """Say a time; `bare` leaves out the temperature, which is that of the surface.

    Where the surface's is not known, the stated one always stands with it.

    >>> _timed({"at": {"text": "78 °F"}, "text": "2–4 h at 78 °F"}, bare=True)
    '2–4 h'
    >>> _timed({"at": {"text": "70 °F"}, "text": "2 h at 70 °F (stated)"}, bare=True)
    '2 h at 70 °F'
    """
    text, at = str(time["text"]), time["at"] and str(time["at"]["text"])
    if not at or at not in text:
        return text
    before = text.partition(at)[0]
    return before.rstrip().rpartition(" ")[0] if bare and text.endswith(at) else before + at


def _plain(name: str) -> str:
    """Leave out what a name says in brackets, such as the same word in English."""
    return re.sub(r" \([^()]*\)", "", name)


def _shorter(name: str) -> str:
    """Leave out what a name says behind its comma, too."""
    return _plain(name).partition(",")[0]


def _size(thing: Mapping[str, Any]) -> str:
    """Say width and length, a unit that both have once.

    >>> _size({"width": {"text": "12 in"}, "length": {"text": "4 1/2 in"}})
    '12 × 4 1/2 in'
    """
    width, length = str(thing["width"]["text"]), str(thing["length"]["text"])
    number, gap, unit = re.split(r"([ \u00a0])(?=[^ \u00a0]*$)", width)
    shared = length.endswith(gap + unit) and not re.search("[a-z]", number)
    return f"{number if shared else width} × {length}"


def _times(count: int) -> str:
    return f"{count} × " if count > 1 else ""


def _together(labels: Sequence[str]) -> str:
    """Say what surfaces of one substrate are made of once, behind the last.

    >>> _together(["riser (concrete)", "sill (concrete)", "wall (block)"])
    'riser, sill (concrete), wall (block)'
    """
    said = []
    for each, after in zip(labels, (*labels[1:], ""), strict=True):
        name, bracket, made_of = each.partition(" (")
        said.append(name if bracket and after.endswith(f" ({made_of}") else each)
    return ", ".join(said)


def _counted(texts: Sequence[str]) -> list[str]:
    return [
        text if (count := texts.count(text)) == 1 else f"{count} × ({text})"
        for text in dict.fromkeys(texts)
    ]


def _letters(letters: Sequence[str]) -> str:
    """Name pieces by their letters: neighbors of one row by the first and the last.

    >>> _letters(["E1", "E2", "E3"]), _letters(["E1", "F2"])
    ('E1–E3', 'E1, F2')
    """
    first, last = letters[0], letters[-1]
    numbers = [each.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ") for each in letters]
    rows = {each.removesuffix(n) for each, n in zip(letters, numbers, strict=True)}
    if len(letters) > 2 and len(rows) == 1 and all(n.isdecimal() for n in numbers):
        whole = [int(n) for n in numbers]
        if whole == list(range(whole[0], whole[-1] + 1)):
            return f"{first}–{last}"
    return ", ".join(letters)
