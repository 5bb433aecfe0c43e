"""Vehicles with a slip in them: what a tired person does to a file that was right."""

from __future__ import annotations

import copy
from collections.abc import Callable

from hypothesis import strategies as st

from tests.properties.drawn import File, base, place_of

NAMES = [
    "flat-train",
    "flat-four-bar",
    "trailing-arm",
    "wishbone-corner",
    "beam-axle",
    "swing-arm",
    "steered-corner",
]


def put(file: File, point: str, at: list[float]) -> None:
    """Place a point in whichever form the file has it."""
    old = file["points"][point]
    file["points"][point] = {**old, "at": at} if isinstance(old, dict) else at


def everything_off(draw: st.DrawFn, file: File) -> None:
    """Every coordinate off by up to a stated amount."""
    by = draw(st.sampled_from([1.0, 30.0, 150.0, 400.0]))
    for point in list(file["points"]):
        at = place_of(file["points"][point])
        put(file, point, [round(c + draw(st.floats(-by, by)), 1) for c in at])


def bar_left_out(draw: st.DrawFn, file: File) -> None:
    """A bar forgotten."""
    if file.get("bars"):
        del file["bars"][draw(st.sampled_from(sorted(file["bars"])))]


def bar_cut_wrong(draw: st.DrawFn, file: File) -> None:
    """A bar of quite another length."""
    if file.get("bars"):
        bar = draw(st.sampled_from(sorted(file["bars"])))
        file["bars"][bar]["length"] = draw(st.sampled_from([50, 200, 300, 350, 400, 600, 1000]))


def two_at_one_place(draw: st.DrawFn, file: File) -> None:
    """A point measured at the place of another."""
    one, other = draw(st.permutations(sorted(file["points"])).map(lambda names: names[:2]))
    put(file, one, place_of(file["points"][other]))


def three_in_line(draw: st.DrawFn, file: File) -> None:
    """A point half-way between two others."""
    one, two, three = draw(st.permutations(sorted(file["points"])).map(lambda names: names[:3]))
    ends = zip(place_of(file["points"][one]), place_of(file["points"][two]), strict=True)
    put(file, three, [(a + b) / 2 for a, b in ends])


def slip_of_a_number(draw: st.DrawFn, file: File) -> None:
    """Sign, inch, metre, nothing, next to nothing."""
    point = draw(st.sampled_from(sorted(file["points"])))
    at = place_of(file["points"][point])
    axis = draw(st.integers(0, len(at) - 1))
    at[axis] = draw(
        st.sampled_from([0.0, -at[axis], at[axis] / 25.4, at[axis] * 25.4, at[axis] / 1000, 1e-9])
    )
    put(file, point, at)


def body_without_a_point(draw: st.DrawFn, file: File) -> None:
    """A point left out of a body."""
    body = draw(st.sampled_from(sorted(file["bodies"])))
    points = file["bodies"][body]
    points.remove(draw(st.sampled_from(points)))


def body_with_a_point_too_many(draw: st.DrawFn, file: File) -> None:
    """A point given to a body that does not carry it."""
    body = draw(st.sampled_from(sorted(file["bodies"])))
    point = draw(st.sampled_from(sorted(file["points"])))
    if point not in file["bodies"][body]:
        file["bodies"][body].append(point)


def wrong_shock(draw: st.DrawFn, file: File) -> None:
    """One number of the shock from another shock."""
    key = draw(st.sampled_from(["preload", "length_open", "length_closed", "rate", "gas", "friction"]))
    for shock in file["shocks"].values():
        shock[key] = draw(st.sampled_from([0, -30, -200, 5, 100, 240, 1000, 0.001]))


def odd_loads(draw: st.DrawFn, file: File) -> None:
    """Loads, unsprung masses and tyres far from the usual."""
    for wheel in file["wheels"].values():
        wheel["load"] = draw(st.sampled_from([5, 20, 500]))
        wheel["tyre"] = draw(st.sampled_from([1, 90, 1000]))
        wheel["unsprung"] = draw(st.sampled_from([0, 1, 4]))


def odd_strap(draw: st.DrawFn, file: File) -> None:
    """A strap between any two points, stretching or not."""
    ends = draw(st.permutations(sorted(file["points"])).map(lambda names: names[:2]))
    strap = {"ends": ends, "length": draw(st.sampled_from([50, 200, 400, 700]))}
    if draw(st.booleans()):
        strap["rate"] = draw(st.sampled_from([10, 800]))
    file["straps"] = {"strap": strap}


SLIPS: list[Callable[[st.DrawFn, File], None]] = [
    everything_off,
    bar_left_out,
    bar_cut_wrong,
    two_at_one_place,
    three_in_line,
    slip_of_a_number,
    body_without_a_point,
    body_with_a_point_too_many,
    wrong_shock,
    odd_loads,
    odd_strap,
]


@st.composite
def spoilt_vehicles(draw: st.DrawFn) -> File:
    """One of the reference mechanisms with one to three slips."""
    file = copy.deepcopy(base(draw(st.sampled_from(NAMES))))
    for slip in draw(st.lists(st.sampled_from(SLIPS), min_size=1, max_size=3)):
        slip(draw, file)
    return file
