"""A name changed wherever it stands, and nowhere else."""

import tomllib

import pytest

from leverwright.project import Project, ProjectError, edit
from tests.project.measured_texts import MEASURED
from tests.project.vehicle_texts import FLAT, WHOLE

TABLES = ("points", "bodies", "bars", "shocks", "springs", "straps", "held", "wheels")
MEASURED_TABLES = (*TABLES, "tape", "masses", "loads", "pile", "photos", "travels")


def _renamed(text, table, old, new):
    return edit.apply(text, [{"op": "rename", "table": table, "from": old, "to": new}])


def _names():
    cart = Project.from_text(WHOLE)
    return [(table, name) for table in TABLES for name in getattr(cart, table) if name != "chassis"]


@pytest.mark.parametrize(("table", "name"), _names())
def test_the_vehicle_is_the_same_but_for_the_name(table, name):
    side = next((end for end in ("-left", "-right") if name.endswith(end)), "")
    text = _renamed(WHOLE, table, name, f"renamed{side}")
    before, after = Project.from_text(WHOLE), Project.from_text(text)
    stem = name.removesuffix(side)
    for one in TABLES:
        names = [
            "renamed" + old.removeprefix(stem)
            if one == table and old in (name, stem + "-left", stem + "-right")
            else old
            for old in getattr(before, one)
        ]
        assert list(getattr(after, one)) == names
    assert text.count("\n") == WHOLE.count("\n")
    if table == "points":
        assert [point.at for point in after.points.values()] == [point.at for point in before.points.values()]


@pytest.mark.parametrize(("table", "name"), _names())
def test_a_name_changed_there_and_back_is_the_text_that_was(table, name):
    side = next((end for end in ("-left", "-right") if name.endswith(end)), "")
    there = _renamed(WHOLE, table, name, f"renamed{side}")
    assert _renamed(there, table, f"renamed{side}", name) == WHOLE


def test_every_use_of_a_point_changes():
    text = _renamed(WHOLE, "points", "hub-left", "nave-left")
    assert "hub-left" not in text
    assert text.count("nave-left") == WHOLE.count("hub-left") == 4


def test_a_text_that_only_looks_like_the_name_stays():
    text = _renamed(WHOLE.replace("Garden cart", "salvaged"), "shocks", "salvaged", "old")
    assert 'title = "salvaged"' in text
    assert "[shocks.old]                    # from the scrap pile" in text
    assert 'shock = "old"' in text


def test_a_body_and_a_point_of_one_name_are_told_apart():
    text = FLAT.replace("hole", "arm")
    assert '["arm", "eye"]' in _renamed(text, "bodies", "arm", "lever")
    assert tomllib.loads(_renamed(text, "bodies", "arm", "lever"))["bodies"]["lever"] == [
        "pivot",
        "hub",
        "arm",
    ]
    assert tomllib.loads(_renamed(text, "points", "arm", "hole"))["wheels"]["rear"]["body"] == "arm"


def test_a_written_right_table_is_renamed_with_its_left():
    text = _renamed(WHOLE, "wheels", "front-left", "bow-left")
    assert "[wheels.bow-right]\nload = 64" in text
    assert _renamed(WHOLE, "wheels", "front-right", "bow-right") == text


def test_dotted_and_quoted_names():
    text = 'leverwright = 1\npoints.a.at = [0, 0, 0]\n[bodies]\n\'b c\' = ["\\u0061", \'a\', """a"""]\n'
    text = _renamed(text, "points", "a", "new one")
    assert 'points."new one".at = [0, 0, 0]' in text
    assert tomllib.loads(text)["bodies"]["b c"] == ["new one"] * 3
    assert 'b = ["new one"' in _renamed(text, "bodies", "b c", "b")


def test_a_middle_name_may_gain_a_side_and_a_twinless_one_lose_it():
    text = FLAT.replace('plane = "xz"\n', "mirror = true\n").replace("[0, 300]", "[0, 5, 300]")
    assert "pivot-left = [0, 5, 300]" in _renamed(text, "points", "pivot", "pivot-left")
    assert "pivot = [0, 5, 300]" in _renamed(
        _renamed(text, "points", "pivot", "pivot-left"), "points", "pivot-left", "pivot"
    )


REFUSED = {
    "no such name": ("points", "nothing", "other", "there is no 'nothing'"),
    "a table without names": ("goals", "sag", "other", "holds no names"),
    "no table": ("point", "tab-left", "x-left", "holds no names"),
    "chassis": ("bodies", "chassis", "frame", "stays still"),
    "an empty name": ("points", "head-top", " ", "no fit name"),
    "a long name": ("points", "head-top", "x" * 101, "no fit name"),
    "a name that is taken": ("points", "head-top", "head-low", "'head-low' is there already"),
    "the name of a twin": ("points", "head-top", "tab-right", "'tab-right' is there already"),
    "a twin's name for the left": ("points", "tab-left", "hub-left", "is there already"),
    "a side lost whose twin is written": ("wheels", "front-left", "front", "has no side"),
    "a side lost of a twin": ("points", "tab-right", "tab", "has no side"),
    "a side gained over a name": ("points", "head-top", "post-left", "'post-right' is there already"),
    "the other side": ("points", "tab-left", "tabs-right", "has no side"),
}


@pytest.mark.parametrize(("table", "old", "new", "words"), REFUSED.values(), ids=REFUSED.keys())
def test_what_cannot_be_renamed_is_refused(table, old, new, words):
    text = WHOLE.replace("\n[bodies]", "post-right = [0, -1, 0]\n\n[bodies]")
    text += '\n[bars.single]\nends = ["tab-right", "post-right"]\n'
    with pytest.raises(ProjectError) as refused:
        _renamed(text, table, old, new)
    assert words in refused.value.fault.found


def test_a_name_changed_to_itself_changes_nothing():
    assert _renamed(WHOLE, "points", "tab-left", "tab-left") == WHOLE


def test_without_mirror_sides_mean_nothing():
    text = FLAT.replace("hub =", "hub-left =").replace('"hub"', '"hub-left"')
    assert "hub-middle = [350, 210]" in _renamed(text, "points", "hub-left", "hub-middle")


def _measured_names():
    cart = Project.from_text(MEASURED)
    return [(table, name) for table in MEASURED_TABLES for name in getattr(cart, table) if name != "chassis"]


@pytest.mark.parametrize(("table", "name"), _measured_names())
def test_a_measured_vehicle_is_whole_under_the_new_name_and_the_text_that_was_under_the_old(table, name):
    side = next((end for end in ("-left", "-right") if name.endswith(end)), "")
    there = _renamed(MEASURED, table, name, f"renamed{side}")
    after = Project.from_text(there)
    assert name not in getattr(after, table)
    assert f"renamed{side}" in getattr(after, table)
    assert len(getattr(after, table)) == len(getattr(Project.from_text(MEASURED), table))
    assert _renamed(there, table, f"renamed{side}", name) == MEASURED


def test_a_wheel_takes_its_weighings_and_scale_readings_along():
    after = Project.from_text(_renamed(MEASURED, "wheels", "front-left", "nose-left"))
    assert list(after.weighed) == ["nose-left", "nose-right", "bare-left", "bare-right"]
    assert [one.wheel for one in after.weighed.values()] == ["nose-left", "nose-right"] * 2
    assert list(after.loads["empty"].scale) == ["nose-left", "nose-right"]
    assert after.travels["front"].wheel == "nose-left"


def test_a_point_takes_its_tapes_and_picks_along():
    text = _renamed(MEASURED, "points", "hub-left", "nave-left")
    assert "hub-left" not in text
    after = Project.from_text(text)
    assert after.tape["across"].points == ("nave-left", "nave-right")
    assert list(after.photos["side"].picks) == ["nave-left", "dot"]


def test_a_shock_takes_its_readings_along_and_its_pile_does_too():
    assert list(Project.from_text(_renamed(MEASURED, "shocks", "salvaged", "old")).bench) == ["old", "A"]
    after = Project.from_text(_renamed(MEASURED, "pile", "A", "first"))
    assert list(after.bench) == ["salvaged", "first"]
    assert after.shocks["spare"].pile == "first"


def test_a_load_set_takes_the_pose_the_tilt_and_its_weighings_along():
    after = Project.from_text(_renamed(MEASURED, "loads", "usual", "two-up"))
    assert (after.pose_load_set, after.tilt.load_set) == ("two-up", "two-up")
    after = Project.from_text(_renamed(MEASURED, "loads", "bare", "bones"))
    assert after.weighed["bare-left"].load_set == "bones"


def test_a_weighing_of_another_name_is_not_the_wheel_of_that_name():
    text = MEASURED.replace("[weighed.bare-left]", "[weighed.nose]")
    with pytest.raises(ProjectError, match="'nose' is there already"):
        _renamed(text.replace("mirror = true", ""), "wheels", "front-left", "nose")


@pytest.mark.parametrize("table", ["weighed", "bench", "goals", "tilt"])
def test_what_is_named_for_something_else_is_renamed_with_it(table):
    with pytest.raises(ProjectError, match="holds no names"):
        _renamed(MEASURED, table, "front-left", "x")
