"""The page on overlays holds: its form works, and each mistake says what the page says it does."""

from __future__ import annotations

import re
from pathlib import Path
from textwrap import dedent
from typing import Any

import pytest
import yaml
from click.testing import CliRunner

from upstand_api.cli.group import root

PAGES = Path(__file__).parents[2] / "site" / "pages"
PAGE = (PAGES / "en" / "overlays.md").read_text(encoding="utf-8")
#: Blocks of code on the page: the form, and one looser setting.
BLOCKS = re.findall(r"(?m)(?:^ {4,}.*\n)+", PAGE)
FORM: dict[str, Any] = yaml.safe_load(dedent(BLOCKS[0]))
LOOSER: list[dict[str, Any]] = yaml.safe_load(dedent(BLOCKS[1]))
SAID = dict(re.findall(r"^\| ([^|]+?) \| ([^|]+?) \| [^|]+ \|$", PAGE, flags=re.M))
FIRST = FORM["set"][0]
MISTAKES: dict[str, dict[str, Any]] = {
    "`expects` is not what stands there": {**FIRST, "expects": "50 mil"},
    "a field is misspelled": {**FIRST, "path": "resins/pu-2k: layers.bse"},
    "a record is misspelled": {**FIRST, "path": "resins/pu2k: layers.base"},
    "wrong kind of unit": {**FIRST, "value": "45 ft"},
    "no unit": {**FIRST, "value": 45},
    "looser without a reason": {k: v for k, v in LOOSER[0].items() if k != "reason"},
    "a caution dropped without a reason": {
        "path": "cautions/isocyanate",
        "expects": "isocyanate",
        "value": None,
        "basis": FIRST["basis"],
    },
    "no `expects`": {k: v for k, v in FIRST.items() if k != "expects"},
    "an edition that is not there": FIRST,
}


def _check(folder: Path, overlay: dict[str, Any]) -> tuple[int, str]:
    file = folder / "van-3.yaml"
    file.write_text(yaml.safe_dump(overlay, allow_unicode=True), encoding="utf-8")
    result = CliRunner().invoke(root, ["check", "--overlay", str(file)])
    return result.exit_code, " ".join(result.output.split())


def test_the_form_and_the_looser_one_fit(tmp_path: Path) -> None:
    status, said = _check(tmp_path, {**FORM, "set": FORM["set"] + LOOSER})
    assert status == 0, said
    assert "3 places set" in said and "Summer grade in stock." in said


@pytest.mark.parametrize("mistake", MISTAKES)
def test_a_mistake_says_what_the_page_says(tmp_path: Path, mistake: str) -> None:
    overlay = {**FORM, "set": [MISTAKES[mistake]]}
    if "edition" in mistake:
        overlay["extends"] = "2031.1"
    status, said = _check(tmp_path, overlay)
    assert status == 1
    assert SAID[mistake] in said


def test_the_page_lists_every_mistake_tried_and_both_languages_the_same() -> None:
    assert set(MISTAKES) == set(SAID) - {"mistake"}
    spanish = (PAGES / "es" / "overlays.md").read_text(encoding="utf-8")
    for words in MISTAKES:
        assert SAID[words] in spanish
