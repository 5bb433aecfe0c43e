"""Sheets come out of the page as files, with the cautions at that step."""

import re

import pytest

from tests.browser.vehicles import CART


@pytest.mark.parametrize(
    ("card", "button", "begins"),
    [
        ("trial", "Print the cardboard trial", b"%PDF-"),
        ("make", "Print the templates, full size", b"%PDF-"),
        ("make", "Print the drilling card", b"%PDF-"),
        ("make", "Cutting file, SVG", None),
        ("make", "Cutting file, DXF", None),
    ],
)
def test_sheet_is_downloaded(sit_down, tmp_path, card, button, begins):
    person = sit_down(CART)
    shown = person.open_card(card)
    shown.get_by_label("Letter").check()
    with person.page.expect_download() as waiting:
        shown.get_by_role("button", name=button).click()
    file = tmp_path / "sheet"
    waiting.value.save_as(file)
    content = file.read_bytes()
    assert len(content) > 500
    assert begins is None or content.startswith(begins)
    person.sees(re.compile(r"is in your downloads"))


def test_cautions_stand_where_steel_is_cut(sit_down, size):
    person = sit_down(CART, size)
    words = person.open_card("make").inner_text()
    for caution in [
        "Drilling",
        "Grinding",
        "Springs under load",
        "never permission",
        "qualified person",
        "welds",
    ]:
        assert caution in words
