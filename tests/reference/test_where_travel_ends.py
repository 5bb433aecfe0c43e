"""Ends of travel against SciPy's root finder walked to where it finds no pose, and to the shock's lengths.

The contract asks for 0.01 mm. The witness halves its step whenever `root` fails, down to 2 µm.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import brentq

from tests.reference.product import stops_of, study_of
from tests.reference.root_by_pose import RootByPose
from tests.reference.vehicle import Vehicle, read, read_text

FOUND = 1e-5  # m, the contract's 0.01 mm
FINEST = 2e-6  # m


def walked_to_the_end(vehicle: Vehicle, way: int) -> float:
    """Last travel [m], droop (-1) or bump (+1), at which the root finder closes the linkage."""
    by_root = RootByPose(vehicle)
    at, step = 0.0, 4e-3
    by_root.solve(dict.fromkeys(vehicle.wheels, 0.0))
    while step > FINEST:
        last = by_root.unknowns
        try:
            by_root.solve(dict.fromkeys(vehicle.wheels, at + way * step))
        except ArithmeticError:
            by_root.restart(last)
            step /= 2
            continue
        if float(np.abs(by_root.unknowns - last).max()) > 0.2:  # rad or m: it leapt to another branch
            by_root.restart(last)
            step /= 2
            continue
        at += way * step
    return at


def without_limits(vehicle: Vehicle) -> str:
    text = vehicle.text
    law = next(iter(vehicle.laws.values()))
    text = text.replace(f"length_open = {law.length_open * 1e3:.0f}", "length_open = 2000")
    return text.replace(f"length_closed = {law.length_closed * 1e3:.0f}", "length_closed = 1")


@pytest.mark.parametrize(
    "name", ["flat-train", "flat-four-bar", "trailing-arm", "wishbone-corner", "beam-axle"]
)
def test_the_linkage_ends_where_no_pose_closes_any_more(name):
    vehicle = read_text(without_limits(read(name)))
    droop, droop_why, bump, bump_why = stops_of(study_of(vehicle.text))
    assert {droop_why, bump_why} <= {"dead centre", "link stretched"}
    assert droop == pytest.approx(walked_to_the_end(vehicle, -1), abs=FOUND)
    assert bump == pytest.approx(walked_to_the_end(vehicle, 1), abs=FOUND)


@pytest.mark.parametrize(
    "name", ["flat-train", "flat-four-bar", "trailing-arm", "wishbone-corner", "swing-arm"]
)
def test_travel_ends_where_the_shock_is_fully_open_and_fully_closed(name):
    vehicle = read(name)
    (ends,), (law,) = vehicle.springs.values(), vehicle.laws.values()
    by_root = RootByPose(vehicle)

    def length(travel: float) -> float:
        placed = by_root.solve(dict.fromkeys(vehicle.wheels, travel))
        return float(np.linalg.norm(placed[ends[0]] - placed[ends[1]]))

    droop, droop_why, bump, bump_why = stops_of(study_of(vehicle.text))
    assert (droop_why, bump_why) == ("shock open", "shock closed")
    # The length falls steadily between the two; the product's ends only say where to look.
    opened = brentq(lambda z: length(z) - law.length_open, droop - 2e-3, 0.0, xtol=1e-9)
    closed = brentq(lambda z: length(z) - law.length_closed, 0.0, bump + 2e-3, xtol=1e-9)
    assert droop == pytest.approx(opened, abs=1e-8)
    assert bump == pytest.approx(closed, abs=1e-8)


@pytest.mark.parametrize("spare", [5.0, 12.5])
def test_a_rigid_strap_ends_droop_where_it_is_taut(spare):
    """A strap from hub to spring eye with `spare` mm of slack as measured; the hub runs on a circle."""
    vehicle = read("flat-train")
    longest = round(vehicle.length(("hub", "spring-eye")) * 1e3 + spare, 6)
    table = f'[straps.strap]\nends = ["hub", "spring-eye"]\nlength = {longest}\n\n[wheels.wheel]'
    droop, why, _, _ = stops_of(study_of(vehicle.text.replace("[wheels.wheel]", table)))
    hub, eye = vehicle.points["hub"], vehicle.points["spring-eye"]

    def slack(z: float) -> float:
        forward = np.sqrt(float(hub @ hub) - (hub[1] + z) ** 2)
        return float(longest * 1e-3 - np.hypot(forward - eye[0], hub[1] + z - eye[1]))

    assert why == "strap taut"
    assert droop == pytest.approx(brentq(slack, -0.1, 0.0, xtol=1e-12), abs=1e-8)


@pytest.mark.parametrize(
    "name", ["flat-train", "flat-four-bar", "trailing-arm", "wishbone-corner", "beam-axle"]
)
def test_at_a_dead_centre_some_bar_has_no_lever_on_its_arm(name):
    """Folded or stretched, in space too: the moment of the bar's pull about the arm's hinge line is nothing.

    The witness of the end is the walk above; here the angle that is printed must come to 0 or 180 there.
    """
    study = study_of(without_limits(read(name)))
    posed = study.cycle()[0].posed
    assert posed is not None
    droop_why, bump_why = stops_of(study)[1::2]
    for pose, why in ((0, droop_why), (-1, bump_why)):
        if why == "dead centre":
            least = float(np.minimum(posed.transmission[pose], np.pi - posed.transmission[pose]).min())
            # The last pose stands 1e-5 mm before the end; the angle falls with the root of what is left.
            assert least < np.radians(0.1)
