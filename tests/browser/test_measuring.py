"""Weighing and measuring on the cards, typed as a newcomer would: the stories' numbers in, their answers out."""

import re
import tomllib

import pytest

from tests.browser.stories import unmeasured
from tests.browser.vehicles import CART, EXAMPLES

WHEELS = {"front-left": 120, "front-right": 119, "rear-left": 155, "rear-right": 154}
SHOCK = {"rate": 17.5, "length_open": 318, "length_closed": 258, "preload": 4}


def types(card, **fields):
    """Numbers into the large fields, by their labels."""
    for label, number in fields.items():
        card.get_by_label(label.replace("_", " "), exact=True).fill(number)


def says(card, words, timeout=20_000):
    card.get_by_text(re.compile(words)).first.wait_for(timeout=timeout)


def save(person):
    person.button("Save").click()
    person.page.get_by_text("Saved", exact=True).wait_for()
    return tomllib.loads(person.text())


def unfold(card, words):
    fold = card.locator("summary", has_text=words)
    if not fold.evaluate("summary => summary.parentElement.open"):
        fold.click()


def squash(card, rows):
    for mark, going, out in rows:
        types(card, **{"Squashed by": mark, "Going in, scale says": going, "Coming out, scale says": out})
        card.get_by_role("button", name="Keep this mark of").click()
        card.get_by_role("rowheader", name=f"{mark} mm", exact=True).wait_for()


def test_four_shocks_are_squashed_and_the_pile_tells_the_pair(sit_down, size):
    """Story S1: A and B pair, tighten A by 7.4 mm; C is seized."""
    loads = {
        name: {"scale": {"rear-left": kg, "rear-right": kg}}
        for name, kg in {"usual": 70, "empty": 38}.items()
    }
    text = unmeasured("garden-cart", shocks={"left": SHOCK, "right": SHOCK}, loads=loads)
    person = sit_down(text, size)
    card = person.open_card("shock")
    marks = ("0", "10", "20", "30", "40")
    going = {"A": ("10.5", "29.5", "47.5", "66", "84.5"), "B": ("24.5", "43", "61", "80", "98")}
    out = {"A": ("6.5", "24.5", "43", "61.5", "84.5"), "B": ("20", "38.5", "57", "75.5", "98")}
    for name in ("A", "B", "C"):
        unfold(card, "Another shock, on the pile")
        person.types("Chalk a letter", name, card)
        card.get_by_role("button", name=f"Keep this mark of {name}").wait_for()
        unfold(card, "Its lengths")
        person.types("length open", "318", card)
        person.types("length closed", "258", card)
        squash(card, list(zip(marks, going[name], out[name], strict=True)) if name in going else [])
    card.get_by_role("button", name="A", exact=True).click()
    says(card, r"Rate between 17\.8\d? and 18\.\d+ N/mm.* friction 22 N")
    card.get_by_role("button", name="B", exact=True).click()
    unfold(card, "Is there gas in it?")
    types(card, **{"Rod alone, scale says": "13.7"})
    card.get_by_role("button", name="Keep it", exact=True).click()
    says(card, "134 N is gas, which no collar turns back")
    card.get_by_role("button", name="C", exact=True).click()
    unfold(card, "Does it come back?")
    types(
        card,
        **{
            "It goes in at": "40",
            "It came back by": "3",
            "It had been pushed in by": "30",
            "in so many seconds": "10",
        },
    )
    card.get_by_role("button", name="Keep it", exact=True).click()
    says(card, "it is seized. Do not use it")
    pile = person.open_card("pile")
    says(pile, "Use A and B")
    says(pile, r"Tighten the collar of A by 7\.4 mm")
    says(pile, "C is out")
    pile.get_by_label("On the vehicle, as left").select_option("A")
    pile.get_by_label("On the vehicle, as right").select_option("B")
    made = save(person)
    assert made["bench"]["A"]["in"] == [10.5, 29.5, 47.5, 66, 84.5]
    assert made["bench"]["B"]["rod"] == 13.7
    assert made["shocks"] == {"left": {"pile": "A"}, "right": {"pile": "B"}}


def aboard(card, name, mass, at):
    unfold(card, "Put something on it")
    what = card.get_by_label("What is it?")
    what.fill(name)
    what.press("Tab")
    labels = ("Forward of the origin", "Left of the middle", "Above the origin")
    types(card, **{"It weighs": mass}, **dict(zip(labels, at, strict=True)))
    card.get_by_role("button", name="Put it aboard").click()
    card.locator("summary", has_text=f"{name}: {mass} kg").wait_for()


def test_the_trike_says_where_it_tips_with_and_without_its_cargo(sit_down, size):
    """Story S3: 0.36 g with the cargo low, 0.21 g and 12.6 km/h empty."""
    person = sit_down(unmeasured("market-trike", pose="standing"), size)
    card = person.open_card("ride")
    aboard(card, "trike", "38", ("-550", "0", "450"))
    aboard(card, "rider", "80", ("-1020", "0", "980"))
    aboard(card, "cargo", "60", ("-50", "0", "450"))
    person.types("Another load set", "usual", card)
    usual = card.get_by_role("region", name="Load set usual")
    says(usual, r"Tips at 0\.36 g sideways")
    person.types("Another load set", "empty", card)
    empty = card.get_by_role("region", name="Load set empty")
    empty.locator("summary", has_text="Aboard").click()
    empty.get_by_label("cargo").uncheck()
    says(empty, r"Tips at 0\.21 g sideways: a side slope of 12 deg, or 12\.6 km/h")
    says(card, "It tips over before it slides")
    assert save(person)["loads"] == {
        "usual": {"carries": ["trike", "rider", "cargo"]},
        "empty": {"carries": ["trike", "rider"]},
    }


def test_the_trailer_says_what_its_coupling_carries(sit_down, size):
    """Story S4: 29.9 kg, 8.7 % as it stands; piled further back it is too light."""
    person = sit_down(unmeasured("peat-trailer", pose="standing"), size)
    card = person.open_card("ride")
    unfold(card, "A trailer: its coupling")
    person.types("coupling point", "1700, 0, 400", card)
    aboard(card, "trailer", "95", ("140", "0", "420"))
    aboard(card, "peat", "250", ("181", "0", "696"))
    person.types("Another load set", "usual", card)
    usual = card.get_by_role("region", name="Load set usual")
    says(usual, r"coupling carries 29\.9 kg as the trailer stands, 8\.7 % of 345 kg")
    card.locator("summary", has_text="peat: 250 kg").click()
    person.types("centre of gravity", "50, 0, 696", card.locator("li", has_text="peat: 250 kg"))
    says(usual, r"4\.4 %.*Under 8 % it may sway")


def weigh(card, wheel, *reads):
    one = card.get_by_role("button", name=re.compile(f"^{wheel}")).first
    for read in reads:
        one.click()
        types(card, **{f"The scale reads under {wheel}": read})
        card.get_by_role("button", name="Keep this reading").click()
        one.filter(has_text="\u2713").wait_for()
        one.click()
        card.get_by_label(f"Take {read} kg away").last.wait_for()


def test_a_wheel_too_heavy_for_the_scale_goes_over_a_plank(sit_down, size):
    """Story S6: (67.2 - 5.1) / 0.4 = 155 kg; one raised wheel is named with what it shifts."""
    person = sit_down(unmeasured("swamp-buggy-weighed", scale={"error": 0.5}), size)
    card = person.open_card("weigh")
    unfold(card, "Too heavy for the scale")
    for wheel, read in {
        "front-left": "53.1",
        "front-right": "52.6",
        "rear-left": "67.2",
        "rear-right": "66.9",
    }.items():
        card.get_by_role("button", name=re.compile(f"^{wheel}")).first.click()
        types(
            card,
            **{
                "From the round bar to the wheel": "400",
                "From the round bar to the scale": "1000",
                "The scale says under the plank alone": "5.1",
            },
        )
        types(card, **{f"The scale reads under {wheel}": read})
        card.get_by_role("button", name="Keep this reading").click()
        card.get_by_text(f"{wheel} ✓").or_(
            card.get_by_role("button", name=re.compile(f"{wheel}.*weighed"))
        ).first.wait_for()
    says(card, "All together 549 kg")
    low, high = (
        float(number)
        for number in re.findall(
            r"\d+", card.get_by_text(re.compile("rear-left carries between")).inner_text()
        )
    )
    assert 0.5 * (low + high) == pytest.approx(155, abs=1.5)
    card.get_by_role("button", name=re.compile("^rear-left")).first.click()
    unfold(card, "No blocks: this wheel stood higher")
    types(card, **{"Higher by": "38", "The scale reads under rear-left": "67.2"})
    card.get_by_role("button", name="Keep this reading").click()
    says(card, "rear-left stood 38 mm higher than the others while it was weighed")
    assert save(person)["weighed"]["rear-left"]["plank"] == {"load": 400, "scale": 1000, "alone": 5.1}


def test_wheels_are_weighed_and_an_end_lifted_for_the_height(sit_down, size):
    """Story S7: the centre of gravity is 0.72 m high, give or take .032."""
    person = sit_down(unmeasured("step-free-buggy", pose="standing"), size)
    card = person.open_card("weigh")
    for wheel, reads in {
        "front-left": ("60.5", "61"),
        "front-right": ("60.5",),
        "rear-left": ("98.5",),
        "rear-right": ("98.5",),
    }.items():
        weigh(card, wheel, *reads)
    says(card, "Readings of front-left agree within")
    unfold(card, "How high its weight sits")
    types(
        card,
        **{
            "That end was lifted by": "250",
            "Scales at the other end read, level": "197",
            "and with the end lifted": "207.9",
        },
    )
    card.get_by_role("button", name="Keep it", exact=True).last.click()
    says(card, "By tilting, the centre of gravity is between")
    made = save(person)
    assert made["weighed"]["front-left"]["reads"] == [60.5, 61]
    assert made["tilt"] == {"lifted": "front", "by": 250, "level": 197, "tilted": 207.9, "blocked": True}


def test_tapes_name_the_next_one_and_the_bad_one(sit_down, size):
    text = (EXAMPLES / "taped-milk-cart.toml").read_text(encoding="utf-8")
    person = sit_down(text, size)
    card = person.open_card("tape")
    says(card, r"All \d+ tapes agree within")
    card.get_by_role("button", name="Hold it here").first.click()
    assert person.page.locator(".tapes .now").count() == 2  # the line with its two heads, on the drawing
    types(card, **{"The tape reads": "900"})  # far off
    card.get_by_role("button", name="Keep this tape").click()
    says(card, r"reads \d+ mm more than the others say")
    person.button("Undo").click()
    says(card, r"All \d+ tapes agree within")


def test_what_was_typed_and_not_saved_outlives_the_browser_but_never_a_newer_file(sit_down, size):
    person = sit_down(CART, size)
    card = person.open_card("shock")
    squash(card, [("0", "10", "8")])
    types(card, **{"Squashed by": "10"})
    person.types("Name of the vehicle", "Not saved", person.open_card("trust"))
    person.page.get_by_role("heading", level=1, name="Not saved").wait_for()
    address = person.page.url
    person.reopens(address)
    person.page.get_by_role("heading", level=1, name="Not saved").wait_for()
    person.sees("What was not saved in vehicle.toml")
    assert person.text() == CART
    card = person.open_card("shock")
    card.get_by_role("rowheader", name="0 mm", exact=True).wait_for()
    assert card.get_by_label("Squashed by", exact=True).input_value() == "10"
    card.get_by_text("What you typed here before is back").wait_for()
    person.file.write_text(CART.replace("Cart of the tests, invented", "Newer"), encoding="utf-8")
    person.reopens(address)
    person.sees("The file is newer than what was left here unsaved")
    person.page.get_by_role("heading", level=1, name="Newer").wait_for()
    person.button("Show it").click()
    person.page.get_by_role("heading", level=1, name="Not saved").wait_for()
    assert "Newer" in person.text()


def test_keys_for_gloves_are_large_tolerate_a_double_press_and_undo(sit_down, size):
    person = sit_down(CART, size)
    person.button("inch").click()
    card = person.open_card("tape")
    card.get_by_role("button", name="Big keys for The tape reads").click()
    pad = person.page.get_by_role("dialog", name=re.compile("Big keys"))
    sizes = pad.locator(".key").evaluate_all("keys => keys.map((key) => [key.offsetWidth, key.offsetHeight])")
    assert min(wide for wide, _ in sizes) >= 96
    assert min(high for _, high in sizes) >= 72
    seen = person.page.viewport_size
    box = pad.bounding_box()
    assert box["y"] >= 0
    assert box["y"] + box["height"] <= seen["height"]
    one = pad.get_by_role("button", name="1", exact=True)
    one.evaluate("key => { key.click(); key.click() }")  # a trembling glove
    for key in ("2", "1/2", "1/4"):
        pad.get_by_role("button", name=key, exact=True).click()
    pad.get_by_text("12 3/4").wait_for()
    pad.get_by_role("button", name="Undo", exact=True).click()
    pad.get_by_text("12 1/2").wait_for()
    person.page.keyboard.press("Escape")
    field = card.get_by_label("The tape reads", exact=True)
    assert field.input_value() == "12 1/2"
    assert field.evaluate("field => document.activeElement === field")


def test_a_tyre_is_read_with_scale_and_ruler(sit_down, size):
    """Story S6: +50 kg lowers the axle 9.5 mm, 51.6 N/mm; with a scale to 0.5 kg and a ruler to 1 mm, 36 to 68."""
    text = unmeasured("swamp-buggy-weighed", scale={"error": 0.5}, loads={"usual": {"scale": WHEELS}})
    person = sit_down(text.replace("tyre = { loads = [105, 155], heights = [400, 390.5] }\n", ""), size)
    card = person.open_card("weigh")
    unfold(card, "How far a tyre gives")
    keep = card.get_by_role("button", name="Keep what the tyre did")
    card.get_by_role("combobox", name="The wheel", exact=True).select_option("rear-left")
    types(
        card,
        **{
            "Scale under the wheel, lighter": "105",
            "Axle above the floor, lighter": "400",
            "Scale under the wheel, with more on": "155",
        },
    )
    assert keep.is_disabled()
    types(card, **{"Axle above the floor, with more on": "390.5"})
    keep.click()
    says(card, "The tyre of rear-left gives between 36 and 68 N/mm")
    types(
        card,
        **{"Scale under the wheel, with more on": "130", "Axle above the floor, with more on": "395"},
    )
    keep.click()
    card.get_by_label("Take 130 kg: 395 mm away").wait_for()
    written = save(person)["wheels"]
    assert written["rear-left"]["tyre"] == {"loads": [105, 155, 130], "heights": [400, 390.5, 395]}
    assert "tyre" not in written["front-left"]
    unfold(card, "Loads that you know already")
    unfold(card, "tyre rate, by readings")
    heights = card.locator('[data-key="wheels.rear-left.tyre.heights"] input')
    assert heights.input_value() == "400, 390.5, 395"
    for read in ("130 kg: 395 mm", "155 kg: 390.5 mm"):
        card.get_by_label(f"Take {read} away").click()
        card.get_by_label(f"Take {read} away").wait_for(state="detached")
    assert "tyre" not in save(person)["wheels"]["rear-left"]
