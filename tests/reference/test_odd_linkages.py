"""Linkages that trip solvers: what must be said of each follows from mechanics on paper.

Singular set-up poses, parallel links too many, loops whose forces nothing settles, wheels that share a
freedom, motions that nothing holds. A wrong figure here would be worse than none.
"""

from __future__ import annotations

import math
from typing import Any

import msgspec
import pytest

from leverwright.wire.cycling import cycle_document
from tests.reference.product import study_of
from tests.reference.vehicle import read

PARALLEL = """
leverwright = 1
plane = "xz"
[points]
low-in = [0, 0]
mid-in = [0, 50]
top-in = [0, 100]
low-out = [300, 0]
mid-out = [300, 50]
top-out = [300, 100]
hub = [350, 50]
eye = [200, 300]
[bodies]
chassis = ["low-in", "mid-in", "top-in", "eye"]
carrier = ["low-out", "mid-out", "top-out", "hub"]
[bars]
low = { ends = ["low-in", "low-out"] }
mid = { ends = ["mid-in", "mid-out"] }
top = { ends = ["top-in", "top-out"] }
[shocks.coil]
rate = 20
length_open = 400
length_closed = 150
preload = 0
[springs.spring]
ends = ["top-out", "eye"]
shock = "coil"
[wheels.wheel]
body = "carrier"
centre = "hub"
radius = 200
load = 50
"""
TRAVELS = (-20.0, 0.0, 20.0)  # mm

RIGID_AXLE = """
leverwright = 1
[points]
pin-1 = [500, 400, 250]
pin-2 = [500, 300, 250]
pin-3 = [500, -300, 250]
pin-4 = [500, -400, 250]
hub-l = [0, 600, 230]
hub-r = [0, -600, 230]
spring-l = [100, 300, 260]
spring-r = [100, -300, 260]
eye-l = [150, 300, 500]
eye-r = [150, -300, 500]
[bodies]
chassis = ["pin-1", "pin-2", "pin-3", "pin-4", "eye-l", "eye-r"]
axle = ["pin-1", "pin-2", "pin-3", "pin-4", "hub-l", "hub-r", "spring-l", "spring-r"]
[shocks.coil]
rate = 20
length_open = 300
length_closed = 150
preload = 0
[springs]
left = { ends = ["spring-l", "eye-l"], shock = "coil" }
right = { ends = ["spring-r", "eye-r"], shock = "coil" }
[wheels]
wl = { body = "axle", centre = "hub-l", radius = 200, load = 50 }
wr = { body = "axle", centre = "hub-r", radius = 200, load = 50 }
"""


def cycled(text: str, mode: str = "heave", ends: tuple[float, float] = (-20.0, 20.0), poses: int = 3) -> Any:
    """The one assembly of the document, as plain values, between `ends` [mm]."""
    study = study_of(text)
    document = cycle_document(study, study.cycle(mode, (ends[0] * 1e-3, ends[1] * 1e-3), poses))
    (assembly,) = msgspec.to_builtins(document)["assemblies"]
    return assembly


def without(text: str, *names: str) -> str:
    """The text less the lines that define these bars."""
    return "\n".join(
        line for line in text.splitlines() if not line.startswith(tuple(f"{n} = {{" for n in names))
    )


def parallelogram(z: float) -> tuple[float, float]:
    """Motion ratio and spring length [mm] of a carrier that does not turn: every point on a circle of 300 mm."""
    x = math.sqrt(300.0**2 - z**2)
    dx, dz = x - 200.0, 100.0 + z - 300.0
    length = math.hypot(dx, dz)
    return -(dx * (-z / x) + dz) / length, length


@pytest.mark.parametrize("gone", [(), ("mid",), ("top",)])
def test_a_third_parallel_link_leaves_the_motion_as_it_was(gone):
    """Redundant, yet it moves: told from a bind by moving, not by a rank at one pose."""
    assembly = cycled(without(PARALLEL, *gone))
    assert (assembly["freedoms"], assembly["play"], assembly["bind"]) == (1, [], [])
    for pose, z in zip(assembly["poses"], TRAVELS, strict=True):
        ratio, length = parallelogram(z)
        spring = pose["springs"]["spring"]
        assert spring["ratio"]["wheel"] == pytest.approx(ratio, rel=1e-9)
        assert spring["length_mm"] == pytest.approx(length, abs=1e-6)
        push = 20.0 * (400.0 - length)
        assert pose["wheels"]["wheel"]["force_n"] == pytest.approx(push * ratio, rel=1e-9)


def test_forces_of_three_parallel_links_are_null_and_of_two_are_not():
    """Three parallel forces against two equations: any share would be an invention."""
    three, two = cycled(PARALLEL), cycled(without(PARALLEL, "mid"))
    for pose in three["poses"]:
        assert pose["bars_n"] == {"low": None, "mid": None, "top": None}
    for pose, z in zip(two["poses"], TRAVELS, strict=True):
        # Moments on the carrier about low-out [mm]: spring at top-out, ground at the hub, 50 out and 50 up.
        x = math.sqrt(300.0**2 - z**2)
        ratio, length = parallelogram(z)
        push = 20.0 * (400.0 - length)
        spring_x = push * (x - 200.0) / length
        ground = push * ratio
        along = (-x / 300.0, -z / 300.0)  # a pull of the top link on the carrier
        pull = (spring_x * 100.0 - ground * 50.0) / (-along[0] * 100.0)
        assert pose["bars_n"]["top"] == pytest.approx(pull, abs=1e-6)


def test_three_links_not_parallel_hold_it_fast():
    assembly = cycled(PARALLEL.replace("mid-in = [0, 50]", "mid-in = [10, 60]"))
    assert (assembly["freedoms"], assembly["poses"]) == (0, [])
    assert assembly["bind"]
    assert assembly["stops"] == {"bump": None, "droop": None}


def test_a_third_parallel_link_of_another_length_cannot_be_fitted():
    longer = PARALLEL.replace('["mid-in", "mid-out"] }', '["mid-in", "mid-out"], length = 301 }')
    assembly = cycled(longer)
    assert assembly["poses"] == []
    assert assembly["bind"]


@pytest.mark.parametrize(
    "text",
    [
        # All four pins of a parallelogram in line: two ways on from there.
        without(PARALLEL, "mid")
        .replace("top-in = [0, 100]", "top-in = [-100, 0]")
        .replace("top-out = [300, 100]", "top-out = [200, 0]")
        .replace('"mid-in", ', "")
        .replace('"mid-out", ', "")
        .replace("mid-in = [0, 50]\n", "")
        .replace("mid-out = [300, 50]\n", ""),
        # Link and rocker arm in line: (260, 20), (190, 165), (120, 310).
        read("flat-train").text.replace("rocker-hole = [215, 330]", "rocker-hole = [190, 165]"),
    ],
    ids=["change point", "link and arm in line"],
)
def test_a_set_up_pose_on_a_dead_centre_gives_no_pose(text):
    """Two branches leave it; a figure of either would be a guess."""
    assembly = cycled(text, ends=(-5.0, 5.0))
    assert assembly["poses"] == []
    assert assembly["bind"]


def test_four_pins_in_line_share_a_load_that_nothing_settles():
    """One freedom; the ground is settled by it, the pins are not: null at all of them."""
    assembly = cycled(RIGID_AXLE)
    assert assembly["freedoms"] == 1
    for pose in assembly["poses"]:
        assert pose["joints_n"] == {f"pin-{n}": None for n in (1, 2, 3, 4)}
        assert pose["wheels"]["wl"]["force_n"] == pytest.approx(pose["wheels"]["wr"]["force_n"], rel=1e-9)


def test_an_axle_held_at_pins_out_of_line_is_listed_and_does_not_move():
    assembly = cycled(RIGID_AXLE.replace("pin-4 = [500, -400, 250]", "pin-4 = [500, -400, 270]"))
    assert (assembly["wheels"], assembly["freedoms"], assembly["poses"]) == (["wl", "wr"], 0, [])
    assert assembly["bind"]


@pytest.mark.parametrize("mode", ["heave", "wl", "wr"])
def test_two_wheels_on_one_freedom_share_alike(mode):
    """Work settles only the sum: F (dz1 + dz2) = push ds. Equal shares, said to be shared."""
    text = (
        read("trailing-arm").text + '[wheels.wl]\nbody = "arm"\ncentre = "spindle"\nradius = 205\nload = 40\n'
    )
    text = text.replace("[wheels.wheel]", "[wheels.wr]")
    assembly = cycled(text, mode)
    driven = "wr" if mode == "heave" else mode
    for pose in assembly["poses"]:
        one, other = pose["wheels"]["wr"], pose["wheels"]["wl"]
        assert (one["shared"], other["shared"]) == (True, True)
        assert one["force_n"] == pytest.approx(other["force_n"], rel=1e-12)
        given = {wheel: ratio is not None for wheel, ratio in pose["springs"]["spring"]["ratio"].items()}
        assert given == {"wr": driven == "wr", "wl": driven == "wl"}
    alone = cycled(read("trailing-arm").text)["poses"][1]
    shared = assembly["poses"][1]
    # At the set-up pose: the single wheel's force is what its own height alone would carry.
    hub, spindle = (read("trailing-arm").points[p] for p in ("hub", "spindle"))
    hinge = read("trailing-arm").points["arm-out"] - read("trailing-arm").points["arm-in"]
    base = read("trailing-arm").points["arm-in"]
    rise = [hinge[0] * (p - base)[1] - hinge[1] * (p - base)[0] for p in (hub, spindle)]
    wanted = alone["wheels"]["wheel"]["force_n"] * rise[0] / (rise[0] + rise[1])
    assert shared["wheels"]["wr"]["force_n"] == pytest.approx(wanted, rel=1e-9)


def test_three_wheels_on_two_freedoms_leave_ground_and_arms_untold():
    """Three ground forces against two equations; the push links hang on the springs alone and are told."""
    middle = '[wheels.middle]\nbody = "axle"\ncentre = "axle-top"\nradius = 200\nload = 40\n\n[wheels.left]'
    assembly = cycled(read("beam-axle").text.replace("[wheels.left]", middle))
    settled = cycled(read("beam-axle").text)
    assert assembly["freedoms"] == 2
    pose, other = assembly["poses"][1], settled["poses"][1]
    assert all(wheel["force_n"] is None for wheel in pose["wheels"].values())
    for bar in ("arm-l", "arm-r", "arm-top"):
        assert pose["bars_n"][bar] is None
    for bar in ("push-l", "push-r"):
        assert pose["bars_n"][bar] == pytest.approx(other["bars_n"][bar], abs=1e-6)


def test_an_axle_that_nothing_holds_sideways_says_so_and_gives_no_ratio():
    """The springs lean on a motion that nothing holds: no equilibrium, no ratio that is not a choice."""
    assembly = cycled(without(read("beam-axle").text, "lateral"))
    assert assembly["freedoms"] == 3
    assert len(assembly["play"]) == 1
    assert "axle" in assembly["play"][0]["bodies"]
    for pose in assembly["poses"]:
        assert all(r is None for s in pose["springs"].values() for r in s["ratio"].values())
        assert all(n is None for n in pose["bars_n"].values())


@pytest.mark.parametrize(
    ("asked", "droop", "bump"),
    [
        ((60.0, 80.0), "asked", "shock closed"),
        ((100.0, 120.0), "shock closed", "shock closed"),
        ((-300.0, -200.0), "shock open", "shock open"),
    ],
)
def test_a_range_outside_a_stop_ends_at_the_stop(asked, droop, bump):
    assembly = cycled(read("flat-train").text, ends=asked)
    stops = assembly["stops"]
    assert (stops["droop"]["why"], stops["bump"]["why"]) == (droop, bump)
    assert stops["droop"]["travel_mm"] <= stops["bump"]["travel_mm"]
    for pose in assembly["poses"]:
        assert 200 - 1e-6 <= pose["springs"]["spring"]["length_mm"] <= 270 + 1e-6


def test_standing_on_a_dead_centre_has_no_ratio_and_no_rate():
    """Measured 1 mm from link and arm in line: the wheel drops on to the dead centre and stands there.

    A ratio of 800 and a rate of minus millions are limits without bound, not figures.
    """
    text = read("flat-train").text.replace("rocker-hole = [215, 330]", "rocker-hole = [191, 165]")
    answers = study_of(text).answers["wheel"]
    for answer in (answers.of["wheel_rate"], answers.of["heave_rate"], answers.motion_ratio["spring"]):
        assert answer.value is None
        assert "dead centre" in (answer.because or "")
