"""`set` changes one value and leaves the rest of the file as it is written."""

import json
import os

import pytest

from leverwright.cli.refusal import Refused
from leverwright.cli.set_verb import path_of, value_of
from leverwright.project import Project


@pytest.fixture
def cart(leverwright, tmp_path):
    assert leverwright("new", "beam-axle", "--out", "cart.toml").status == 0
    return tmp_path / "cart.toml"


def test_one_value_is_changed_and_at_most_two_lines(leverwright, cart):
    before = cart.read_text(encoding="utf-8").splitlines()
    ended = leverwright("set", "cart.toml", "wheels.wheel-left.radius", "8 in")
    assert ended.status == 0, ended.notes
    assert ended.out == "Saved cart.toml: wheels.wheel-left.radius = 8 in\n"
    after = cart.read_text(encoding="utf-8").splitlines()
    assert len(after) == len(before)
    assert sum(old != new for old, new in zip(before, after, strict=True)) == 1
    assert Project.read(cart).wheels["wheel-left"].radius.value == 0.2032


@pytest.mark.parametrize(
    ("key", "value", "said"),
    [
        ("wheels.wheel-left.radius", "62 kg", "'62 kg' is a mass, not a length"),
        ("wheels.wheel-left.radius", "20,5", "comma"),
        ("wheels.wheel-left.radius", "-5", "cart.toml, line"),
        ("wheels.wheel-left.radus", "205", "radius"),
        ("wheels.wheel-left.body", "axel", "axle"),
        ("wheels.wheel-left", "5", "cart.toml"),
        (
            "wheels.weel-left.radius",
            "205",
            "wheels.weel-left: there is no 'weel-left'; allowed: wheel-left; did you mean",
        ),
        ("wheel.wheel-left.radius", "205", "wheel: there is no 'wheel'"),
        ("shocks.mine.stop.touchs", "20", "touches"),
        ("title.a.b", "205", "cart.toml, title"),
        ("wheels..radius", "205", "'wheels..radius' is not a key"),
        ("", "205", "'' is not a key"),
        ("a b", "205", "'a b' is not a key"),
        ("x" * 501, "205", "is not a key"),
        (".".join("a" * 14), "205", "is not a key"),
        ("title", "x" * 10_001, "a value of 10001 characters"),
    ],
)
def test_what_would_spoil_the_file_is_not_saved(leverwright, cart, key, value, said):
    before = cart.read_bytes()
    ended = leverwright("set", "cart.toml", key, value)
    assert ended.status == 2
    assert said in ended.said
    assert cart.read_bytes() == before


def test_a_value_that_check_will_not_like_is_saved_all_the_same(leverwright, cart):
    assert leverwright("set", "cart.toml", "shocks.mine.rate", "400").status == 0
    assert Project.read(cart).shocks["mine"].rate.value == 400_000


def test_a_twin_may_be_made_to_differ(leverwright, cart):
    assert leverwright("set", "cart.toml", "wheels.wheel-right.load", "70").status == 0
    loads = {name: wheel.load.value for name, wheel in Project.read(cart).wheels.items()}
    assert loads == {"wheel-left": 62, "wheel-right": 70}


def test_a_file_with_faults_can_be_mended_one_by_one(leverwright, cart):
    text = cart.read_text(encoding="utf-8").replace('body = "axle"', 'body = "axel"')
    text = text.replace("error = 1.0 ", "error = -1 ")
    cart.write_text(text, encoding="utf-8")
    ended = leverwright("set", "cart.toml", "error", "1.5")
    assert ended.status == 0
    assert ended.said.startswith("still to mend: cart.toml, line")
    ended = leverwright("set", "cart.toml", "wheels.wheel-left.body", "axle")
    assert ended.status == 0
    assert ended.notes == ""
    assert Project.read(cart).error == 0.0015


def test_a_fault_more_is_not_saved_into_a_file_with_faults(leverwright, cart):
    cart.write_text(
        cart.read_text(encoding="utf-8").replace('body = "axle"', 'body = "axel"'), encoding="utf-8"
    )
    before = cart.read_bytes()
    assert leverwright("set", "cart.toml", "wheels.wheel-left.radius", "62 kg").status == 2
    assert cart.read_bytes() == before


def test_with_json_the_change_is_told(leverwright, cart):
    assert cart.exists()
    ended = leverwright("set", "cart.toml", "wheels.wheel-left.radius", "210", "--json")
    assert ended.document == {
        "leverwright": 1,
        "file": "cart.toml",
        "key": "wheels.wheel-left.radius",
        "value": 210,
    }


@pytest.mark.parametrize("name", ["missing.toml", "folder", "pipe", "loop", "empty/none.toml"])
def test_what_is_no_file_is_refused_at_once(leverwright, tmp_path, name):
    (tmp_path / "folder").mkdir()
    os.mkfifo(tmp_path / "pipe")
    (tmp_path / "loop").symlink_to("loop")
    ended = leverwright("set", name, "title", "x", "--json")
    assert ended.status == 2
    error = ended.document["error"]
    assert (error["file"], error["line"], error["key"]) == (name, None, None)


def test_a_file_that_changed_meanwhile_is_not_written_over(leverwright, cart, monkeypatch):
    from leverwright.cli import files
    from leverwright.project import saving

    kept = saving.save_text

    def meanwhile(file, text, revision):
        cart.write_text(cart.read_text(encoding="utf-8") + "# edited elsewhere\n", encoding="utf-8")
        return kept(file, text, revision)

    monkeypatch.setattr(files, "save_text", meanwhile)
    ended = leverwright("set", "cart.toml", "wheels.wheel-left.radius", "210")
    assert ended.status == 2
    assert "another program has changed it since it was read" in ended.said
    assert cart.read_text(encoding="utf-8").endswith("# edited elsewhere\n")
    assert Project.read(cart).wheels["wheel-left"].radius.value == 0.205


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("205", 205),
        ("-40", -40),
        ("1.5e2", 150.0),
        ("true", True),
        ("false", False),
        ("[-10, 15]", [-10, 15]),
        ('["a", "b"]', ["a", "b"]),
        ("8 in", "8 in"),
        ('12-1/2"', '12-1/2"'),
        ("312 ± 1 mm", "312 ± 1 mm"),
        ("axle", "axle"),
        ('"axle"', '"axle"'),
        ("2026-01-01", "2026-01-01"),
        ("{ a = [1, 2], b = 3 }", {"a": [1, 2], "b": 3}),
        ("{}", "{}"),
        ("", ""),
        ("True", "True"),
        ("5 # five", 5),
        ("5\nother = 6", "5\nother = 6"),
        ("5\n[table]", "5\n[table]"),
        ("[" * 9 + "]" * 9, "[" * 9 + "]" * 9),
        ("[" * 5000, "[" * 5000),
        ("[[[[[[[[1]]]]]]]]", [[[[[[[[1]]]]]]]]),
        ("1" * 5000, "1" * 5000),
    ],
)
def test_a_value_reads_as_toml_or_is_text(typed, value):
    read = value_of(typed)
    assert read == value
    assert type(read) is type(value)


@pytest.mark.parametrize(
    ("key", "path"),
    [
        ("title", ("title",)),
        ("wheels.front-left.radius", ("wheels", "front-left", "radius")),
        ('points."old hub"', ("points", "old hub")),
        ("points.'a.b'", ("points", "a.b")),
        ("points . hub", ("points", "hub")),
    ],
)
def test_a_key_is_read_as_toml_reads_it(key, path):
    assert path_of(key) == path


@pytest.mark.parametrize(
    "key", ["", ".", "a.", "a b", "a = 1\nb", "a = 1 #", "[a]", "a#", '"a', "a = {b = 1}, c", "é"]
)
def test_what_is_no_key_is_refused(key):
    with pytest.raises(Refused, match="is not a key"):
        path_of(key)


def test_a_negative_measure_is_a_value_and_no_option(leverwright, cart):
    ended = leverwright("set", "cart.toml", "points.hub-left", "-12mm")
    assert ended.status == 2
    assert "not known here" not in ended.said
    assert cart.exists()


def test_the_document_of_a_change_is_ascii(leverwright, cart):
    ended = leverwright("set", "cart.toml", "title", "Čmelák 杠杆", "--json")
    assert json.loads(ended.out)["value"] == "Čmelák 杠杆"
    assert Project.read(cart).title == "Čmelák 杠杆"


def test_a_tyre_becomes_readings_and_a_number_again(leverwright, cart):
    readings = "{ loads = [40, 60], heights = [200, 195] }"
    ended = leverwright("set", "cart.toml", "wheels.wheel-left.tyre", readings)
    assert (ended.status, ended.notes) == (0, "")
    assert f"\ntyre = {readings}\n" in cart.read_text(encoding="utf-8")
    assert Project.read(cart).wheels["wheel-right"].tyre_readings.heights[1].value == 0.195
    ended = leverwright(
        "set", "cart.toml", "wheels.wheel-left.tyre", "{ loads = [40, 60], heights = [200, 205] }"
    )
    assert ended.status == 2
    assert "heights that fall as loads rise" in ended.notes
    assert leverwright("set", "cart.toml", "wheels.wheel-left.tyre", "60").status == 0
    assert Project.read(cart).wheels["wheel-right"].tyre.value == 60e3
