"""Vehicles to start from: what is written from a handful of measurements, and what is refused."""

from __future__ import annotations

import math
import tomllib

import pytest

from leverwright.project import ProjectError
from leverwright.project.archetypes import Archetype, archetypes, write_archetype
from leverwright.quantity import KINDS, read_quantity

EVERY = pytest.mark.parametrize("archetype", archetypes(), ids=lambda archetype: archetype.id)


def drawn(kind, **measurements):
    """The file of that kind as plain tables; `wheel_radius` stands for `wheel-radius`."""
    typed = {key.replace("_", "-"): value for key, value in measurements.items()}
    return tomllib.loads(write_archetype(kind, typed))


def refusal(kind, **measurements):
    with pytest.raises(ProjectError) as caught:
        drawn(kind, **measurements)
    return caught.value.fault


def test_the_four_kinds_of_the_trade_are_there():
    assert [a.id for a in archetypes()] == ["trailing-arm", "wishbone", "beam-axle", "swing-arm"]


@EVERY
def test_each_asks_for_four_to_eight_measurements_with_a_default_inside_its_bounds(archetype: Archetype):
    assert 4 <= len(archetype.measurements) <= 8
    for asked in archetype.measurements:
        assert asked.kind in KINDS
        assert asked.label
        assert asked.help.endswith(".")
        assert asked.least <= read_quantity(asked.default, asked.kind).value <= asked.most


@EVERY
def test_the_file_says_that_its_places_are_invented(archetype: Archetype):
    assert "invented" in write_archetype(archetype.id, {})


@EVERY
def test_comments_hold_nothing_that_an_edit_makes_untrue(archetype: Archetype):
    """Whatever is measured, they are the same: none holds a figure of this vehicle."""
    other = {"wheel-radius": 190, "load": 55, "shock-open": 300, "shock-closed": 236, "rate": 20}
    assert comments(write_archetype(archetype.id, other)) == comments(write_archetype(archetype.id, {}))


def comments(text):
    return [line.partition("#")[2].strip() for line in text.splitlines() if "#" in line]


@EVERY
def test_measurements_go_into_the_file_as_typed(archetype: Archetype):
    text = write_archetype(archetype.id, {"wheel-radius": '8 1/16"', "load": "137 lb", "rate": 22.5})
    file = tomllib.loads(text)
    (wheel,) = file["wheels"].values()
    assert wheel["radius"] == '8 1/16"'
    assert wheel["load"] == "137 lb"
    assert file["shocks"]["mine"]["rate"] == 22.5


@EVERY
def test_what_is_typed_in_the_files_unit_becomes_a_bare_number(archetype: Archetype):
    (wheel,) = drawn(archetype.id, wheel_radius="210 mm", load=" 64 ")["wheels"].values()
    assert wheel["radius"] == 210
    assert wheel["load"] == 64


@EVERY
def test_the_same_lengths_in_inches_draw_the_same_places(archetype: Archetype):
    inches = {"wheel-radius": "8 in", "shock-open": '12 1/2"', "shock-closed": "9.75 in"}
    millimetres = {"wheel-radius": 203.2, "shock-open": 317.5, "shock-closed": 247.65}
    drawn_in_inches = tomllib.loads(write_archetype(archetype.id, inches))
    drawn_in_millimetres = tomllib.loads(write_archetype(archetype.id, millimetres))
    assert drawn_in_inches["points"] == drawn_in_millimetres["points"]


@EVERY
def test_the_shock_stands_at_35_percent_of_its_stroke(archetype: Archetype):
    """318 open, 246 closed: 318 - 0.35 * 72 = 292.8, rounded to 293 mm."""
    points = {
        name: place["at"] if isinstance(place, dict) else place
        for name, place in drawn(archetype.id)["points"].items()
    }
    hole, eye = (
        next(p for n, p in points.items() if n.startswith(f"spring-{end}")) for end in ("hole", "eye")
    )
    assert math.dist(hole, eye) == pytest.approx(293, abs=1.0)  # both ends are rounded to 1 mm


def test_trailing_arm_has_the_ratio_that_the_shock_wants():
    """Sprung 54 kg is 529.56 N; 22 N/mm squashed by 0.35 * 72 + 2 = 27.2 mm gives 598.4 N: ratio 0.885."""
    points = drawn("trailing-arm")["points"]
    arm = (points["arm-pivot"][0] - points["arm-tab"][0]) / (points["arm-pivot"][0] - points["hub"][0])
    link_arm = math.dist(points["rocker-pivot"], points["link-hole"])
    spring_arm = math.dist(points["rocker-pivot"], points["spring-hole"])
    assert arm * spring_arm / link_arm == pytest.approx(529.56 / 598.4, rel=0.012)  # arms rounded to 1 mm


def test_swing_arm_has_the_ratio_that_the_shock_wants():
    """As above; the rocker's front hole is held, so its rear hole moves (link + spring) / link arm."""
    points = drawn("swing-arm")["points"]
    pin, link, spring = (points[name][0] for name in ("rocker-pin", "link-hole", "spring-hole"))
    ratio = pin / points["hub"][0] * (link - spring) / (link - pin)
    assert ratio == pytest.approx(529.56 / 598.4, rel=0.02)  # arms rounded to 1 mm, one of them 47


@pytest.mark.parametrize(
    ("kind", "key", "measurements"),
    [
        ("trailing-arm", "wheel-radius", {"wheel_radius": "205 kg"}),
        ("trailing-arm", "wheel-radius", {"wheel_radius": "8"}),
        ("trailing-arm", "arm", {"arm": "-400 mm"}),
        ("trailing-arm", "unsprung", {"load": 20, "unsprung": 15}),
        ("trailing-arm", "shock-closed", {"shock_open": 300, "shock_closed": 310}),
        ("trailing-arm", "shock-closed", {"shock_open": 300, "shock_closed": 295}),
        ("trailing-arm", "rate", {"rate": 3}),
        ("trailing-arm", "rate", {"rate": 200}),
        ("trailing-arm", "load", {"load": 500, "arm": 160}),
        ("beam-axle", "load", {"load": 590, "unsprung": 20}),
        ("trailing-arm", "shock-open", {"shock_open": 790, "shock_closed": 470, "arm": 150, "load": 30}),
        ("wishbone", "frame-width", {"track": 700, "frame_width": 400}),
        ("wishbone", "frame-width", {"track": 2200, "frame_width": 150}),
        ("wishbone", "frame-width", {"frame_width": 330}),
        ("swing-arm", "arm", {"wheel_radius": 310, "arm": 420}),
    ],
)
def test_a_measurement_that_cannot_work_is_named_with_what_is_allowed(kind, key, measurements):
    fault = refusal(kind, **measurements)
    assert fault.key == key
    assert fault.found
    assert fault.allowed
    assert fault.do
    assert fault.file == f"new {kind}"


def test_the_rates_that_are_allowed_are_accepted():
    """A refused rate names its bounds; both of them, typed as said, draw a vehicle."""
    said = refusal("trailing-arm", rate=200).allowed.split(" for ")[0]
    for bound in said.split(" to "):
        assert drawn("trailing-arm", rate=bound)["shocks"]["mine"]["rate"]


def test_a_misspelt_measurement_gets_the_right_word():
    fault = refusal("trailing-arm", lod=62)
    assert fault.key == "lod"
    assert "'load'" in fault.do


def test_a_misspelt_kind_gets_the_right_word():
    with pytest.raises(ProjectError, match="'beam-axle'"):
        write_archetype("beam-axel", {})


def test_an_example_that_does_not_fit_is_called_the_examples():
    with pytest.raises(ProjectError) as refused:
        write_archetype("trailing-arm", {"load": "42 lbs"})
    fault = refused.value.fault
    assert fault.key == "rate"
    assert fault.found.startswith("not given: the example's 22 N/mm")
    assert fault.do == "give your own spring rate"
    with pytest.raises(ProjectError) as typed:
        write_archetype("trailing-arm", {"load": "42 lbs", "rate": 22})
    assert typed.value.fault.found.startswith("22 N/mm")


@pytest.mark.parametrize("archetype", archetypes(), ids=lambda archetype: archetype.id)
def test_help_to_squash_or_bare_a_shock_warns_of_the_coil(archetype):
    helps = {asked.key: asked.help for asked in archetype.measurements}
    for key in ("shock-closed", "rate"):
        assert "qualified person" in helps[key]
        assert "local rules" in helps[key]


def test_the_goal_of_a_short_stroke_is_widened_and_says_who_wrote_it():
    """1/(2 pi) sqrt(22 000 * 0.96^2 / 42) = 3.50 Hz, over the usual 3.2."""
    short = {
        "wheel-radius": 250,
        "load": 48,
        "unsprung": 6,
        "shock-open": 270,
        "shock-closed": 220,
        "arm": 400,
    }
    text = write_archetype("trailing-arm", {**short, "rate": 22})
    low, high = tomllib.loads(text)["goals"]["frequency"]
    assert low == 1.5
    assert 3.5 * 1.1 <= high <= 3.5 * 1.2
    assert "written by the start form" in text
    assert tomllib.loads(write_archetype("trailing-arm", {}))["goals"]["frequency"] == [1.5, 3.2]
