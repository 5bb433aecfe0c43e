"""Sheets come out of the page as files, with the cautions at that step."""

import re

import pytest

from tests.browser.vehicles import CART


@pytest.mark.parametrize(
    ("card", "button", "begins"),
    [
        ("trial", "Print the cardboard trial", b"%PDF-"),
        ("ride", "Print the set-up cards", b"%PDF-"),
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


def test_drills_and_the_reading_of_the_bar_go_to_the_sheet_as_typed(sit_down):
    person = sit_down(CART)
    asked = []
    person.page.on(
        "request",
        lambda request: asked.append(request.post_data_json) if "/api/make" in request.url else None,
    )
    shown = person.open_card("make")
    person.types("Drill of the holes", "3/8 in", shown)
    shown.get_by_text("The last print came out").click()
    person.types("The 200 mm bar across the page reads", "194 mm", shown)
    with person.page.expect_download():
        shown.get_by_role("button", name="Print the templates, full size").click()
    assert asked[0]["hole"] == "3/8 in"
    assert asked[0]["bar_across"] == "194 mm"
    assert "bar_up" not in asked[0]


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
