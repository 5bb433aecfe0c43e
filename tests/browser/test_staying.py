"""The wheel and the sheet stay the person's own while the vehicle is edited."""

from tests.browser.vehicles import CART


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
