"""The set-up card: one page a load set, with what each wheel should carry, sag and stand at, and blanks beside it."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from leverwright.assemble.stance import Tipping
from leverwright.make.choices import Paper
from leverwright.make.flow import Block, flow, heading, lines, numbered, points, space, table
from leverwright.make.frame import Area, Head, Page, bind, reading_area
from leverwright.make.numbers import millimetres
from leverwright.make.pen import PAPER_SIZES
from leverwright.make.reading import Column
from leverwright.quantity import fixed, say, say_about, say_between
from leverwright.ride import STANDARD_GRAVITY, Answer
from leverwright.ride.coupling import CouplingShare
from leverwright.springs import ShockLaw
from leverwright.study import Study

__all__ = ["setup_pdf"]

_MM = 1e-3
_SHEET = "Set-up card"
_BLANK = "_______"
_SIGMAS = 2.0
_LEVEL = math.radians(0.05)  # a lean that no level shows
_TRIM = 0.0005  # m of collar; less is not worth a turn

_STEPS = (
    "Load it as listed, riders seated still, tyres at the pressure above, on level ground, brakes off.",
    "Open: lift the wheel off the ground and measure from the hub straight up to a mark on the frame.",
    (
        "Push it down, let it come up slowly, measure; lift it, let it settle slowly, measure. Half of the two "
        "together is where it stands; their difference is friction. Sag = open less that."
    ),
    "Write the readings down with the date. Outside the range: look at the load, then the collar, then the spring.",
)
_CAUTIONS = (
    "Chock the wheels. Never get under a vehicle that only a jack holds; fingers out of levers and springs.",
    "Turn a collar only with the wheel hanging and the spring as loose as it gets.",
    "Where it tips is a figure of arithmetic for a rigid load on even ground, never a permission: use half at most.",
    "Local rules come first. Before anybody rides, ask a qualified person to look at it.",
)


def setup_pdf(study: Study, paper: Paper, stops: tuple[str, ...]) -> bytes:
    """A page for each load set, the usual one first; one page where the file has no load sets."""
    area = reading_area(PAPER_SIZES[paper])
    names = sorted(study.sets, key=lambda name: name != study.load_set)
    cards = [(name, study.sets[name]) for name in names] or [("usual load", study)]
    pages = [page for name, of in cards for page in _pages(study, name, of, area)]
    return bind(pages, paper, f"{_SHEET}: {study.project.title}", stops=stops)


def _pages(study: Study, name: str, of: Study, area: Area) -> list[Page]:
    width = area.size[0]
    blocks = [
        *_aboard(of, width),
        heading("What each wheel should read", width),
        *table(_columns(width), _rows(study, of)),
        lines(_notes(study, of), width),
        space(2 * _MM),
        heading("How it stands and where it tips", width),
        points(
            _whole(study, of) or ["Nothing says how high its load sits: give the load set its masses."], width
        ),
        heading("How to read the sag", width),
        numbered(_STEPS, width),
        heading("Take care", width),
        points(_CAUTIONS, width),
    ]
    return flow(blocks, Head(_SHEET, name, study.project.title), area)


def _aboard(of: Study, width: float) -> list[Block]:
    """The masses of the load set, to be ticked off."""
    chosen = of.file.loads.get(of.load_set or "")
    if chosen is None or not chosen.carries:
        return []
    columns = [
        Column("aboard", width - 92 * _MM, strong=True),
        Column("weighs\nkg", 24 * _MM, "right", figure=True),
        Column("its centre: ahead, left, up\nmm, chassis axes", 50 * _MM, "right"),
        Column("there", 18 * _MM, "middle", tick=True, small=True),
    ]
    rows = []
    for name in chosen.carries:
        mass = of.file.masses[name]
        at = ", ".join(fixed(1e3 * x, 0) for x in mass.at)
        rows.append([name, say(mass.mass.value, "mass").removesuffix(" kg"), at, ""])
    return [heading("What is aboard", width), *table(columns, rows)]


def _columns(width: float) -> list[Column]:
    return [
        Column("wheel", width - 141 * _MM, strong=True),
        Column("load\nkg", 20 * _MM, "right", figure=True),
        Column("sag expected\nmm", 24 * _MM, "right", figure=True),
        Column("reads\nmm", 20 * _MM, "middle"),
        Column("bump left\nmm", 20 * _MM, "right"),
        Column("collar to stand as usual\nmm; turns", 36 * _MM, "right"),
        Column("tyre\n", 21 * _MM, "middle"),
    ]


def _rows(study: Study, of: Study) -> list[Sequence[str]]:
    rows: list[Sequence[str]] = []
    for name, wheel in of.project.wheels.items():
        answers = of.answers[name].of
        load = _BLANK if wheel.load is None else say(wheel.load.value, "mass").removesuffix(" kg")
        pressure = _BLANK if wheel.pressure is None else say(wheel.pressure.value, "pressure")
        rows.append(
            [
                name,
                load,
                _between(answers["sag"]),
                _BLANK,
                _between(answers["bump_left"]),
                _collar(study, of, name),
                pressure,
            ]
        )
    return rows


def _between(answer: Answer) -> str:
    """Where a length lies at 95 %, in whole mm outward; a dash where it cannot be said."""
    if answer.value is None:
        return "-"
    if answer.rough:
        return say_about(answer.value, "length").partition(" mm")[0]  # about 41
    if not answer.error:
        return millimetres(answer.value, 0)
    spread = _SIGMAS * answer.error
    low, high = (1e3 * (answer.value + way * spread) for way in (-1.0, 1.0))
    return f"{math.floor(low)} to {math.ceil(high)}"


def _collar(study: Study, of: Study, wheel: str) -> str:
    """Collar [mm] that brings this wheel back to where it stands under the usual load; turns are for the pencil."""
    found = _trim(study, of, wheel)
    if found is None:
        return "-"
    trim, preload = found
    if abs(trim) < _TRIM:
        return "as it is"
    if preload + trim < 0.0:
        return f"-{millimetres(max(0.0, preload))} at most\n____ turns"
    return f"{'+' if trim > 0 else '-'}{millimetres(abs(trim))}\n____ turns"


def _trim(study: Study, of: Study, wheel: str) -> tuple[float, float] | None:
    """Preload to add [m], the change of load over the spring's rate and ratio, and what there is [m].

    None where no one coil carries the wheel.
    """
    for sprung, figures in zip(study.assemblies, study.figures, strict=True):
        names = sprung.assembly.layout.wheel_names
        if wheel not in names or figures.posed is None:
            continue
        coils = [s for s, law in enumerate(sprung.laws) if isinstance(law, ShockLaw) and not len(law.rows)]
        shares = {s: float(figures.ratio[s, names.index(wheel)]) for s in coils}
        pulls = {s: ratio for s, ratio in shares.items() if math.isfinite(ratio) and abs(ratio) > 1e-6}
        loads = [each.project.wheels[wheel].load for each in (of, study)]
        if len(pulls) != 1 or loads[0] is None or loads[1] is None:
            return None
        ((line, ratio),) = pulls.items()
        law = sprung.laws[line]
        assert isinstance(law, ShockLaw)
        more = (loads[0].value - loads[1].value) * STANDARD_GRAVITY
        return (more / (law.rate * ratio), law.preload) if law.rate * ratio > 0.0 else None
    return None


def _notes(study: Study, of: Study) -> list[str]:
    """Collars that would loosen their coil, and what the blanks are for."""
    notes = [
        "One turn of a collar is its thread's pitch: measure it over ten turns. Minus is back, towards loose."
    ]
    found = {wheel: _trim(study, of, wheel) for wheel in of.project.wheels}
    loose = [wheel for wheel, each in found.items() if each is not None and each[1] + each[0] < 0.0]
    if loose:
        notes.append(
            f"{', '.join(loose)}: further back the coil would hang loose, so it stands higher than usual with this "
            "load."
        )
    if any(wheel.pressure is None for wheel in of.project.wheels.values()):
        notes.append(
            "Write the tyre pressure down, cold: another pressure is another tyre rate and another height."
        )
    return notes


def _whole(study: Study, of: Study) -> list[str]:
    """Sentences about the chassis, the coupling and tipping under this load."""
    said: list[str] = []
    here, usual = of.chassis, study.chassis
    if here is not None and here.because is not None:
        said.append(f"How it stands cannot be told: {here.because}.")
    elif here is not None:
        tilt = [
            f"{word} by {math.degrees(abs(angle)):.1f} deg"
            for angle, word in (
                (here.pitch, "nose down" if here.pitch > 0 else "nose up"),
                (here.roll, "left side up" if here.roll > 0 else "right side up"),
            )
            if abs(angle) > _LEVEL
        ]
        said.append(f"Against how it was measured it stands {' and '.join(tilt) or 'level'}.")
        if usual is not None and usual.because is None and of is not study:
            said.append(_against_usual(study, here.heave - usual.heave))
    loading = of.loading
    if loading is not None and isinstance(loading.coupling, CouplingShare):
        share = loading.coupling
        said.append(
            f"On the coupling: {say(share.pitched, 'mass')} as it stands, {100 * share.pitched_share:.1f} % of the "
            "whole; 10 to 15 % is usual. Reads _______ kg."
        )
    if loading is not None and isinstance(loading.tipping, Tipping):
        said.append(_tips(loading.tipping))
    return said


def _tips(tipping: Tipping) -> str:
    """Where it tips, and half of the slope that it surely stands."""
    ends, slopes = tipping.ends, tipping.slope_ends
    low = math.degrees(slopes[0])
    if ends[0] == ends[1]:
        share, slope = f"{ends[0]:.2f}", f"{math.floor(low)} deg"
    else:
        share, slope = say_between(*ends, "ratio"), say_between(*slopes, "angle")
    return (
        f"It tips sideways at {share} g or on a slope of {slope}: use {math.floor(0.5 * low)} deg at most. Over its "
        f"front wheels at {tipping.over_front:.2f} g, over its rear wheels at {tipping.over_rear:.2f} g."
    )


def _against_usual(study: Study, rise: float) -> str:
    if abs(rise) < 5e-4:
        return "Its middle stands as high as with the usual load."
    way = "higher" if rise > 0 else "lower"
    return f"Its middle stands {say(float(np.abs(rise)), 'length')} {way} than with '{study.load_set}'."
