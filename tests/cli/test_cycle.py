"""`cycle` moves a vehicle through its travel and prints it, in sentences or as the contract's document."""

import numpy as np
import pytest

POSE = {"travel_mm", "points_mm", "springs", "wheels", "rate_matrix_n_per_mm", "bars_n", "joints_n"}

# A trailing arm 300 mm long that turns about the origin, its spring along the arm's tangent 150 mm out.
FLAT = """
leverwright = 1
title = "Flat arm (invented)"
plane = "xz"
pose = "on blocks"
error = 1.0

[points]
pivot = [0, 200]
hub = [-300, 200]
hole = [-150, 200]
eye = [-150, 500]

[bodies]
chassis = ["pivot", "eye"]
arm = ["pivot", "hub", "hole"]

[shocks.coil]
rate = 20
length_open = 320
length_closed = 260
preload = 0

[springs.spring]
ends = ["hole", "eye"]
shock = "coil"

[wheels.rear]
body = "arm"
centre = "hub"
radius = 200
load = 40
unsprung = 5
"""


@pytest.fixture
def flat(tmp_path):
    (tmp_path / "flat.toml").write_text(FLAT, encoding="utf-8")
    return "flat.toml"


@pytest.fixture
def axle(leverwright):
    assert leverwright("new", "beam-axle", "--out", "axle.toml").status == 0
    return "axle.toml"


def test_the_document_has_the_form_of_the_contract(leverwright, flat):
    ended = leverwright("cycle", flat, "--json")
    assert (ended.status, ended.notes) == (0, "")
    (assembly,) = ended.document["assemblies"]
    assert ended.document["leverwright"] == 1
    assert assembly["wheels"] == ["rear"]
    assert assembly["freedoms"] == 1
    assert len(assembly["poses"]) == 41
    assert assembly["poses"][0].keys() >= POSE
    assert assembly["stops"]["bump"]["why"] == "shock closed"
    assert assembly["stops"]["droop"]["why"] == "shock open"
    assert len(assembly["poses"][0]["points_mm"]["hub"]) == 2  # a flat drawing


def test_the_arm_turns_as_arithmetic_says(leverwright, flat):
    ended = leverwright("cycle", flat, "--from", "-20", "--to", "30", "--poses", "11", "--json")
    (assembly,) = ended.document["assemblies"]
    assert [assembly["stops"][end]["why"] for end in ("droop", "bump")] == ["asked", "asked"]
    travels = [pose["travel_mm"]["rear"] for pose in assembly["poses"]]
    assert travels == pytest.approx(np.linspace(-20, 30, 11), abs=1e-6)
    for pose in assembly["poses"]:
        turn = np.arcsin(pose["travel_mm"]["rear"] / 300)  # the hub rises by 300 sin
        hole = (-150 * np.cos(turn), 200 + 150 * np.sin(turn))
        assert pose["points_mm"]["hole"] == pytest.approx(hole, abs=1e-6)
        length = np.hypot(hole[0] + 150, hole[1] - 500)
        assert pose["springs"]["spring"]["length_mm"] == pytest.approx(length, abs=1e-6)


def test_the_range_and_the_figures_are_said_in_millimetres(leverwright, flat):
    ended = leverwright("cycle", flat, "--from", "-10", "--to", "10", "--poses", "3")
    assert ended.status == 0
    rows = [row.split() for row in ended.out.splitlines()]
    assert ended.out.startswith("rear: 1 way to move\n  Down to -10 mm: as asked; up to +10 mm: as asked.\n")
    (middle,) = [row for row in rows if row[:1] == ["0.0"]]
    # In the set-up pose the spring moves half as far as the wheel: 150 / 300; 320 - 300 mm at 20 N/mm.
    assert middle[:4] == ["0.0", "0.500", "300.0", "400"]
    assert "rate N/mm" in ended.out


def test_the_same_in_inches_and_pounds(leverwright, flat):
    ended = leverwright("cycle", flat, "--from=-1/2in", "--to", "1/2 in", "--poses", "3", "--units", "inch")
    assert ended.status == 0
    assert "Down to -1/2 in: as asked; up to +1/2 in: as asked." in ended.out
    rows = [row.split() for row in ended.out.splitlines()]
    (middle,) = [row for row in rows if row[:1] == ["0.000"]]
    assert middle[:4] == ["0.000", "0.500", "11.811", "90"]  # 300 / 25.4; 400 N / 4.44822
    assert "rate lbf/in" in ended.out


def test_twins_that_move_alike_stand_once(leverwright, axle):
    ended = leverwright("cycle", axle, "--poses", "3")
    assert ended.status == 0
    assert "spring-right: ratio, long mm, push N as spring-left." in ended.out
    assert all(len(row) <= 100 for row in ended.out.splitlines())


def test_a_torsion_bar_is_shown_by_its_twist_and_moment(leverwright, tmp_path):
    torsion = FLAT[: FLAT.index("[shocks.coil]")].replace(
        "plane", "goals.travel = { bump = 20, droop = 20 }\nplane"
    )
    torsion += '[springs.bar]\nhinge = ["arm", "chassis"]\nrate = 10\ntwist = 4\n'
    (tmp_path / "torsion.toml").write_text(torsion + FLAT[FLAT.index("\n[wheels") :], encoding="utf-8")
    ended = leverwright("cycle", "torsion.toml", "--poses", "3")
    assert ended.status == 0, ended.notes
    rows = [row.split() for row in ended.out.splitlines()]
    (middle,) = [row for row in rows if row[:1] == ["0.0"]]
    assert middle[:3] == ["0.0", "4.00", "40.0"]  # 4 deg at 10 N·m/deg
    assert "moment N·m" in ended.out


def test_in_roll_the_right_side_goes_the_other_way(leverwright, axle):
    document = leverwright("cycle", axle, "--mode", "roll", "--poses", "5", "--json").document
    for pose in document["assemblies"][0]["poses"]:
        assert pose["travel_mm"]["wheel-left"] == pytest.approx(-pose["travel_mm"]["wheel-right"], abs=1e-9)


def test_one_wheel_moves_and_the_other_stays(leverwright, axle):
    ended = leverwright("cycle", axle, "--mode", "wheel-right", "--poses", "3", "--json")
    for pose in ended.document["assemblies"][0]["poses"]:
        assert pose["travel_mm"]["wheel-left"] == pytest.approx(0, abs=1e-6)


def test_a_range_that_ends_where_it_begins_has_its_ratio_still(leverwright, flat):
    ended = leverwright("cycle", flat, "--from", "100", "--to", "120", "--poses", "2")
    assert ended.status == 0
    rows = [row.split() for row in ended.out.splitlines() if row.startswith("   ")]
    assert len({tuple(row) for row in rows}) <= 2  # the heading, and the one place where the shock is closed
    assert "0.000" not in rows[-1]


def test_a_corner_that_is_not_asked_to_move_is_no_reason_to_stop(leverwright):
    assert leverwright("new", "wishbone", "--out", "corners.toml").status == 0
    ended = leverwright("cycle", "corners.toml", "--mode", "wheel-left", "--poses", "3")
    assert ended.status == 0
    assert "cannot be moved" not in ended.out
    document = leverwright("cycle", "corners.toml", "--mode", "wheel-left", "--poses", "3", "--json").document
    assert {tuple(each["wheels"]): len(each["poses"]) for each in document["assemblies"]} == {
        ("wheel-left",): 3,
        ("wheel-right",): 0,
    }


def test_what_has_no_roll_is_left_out_with_a_sentence(leverwright, flat):
    ended = leverwright("cycle", flat, "--mode", "roll")
    assert ended.status == 0
    assert "rear" in ended.out
    assert "mm" not in ended.out


def test_an_assembly_that_cannot_move_is_status_1_and_its_document_whole(leverwright, tmp_path):
    fixed = FLAT.replace('"pivot", "eye"]', '"pivot", "eye", "stay"]').replace("[shocks", STAY + "[shocks")
    (tmp_path / "fixed.toml").write_text(
        fixed.replace("eye = [", "stay = [0, 500]\neye = ["), encoding="utf-8"
    )
    ended = leverwright("cycle", "fixed.toml", "--json")
    assert ended.status == 1
    (assembly,) = ended.document["assemblies"]
    assert (assembly["freedoms"], assembly["poses"]) == (0, [])
    ended = leverwright("cycle", "fixed.toml")
    assert ended.status == 1
    assert "It cannot be moved through this motion." in ended.out


STAY = '[bars.stay]\nends = ["stay", "hole"]\n\n'


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ("--mode", "raer"),
            "--mode: 'raer' is neither heave, roll nor a wheel of this vehicle; allowed: heave, roll, rear;",
        ),
        (("--poses", "1"), "--poses: '1' poses; allowed: a whole number from 2 to 2001"),
        (("--poses", "2002"), "--poses: '2002' poses"),
        (("--poses", "٣"), "--poses: '٣' poses"),
        (("--poses", "9" * 5000), f"--poses: '{'9' * 40}...' poses"),
        (("--poses", "4.5"), "--poses: '4.5' poses"),
        (("--from", "62 kg"), "--from: '62 kg' is a mass, not a length"),
        (("--to", "nan"), "--to: 'nan' does not begin with a number"),
        (("--from", "5", "--to", "5"), "--from: --from is not below --to"),
        (("--hold", "steer=5"), "--hold: 'steer' is not in this vehicle; allowed: none"),
        (("--hold", "steer"), "--hold: 'steer' has no =; allowed: NAME=VALUE"),
    ],
)
def test_what_cannot_be_asked_is_refused(leverwright, flat, words, said):
    ended = leverwright("cycle", flat, *words)
    assert ended.status == 2
    assert said in ended.said
    assert ended.out == ""


def test_more_places_than_fit_are_refused(leverwright, tmp_path):
    spare = "".join(f"spare-{at} = [{at}, 0]\n" for at in range(60))
    names = ", ".join(f'"spare-{at}"' for at in range(60))
    text = FLAT.replace("[bodies]", spare + "\n[bodies]").replace(
        '"pivot", "eye"]', f'"pivot", "eye", {names}]'
    )
    (tmp_path / "many.toml").write_text(text, encoding="utf-8")
    ended = leverwright("cycle", "many.toml", "--poses", "1600")
    assert ended.status == 2
    assert "--poses: 1600 poses of 64 points; allowed: at most 1562 poses" in ended.said


HELD = FLAT.replace("[shocks", '[held.lock]\nbodies = ["arm", "chassis"]\nrange = [-5, 5]\n\n[shocks')


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            ("--hold", "lock=6"),
            "--hold: 6 deg for lock; allowed: -5 deg to 5 deg, the range that the file states",
        ),
        (("--hold", "lock=5 mm"), "--hold: '5 mm' is a length, not an angle"),
        (("--hold", "lock=1", "--hold", "lock=2"), "--hold: 'lock' is held twice"),
        (("--hold", "lok=1"), "did you mean lock?"),
    ],
)
def test_what_cannot_be_held_so_is_refused(leverwright, tmp_path, words, said):
    (tmp_path / "held.toml").write_text(HELD, encoding="utf-8")
    ended = leverwright("cycle", "held.toml", *words)
    assert ended.status == 2
    assert said in ended.said


@pytest.mark.parametrize("verb", ["cycle", "check"])
@pytest.mark.parametrize("name", ["missing.toml", ".", "/dev/null", "/dev/zero"])
def test_what_is_no_vehicle_is_refused(leverwright, verb, name):
    ended = leverwright(verb, name, "--json")
    assert ended.status == 2
    assert ended.document["error"]["file"] == name


def test_a_fault_in_the_file_names_line_and_key(leverwright, tmp_path):
    (tmp_path / "bad.toml").write_text(FLAT.replace("radius = 200", 'radius = "20,5 in"'), encoding="utf-8")
    ended = leverwright("cycle", "bad.toml", "--json")
    assert ended.status == 2
    error = ended.document["error"]
    assert (error["file"], error["key"]) == ("bad.toml", "wheels.rear.radius")
    assert error["line"] == 1 + FLAT.splitlines().index("radius = 200")
    assert "comma" in error["found"]


@pytest.mark.parametrize("verb", ["check", "cycle"])
def test_names_of_the_file_cannot_move_the_cursor(leverwright, tmp_path, verb):
    hostile = "re\N{RIGHT-TO-LEFT OVERRIDE}ar\N{ZERO WIDTH SPACE}"
    text = FLAT.replace("[wheels.rear]", f'[wheels."{hostile}"]').replace(
        "Flat arm", "\\u001b[2J\\u0007Flat arm"
    )
    (tmp_path / "hostile.toml").write_text(text, encoding="utf-8")
    for more in ((), ("--units", "inch"), ("--json",)):
        ended = leverwright(verb, "hostile.toml", *more)
        assert ended.status in (0, 1, 2)
        for character in "\x1b\x07\N{RIGHT-TO-LEFT OVERRIDE}\N{ZERO WIDTH SPACE}":
            assert character not in ended.out + ended.notes
