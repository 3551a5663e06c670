"""What an answer costs against what nobody can do without; for 160 questions, all different.

    python tests/bench/bench_answer.py

Not a timed test: machines differ. The floor of a question is its own request read and checked by
a plain marshmallow schema, and its finished answer written by the standard library's JSON. Each
question is asked once, turn and turn about with its floor. Last, CPU a request of the whole app
with eight callers at once against one.
"""

from __future__ import annotations

import copy
import itertools
import json
import statistics
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
for part in ("shared", "api", "site"):
    sys.path.insert(0, str(ROOT / part))

from marshmallow import Schema, fields  # noqa: E402

from upstand.answer import answer  # noqa: E402
from upstand.document.requirements import write  # noqa: E402
from upstand.edition import load  # noqa: E402
from upstand.query import read_requirements  # noqa: E402
from upstand.query.model import ANSWER_KEYS  # noqa: E402
from upstand_api import memory  # noqa: E402
from upstand_api.app import create_app  # noqa: E402
from upstand_api.http.responses import write_json  # noqa: E402
from upstand_api.openapi.examples import REQUIREMENTS  # noqa: E402
from upstand_api.settings import Settings  # noqa: E402

SIZES = ("2", "2 1/2", "3", "3 1/2", "4", "5", "6", "8")
HEIGHTS = ("8 in", "9 in", "10 1/2 in", "12 in", "14 in")
FLANGES = ("4 in", "4 1/2 in", "5 in", "6 in")
PLATE = {"width": "3 in", "length": "3 in", "at": ["10 in", "0 in"]}
SECTIONS: tuple[Callable[[str], dict[str, Any]], ...] = (
    lambda size: {"section": "tube", "width": size, "depth": size, "thickness": "1/4 in"},
    lambda size: {"section": "angle", "leg_a": size, "leg_b": size, "thickness": "1/4 in"},
    lambda size: {"section": "pipe", "od": size},
    lambda size: {"section": "bar", "width": size, "depth": "1 in"},
)


class Member(Schema):
    """A member of the request, as text."""

    section = fields.String(required=True)
    width = fields.String()
    depth = fields.String()
    leg_a = fields.String()
    leg_b = fields.String()
    od = fields.String()
    thickness = fields.String()
    substrate = fields.String(required=True)


class Plate(Schema):
    """A plate of the request."""

    width = fields.String(required=True)
    length = fields.String(required=True)
    at = fields.List(fields.String())


class Asked(Schema):
    """The request, read as nobody could do more cheaply: it does not grow with our own reading."""

    detail = fields.String(required=True)
    roof = fields.String(required=True)
    members = fields.List(fields.Nested(Member))
    plates = fields.List(fields.Nested(Plate))
    height = fields.String()
    flange = fields.String()
    reveal = fields.String()
    resin = fields.String()
    count = fields.Integer()
    units = fields.String()
    lang = fields.String()
    now = fields.Dict(keys=fields.String(), values=fields.String())
    fields = fields.List(fields.String())


def questions() -> list[dict[str, Any]]:
    """Return 160 posts of four sections, no two alike in geometry or weather."""
    asked = []
    turns = itertools.product(SIZES, HEIGHTS, range(len(SECTIONS)))
    for number, (size, height, section) in enumerate(turns):
        body = copy.deepcopy(dict(REQUIREMENTS))
        member = SECTIONS[section](f"{size} in")
        body["members"] = [{**member, "substrate": "carbon-steel"}]
        body |= {"height": height, "flange": FLANGES[(number + number // 4) % len(FLANGES)]}
        if section == 1:
            body["plates"] = [PLATE]
        body["now"] = {**body.get("now", {}), "air": f"{55 + number * 26 / 160:.2f} F"}
        asked.append(body)
    return asked


def in_other_weather(body: str) -> str:
    """Return the same post on a damper day."""
    asked = json.loads(body)
    return json.dumps(
        {
            **asked,
            "now": {
                **asked["now"],
                "humidity": "61 %",
                "air": "66 F",
                "surface": "71 F",
                "material": "68 F",
            },
        }
    )


def without_workings(body: str) -> str:
    """Return the question that wants all but the workings."""
    wanted = [key for key in ANSWER_KEYS if key != "workings"]
    return json.dumps({**json.loads(body), "fields": wanted})


def took_ms(work: Callable[[], object]) -> float:
    """CPU milliseconds that a piece of work takes: what else the machine does is no matter."""
    begin = time.process_time()
    work()
    return (time.process_time() - begin) * 1e3


def cpu_ms(callers: int, bodies: list[str]) -> float:
    """CPU milliseconds a request, with so many callers at once."""
    app = create_app(Settings(max_in_flight=callers))
    shares = [bodies[start::callers] for start in range(callers)]
    refused: list[int] = []

    def call(share: list[str]) -> None:
        client = app.test_client()
        for body in share:
            told = client.post("/v1/requirements", data=body, content_type="application/json")
            if told.status_code != 200:
                refused.append(told.status_code)

    call(bodies[:4])
    threads = [threading.Thread(target=call, args=(share,)) for share in shares]
    begin = time.process_time()
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    if refused:
        raise SystemExit(f"not answered: {refused}")
    return (time.process_time() - begin) * 1e3 / len(bodies)


def measure(bodies: list[str], whole: Callable[[str], str]) -> tuple[list[float], list[float], int]:
    """Ask each question once beside its floor: milliseconds, ratios, length of the last answer."""
    schema = Asked()
    answers, ratios, length = [], [], 0
    for body in bodies:
        told: list[str] = []
        answers.append(took_ms(lambda body=body, told=told: told.append(whole(body))))
        document, length = json.loads(told[0]), len(told[0])
        floor = took_ms(
            lambda body=body, document=document: (
                schema.dump(schema.load(json.loads(body))),
                json.dumps(document),
            )
        )
        ratios.append(answers[-1] / floor)
    return answers, ratios, length


def main() -> None:
    """Print the figures beside their goals."""
    edition = load()
    bodies = [json.dumps(body) for body in questions()]
    assert len(set(bodies)) == 160

    def whole(body: str) -> str:
        return write_json(write(answer(read_requirements(json.loads(body), edition), edition)))

    whole(json.dumps({**REQUIREMENTS, "height": "11 in"}))  # imports and the like are no question's
    memory.settle()  # as a worker does
    answers, ratios, length = measure(bodies, whole)
    p50, p99 = statistics.median(answers), statistics.quantiles(answers, n=100)[98]
    print(f"answer                    {p50:6.2f} ms median, {length:,} characters the last")
    print(f"ratio to its floor        {statistics.median(ratios):6.2f}     goal 3.5 or less")
    print(f"p99 to p50                {p99 / p50:6.2f}     goal 2.5 or less")
    _, again, _ = measure([in_other_weather(body) for body in bodies[-30:]], whole)
    part = statistics.median(again) / statistics.median(ratios[-30:])
    print(f"the last in other weather {part:6.2f}     goal 0.5 or less, of themselves when new")
    fewer, ratios, length = measure([without_workings(body) for body in bodies], whole)
    print(f"without workings          {statistics.median(ratios):6.2f}     goal 2 or less")
    print(f"                          {statistics.median(fewer):6.2f} ms, {length:,} characters")
    one, eight = cpu_ms(1, bodies), cpu_ms(8, bodies)
    print(f"CPU a request, one caller {one:6.2f} ms, eight {eight:.2f} ms")
    print(f"eight to one              {eight / one:6.2f}     goal 1.1 or less")


if __name__ == "__main__":
    main()
