"""Saved, undone, changed elsewhere: what the page says is what the disk holds."""

from tests.browser.vehicles import CART


def _name_it(person, name):
    card = person.open_card("trust")
    person.types("Name of the vehicle", name, card)
    person.page.get_by_role("heading", level=1, name=name).wait_for()


def test_saved_means_on_the_disk_and_comments_stay(sit_down, size):
    person = sit_down(CART, size)
    assert person.state() == "Saved"
    _name_it(person, "Named on the page")
    assert person.state() == "Not saved yet"
    assert person.text() == CART  # nothing is written before Save
    person.button("Save").click()
    person.page.get_by_text("Saved", exact=True).wait_for()
    assert person.text() == CART.replace("Cart of the tests, invented", "Named on the page")
    assert "# the plate on the rail" in person.text()


def test_a_file_that_is_not_there_is_not_called_saved(sit_down, size):
    person = sit_down(None, size)
    assert person.state() == "Not on the disk yet"
    assert person.button("Save").is_disabled()
    person.page.get_by_role("button", name="Something else, from nothing").click()
    person.button("Lay out the empty sheet").click()
    person.page.get_by_text("Not saved yet").wait_for()
    assert not person.file.exists()
    person.button("Save").click()
    person.page.get_by_text("Saved", exact=True).wait_for()
    assert person.file.exists()


def test_undone_and_redone_by_button_and_by_keys(sit_down):
    person = sit_down(CART)
    _name_it(person, "Second name")
    person.button("Undo").click()
    person.page.get_by_role("heading", level=1, name="Cart of the tests, invented").wait_for()
    assert person.state() == "Saved"
    person.page.locator("body").press("Control+Shift+z")
    person.page.get_by_role("heading", level=1, name="Second name").wait_for()
    person.page.locator("body").press("Control+z")
    person.page.get_by_role("heading", level=1, name="Cart of the tests, invented").wait_for()


def test_a_file_changed_on_disk_is_said_and_can_be_taken_without_losing_mine(sit_down, size):
    person = sit_down(CART, size)
    _name_it(person, "Mine")
    person.file.write_text(CART.replace("Cart of the tests, invented", "Theirs"), encoding="utf-8")
    person.page.get_by_text("Changed on disk").wait_for()
    bar = person.page.locator("div.bar").bounding_box()
    assert bar["height"] <= 125  # the choices stand in the bar, which leaves the phone's screen to the work
    assert person.button("Save").count() == 0
    person.button("Show the disk's").click()
    person.page.get_by_role("heading", level=1, name="Theirs").wait_for()
    assert person.state() == "Saved"
    person.button("Undo").click()
    person.page.get_by_role("heading", level=1, name="Mine").wait_for()
    assert person.state() == "Not saved yet"


def test_mine_saved_over_the_disk_keeps_the_other_one_redo_away(sit_down):
    person = sit_down(CART)
    _name_it(person, "Mine")
    person.file.write_text(CART.replace("Cart of the tests, invented", "Theirs"), encoding="utf-8")
    person.button("Save over it").click()
    person.page.get_by_text("Saved", exact=True).wait_for()
    assert 'title = "Mine"' in person.text()
    person.button("Redo").click()
    person.page.get_by_role("heading", level=1, name="Theirs").wait_for()
    assert person.state() == "Not saved yet"


def test_a_name_that_is_markup_is_text(sit_down):
    hostile = "<img src=x onerror=alert(1)>"
    person = sit_down(CART.replace("Cart of the tests, invented", hostile))
    assert person.page.get_by_role("heading", level=1).inner_text() == hostile
    assert person.page.locator("img").count() == 0


def test_what_cannot_be_read_is_said_keeps_the_rest_and_is_one_undo_away(sit_down):
    person = sit_down(CART)
    person.page.locator("[data-point='hub-left']").focus()
    person.types("up (z)", "a bit more")
    missing = person.card("faults")
    missing.wait_for()
    assert "a bit more" in missing.inner_text()
    assert person.page.locator("[data-point='spring-eye-left']").count() == 1
    person.button("Undo").click()
    missing.wait_for(state="detached")


def test_a_name_that_is_taken_is_refused_in_a_sentence(sit_down):
    person = sit_down(CART)
    person.page.locator("[data-point='hub-left']").focus()
    person.types("Name of this point", "tab-left")
    alert = person.page.get_by_role("alert")
    alert.wait_for()
    assert "tab-left" in alert.inner_text()
    assert person.state() == "Saved"
