"""Picks of a photograph beside tapes: the photograph for a first place, the tapes to make it true."""

from dataclasses import replace

import numpy as np
import pytest

from leverwright import Project, Study
from leverwright.assemble.measured import measured_of
from leverwright.assemble.pictures import OFF_PLANE, pictures_of
from tests.measure.test_photograph import BOARD, Camera

# The plane stands at y = 320 mm and is seen from the left: forward is to the left in the picture, up is up.
DEPTH = 0.32
TRUE = {
    "arm-pivot-out-left": (0.0, 0.21),
    "hub-left": (-0.38, 0.205),
    "tab-left": (-0.2, 0.245),
    "link-hole-left": (-0.245, 0.48),
    "spring-hole-left": (-0.18, 0.545),
}
# Where the rectangle's first corner hangs in the vehicle (x, z), and that it hangs a little askew.
CORNER, ASKEW = np.array([0.15, 0.62]), 0.04
CAMERA = Camera(away=3.0, pan=0.3, tilt=-0.25, foot=(0.3, 0.25))


def in_rectangle(x, z):
    """Vehicle (x, z) to the rectangle's own axes, right and down."""
    right, down = CORNER[0] - x, CORNER[1] - z
    c, s = np.cos(ASKEW), np.sin(ASKEW)
    return c * right + s * down, -s * right + c * down


def picks(rng=None, nearer=0.0):
    places = np.array([in_rectangle(*at) for at in TRUE.values()])
    seen = CAMERA.sees(places, nearer)
    return dict(zip(TRUE, seen if rng is None else seen + rng.normal(0.0, 1.0, seen.shape), strict=True))


VEHICLE = """\
leverwright = 1
title = "Arm that was photographed, invented"
pose = "on blocks"
tape_error = 1
mirror = true

[points]
arm-pivot-in-left = [0, 260, 210]
arm-pivot-out-left = { at = [0, 320, 210], error = 0.5 }
hub-left = { sketch = [-300, 300, 150] }
spindle-left = [-380, 400, 205]
tab-left = { sketch = [-150, 300, 300] }
link-hole-left = { sketch = [-300, 300, 500] }
spring-hole-left = { sketch = [-150, 300, 600] }
beam-left = { at = [-500, 320, 700], error = 0.5 }
eye-left = [95, 320, 545]

[bodies]
chassis = ["arm-pivot-in-left", "arm-pivot-out-left", "beam-left", "eye-left"]
arm-left = [
  "arm-pivot-in-left", "arm-pivot-out-left", "hub-left", "spindle-left", "tab-left", "link-hole-left",
  "spring-hole-left",
]

[springs.spring-left]
ends = ["spring-hole-left", "eye-left"]
shock = "salvaged"

[shocks.salvaged]
rate = 17.5
length_open = 340
length_closed = 215
preload = 4

[wheels.rear-left]
body = "arm-left"
centre = "hub-left"
radius = 205
load = 62

{photo}
{tapes}
"""


def photo_text(found, **more):
    corners = [[round(float(u), 4), round(float(v), 4)] for u, v in CAMERA.sees(BOARD)]
    inside = ", ".join(f"{name} = [{u:.4f}, {v:.4f}]" for name, (u, v) in found.items())
    keys = {
        "depth": 320,
        "corners": corners,
        "rectangle": [600, 400],
        "size": [4000, 3000],
        "error": 1,
        "lens": 0,
    } | more
    lines = "\n".join(f"{key} = {value}" for key, value in keys.items())
    named = f"picks = {{ {inside} }}\n" if inside else ""
    return f'[photos.side]\npicture = "side-0f3a.jpg"\nview = "side"\n{lines}\n{named}'


def vehicle(photo, tapes=""):
    return Project.from_text(VEHICLE.replace("{photo}", photo).replace("{tapes}", tapes), "cart.toml")


def beam():
    """A second point whose place is known: with it the picture can be laid on the vehicle."""
    return dict(zip(["beam-left"], CAMERA.sees([in_rectangle(-0.5, 0.7)]), strict=True))


def off(project, name):
    x, y, z = measured_of(project).project.points[name].at
    return np.array([x - TRUE[name][0], y - DEPTH, z - TRUE[name][1]])


def test_picks_alone_place_the_points_up_to_what_they_say_of_themselves():
    project = vehicle(photo_text(picks() | beam()))
    for name in ("hub-left", "tab-left", "link-hole-left", "spring-hole-left"):
        assert off(project, name) == pytest.approx(0.0, abs=1e-4)  # the picks are written to 1e-4 px
        error = [float(one or 0.0) for one in measured_of(project).project.points[name].errors]
        assert 1e-4 < error[0] < 0.01
        assert error[1] == pytest.approx(OFF_PLANE, rel=0.05)
        assert 1e-4 < error[2] < 0.01


def test_the_picture_says_from_which_side_it_was_taken():
    mirrored = {name: [4000.0 - u, v] for name, (u, v) in (picks() | beam()).items()}
    corners = [[4000.0 - float(u), float(v)] for u, v in CAMERA.sees(BOARD)[[1, 0, 3, 2]]]
    project = vehicle(photo_text(mirrored, corners=corners))
    assert off(project, "hub-left") == pytest.approx(0.0, abs=1e-4)


def test_tapes_make_a_photograph_true():
    """Spoilt picks and exact tapes: the places get better, and their ± narrower."""
    rng = np.random.default_rng(3)
    spoilt = {name: at + rng.normal(0.0, 8.0, 2) for name, at in (picks() | beam()).items()}
    photo = photo_text(spoilt, error=8)
    ends = [
        ("arm-pivot-out-left", "hub-left"),
        ("arm-pivot-out-left", "link-hole-left"),
        ("hub-left", "link-hole-left"),
    ]
    lengths = [float(np.hypot(*(np.array(TRUE[a]) - TRUE[b]))) for a, b in ends]
    tapes = "".join(
        f'[tape.t{k}]\nbetween = ["{a}", "{b}"]\nreads = {1000 * length:.3f}\n'
        for k, ((a, b), length) in enumerate(zip(ends, lengths, strict=True))
    )
    before, after = vehicle(photo), vehicle(photo, tapes)
    for name in ("hub-left", "link-hole-left"):
        errors = [np.array(measured_of(each).project.points[name].errors)[[0, 2]] for each in (before, after)]
        assert np.hypot(*errors[1]) < np.hypot(*errors[0])
    worst = [
        max(np.hypot(*off(each, n)[[0, 2]]) for n in ("hub-left", "link-hole-left"))
        for each in (before, after)
    ]
    assert worst[1] < worst[0]
    a, b = (np.array(measured_of(after).project.points[n].at) for n in ("arm-pivot-out-left", "hub-left"))
    assert np.linalg.norm(a - b) == pytest.approx(
        lengths[0], abs=2e-3
    )  # two of the tape's standard deviations


def test_the_stated_errors_of_placed_points_hold_the_truth():
    rng, distances = np.random.default_rng(11), []
    for _ in range(60):
        places = np.array([in_rectangle(*at) for at in TRUE.values()] + [in_rectangle(-0.5, 0.7)])
        seen = CAMERA.sees(places, rng.normal(0.0, OFF_PLANE, 1)) + rng.normal(0.0, 1.0, (6, 2))
        project = vehicle(photo_text(dict(zip([*TRUE, "beam-left"], seen, strict=True))))
        blocks = measured_of(project).blocks
        block = next(b for b in blocks if ("point", "tab-left", "x") in b.inputs)
        rows = [block.inputs.index(("point", "tab-left", axis)) for axis in "xz"]
        miss = off(project, "tab-left")[[0, 2]]
        distances.append(miss @ np.linalg.solve(block.covariance[np.ix_(rows, rows)], miss))
    # Corners are exact here and one shift off the plane is shared, so the mean is below 2, never above.
    assert 0.2 < np.mean(distances) < 2.0 + 3.0 * np.sqrt(4.0 / 60)


def test_a_point_of_known_depth_is_put_right_for_it():
    """The pivot's inner end lies 60 mm behind the plane; where it is known, its pick is no contradiction."""
    behind = dict(
        zip(["arm-pivot-in-left"], CAMERA.sees([in_rectangle(0.0, 0.21)], nearer=-0.06), strict=True)
    )
    project = vehicle(photo_text(picks() | beam() | behind))
    assert off(project, "hub-left") == pytest.approx(0.0, abs=5e-4)
    plain = rectified_places(project)
    right, down = in_rectangle(0.0, 0.21)
    assert plain["arm-pivot-in-left"] == pytest.approx([right, -down], abs=1e-4)


def rectified_places(project):
    places = pictures_of(project).read["side"].places
    return dict(zip(places.names, places.at, strict=True))


def test_a_photograph_that_cannot_be_read_places_nothing_and_says_why():
    corners = [[round(float(u), 4), round(float(v), 4)] for u, v in CAMERA.sees(BOARD)[[0, 3, 2, 1]]]
    project = vehicle(photo_text(picks(), corners=corners))
    pictures = pictures_of(project)
    assert not pictures.read
    assert "anticlockwise" in str(pictures.refused["side"])
    measured_of(project)  # and the rest of the vehicle goes on


def test_a_study_takes_the_places_up():
    study = Study(vehicle(photo_text(picks() | beam())))
    assert study.project.points["hub-left"].at[0] == pytest.approx(-0.38, abs=1e-4)
    assert not study.project.photos
    assert study.file.photos


def test_a_photograph_without_picks_leaves_the_vehicle_alone():
    project = vehicle(photo_text({}))
    plain = replace(project, points={n: replace(p, sketched=False) for n, p in project.points.items()})
    assert measured_of(plain).project is plain


def test_a_photograph_without_picks_stands_beside_sketched_points():
    measured_of(vehicle(photo_text({})))
    assert pictures_of(vehicle(photo_text({}))).read["side"].places.names == ()


def test_a_pick_is_named_by_its_picture_and_point(tmp_path, capsys):
    from leverwright.cli.run import main
    from leverwright.findings import judge

    tape = '[tape.t1]\nbetween = ["arm-pivot-out-left", "hub-left"]\nreads = 430\n'  # 50 mm too long
    text = VEHICLE.replace("{photo}", photo_text(picks() | beam())).replace("{tapes}", tape)
    found = {one.id: one.sentence for one in judge(Study(Project.from_text(text, "cart.toml")))}
    assert "the pick of hub-left in the picture side" in found["tapes-disagree"]
    assert "unseen: side" not in found.get("tape-unchecked", "")
    file = tmp_path / "cart.toml"
    file.write_text(text, encoding="utf-8")
    main(["measure", str(file)], serve=lambda *_: None)
    said = capsys.readouterr().out
    assert "side: hub-left" in said
    assert "(right in the picture)" in " ".join(said.split())


def test_from_the_other_side_what_lay_behind_lies_before():
    """A picture from the right: the pivot's inner end, 60 mm nearer to the middle, is 60 mm nearer to the camera."""
    before = dict(
        zip(["arm-pivot-in-left"], CAMERA.sees([in_rectangle(0.0, 0.21)], nearer=0.06), strict=True)
    )
    mirrored = {name: [4000.0 - u, v] for name, (u, v) in (picks() | beam() | before).items()}
    corners = [[4000.0 - float(u), float(v)] for u, v in CAMERA.sees(BOARD)[[1, 0, 3, 2]]]
    project = vehicle(photo_text(mirrored, corners=corners))
    right, down = in_rectangle(0.0, 0.21)
    assert rectified_places(project)["arm-pivot-in-left"] == pytest.approx([0.6 - right, -down], abs=1e-4)
