"""A person with a photograph: corners, lengths, picks, and what comes of it."""

import io
import json
import re

import numpy as np
import pytest
from PIL import Image, ImageDraw

from tests.browser.test_access import _violations
from tests.browser.vehicles import CART
from tests.measure.test_photograph import Camera

# The plane of the holes stands at y = 290 mm and is seen from the left; a board of 600 mm by 400 mm lies against it.
CAMERA = Camera(away=3.0, pan=0.25, tilt=-0.2, foot=(0.35, 0.35))
CORNER = np.array([0.15, 0.72])  # of the board, in the vehicle: x, z
BOARD = np.array([[0.0, 0.0], [0.6, 0.0], [0.6, 0.4], [0.0, 0.4]])
SHEET = np.array([[-0.3, 0.45], [0.12, 0.45], [0.12, 0.747], [-0.3, 0.747]])  # A3, elsewhere in the plane
HOLES = {"link-hole-left": (-0.245, 0.48), "spring-hole-left": (-0.18, 0.545), "tab-left": (-0.2, 0.245)}
SIZE = (1600, 1200)


def seen(places):
    """Pixels of the picture, a 1600 by 1200 copy of what the camera sees."""
    return CAMERA.sees(places) * 0.4


def hole(name):
    x, z = HOLES[name]
    return seen([[CORNER[0] - x, CORNER[1] - z]])[0]


def picture():
    """A wall, a board against it, and three holes with crosses."""
    image = Image.new("RGB", SIZE, "#8f968c")
    pen = ImageDraw.Draw(image)
    for x in range(0, 1600, 40):
        pen.line([(x, 0), (x - 90, 1200)], fill="#848b82", width=3)
    pen.polygon([tuple(at) for at in seen(BOARD)], fill="#e3c48a", outline="#5a3f14")
    for name in HOLES:
        x, y = hole(name)
        pen.ellipse([x - 9, y - 9, x + 9, y + 9], fill="#20242a")
        pen.line([(x - 16, y), (x + 16, y)], fill="#ffffff", width=1)
        pen.line([(x, y - 16), (x, y + 16)], fill="#ffffff", width=1)
    out = io.BytesIO()
    image.save(out, "JPEG", quality=92, exif=_place())
    return out.getvalue()


def _place():
    table = Image.Exif()
    table[0x010E] = "at home in the garage"
    return table.tobytes()


class Photographer:
    """What a person does in the card."""

    def __init__(self, person, size):
        self.person, self.phone = person, size == "phone"
        self.card = person.open_card("photo")

    def choose(self, data=None, name="cart.jpg", kind="image/jpeg"):
        field = self.card.get_by_label(re.compile("^(Choose or take the|Another) photograph$"))
        field.set_input_files({"name": name, "mimeType": kind, "buffer": picture() if data is None else data})

    @property
    def board(self):
        return self.card.get_by_role("application")

    def tap(self, at):
        """Taps the picture there, as a mouse or as a finger, which the mark stands above."""
        self.board.wait_for()
        self.board.locator("svg").first.evaluate("board => board.scrollIntoView({block: 'center'})")
        box = self.board.locator("svg").first.bounding_box()
        x, y = box["x"] + at[0] * box["width"] / SIZE[0], box["y"] + at[1] * box["height"] / SIZE[1]
        if self.phone:
            self.person.page.touchscreen.tap(x, y + 64)
        else:
            self.person.page.mouse.click(x, y)

    def corners(self):
        for number, at in enumerate(seen(BOARD), 1):
            self.tap(at)
            self.card.get_by_role("button", name=re.compile(f"^{number} .*picked$")).wait_for()

    def lengths(self):
        for label, text in {"side 1 to 2": "600", "side 2 to 3": "400", "its plane": "290"}.items():
            self.person.types(label, text, within=self.card)

    def pick(self, name):
        self.card.get_by_label("Point to pick").select_option(name)
        self.tap(hole(name))
        self.card.get_by_role("button", name=f"Remove the pick of {name}").wait_for()

    def everything(self):
        self.choose()
        self.corners()
        self.lengths()
        self.person.sees("The rectangle is clear")
        for name in HOLES:
            self.pick(name)
        self.person.sees("3 points are placed within")

    def saved(self):
        self.person.button("Save").first.click()
        self.person.page.wait_for_function(
            "() => document.querySelector('.bar .state')?.textContent.includes('Saved')"
        )
        return self.person.text()


@pytest.fixture
def photographer(sit_down, size):
    return Photographer(sit_down(CART, size), size)


@pytest.fixture
def at_the_bench(sit_down):
    """On a large screen alone: what is tested is the same on a phone."""
    return Photographer(sit_down(CART, "desktop"), "desktop")


def test_corners_lengths_and_picks_give_ways_that_hold_the_truth(photographer):
    photographer.everything()
    photographer.card.get_by_text("Ways between the picks").click()
    for name in ("spring-hole-left", "tab-left"):
        way = photographer.card.get_by_text(re.compile(f"^link-hole-left to {name}: "))
        low, high = (int(word) for word in re.findall(r"\d+", way.inner_text().split(": ")[1]))
        true = 1000 * np.hypot(*(np.array(HOLES[name]) - HOLES["link-hole-left"]))
        assert low <= true <= high
        assert high - low < 40  # two picks of 2 px at 2 mm a pixel, the corners and the lens, at 95 %
    assert photographer.card.get_by_text(re.compile("The camera stood between")).count() == 1
    assert "±" not in photographer.card.inner_text()


def test_it_is_kept_in_the_file_and_the_picture_beside_it_without_its_place(at_the_bench, tmp_path):
    at_the_bench.everything()
    text = at_the_bench.saved()
    assert "[photos.side]" in text
    assert "# the plate on the rail" in text
    name = re.search(r'picture = "(side-[0-9a-f]{8}\.jpg)"', text).group(1)
    data = (tmp_path / "vehicle-photos" / name).read_bytes()
    assert b"garage" not in data
    with Image.open(io.BytesIO(data)) as image:
        assert image.size == SIZE


def test_a_mark_is_moved_by_keys_and_by_buttons_and_taken_back(photographer):
    person, card = photographer.person, photographer.card
    photographer.choose()
    photographer.tap(seen(BOARD)[0])
    card.get_by_role("button", name="1 upper left").click()
    where = card.locator(".where")
    start = [float(number) for number in re.findall(r"[\d.]+(?= right| down)", where.inner_text())]
    photographer.board.focus()
    for key in ("ArrowRight", "ArrowRight", "ArrowDown", "Shift+ArrowLeft"):
        person.page.keyboard.press(key)
    card.get_by_role("button", name="Up by 1 pixel").click()
    card.get_by_role("button", name="×10").click()
    card.get_by_role("button", name="Down by 10 pixels").click()
    now = [float(number) for number in re.findall(r"[\d.]+(?= right| down)", where.inner_text())]
    assert now == pytest.approx([start[0] - 8, start[1] + 10])
    person.page.wait_for_timeout(800)  # the keys rest, and it is kept
    card.get_by_role("button", name="Undo the last").click()
    card.get_by_text("Tap the upper left corner").wait_for()


def test_the_picture_is_drawn_along_under_the_loupes_cross(at_the_bench):
    at_the_bench.choose()
    at_the_bench.tap(seen(BOARD)[0] - 12)
    at_the_bench.card.get_by_role("button", name="1 upper left").click()
    glass = at_the_bench.card.locator(".glass")
    glass.evaluate("glass => glass.scrollIntoView({block: 'center'})")
    box = glass.bounding_box()
    before = _numbers(at_the_bench.card.locator(".where").inner_text())
    middle = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    at_the_bench.person.drag(middle, (-26.0, 13.0))
    after = _numbers(at_the_bench.card.locator(".where").inner_text())
    scale = SIZE[0] / 24 / box["width"]  # finer than a pixel of the picture to one of the screen
    assert scale < 1
    assert np.subtract(after, before) == pytest.approx([26 * scale, -13 * scale], abs=1)


def _numbers(words):
    return [float(number) for number in re.findall(r"[\d.]+(?= right| down)", words)]


def test_everything_can_be_picked_without_a_pointer(at_the_bench):
    person, card = at_the_bench.person, at_the_bench.card
    at_the_bench.choose()
    at_the_bench.board.wait_for()
    for x, y in seen(BOARD):
        at_the_bench.board.focus()
        for key, steps in (("ArrowRight", round((x - 800) / 10)), ("ArrowDown", round((y - 600) / 10))):
            other = {"ArrowRight": "ArrowLeft", "ArrowDown": "ArrowUp"}[key]
            for _ in range(abs(steps)):
                person.page.keyboard.press(f"Shift+{key if steps > 0 else other}")
        person.page.wait_for_timeout(750)
    at_the_bench.lengths()
    person.sees("The rectangle is clear")
    assert card.get_by_role("button", name=re.compile("picked$")).count() == 4


def test_a_half_picked_photograph_is_there_again_after_the_browser_was_closed(at_the_bench):
    at_the_bench.choose()
    at_the_bench.tap(seen(BOARD)[0])
    at_the_bench.card.get_by_text("Tap the upper right corner").wait_for()
    at_the_bench.person.page.reload()
    at_the_bench.person.open_card("photo")
    at_the_bench.card.get_by_text("Tap the upper right corner").wait_for()
    assert at_the_bench.card.get_by_role("button", name=re.compile("picked$")).count() == 1


def test_a_point_that_was_not_measured_takes_its_place_from_here(at_the_bench):
    at_the_bench.everything()
    box = at_the_bench.card.get_by_label("not measured yet: place link-hole-left by this photograph")
    box.check()
    at_the_bench.person.page.wait_for_timeout(500)
    text = at_the_bench.saved()
    x, y, z = json.loads(re.search(r"link-hole-left = \{ ?sketch = (\[.*?\])", text).group(1))
    assert (x, y, z) == (pytest.approx(-245, abs=25), 290, pytest.approx(480, abs=25))
    box.uncheck()
    at_the_bench.person.page.wait_for_timeout(500)
    assert re.search(r"link-hole-left = .*sketch", at_the_bench.saved()) is None


def test_what_is_no_picture_is_refused_in_a_sentence(at_the_bench):
    at_the_bench.person.troubles.clear()
    at_the_bench.choose(b"<html>", "page.jpg")
    at_the_bench.card.get_by_role("alert").filter(has_text="neither JPEG nor PNG").wait_for()
    refused = [each for each in at_the_bench.person.troubles if "415" not in each]
    at_the_bench.person.troubles[:] = refused  # the browser tells of every refusal


def test_a_photograph_is_removed_after_one_more_question(at_the_bench, tmp_path):
    at_the_bench.everything()
    at_the_bench.card.get_by_role("button", name="Remove the photograph").click()
    at_the_bench.card.get_by_role("button", name="Keep it").click()
    at_the_bench.card.get_by_role("button", name="Remove the photograph").click()
    at_the_bench.card.get_by_role("button", name="Remove it").click()
    at_the_bench.card.get_by_label("Choose or take the photograph").wait_for()
    at_the_bench.person.page.wait_for_timeout(300)
    assert not (tmp_path / "vehicle-photos").exists()
    assert "[photos" not in at_the_bench.saved()


def test_a_second_rectangle_tells_the_lens(at_the_bench):
    at_the_bench.everything()
    at_the_bench.card.get_by_text("A second rectangle (better)").click()
    at_the_bench.card.get_by_role("button", name="5 upper left").click()
    places = seen(SHEET)
    for number, at in enumerate(places, 5):
        at_the_bench.tap(at)
        at_the_bench.card.get_by_role("button", name=re.compile(f"^{number} .*picked$")).wait_for()
    at_the_bench.person.types("side 5 to 6", "420", within=at_the_bench.card)
    at_the_bench.person.types("side 6 to 7", "297", within=at_the_bench.card)
    at_the_bench.person.page.wait_for_timeout(600)
    text = at_the_bench.saved()
    assert "second_rectangle = [420, 297]" in text
    corners = json.loads(re.search(r"second_corners = (\[\[.*\]\])", text).group(1))
    pixel = 5  # of the picture, to one of the screen that a tap falls on
    assert np.array(corners) == pytest.approx(places, abs=pixel)
    at_the_bench.card.get_by_role("button", name="Leave the second rectangle out").click()
    at_the_bench.person.page.wait_for_timeout(400)
    assert "second_" not in at_the_bench.saved()


def test_inches_are_said_on_request(at_the_bench):
    at_the_bench.everything()
    at_the_bench.person.page.get_by_role(
        "button", name=re.compile("^(in|inch|inches)$", re.IGNORECASE)
    ).first.click()
    verdict = at_the_bench.card.locator(".verdict")
    verdict.get_by_text(re.compile(r" in\b.*check that with the tape")).wait_for()
    assert " mm" not in verdict.inner_text()


@pytest.mark.parametrize("lamp", ["light", "dark"])
def test_no_violation_with_everything_open_and_nothing_too_wide(sit_down, size, lamp):
    photographer = Photographer(sit_down(CART, size, color_scheme=lamp, bypass_csp=True), size)
    photographer.everything()
    for fold in photographer.card.locator("details").all():
        fold.evaluate("details => { details.open = true }")
    assert _violations(photographer.person) == []
    wide, room = photographer.person.page.evaluate("[document.documentElement.scrollWidth, innerWidth]")
    assert wide <= room


def test_while_a_finger_moves_a_loupe_shows_what_it_hides(at_the_bench):
    at_the_bench.choose()
    at_the_bench.board.wait_for()
    at_the_bench.board.evaluate("board => board.scrollIntoView({block: 'center'})")
    box = at_the_bench.board.bounding_box()
    mouse = at_the_bench.person.page.mouse
    mouse.move(box["x"] + 100, box["y"] + 100)
    mouse.down()
    mouse.move(box["x"] + 140, box["y"] + 120, steps=4)
    over = at_the_bench.board.locator(".over .loupe")
    over.wait_for()
    assert over.bounding_box()["width"] >= 150  # far larger than the finger
    mouse.up()
    assert over.count() == 0
