"""Everybody can use it: an automatic check, small screens, both lamps, keys alone."""

from pathlib import Path

import pytest

from tests.browser.conftest import lacking
from tests.browser.vehicles import CART, EXAMPLES

AXE = Path(__file__).parents[2] / "web/node_modules/axe-core/axe.min.js"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


def _violations(person):
    if not AXE.exists():
        lacking("the accessibility checker is not there: npm ci in web/")
    person.page.add_script_tag(path=str(AXE))
    found = person.page.evaluate(
        "rules => axe.run(document, {runOnly: {type: 'tag', values: rules}})", RULES
    )["violations"]
    return [(one["id"], [node["html"][:160] for node in one["nodes"]]) for one in found]


@pytest.mark.parametrize("lamp", ["light", "dark"])
def test_no_violation_on_the_job_page_with_every_card_open(sit_down, size, lamp):
    person = sit_down(CART, size, color_scheme=lamp, bypass_csp=True)
    for card in ["weigh", "ride", "shock", "pile", "tape", "trust", "trial", "make"]:
        person.open_card(card)
    person.page.locator("[data-point='hub-left']").focus()
    for fold in person.page.locator("details").all():
        fold.evaluate("details => { details.open = true }")
    assert _violations(person) == []


@pytest.mark.parametrize(("example", "card"), [("garden-cart", "pile"), ("taped-milk-cart", "tape")])
def test_no_violation_where_measurements_are_judged_and_keys_are_open(sit_down, size, example, card):
    text = (EXAMPLES / f"{example}.toml").read_text(encoding="utf-8")
    person = sit_down(text, size, color_scheme="dark", bypass_csp=True)
    for one in ("shock", card):
        person.open_card(one)
    person.card(card).locator(".verdict").first.wait_for(timeout=20_000)
    person.card("shock").get_by_role("button", name="Big keys").first.click() if card == "pile" else None
    assert _violations(person) == []


@pytest.mark.parametrize("lamp", ["light", "dark"])
def test_no_violation_on_the_start_page(sit_down, size, lamp):
    person = sit_down(CART, size, color_scheme=lamp, bypass_csp=True)
    person.button("Start new").click()
    person.page.get_by_role("img", name="The vehicle as these measurements make it").wait_for()
    assert _violations(person) == []
    person.page.get_by_role("button", name="It is built already").click()
    person.button("Tell me why").click()
    person.page.locator(".verdict").wait_for()
    assert _violations(person) == []


def test_text_flows_again_at_320_px_and_targets_are_large(sit_down):
    person = sit_down(CART, "phone")
    person.page.set_viewport_size({"width": 320, "height": 640})
    for card in ["weigh", "ride", "shock", "pile", "tape", "trust", "trial", "make"]:
        person.open_card(card)
    person.page.wait_for_timeout(200)
    wide = person.page.evaluate("document.documentElement.scrollWidth")
    assert wide <= 320
    small = person.page.evaluate(
        """() => [...document.querySelectorAll('button, select, input[type=text], summary')]
          .filter((one) => one.offsetParent && (one.offsetHeight < 44 || one.offsetWidth < 44))
          .map((one) => one.outerHTML.slice(0, 120))"""
    )
    assert small == []
    letters = person.page.evaluate(
        """() => [...document.querySelectorAll('body *')].filter((one) =>
          [...one.childNodes].some((node) => node.nodeType === 3 && node.data.trim()) &&
          parseFloat(getComputedStyle(one).fontSize) < 18).map((one) => one.outerHTML.slice(0, 120))"""
    )
    assert letters == []


def test_bright_lamp_lights_a_dark_page_and_inches_stay_chosen(sit_down):
    person = sit_down(CART, color_scheme="dark")
    colour = "getComputedStyle(document.body).backgroundColor"
    dark = person.page.evaluate(colour)
    person.page.get_by_role("button", name="Bright lamp").click()
    assert person.page.evaluate(colour) != dark
    person.button("inch").click()
    assert person.number("Spring length") == "10 13/16 in"  # 275 mm = 346.46 / 32 in
    assert "mm over)" not in person.page.locator("body").inner_text()
    person.page.reload()
    person.page.locator(".readout").wait_for()
    assert person.button("inch").get_attribute("aria-pressed") == "true"


def test_without_wanted_motion_the_view_turns_at_once(sit_down):
    person = sit_down(CART, reduced_motion="reduce")
    before = person.point("hub-left")
    person.button("Front").click()
    after = person.point("hub-left")
    assert after != before
    person.page.wait_for_timeout(400)
    assert person.point("hub-left") == after
