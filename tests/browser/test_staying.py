"""The wheel and the sheet stay the person's own while the vehicle is edited."""

import json

from tests.browser.vehicles import CART, RACER


def _holds_the_eye(person):
    person.page.locator("[data-point='spring-eye-left']").focus()
    person.sees("In your hand: spring-eye-left")


def _keeps(person, label, number):
    field = person.card("parts").get_by_label(label)
    field.fill(number)
    edits = sum('"edit"' in message for message in person.sent)
    field.press("Enter")
    for _ in range(100):
        if sum('"edit"' in message for message in person.sent) > edits:
            break
        person.page.wait_for_timeout(50)
    person.page.wait_for_timeout(1200)


def test_the_wheel_comes_back_to_where_it_was_when_a_bad_place_is_put_right(sit_down):
    person = sit_down(CART)
    assert person.number("Wheel") == "0 mm"
    _holds_the_eye(person)
    _keeps(person, "forward (x)", "125")  # 305 mm from its hole: longer than the shock is open
    assert person.number("Wheel") != "0 mm"
    _keeps(person, "forward (x)", "95")
    assert person.number("Wheel") == "0 mm"
    person.types("Wheel travel in millimetres", "10")
    _keeps(person, "forward (x)", "94")
    assert person.number("Wheel") == "+10 mm"


def test_the_sheet_is_fitted_again_when_a_point_would_be_cut_off(sit_down):
    person = sit_down(CART)
    _holds_the_eye(person)
    _keeps(person, "up (z)", "900")
    x, y = person.point("spring-eye-left")
    sheet = person.page.locator("svg[aria-label='Drawing of the vehicle']").bounding_box()
    assert sheet["x"] < x < sheet["x"] + sheet["width"]
    assert sheet["y"] + 10 < y < sheet["y"] + sheet["height"]


def _whole_in_view(person):
    """Every point of the drawing lies on its sheet."""
    return person.page.evaluate(
        """() => {
          const sheet = document.querySelector("svg[aria-label='Drawing of the vehicle']").getBoundingClientRect()
          return [...document.querySelectorAll('[data-point] .dot')].every((dot) => {
            const at = dot.getBoundingClientRect(), x = at.x + at.width / 2, y = at.y + at.height / 2
            return x > sheet.x && x < sheet.right && y > sheet.y && y < sheet.bottom
          })
        }"""
    )


def test_the_sheet_is_fitted_to_what_a_remedy_would_change_and_back(sit_down, size):
    person = sit_down(RACER, size)
    card = person.open_card("push")
    card.get_by_role("button", name="Show me").first.wait_for(timeout=15_000)
    shows = card.get_by_role("button", name="Show me")
    for one in range(shows.count()):
        shows.nth(one).click()
        person.page.get_by_text("Dashed is how it is now").wait_for()
        person.page.wait_for_timeout(400)
        assert _whole_in_view(person)
    person.button("Put it back").click()
    assert _whole_in_view(person)
    assert not any(json.loads(sent).get("do") == "edit" for sent in person.sent)
