"""The vehicle taken by hand."""

import json
import re

from tests.browser.vehicles import CART


def _sent(person, do):
    return [message for message in map(json.loads, person.sent) if message.get("do") == do]


def _wheel(person):
    person.page.locator("svg[aria-label='Drawing of the vehicle']").scroll_into_view_if_needed()
    box = person.page.locator("[data-wheel='rear-left'] path").bounding_box()
    assert box is not None
    return box["x"] + 0.2 * box["width"], box["y"] + 0.4 * box["height"]


def test_wheel_dragged_up_moves_everything_and_sends_no_message(sit_down, size):
    person = sit_down(CART, size)
    hole = person.point("link-hole-left")
    person.rests()
    sent = len(person.sent)
    assert person.number("Wheel") == "0 mm"
    person.drag(_wheel(person), (0, -20))
    travel = person.number("Wheel")
    assert re.fullmatch(r"\+\d+ mm", travel), travel
    assert person.point("link-hole-left")[1] < hole[1]  # the link pushes its hole up
    assert len(person.sent) == sent


def test_wheel_moved_by_arrow_keys_buttons_and_the_ends_say_why(sit_down):
    person = sit_down(CART)
    wheel = person.page.get_by_role("slider", name="Wheel rear-left, up and down")
    wheel.focus()
    for _ in range(5):
        person.page.keyboard.press("ArrowUp")
    assert person.number("Wheel") == "+5 mm"
    person.page.keyboard.press("PageDown")
    assert person.number("Wheel") == "-5 mm"
    person.button("Hang").click()
    person.sees("the shock is fully open")
    assert person.number("Spring length") == "290 mm"  # open, as the file says
    person.button("Measured").click()
    assert person.number("Wheel") == "0 mm"
    assert person.number("Spring length") == "275 mm"  # 95 + 180, along the rail
    person.types("Wheel travel in millimetres", "-12.5")
    assert person.number("Wheel") == "-13 mm"  # said to the millimetre, halves away from zero
    person.button("Spring per wheel").click()
    person.sees("The trade says: motion ratio.")


def test_a_held_button_moves_the_wheel_until_it_is_let_go(sit_down, size):
    person = sit_down(CART, size)
    up = person.page.get_by_role("button", name="Up", exact=True)
    up.scroll_into_view_if_needed()
    box = up.bounding_box()
    person.page.mouse.move(box["x"] + 30, box["y"] + 30)
    person.page.mouse.down()
    person.page.wait_for_timeout(300)
    person.page.mouse.up()
    stopped = person.number("Wheel")
    assert float(stopped.split()[0]) >= 5
    person.page.wait_for_timeout(150)
    assert person.number("Wheel") == stopped


def test_a_point_dragged_changes_answers_while_it_moves_and_is_kept_when_let_go(sit_down, size):
    person = sit_down(CART, size)
    ratio = person.number("Spring per wheel")
    person.drag(person.point("spring-hole-left"), (0, -14), drop=False)
    person.page.wait_for_function(
        "before => document.querySelector('.readout dl').innerText.indexOf(before) < 0", arg=ratio
    )
    assert _sent(person, "edit") == []  # nothing is kept while it moves
    assert _sent(person, "try")
    assert person.state() == "Saved"
    person.page.mouse.up()
    person.page.get_by_text("Not saved yet").wait_for()
    edit = _sent(person, "edit")[0]["ops"]
    assert [op["key"] for op in edit] == [["points", "spring-hole-left"]]
    x, y, z = edit[0]["value"]
    assert (x, y) == (-180, 290)  # straight up in the view from the side
    assert z > 545
    assert person.number("Spring per wheel") != ratio


def test_a_point_moved_by_arrow_keys_is_one_step_of_undo(sit_down):
    person = sit_down(CART)
    handle = person.page.locator("[data-point='spring-hole-left']")
    handle.focus()
    for _ in range(3):
        person.page.keyboard.press("ArrowUp")
    person.page.get_by_text("Not saved yet").wait_for()
    assert _sent(person, "edit")[0]["ops"][0]["value"] == [-180, 290, 548]
    person.button("Undo").click()
    person.page.get_by_text("Saved", exact=True).wait_for()
    assert len(_sent(person, "edit")) == 1


def test_a_number_typed_beside_the_drag_goes_as_typed(sit_down, size):
    person = sit_down(CART, size)
    x, y = person.point("spring-hole-left")
    person.page.mouse.click(x, y)
    person.sees("In your hand: spring-hole-left")
    person.types("up (z)", "21 1/2 in")
    person.page.get_by_text("Not saved yet").wait_for()
    assert _sent(person, "edit")[0]["ops"] == [
        {"op": "set", "key": ["points", "spring-hole-left"], "value": [-180, 290, "21 1/2 in"]}
    ]


def test_views_turn_and_full_screen(sit_down, size):
    person = sit_down(CART, size)
    seen = set()
    for view in ["Side", "Front", "Above", "Turn"]:
        person.button(view).click()
        person.page.wait_for_timeout(400)
        seen.add(person.point("hub-left"))
    assert len(seen) == 4
    before = person.point("hub-left")
    drawing = person.page.locator("svg[aria-label='Drawing of the vehicle']").bounding_box()
    person.drag((drawing["x"] + 12, drawing["y"] + 60), (60, 0))
    assert person.point("hub-left") != before
    person.button("Full screen").click()
    person.page.wait_for_timeout(300)
    full = person.page.locator("section.bench").bounding_box()
    assert full["width"] >= person.page.viewport_size["width"] - 1
    person.button("Full screen").click()


def test_the_curves_are_moved_by_keys_and_stand_in_a_table(sit_down):
    person = sit_down(CART)
    person.open_card("push")
    curve = person.page.get_by_role("slider", name="Wheel rate over wheel travel")
    curve.focus()
    person.page.keyboard.press("ArrowRight")
    person.page.keyboard.press("ArrowRight")
    assert person.number("Wheel") == "+2 mm"
    assert "At +2 mm" in (curve.get_attribute("aria-valuetext") or "")
    person.page.get_by_text("The same as a table").click()
    assert person.page.locator("#card-push table tbody tr").count() == 11


def test_coordinates_typed_one_after_another_without_waiting_are_all_kept(sit_down):
    person = sit_down(CART)
    person.page.locator("[data-point='spring-hole-left']").focus()
    person.page.get_by_label("forward (x)").fill("-170")
    person.page.keyboard.press("Tab")
    person.page.get_by_label("left (y)").fill("291")
    person.page.keyboard.press("Tab")
    person.page.get_by_label("up (z)").fill("549")
    person.page.keyboard.press("Enter")
    for _ in range(100):
        if len(_sent(person, "edit")) == 3:
            break
        person.page.wait_for_timeout(50)
    assert _sent(person, "edit")[-1]["ops"][0]["value"] == [-170, 291, 549]
    fields = [person.page.get_by_label(axis) for axis in ("forward (x)", "left (y)", "up (z)")]
    assert [field.input_value() for field in fields] == ["-170", "291", "549"]
