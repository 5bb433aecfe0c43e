"""A tyre as readings by scale and ruler: read, mirrored, and edited with everything around it kept."""

import pytest

from leverwright.project import Draft, Project, TyreReadings, edit
from leverwright.quantity import Quantity
from tests.project.measured_texts import MEASURED
from tests.project.vehicle_texts import WHOLE

POUNDS = 29.93709642  # 66 x 0.45359237
WRITTEN = 'tyre = { loads = [20, "40 ± 0.2 kg", "66 lb"], heights = [205, "200 ± 0.5 mm", 202.5] }'
READ = TyreReadings(
    (Quantity(20, None, "mass"), Quantity(40, 0.2, "mass"), Quantity(POUNDS, None, "mass")),
    (Quantity(0.205, None, "length"), Quantity(0.2, 0.0005, "length"), Quantity(0.2025, None, "length")),
)
PAIR = {"loads": [105, 155], "heights": [400, 390.5]}
INLINE = "tyre = { loads = [105, 155], heights = [400, 390.5] }"


def wheel(text, name="front-left"):
    return Project.from_text(text).wheels[name]


@pytest.mark.parametrize("name", ["front-left", "front-right"])
def test_readings_in_any_unit_and_order_for_both_sides(name):
    assert wheel(MEASURED, name).tyre_readings == READ
    assert wheel(MEASURED, name).tyre is None


def test_a_number_is_no_readings():
    assert wheel(MEASURED.replace(WRITTEN, 'tyre = "52 ± 4 N/mm"')).tyre == Quantity(52e3, 4e3, "stiffness")
    assert wheel(MEASURED.replace(WRITTEN, "tyre = 52")).tyre_readings is None


def test_the_other_side_may_have_its_own():
    own = MEASURED + f"\n[wheels.front-right]\n{INLINE}\n"
    assert wheel(own, "front-right").tyre_readings.loads[1].value == 155
    assert wheel(own).tyre_readings == READ
    number = wheel(MEASURED + "\n[wheels.front-right]\ntyre = 60\n", "front-right")
    assert (number.tyre.value, number.tyre_readings) == (60e3, None)


def test_a_fault_of_both_sides_is_told_once_and_one_of_the_other_side_at_its_own_place():
    assert [fault.key for fault in Draft.from_text(MEASURED.replace(", 202.5]", "]")).faults] == [
        "wheels.front-left.tyre.heights"
    ]
    own = Draft.from_text(MEASURED + "\n[wheels.front-right]\ntyre = { loads = [9, 8] }\n")
    assert [fault.key for fault in own.faults] == ["wheels.front-right.tyre.heights"]


def test_under_a_header_of_its_own():
    text = (
        MEASURED.replace(WRITTEN + "\n", "")
        + "\n[wheels.front-left.tyre]\nloads = [105, 155]\nheights = [400, 390]\n"
    )
    assert wheel(text).tyre_readings.heights[1].value == 0.39


@pytest.mark.parametrize("before", ["tyre = 90\n", ""])
def test_readings_take_the_place_of_a_number_and_nothing_else_changes(before):
    text = WHOLE.replace("tyre = 90\n", before)
    ops = [{"op": "set", "key": ["wheels", "front-left", "tyre"], "value": PAIR}]
    after = edit.apply(text, ops)
    assert INLINE in after
    assert sorted(after.split("\n")) == sorted([*text.replace("tyre = 90\n", "").split("\n"), INLINE])
    assert wheel(after).tyre_readings.heights[1].value == 0.3905


def test_one_list_and_then_the_whole_are_set():
    key = ["wheels", "front-left", "tyre"]
    longer = [{"op": "set", "key": [*key, "loads"], "value": [105, 130, 155]}]
    longer += [{"op": "set", "key": [*key, "heights"], "value": [400, 395, 390.5]}]
    text = edit.apply(WHOLE.replace("tyre = 90\n", INLINE + "\n"), longer)
    assert "tyre = { loads = [105, 130, 155], heights = [400, 395, 390.5] }\n" in text
    assert edit.apply(text, [{"op": "set", "key": key, "value": 90}]) == WHOLE
    gone = edit.apply(text, [{"op": "delete", "key": key}])
    assert gone == WHOLE.replace("tyre = 90\n", "")
