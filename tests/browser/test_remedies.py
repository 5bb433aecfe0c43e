"""A finding's remedy is shown, done and undone."""

import re

from tests.browser.vehicles import RACER

# The ratio that is shown is no longer the one of the file.
OTHER = "() => !document.querySelector('.readout').innerText.includes('1.60')"


def test_remedy_is_shown_over_the_vehicle_done_and_undone(sit_down, size):
    # Story S2: arms of 45 and 90 make the corner four times too stiff; its ratio is 1.60.
    person = sit_down(RACER, size)
    card = person.open_card("push")
    card.get_by_role("button", name="Show me").first.wait_for(timeout=15_000)
    assert person.number("Spring per wheel") == "1.60"
    card.get_by_role("button", name="Show me").first.click()
    person.page.get_by_text("Dashed is how it is now").wait_for()
    person.page.wait_for_function(OTHER)
    assert card.get_by_role("button", name="Do it").first.is_visible()  # the list stays while one is shown
    assert person.state() == "Saved"  # only shown
    person.button("Put it back").click()
    assert person.number("Spring per wheel") == "1.60"
    card.get_by_role("button", name="Do it").first.click()
    person.page.get_by_text("Not saved yet").wait_for()
    person.page.wait_for_function(OTHER)
    person.button("Undo").click()
    person.page.get_by_text("Saved", exact=True).wait_for()
    assert person.number("Spring per wheel") == "1.60"
    assert person.text() == RACER


def test_finding_shows_where_and_any_number_opens_its_why_with_the_trade_word(sit_down, size):
    person = sit_down(RACER, size)
    card = person.open_card("push")
    assert re.search(r"Fix|Stop", card.inner_text())
    card.get_by_role("button", name="Show where").first.click()
    assert person.page.locator(".handle.marked").count() > 0
    stand = person.open_card("stand")
    stand.get_by_role("button", name="why").first.click()
    assert "The trade says:" in stand.inner_text()


def test_the_foot_names_the_next_thing_and_leads_there(sit_down, size):
    person = sit_down(RACER, size)
    foot = person.page.get_by_role("contentinfo")
    assert foot.inner_text().startswith("Next: ")
    person.button("Go there").click()
    focused = person.page.evaluate("document.activeElement.closest('article')?.id")
    assert re.fullmatch(r"card-\w+", focused or "")
