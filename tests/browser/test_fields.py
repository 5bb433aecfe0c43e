"""Numbers typed into the cards: refused beside their field, read in the units that the person chose."""

import json
import re

from tests.browser.vehicles import CART


def _known(person):
    """The shock's card with the fold open that has what is known already."""
    card = person.open_card("shock")
    card.get_by_text("Its lengths, and what you know of it already").click()
    return card


def _rate(person):
    card = _known(person)
    field = card.get_by_label("rate", exact=True)
    field.wait_for()
    return field


def _described(person, field):
    ids = (field.get_attribute("aria-describedby") or "").split()
    return " ".join(person.page.locator(f"[id='{one}']").inner_text() for one in ids)


def _edits(person):
    return [message["ops"] for message in map(json.loads, person.sent) if message.get("do") == "edit"]


def _typed(person, field, text):
    before = len(_edits(person))
    field.fill(text)
    field.press("Enter")
    for _ in range(100):
        if len(_edits(person)) > before:
            return _edits(person)[-1]
        person.page.wait_for_timeout(50)
    raise AssertionError("nothing was sent")


def test_a_refused_number_is_said_at_its_field_which_does_not_move(sit_down, size):
    person = sit_down(CART, size)
    field = _rate(person)
    field.scroll_into_view_if_needed()
    stood = field.bounding_box()["y"]
    _typed(person, field, "22,5")
    card = person.card("shock")
    card.get_by_role("alert").wait_for()
    assert field.evaluate("field => document.activeElement === field")
    assert abs(field.bounding_box()["y"] - stood) < 2
    assert "write the decimals with a point" in _described(person, field)
    assert field.get_attribute("aria-invalid") == "true"
    foot = person.page.get_by_role("contentinfo").inner_text()
    assert "The rate of salvaged: write the decimals with a point" in foot
    field.blur()
    person.page.evaluate("scrollTo(0, 0)")
    person.button("Go there").click()
    assert field.evaluate("field => document.activeElement === field")
    _typed(person, field, "22.5")
    card.get_by_role("alert").wait_for(state="detached")
    assert abs(field.bounding_box()["y"] - person.page.viewport_size["height"] / 2) < 250


def test_a_refused_coordinate_is_said_under_the_three_numbers(sit_down, size):
    person = sit_down(CART, size)
    person.page.locator("[data-point='hub-left']").focus()
    field = person.card("parts").get_by_label("up (z)")
    _typed(person, field, "2o5")
    person.card("parts").get_by_role("alert").wait_for()
    assert "2o5" in _described(person, field)
    assert _described(person, person.card("parts").get_by_label("forward (x)")).find("2o5") < 0


def test_fields_are_read_in_inches_and_the_file_keeps_its_millimetres(sit_down, size):
    person = sit_down(CART, size)
    person.button("inch").click()
    card = _known(person)
    length = card.get_by_label("length open")
    assert length.input_value() == "11.417"  # 290 / 25.4
    person.sees("In the file: 290 mm.")
    length.focus()
    length.blur()
    assert _edits(person) == []  # looked at, not changed
    assert _typed(person, length, "11 1/2")[0]["value"] == 292.1
    assert length.input_value() == "11 1/2"
    assert _typed(person, length, "29.5 cm")[0]["value"] == "29.5 cm"
    # by its own key this one field is read in the other unit
    person.sees("In the file: 29.5 cm.")
    key = card.locator(".field", has=person.page.get_by_label("length open")).get_by_role(
        "button", name="in: change to mm", exact=True
    )
    key.click()
    assert length.input_value() == "295"
    assert card.get_by_label("length closed").input_value() == "8.4646"


def test_the_travel_typed_is_the_travel_said(sit_down):
    person = sit_down(CART)
    person.types("Wheel travel in millimetres", "12.4")
    assert person.number("Wheel") == "+12 mm"
    assert person.page.get_by_label("Wheel travel in millimetres").input_value() == "12"
    person.button("inch").click()
    person.types("Wheel travel in inches", "1 1/4")
    assert person.number("Wheel") == "+1 1/4 in"
    assert person.page.get_by_label("Wheel travel in inches").input_value() == "1 1/4"


def test_moving_numbers_say_between_what_they_lie_where_it_stands(sit_down):
    person = sit_down(CART)
    said = person.page.locator(".readout .range")
    said.first.wait_for()
    assert [
        re.fullmatch(r"standing: between [\d.]+ and [\d.]+( N/mm)?", each) is not None
        for each in said.all_inner_texts()
    ] == [True, True]


def test_the_foot_passes_over_none_of_the_first_three_cards(sit_down, size):
    person = sit_down(CART, size)
    foot = person.page.get_by_role("contentinfo")
    for card, words in (
        ("weigh", "scale reads"),
        ("shock", "lengths of the shock"),
        ("trust", "points were measured"),
    ):
        assert words in foot.inner_text()
        assert re.search(r"\d min", foot.inner_text())  # and what it takes
        person.button("Go there").click()
        assert person.page.evaluate("document.activeElement.closest('article')?.id") == f"card-{card}"
        person.card(card).get_by_label("Done: punch it and fold it up").click()
    person.page.wait_for_function(
        "!/scale reads|shock|points were/.test(document.querySelector('footer').innerText)"
    )


def test_the_vehicle_is_named_where_it_is_started(sit_down):
    person = sit_down(None)
    person.types("What do you call it?", 'Oak "Nr. 2"')
    person.button("Make this my vehicle").click()
    person.page.get_by_role("heading", level=1, name='Oak "Nr. 2"').wait_for()
