"""The question as it was read stands in every answer: ids of the edition, sizes as quantities."""

from __future__ import annotations

import json
from typing import Any

import pytest

from upstand import scene
from upstand.answer import answer
from upstand.document.question import write_question
from upstand.document.requirements import write
from upstand.edition import Edition
from upstand.quantity.shown import Speech
from upstand.query import read_requirements
from upstand.query.cutlist import read_cut_list
from upstand.query.film import read_film
from upstand.query.takeoff import read_take_off


def read(edition: Edition, body: Any, system: Any = "us") -> Any:
    query = read_requirements(body, edition)
    return write_question(query, edition, Speech(system))


def test_what_crews_say_is_read_as_ids_and_quantities(
    edition: Edition, example: dict[str, Any]
) -> None:
    example |= {"roof": "TPO", "height": "216 mm", "confirmed": []}
    example["members"][0]["substrate"] = "Carbon Steel"
    found = read(edition, example)
    assert (found["roof"], found["members"][0]["substrate"]) == ("tpo", "carbon-steel")
    # 216 mm is 216 / 25.4 in
    assert found["height"]["unit"] == "in"
    assert found["height"]["value"] == pytest.approx(216 / 25.4, rel=1e-12)
    assert found["plates"][0]["at"][0]["text"] == "6 in"
    assert found["now"]["humidity"] == {"value": 55.0, "unit": "percent", "text": "55 %"}
    # what was left out is not there; units and language stand in the answer itself
    assert not {"crew", "units", "lang", "mask_turn"} & set(found)


def test_in_si_it_is_read_in_si(edition: Edition, example: dict[str, Any]) -> None:
    found = read(edition, example, "si")
    assert (found["height"]["value"], found["height"]["unit"]) == (203.2, "mm")


@pytest.mark.parametrize("name", scene.details())
def test_asked_again_as_it_was_read_it_is_the_same_question(edition: Edition, name: str) -> None:
    """A reading is a question again once its quantities are written as text."""

    def typed(node: Any) -> Any:
        if isinstance(node, dict) and set(node) == {"value", "unit", "text"}:
            unit = {"percent": "%", "degF": "F"}.get(node["unit"], node["unit"])
            return f"{round(node['value'], 9)} {unit}"
        if isinstance(node, dict):
            # a designation says its sizes: the reading has both, a question one of them
            own = {"designation", "substrate", "at", "turn"} if "designation" in node else set(node)
            return {key: typed(value) for key, value in node.items() if key in own}
        return [typed(each) for each in node] if isinstance(node, list) else node

    first = read(edition, scene.question(name))
    assert read(edition, typed(first)) == first


def test_it_stands_in_the_answer_with_both_digests(
    edition: Edition, example: dict[str, Any]
) -> None:
    told = write(answer(read_requirements(example, edition), edition))
    assert told["question"]["detail"] == "post"
    assert told["digest"] == edition.digest and told["overlay_digest"] is None


def test_lists_films_and_take_offs_are_read_too(edition: Edition, example: dict[str, Any]) -> None:
    cut = read_cut_list({"pieces": [{"id": "A", "width": "6 in", "length": "1 ft"}]}, edition)
    found = write_question(cut, edition, Speech("us"))
    assert found["pieces"][0]["length"]["text"] == "12 in"
    # rolls of the edition, whatever their length
    assert all(roll["width"]["unit"] == "in" for roll in found["rolls"])
    film = read_film({"layer": "base", "area": "2 sq ft", "readings": ["40 mil"]}, edition)
    assert write_question(film, edition, Speech("us"))["readings"][0]["text"] == "40 mil"
    rows = [{"id": n, **example} for n in ("a", "b")]
    list_ = write_question(read_take_off({"details": rows}, edition), edition, Speech("us"))
    assert [row["id"] for row in list_["details"]] == ["a", "b"]
    assert list_["details"][0]["query"]["detail"] == "post"
    json.dumps(list_, allow_nan=False)
