"""`upstand takeoff`: a template filled in, read again, and written in each of its ways."""

from __future__ import annotations

import csv
import json
from io import StringIO
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from upstand_api.cli.group import root

LIST = "id,count,detail,member,height\na,2,post,tube 4x4x1/4 in in carbon-steel,8 in\n"


def run(*words: str) -> Result:
    return CliRunner().invoke(root, ["takeoff", *words])


@pytest.fixture
def listed(tmp_path: Path) -> str:
    path = tmp_path / "list.csv"
    path.write_text(LIST, encoding="utf-8")
    return str(path)


def test_a_template_is_a_list_that_can_be_sent(tmp_path: Path) -> None:
    made = run("--template", "curb")
    assert made.exit_code == 0
    path = tmp_path / "curb.csv"
    path.write_bytes(made.stdout_bytes)
    sent = run(str(path), "--json")
    assert sent.exit_code == 0, sent.stderr
    assert json.loads(sent.stdout)["details"][0]["detail"]["id"] == "curb"


def test_the_page_says_what_to_order_and_how_to_cut(listed: str) -> None:
    found = run(listed, "--roof", "tpo", "--stock", "pu-2k-1-qt=1")
    assert found.exit_code == 0, found.stderr
    for heading in ("TO ORDER", "WHAT EACH DETAIL TAKES", "WORK", "CUTTING PLAN"):
        assert heading in found.stdout
    assert "1 in stock" in found.stdout


def test_the_table_holds_a_row_for_each_detail(listed: str) -> None:
    found = run(listed, "--roof", "tpo", "--csv", "details")
    (row,) = csv.DictReader(StringIO(found.stdout_bytes.decode("utf-8-sig"), newline=""))
    assert (row["id"], row["count"]) == ("a", "2")


def test_a_json_list_is_read_too(tmp_path: Path) -> None:
    member = {"section": "rod", "diameter": "1 in", "substrate": "carbon-steel"}
    path = tmp_path / "list.json"
    path.write_text(json.dumps({"details": [{"id": "r", "detail": "post", "members": [member]}]}))
    assert run(str(path), "--roof", "tpo").exit_code == 0
    refused = run(str(path))
    assert refused.exit_code == 2
    assert "/details/0/roof" in refused.stderr


@pytest.mark.parametrize(("lang", "said"), [("en", "Order sheet"), ("es", "Hoja de pedido")])
def test_the_order_sheet_stands_alone(lang: str, said: str, listed: str, tmp_path: Path) -> None:
    sheet = tmp_path / "order.html"
    found = run(listed, "--roof", "tpo", "--lang", lang, "--html", str(sheet))
    assert found.exit_code == 0, found.stderr
    text = sheet.read_text("utf-8")
    assert f'<html lang="{lang}">' in text
    assert f"<h1>{said}</h1>" in text
    assert "<svg" in text
    assert "@media print" in text
    for elsewhere in ("<script", "<link", "src=", "url(", "@import"):
        assert elsewhere not in text.replace("url(#", "(#")  # a hatch of the drawing itself


def test_each_fault_names_file_row_and_column(tmp_path: Path) -> None:
    path = tmp_path / "bad.csv"
    path.write_text(LIST.replace("8 in", '"8,5 in"'), encoding="utf-8")
    found = run(str(path), "--roof", "tpo")
    assert found.exit_code == 2
    assert found.stdout == ""
    said = " ".join(found.stderr.split())
    assert "bad.csv, row 2, height:" in said
    assert "a decimal is written with a point" in said


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "LIST: is missing"),
        (("nowhere.csv",), "can't be read"),
        (("--template", "crub"), "did you mean curb?"),
        (("--template", "curb", "--stock", "x"), "write it as pu-2k-1-qt=4"),
        (("--template", "curb", "--edition", "1999.1"), "--edition"),
    ],
)
def test_what_cant_be_used_is_refused(words: tuple[str, ...], said: str) -> None:
    found = run(*words)
    assert found.exit_code == 2
    assert said in found.stderr
