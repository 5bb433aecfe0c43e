"""Numbers typed as fast as a person types, before the program has answered the one before."""

import tomllib

from tests.browser.vehicles import CART

# The program on a slow day: every answer comes this much later, in order.
SLOW = """
(() => {
  const held = Object.getOwnPropertyDescriptor(WebSocket.prototype, 'onmessage')
  Object.defineProperty(WebSocket.prototype, 'onmessage', {
    ...held,
    set(hear) { held.set.call(this, (message) => setTimeout(() => hear(message), 700)) },
  })
})()
"""


def _slow(sit_down):
    person = sit_down(CART)
    person.page.add_init_script(SLOW)
    person.page.reload()
    person.page.get_by_role("status").first.wait_for()
    person.page.locator("[data-point='spring-eye-left']").wait_for(state="attached")
    return person


def _takes(person, kind, name):
    card = person.open_card("parts")
    card.get_by_text("Every part, by kind").click()
    card.get_by_role("button", name=kind, exact=True).click()
    card.get_by_role("button", name=name, exact=True).click()
    person.sees(f"In your hand: {name}")
    return card


def _saved(person):
    person.button("Save").click()
    person.page.get_by_text("Saved", exact=True).wait_for()
    return tomllib.loads(person.text())


def test_a_point_typed_with_tab_between_its_fields_keeps_every_number(sit_down):
    person = _slow(sit_down)
    card = _takes(person, "Points", "spring-eye-left")
    card.get_by_label("forward (x)").click()
    keys = person.page.keyboard
    keys.press("Control+a")
    keys.type("98", delay=20)
    keys.press("Tab")
    keys.type("291", delay=20)
    keys.press("Tab")
    keys.type("548 mm", delay=20)
    keys.press("Enter")
    # until the answers have come the fields show what was typed, not what the file had
    typed = [card.get_by_label(label).input_value() for label in ("forward (x)", "left (y)", "up (z)")]
    assert typed == ["98", "291", "548 mm"]
    assert _saved(person)["points"]["spring-eye-left"] == [98, 291, "548 mm"]


def test_a_number_typed_again_before_the_first_answer_is_the_one_kept(sit_down):
    person = _slow(sit_down)
    card = _takes(person, "Points", "spring-eye-left")
    for x, z in (("96", "546"), ("97", "547"), ("98", "548")):
        for label, number in (("forward (x)", x), ("up (z)", z)):
            field = card.get_by_label(label)
            field.fill(number)
            field.press("Tab")
            person.page.wait_for_timeout(250)
    assert _saved(person)["points"]["spring-eye-left"] == [98, 290, 548]


def test_both_ends_and_all_holes_chosen_at_once_are_kept(sit_down):
    person = _slow(sit_down)
    card = _takes(person, "Bars", "link-left")
    card.get_by_label("one", exact=False).first.select_option("hub-left")
    card.get_by_label("other", exact=False).first.select_option("spring-hole-left")
    assert _saved(person)["bars"]["link-left"]["ends"] == ["hub-left", "spring-hole-left"]
    card.get_by_role("button", name="Bodies", exact=True).click()
    card.get_by_role("button", name="arm-left", exact=True).click()
    card.locator("details.names summary").click()
    for hole in ("tab-left", "spindle-left"):
        card.locator("details.names").get_by_label(hole, exact=True).uncheck()
    kept = _saved(person)["bodies"]["arm-left"]
    assert kept == ["arm-pivot-in-left", "arm-pivot-out-left", "hub-left"]
