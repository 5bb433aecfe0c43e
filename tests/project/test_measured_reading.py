"""What was measured, read into SI; every expected number can be worked out by hand."""

import dataclasses

import pytest

from leverwright.project import Draft, Project, Sketch, edit
from leverwright.quantity import Quantity
from tests.project.measured_texts import MEASURED, MEASURED_FLAT
from tests.project.vehicle_texts import FLAT, WHOLE

GRAVITY = 9.80665
TABLES = (
    *(
        "tape",
        "masses",
        "loads",
        "coupling",
        "scale",
        "weighed",
        "tilt",
        "bench",
        "pile",
        "photos",
        "travels",
    ),
)


@pytest.fixture(scope="module")
def cart():
    return Project.from_text(MEASURED)


def _length(metres, error=None):
    return Quantity(metres, error, "length")


def _mass(kilograms, error=None):
    return Quantity(kilograms, error, "mass")


@pytest.mark.parametrize("text", [MEASURED, MEASURED_FLAT])
def test_the_measured_vehicles_are_whole(text):
    assert Draft.from_text(text).faults == ()


@pytest.mark.parametrize("text", [WHOLE, FLAT])
def test_a_file_without_these_tables_has_none_of_them(text):
    plain = Project.from_text(text)
    assert not any(getattr(plain, table) for table in TABLES)
    assert plain.tape_error is None
    assert not any(point.sketched for point in plain.points.values())
    assert all(wheel.load is not None and wheel.pressure is None for wheel in plain.wheels.values())
    assert all(shock.preload is not None and shock.pile is None for shock in plain.shocks.values())


def test_a_project_is_a_sketch_with_the_text_that_it_was_read_from():
    names = {field.name for field in dataclasses.fields(Project)} - {
        field.name for field in dataclasses.fields(Sketch)
    }
    assert names == {"name", "text", "notices"}


def test_a_rough_place_is_marked_and_its_twin_too(cart):
    assert cart.points["hole-left"].at == (0.398, 0.25, 0.318)
    assert [cart.points[name].sketched for name in ("hole-left", "hole-right", "hub-left")] == [
        True,
        True,
        False,
    ]
    assert cart.points["hole-right"].at == (0.398, -0.25, 0.318)


def test_a_distance_with_repeats_in_any_unit(cart):
    tape = cart.tape["hole"]
    assert (tape.kind, tape.points) == ("between", ("pivot-front-left", "hole-left"))
    assert tape.reads == (_length(0.412, 0.001), _length(0.413), _length(0.41275))
    assert tape.error == 0.0015  # the file's
    assert cart.tape["across"].error == 0.002  # its own
    assert cart.tape["across"].points == ("hub-left", "hub-right")


def test_a_tape_without_any_error_has_none():
    assert Project.from_text(MEASURED_FLAT).tape["first"].error is None


def test_every_other_kind_of_tape(cart):
    said = {name: (tape.kind, tape.points, tape.reads, tape.side) for name, tape in cart.tape.items()}
    assert said["hub-height"] == ("height", ("hub-left",), (_length(0.205),), None)
    assert said["hub-offset"] == ("offset", ("hub-left",), (_length(0.5005),), None)
    assert said["hub-ahead"] == ("ahead", ("dot", "hub-left"), (_length(0.298),), None)
    assert said["hub-plumb"] == ("plumb", ("mark-left", "hub-left"), (), None)
    level = ("pivot-front-left", "pivot-rear-left", "pivot-front-right")
    assert said["pivots-level"] == ("level", level, (), None)
    line = ("pivot-rear-left", "pivot-front-left", "dot")
    assert said["on-the-tube"] == ("along", line, (_length(-0.21),), None)
    plane = ("hole-left", "pivot-front-left", "pivot-rear-left", "dot")
    assert said["which-side"] == ("side", plane, (), "above")
    assert Project.from_text(MEASURED_FLAT).tape["which"].points == ("hole", "pivot", "hub")


def test_tapes_and_masses_gain_no_twins(cart):
    assert not any(name.endswith("-right") for table in (cart.tape, cart.masses) for name in table)


def test_masses_and_load_sets(cart):
    frame = cart.masses["frame"]
    assert (frame.mass, frame.at, frame.error) == (_mass(45), (0.2, 0, 0.3), None)
    assert frame.errors == (None, None, 0.02)
    assert cart.masses["driver"].errors == (0.015,) * 3
    assert cart.loads["usual"].carries == ("frame", "driver")
    assert dict(cart.loads["empty"].scale) == {"front-left": _mass(22), "front-right": _mass(23.5)}
    assert (cart.loads["bare"].carries, dict(cart.loads["bare"].scale)) == ((), {})


def test_a_coupling_and_a_scale(cart):
    assert (cart.coupling.at, cart.coupling.height) == ((1.7, 0, 0.38), _length(0.4))
    assert (cart.scale.error, cart.scale.total) == (0.5, _mass(126))
    assert cart.scale.known == (_mass(20), _mass(20.4))


def test_weighings_are_of_the_wheel_that_they_are_named_for_or_name(cart):
    left = cart.weighed["front-left"]
    assert (left.wheel, left.load_set, left.raised) == ("front-left", None, _length(0.038))
    assert left.reads == (_mass(61.5), _mass(62), _mass(62.5))
    right = cart.weighed["front-right"]
    assert right.reads == (_mass(64, 0.5),)
    assert (right.plank.load, right.plank.scale, right.plank.alone) == (_length(0.4), _length(1), _mass(5.1))
    assert (cart.weighed["bare-left"].wheel, cart.weighed["bare-left"].load_set) == ("front-left", "bare")
    assert cart.wheels["front-left"].load is None
    assert cart.wheels["front-left"].pressure == Quantity(180_000, None, "pressure")


def test_a_tilt(cart):
    tilt = cart.tilt
    assert (tilt.lifted, tilt.by, tilt.blocked, tilt.load_set) == ("front", _length(0.25), True, "usual")
    assert (tilt.level, tilt.tilted, tilt.total) == (_mass(60), _mass(65), _mass(126))


def test_bench_readings_are_forces_on_the_scale_at_a_squash_from_open(cart):
    bench = cart.bench["salvaged"]
    assert bench.squash == (_length(0), _length(0.01), _length(0.02, 0.0005), _length(0.03), _length(0.04))
    newtons = [one.value for one in bench.going_in]
    pound = 4.4482216152605
    assert newtons == pytest.approx(
        [10.5 * GRAVITY, 290, 47.5 * GRAVITY, 148 * pound, 84.5 * GRAVITY], rel=1e-12
    )
    assert bench.coming_out[-1] is None
    assert bench.coming_out[0].value == pytest.approx(6.5 * GRAVITY, rel=1e-12)
    assert bench.rod.value == pytest.approx(13.7 * GRAVITY, rel=1e-12)
    back = bench.returned
    assert (back.by, back.of, back.seconds) == (_length(0.003), _length(0.03), Quantity(10, None, "time"))
    assert bench.error == pytest.approx(0.5 * GRAVITY, rel=1e-12)
    assert (bench.mark_error, bench.plank.alone) == (0.001, _mass(2.1))


def test_lengths_eye_to_eye_are_squash_from_the_length_open_of_the_shock(cart):
    bench = cart.bench["A"]
    assert [one.value for one in bench.squash] == pytest.approx([0, 0.01, 0.02], abs=1e-12)
    assert bench.coming_out == (None, None, None)


def test_a_shock_on_the_bench_needs_no_rate_and_no_preload(cart):
    assert (cart.shocks["salvaged"].rate, cart.shocks["salvaged"].preload) == (None, None)


def test_a_shock_has_from_the_pile_what_it_does_not_state(cart):
    spare = cart.shocks["spare"]
    assert spare.pile == "A"
    assert (spare.length_open, spare.length_closed) == (_length(0.33), _length(0.26))
    assert spare.rate == Quantity(16_000, None, "stiffness")
    assert (spare.gas.value, spare.friction.value) == (40, 12)  # friction its own
    assert (spare.wire.outside, spare.wire.mean) == (_length(0.052), None)  # its own coil
    assert spare.wire.modulus == Quantity(78.5e9, pytest.approx(78.5e9 * 0.035), "modulus")


def test_a_table_is_the_whole_law_of_a_shock_from_the_pile():
    own = 'pile = "A"\ntable = [[0, 80, 60], [70, 900, 850]]\n'
    text = MEASURED.replace(
        'pile = "A"\nfriction = 12\nwire = { diameter = 6, outside = 52, active = 7.5, ', own + "#"
    )
    spare = Project.from_text(text).shocks["spare"]
    assert (spare.rate, spare.wire) == (None, None)
    assert len(spare.table) == 2


def test_the_pile_holds_what_little_is_known(cart):
    first, second = cart.pile["A"], cart.pile["B"]
    assert (first.oil, first.rod, first.wire.mean) == ("film", "straight", _length(0.046))
    assert {getattr(second, key) for key in ("length_open", "rate", "wire", "oil", "rod")} == {None}


def test_a_photograph(cart):
    photo = cart.photos["side"]
    assert (photo.picture, photo.view, photo.depth) == ("side-0f3a.png", "side", 0.21)
    assert photo.corners == ((120, 80), (520, 100), (560, 430), (90, 400))
    assert (photo.rectangle, photo.camera, photo.lens, photo.error) == ((0.4, 0.3), 3, -0.08, 1.5)
    assert dict(photo.picks) == {"hub-left": (301.2, 250), "dot": (99, 120)}
    assert Project.from_text(MEASURED_FLAT).photos["side"].picks == {}


def test_two_travels_by_hand(cart):
    front = cart.travels["front"]
    assert (front.wheel, front.spring) == ("front-left", "spring-left")
    assert front.wheel_moved == (_length(0), _length(0.02), _length(0.04))
    assert front.spring_moved == (_length(0), _length(0.031), _length(0.062))


def test_a_load_may_come_from_the_masses_the_scale_or_the_wheel_itself():
    bare = MEASURED_FLAT.replace("[loads.usual]\nscale = { rear = 50 }\n", "")
    for ending in (
        '[loads.usual]\ncarries = ["all"]\n',
        "[loads.first]\nscale = { rear = 50 }\n",
        "[weighed.rear]\nreads = 50\n",
    ):
        assert Draft.from_text(bare + ending).faults == (), ending
    stated = bare.replace("unsprung = 9\n", "unsprung = 9\nload = 50\n")
    assert Draft.from_text(stated).faults == ()
    assert [fault.key for fault in Draft.from_text(bare).faults] == ["wheels.rear.load"]


def test_a_text_of_two_line_ends_measures_the_same():
    plain, other = Project.from_text(MEASURED), Project.from_text(MEASURED.replace("\n", "\r\n"))
    for table in TABLES:
        assert getattr(plain, table) == getattr(other, table)


def test_the_same_in_inches_and_pounds_is_the_same():
    inches = MEASURED_FLAT.replace("reads = 205", f'reads = "{205 / 25.4!r} in"')
    pounds = inches.replace("scale = { rear = 50 }", f'scale = {{ rear = "{50 / 0.45359237!r} lb" }}')
    before, after = Project.from_text(MEASURED_FLAT), Project.from_text(pounds)
    assert after.tape["first"].reads[0].value == pytest.approx(before.tape["first"].reads[0].value, rel=1e-12)
    assert after.loads["usual"].scale["rear"].value == pytest.approx(50, rel=1e-12)


SETS = {
    "a reading": (("tape", "hole", "reads"), [410, 411], lambda cart: len(cart.tape["hole"].reads) == 2),
    "a repeated reading in place": (
        ("tape", "hole", "reads"),
        ["412 ± 1 mm", 414, "16 1/4 in"],
        lambda cart: cart.tape["hole"].reads[1].value == 0.414,
    ),
    "a tilt": (("tilt", "by"), 300, lambda cart: cart.tilt.by.value == 0.3),
    "a known mass": (("scale", "known", "mass"), 25, lambda cart: cart.scale.known[0].value == 25),
    "a wheel on the scale": (
        ("loads", "empty", "scale", "front-left"),
        21,
        lambda cart: cart.loads["empty"].scale["front-left"].value == 21,
    ),
    "a pick": (
        ("photos", "side", "picks", "hole-left"),
        [12, 13],
        lambda cart: cart.photos["side"].picks["hole-left"] == (12, 13),
    ),
    "a rough place": (
        ("points", "dot"),
        [101, 0, 300],
        lambda cart: cart.points["dot"].sketched and cart.points["dot"].at[0] == 0.101,
    ),
    "a wire": (
        ("shocks", "spare", "wire", "active"),
        8,
        lambda cart: cart.shocks["spare"].wire.active.value == 8,
    ),
}


@pytest.mark.parametrize(("key", "value", "holds"), SETS.values(), ids=SETS.keys())
def test_one_value_set_changes_one_line(key, value, holds):
    text = edit.apply(MEASURED, [{"op": "set", "key": list(key), "value": value}])
    assert holds(Project.from_text(text))
    before, after = MEASURED.splitlines(), text.splitlines()
    assert len(before) == len(after)
    assert sum(one != other for one, other in zip(before, after, strict=True)) == 1


@pytest.mark.parametrize("table", ["coupling", "scale", "tilt"])
def test_a_table_without_a_name_is_taken_out_and_put_back_under_its_header(table):
    written = Project.from_text(MEASURED).written[table]
    without = edit.apply(MEASURED, [{"op": "delete", "key": [table]}])
    assert getattr(Project.from_text(without), table) is None
    again = edit.apply(without, [{"op": "add", "key": [table], "value": written}])
    assert f"\n[{table}]\n" in again
    one, other = (getattr(Project.from_text(text), table) for text in (again, MEASURED))
    assert dataclasses.replace(one, line=other.line) == other


def test_a_key_of_a_missing_table_brings_the_table():
    text = edit.apply(FLAT, [{"op": "set", "key": ["scale", "error"], "value": 0.5}])
    assert text.endswith("\n[scale]\nerror = 0.5\n")
    inside = edit.apply(text, [{"op": "set", "key": ["scale", "known", "mass"], "value": 20}])
    assert inside.endswith("error = 0.5\nknown = { mass = 20 }\n")
