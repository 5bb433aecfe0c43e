"""What reading wants looked at, and what it does not."""

import pytest

from leverwright.project import Project
from tests.project.measured_texts import MEASURED
from tests.project.vehicle_texts import FLAT, WHOLE


def _notices(text):
    return [
        (notice.topic, notice.key, notice.line) for notice in Project.from_text(text, "cart.toml").notices
    ]


def test_a_whole_file_has_none():
    assert _notices(WHOLE) == []
    assert _notices(FLAT) == []


def test_no_pose():
    assert _notices(WHOLE.replace('pose = "on blocks"\n', "")) == [("pose-unstated", "pose", 1)]


def test_no_unsprung_weight_is_said_once_for_both_sides():
    assert _notices(WHOLE.replace("unsprung = 11\n", "")) == [
        ("unsprung-unstated", "wheels.front-left.unsprung", 98)
    ]


def test_a_shock_that_no_spring_uses():
    text = WHOLE.replace('shock = "rubber"', 'shock = "salvaged"')
    assert _notices(text) == [("shock-unused", "shocks.rubber", 58)]


def test_a_body_of_one_point():
    text = WHOLE.replace("\n[bars.link-left]", 'boss-left = ["tab-left"]\n\n[bars.link-left]', 1)
    assert _notices(text) == [("body-of-one-point", "bodies.boss-left", 36)]


@pytest.mark.parametrize(("y", "asked"), [("5.1", True), ("5", False), ("0", False), ("-200", False)])
def test_a_point_beside_the_middle_without_a_side(y, asked):
    text = WHOLE.replace("head-low         = [480, 0, 400]", f"head-low         = [480, {y}, 400]")
    assert _notices(text) == ([("side-unstated", "points.head-low", 24)] if asked else [])


def test_a_point_that_is_said_to_be_alone_is_not_asked_about():
    text = WHOLE.replace(
        "head-low         = [480, 0, 400]", "head-low         = { at = [480, 90, 400], alone = true }"
    )
    assert _notices(text) == []


def test_sides_matter_only_where_the_file_mirrors():
    text = WHOLE.replace("head-low         = [480, 0, 400]", "head-low         = [480, 90, 400]")
    text = text.replace("mirror = true\n", "").replace("[wheels.front-right]\nload = 64\n", "")
    assert _notices(text) == []


def test_notices_come_by_line_and_say_what_to_do():
    text = (
        WHOLE.replace("unsprung = 11\n", "")
        .replace('pose = "on blocks"\n', "")
        .replace('shock = "rubber"', 'shock = "salvaged"')
    )
    notices = Project.from_text(text, "cart.toml").notices
    assert [notice.topic for notice in notices] == ["pose-unstated", "shock-unused", "unsprung-unstated"]
    assert notices[1].sentence == (
        "cart.toml, line 57, shocks.rubber: no spring uses the shock 'rubber'; "
        "allowed: a spring with this shock; write shock = 'rubber' in a spring, or take it out"
    )


def test_a_mass_that_no_load_set_carries():
    text = MEASURED.replace('carries = ["frame", "driver"]', 'carries = ["frame"]')
    line = text[: text.index("[masses.driver]")].count("\n") + 1
    assert ("mass-unused", "masses.driver", line) in _notices(text)
    assert "mass-unused" not in [topic for topic, _, _ in _notices(MEASURED)]
