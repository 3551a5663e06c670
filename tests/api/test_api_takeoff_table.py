"""A take-off in and out as a table, and as a sheet to print."""

from __future__ import annotations

import csv
from io import StringIO
from typing import Any

import pytest
from flask.testing import FlaskClient

from upstand_api.openapi.examples import TAKEOFF, TAKEOFF_TABLE

CSV = {"Content-Type": "text/csv"}
ROWS = "id,count,detail,member\na,2,post,tube 4x4x1/4 in carbon-steel\nb,1,pipe,nps 4 cast-iron\n"


def rows(told: Any) -> list[dict[str, str]]:
    assert told.status_code == 200, told.get_data(as_text=True)
    assert told.mimetype == "text/csv"
    return list(csv.DictReader(StringIO(told.get_data().decode("utf-8-sig"), newline="")))


def test_a_list_comes_back_as_a_table_of_details_or_of_the_order(client: FlaskClient) -> None:
    whole = client.post("/v1/takeoff", json=TAKEOFF).get_json()
    sent = {"json": TAKEOFF, "headers": {"Accept": "text/csv"}}
    details = rows(client.post("/v1/takeoff", **sent))
    assert [row["id"] for row in details] == [row["id"] for row in whole["details"]]
    order = client.post("/v1/takeoff?table=order", **sent)
    assert 'filename="order.csv"' in order.headers["Content-Disposition"]
    bought = {material["name"] for material in whole["totals"]["materials"]}
    assert {row[next(iter(row))] for row in rows(order)} == bought
    assert order.headers["Cache-Control"] == "no-store"


def test_a_table_is_read_as_the_same_list_in_json(client: FlaskClient) -> None:
    told = client.post("/v1/takeoff?roof=tpo&lang=es&units=si&crew=2", data=ROWS, headers=CSV)
    assert told.status_code == 200, told.get_data(as_text=True)
    listed = [
        {
            "id": "a",
            "count": 2,
            "detail": "post",
            "members": [
                {
                    "section": "tube",
                    "width": "4 in",
                    "depth": "4 in",
                    "thickness": "1/4 in",
                    "substrate": "carbon-steel",
                }
            ],
        },
        {
            "id": "b",
            "detail": "pipe",
            "members": [{"section": "pipe", "nps": "4", "substrate": "cast-iron"}],
        },
    ]
    body = {"details": listed, "roof": "tpo", "lang": "es", "units": "si", "crew": 2}
    assert told.get_json() == client.post("/v1/takeoff", json=body).get_json()
    assert told.headers["Content-Language"] == "es"


def test_the_example_table_goes_in_and_out(client: FlaskClient) -> None:
    headers = {**CSV, "Accept": "text/csv, application/json;q=0.5"}
    (row,) = rows(client.post("/v1/takeoff", data=TAKEOFF_TABLE, headers=headers))
    assert (row["id"], row["count"]) == ("screen", "5")


@pytest.mark.parametrize(("lang", "said"), [("en", "Order sheet"), ("es", "Hoja de pedido")])
def test_the_order_sheet_comes_where_html_is_liked_best(
    client: FlaskClient, lang: str, said: str
) -> None:
    body = {**TAKEOFF, "lang": lang}
    told = client.post("/v1/takeoff", json=body, headers={"Accept": "text/html"})
    page = told.get_data(as_text=True)
    assert told.mimetype == "text/html" and f"<h1>{said}</h1>" in page
    policy = told.headers["Content-Security-Policy"]
    # its own style and that of its drawing, nothing else
    assert policy.count("'sha256-") == 2 and "'unsafe-inline'" not in policy
    assert "<script" not in page and "src=" not in page


@pytest.mark.parametrize(
    ("query", "content", "status", "pointer", "said"),
    [
        ("", "id,detail,height\na,post,8\n", 422, "/rows/2/height", "8 inches or millimeters"),
        ("", "id,detail,roof\na,post,tpoo\n", 422, "/rows/2/roof", "did you mean tpo"),
        ("", "id,detail,hieght\na,post,8 in\n", 422, "/rows/1/column 3", "did you mean height"),
        ("", "", 422, "", "is empty"),
        ("", "id,detail\n", 422, "", "holds no detail"),
        ("roof=tpoo", ROWS, 422, "/roof", "did you mean tpo"),
        ("crew=0", ROWS, 422, "/crew", "from 1 to 99"),
        ("table=pages", ROWS, 422, "/table", "details, order"),
        ("lang=fr", ROWS, 422, "/lang", "en or es"),
        ("edition=2031.1", ROWS, 404, "/edition", "no such edition"),
        ("overlay=acme", ROWS, 404, "/overlay", "no overlay"),
        ("colour=red", ROWS, 422, "/colour", "is not a parameter"),
    ],
)
def test_what_is_wrong_with_a_table_is_told_by_its_cell(
    client: FlaskClient,
    conforms: Any,
    query: str,
    content: str,
    status: int,
    pointer: str,
    said: str,
) -> None:
    told = client.post(f"/v1/takeoff?{query}", data=content, headers=CSV)
    assert told.status_code == status, told.get_data(as_text=True)
    conforms(told.get_json(), "Problem")
    errors = {e["pointer"].replace("~1", "/"): e["detail"] for e in told.get_json()["errors"]}
    assert said in errors[pointer], errors


def test_what_a_table_shares_is_no_parameter_of_json(client: FlaskClient) -> None:
    told = client.post("/v1/takeoff?roof=tpo", json=TAKEOFF)
    assert told.status_code == 422
    assert told.get_json()["errors"][0]["pointer"] == "/roof"
    # and no other path takes a table
    assert client.post("/v1/film", data=ROWS, headers=CSV).status_code == 415


def test_no_cell_runs_as_a_formula(client: FlaskClient) -> None:
    told = client.post("/v1/takeoff", data="id,detail,roof\n=1+1,post,tpo\n", headers=CSV)
    assert told.status_code == 422 and "is not a name" in told.get_json()["errors"][0]["detail"]
