"""The measuring cards: the page's cards of weighing, riding, squashing and taping, with blanks for a pencil.

What the file knows already stands beside the blanks, so that a second measuring is checked against the first.
"""

from __future__ import annotations

from collections.abc import Sequence

from leverwright.make.choices import Paper
from leverwright.make.flow import Block, flow, heading, lines, numbered, points, space, table
from leverwright.make.frame import Area, Head, Page, bind, reading_area
from leverwright.make.measuring_words import (
    PLANK_STEPS,
    RIDE_CAUTIONS,
    RIDE_STEPS,
    SCALE_CAUTIONS,
    SCALE_STEPS,
    SQUASH_CAUTIONS,
    SQUASH_STEPS,
    TAPE_CAUTIONS,
    TAPE_STEPS,
    TILT_STEPS,
)
from leverwright.make.outline import Spot
from leverwright.make.pen import PAPER_SIZES, Pen
from leverwright.make.pictures import PICTURE_SHAPE, draw_picture
from leverwright.make.reading import Column
from leverwright.project import Sketch
from leverwright.quantity import Kind, Quantity, say

__all__ = ["measuring_pdf"]

_MM = 1e-3
_SHEET = "Measuring card"
_BLANK = "________"
_PICTURE = 62 * _MM  # width of a task's drawing
_MARKS = (0, 10, 20, 30, 40, 50)  # mm squashed; 25 mm of stroke is the least that tells a rate
_DOTS = ("dot-a-left", "dot-b-left", "dot-c-left", "dot-d-left")
_FLAT_DOTS = ("dot-a", "dot-b", "dot-c", "dot-d")
_MORE_MASSES, _MORE_SHOCKS = 3, 1  # blank rows and pages beyond what the file has
_BAND = ("FILL IN BY PENCIL", "Then type it in. Nothing on this sheet is to scale.")
_UNIT = "Millimetres and kilograms, unless you write another unit beside a figure. Write what you read."


def measuring_pdf(vehicle: Sketch, paper: Paper) -> bytes:
    """Weigh, who rides, a page a shock, and the tapes; blanks where a figure is to be written."""
    area = reading_area(PAPER_SIZES[paper])
    width = area.size[0]
    cards = [
        ("Stand it on the scale", _scale(vehicle, width)),
        ("Who rides", _ride(vehicle, width)),
        *((f"Squash a shock: {name}", _squash(vehicle, name, width)) for name in _shocks(vehicle)),
        ("Hold the tape here", _tape(vehicle, width)),
    ]
    pages = [page for subject, blocks in cards for page in _pages(vehicle, subject, blocks, area)]
    return bind(pages, paper, f"{_SHEET}s: {vehicle.title}")


def _pages(vehicle: Sketch, subject: str, blocks: list[Block], area: Area) -> list[Page]:
    return flow(blocks, Head(_SHEET, subject, vehicle.title, _BAND), area)


def _task(picture: str, steps: Sequence[str], width: float) -> Block:
    """The drawing of a task with its steps beside it."""
    room = width - _PICTURE - 5 * _MM
    words = numbered(steps, room)
    tall = _PICTURE * PICTURE_SHAPE[1] / PICTURE_SHAPE[0]

    def draw(pen: Pen, at: Spot) -> None:
        draw_picture(pen, picture, at, _PICTURE)
        words.draw(pen, (at[0] + _PICTURE + 5 * _MM, at[1]))

    return Block(max(tall, words.height), draw)


def _care(cautions: Sequence[str], width: float) -> list[Block]:
    return [heading("Take care", width), points(cautions, width)]


def _figure(quantity: Quantity | None, kind: Kind) -> str:
    """What the file says, or a dash."""
    return "-" if quantity is None else say(quantity.value, kind)


# --- scale ------------------------------------------------------------------------------------------------


def _scale(vehicle: Sketch, width: float) -> list[Block]:
    readings = [Column(word, 26 * _MM, "middle") for word in ("1st\nkg", "2nd\nkg", "3rd\nkg")]
    honest = [
        Column("is the scale honest?", width - 104 * _MM, strong=True),
        *readings,
        Column("should be\nkg", 26 * _MM, "middle"),
    ]
    wheel = [
        Column("wheel", width - 160 * _MM, strong=True),
        *readings,
        Column("stood higher by\nmm, or 0", 28 * _MM, "middle"),
        Column("without it, hung\nunsprung, kg", 28 * _MM, "middle"),
        Column("in the file\nload", 26 * _MM, "right"),
    ]
    blank = [_BLANK] * 3
    rows = [
        [name, *blank, _BLANK, _BLANK, _figure(each.load, "mass")] for name, each in vehicle.wheels.items()
    ]
    return [
        _task("scale", SCALE_STEPS, width),
        *table(
            honest,
            [
                ["nothing on it", *blank, "0"],
                ["a known weight (two full 10 l cans: 20)", *blank, _BLANK],
                ["you", *blank, "-"],
                ["you with the known weight", *blank, "the two together"],
            ],
        ),
        *table(wheel, [*rows, ["all together", *blank, "-", "-", _total(vehicle)]]),
        heading("Over the scale's limit: a plank takes a share", width),
        _task("plank", PLANK_STEPS, width),
        *table(
            [
                Column("wheel", width - 136 * _MM, strong=True),
                Column("bar to wheel\nmm, 300 or more", 34 * _MM, "middle"),
                Column("bar to scale\nmm", 34 * _MM, "middle"),
                Column("plank alone\nkg", 34 * _MM, "middle"),
                Column("with the wheel\nkg", 34 * _MM, "middle"),
            ],
            [["", *[_BLANK] * 4], ["", *[_BLANK] * 4]],
        ),
        heading("How high is the centre of gravity?", width),
        _task("tilt", TILT_STEPS, width),
        *table(
            [
                Column("end lifted", width - 144 * _MM, strong=True),
                Column("by\nmm", 36 * _MM, "middle"),
                Column("other end, level\nkg", 36 * _MM, "middle"),
                Column("other end, lifted\nkg", 36 * _MM, "middle"),
                Column("springs blocked", 36 * _MM, "middle", tick=True, small=True),
            ],
            [["front / rear", _BLANK, _BLANK, _BLANK, ""]],
        ),
        *_care(SCALE_CAUTIONS, width),
        lines([_UNIT], width),
    ]


def _total(vehicle: Sketch) -> str:
    return "-" if vehicle.scale is None else _figure(vehicle.scale.total, "mass")


# --- who rides --------------------------------------------------------------------------------------------


def _ride(vehicle: Sketch, width: float) -> list[Block]:
    sets = list(vehicle.loads) or ["empty", "usual", "heavy"]
    shown = sets[:3]
    columns = [
        Column("what weighs", width - 96 * _MM - 20 * _MM * len(shown), strong=True),
        Column("weighs\nkg", 24 * _MM, "middle"),
        Column("ahead\nmm", 24 * _MM, "middle"),
        Column("to the left\nmm", 24 * _MM, "middle"),
        Column("up\nmm", 24 * _MM, "middle"),
        *(Column(name, 20 * _MM, "middle", tick=True, small=True) for name in shown),
    ]
    known = list(vehicle.masses) or ["frame with wheels", "rider", "cargo"]
    ticks = [""] * len(shown)
    rows = [[name, *[_BLANK] * 4, *ticks] for name in [*known, *[""] * _MORE_MASSES]]
    blocks = [_task("ride", RIDE_STEPS, width), *table(columns, rows)]
    if vehicle.masses:
        said = "; ".join(
            f"{name} {say(each.mass.value, 'mass')} at {', '.join(f'{1e3 * x:.0f}' for x in each.at)}"
            for name, each in vehicle.masses.items()
        )
        blocks.append(lines([f"In the file (ahead, left, up in mm): {said}."], width))
    if len(sets) > len(shown):
        blocks.append(lines([f"More load sets of the file: {', '.join(sets[len(shown) :])}."], width))
    return [*blocks, *_care(RIDE_CAUTIONS, width)]


# --- shocks -----------------------------------------------------------------------------------------------


def _shocks(vehicle: Sketch) -> list[str]:
    """Shocks of the pile, else of the vehicle, and a blank one."""
    return [*(vehicle.pile or vehicle.shocks), *["________"] * _MORE_SHOCKS]


def _squash(vehicle: Sketch, name: str, width: float) -> list[Block]:
    owned = vehicle.pile.get(name) or vehicle.shocks.get(name)
    first = [
        Column("look first", width - 144 * _MM, strong=True),
        *(
            Column(word, 24 * _MM, "middle", tick=True, small=True)
            for word in ("dry or a film", "oil runs", "rod straight", "rod pitted", "rod bent", "eyes round")
        ),
    ]
    length = [
        Column("eye to eye", width - 72 * _MM, strong=True),
        Column("reads\nmm", 36 * _MM, "middle"),
        Column("in the file", 36 * _MM, "right"),
    ]
    marks = [
        Column("squashed by", width - 108 * _MM, strong=True, figure=True),
        Column("going in\nkg", 36 * _MM, "middle"),
        Column("coming out\nkg", 36 * _MM, "middle"),
        Column("again, going in\nkg", 36 * _MM, "middle"),
    ]
    lengths = (("length_open", "fully open"), ("length_closed", "fully closed, coil off"))
    return [
        _task("squash", SQUASH_STEPS, width),
        *table(first, [[name, "", "", "", "", "", ""]]),
        *table(
            length,
            [
                [word, _BLANK, "-" if owned is None else _figure(getattr(owned, key), "length")]
                for key, word in lengths
            ],
        ),
        *table(marks, [[f"{mark} mm", *[_BLANK] * 3] for mark in _MARKS]),
        lines(
            [
                f"Let go from 30 mm: comes back by {_BLANK} mm in {_BLANK} s.",
                f"Coil off, rod alone pushed to half its stroke: {_BLANK} kg.   Air: {_BLANK} °C.",
                f"Wire, bare of paint: {_BLANK} mm.   Coil outside: {_BLANK} mm.   Turns that move: {_BLANK}.",
            ],
            width,
        ),
        space(1 * _MM),
        *_care(SQUASH_CAUTIONS, width),
    ]


# --- tapes ------------------------------------------------------------------------------------------------


def _tape(vehicle: Sketch, width: float) -> list[Block]:
    taken = _taken(vehicle)
    return [
        _task("tape", TAPE_STEPS, width),
        *_care(TAPE_CAUTIONS, width),
        *(_again(taken, width) if taken else _afresh(vehicle, width)),
        lines([f"Wood between axle and frame, which holds the pose: {_BLANK} mm.", _UNIT], width),
    ]


_TAPE_WORDS = {
    "height": "{0}, above the floor",
    "offset": "{0}, out from the centre line",
    "ahead": "from {0} ahead to {1}, along the floor",
    "between": "{0} to {1}",
    "along": "along {0} to {1}, where {2} is",
}


def _taken(vehicle: Sketch) -> list[tuple[str, str]]:
    """The file's own tapes in words, and what each reads."""
    return [
        (
            _TAPE_WORDS[tape.kind].format(*tape.points),
            ", ".join(f"{1e3 * read.value:g}" for read in tape.reads),
        )
        for tape in vehicle.tape.values()
        if tape.kind in _TAPE_WORDS
    ]


def _again(taken: list[tuple[str, str]], width: float) -> list[Block]:
    columns = [
        Column("what to measure", width - 104 * _MM, strong=True),
        Column("reads\nmm", 26 * _MM, "middle"),
        Column("again\nmm", 26 * _MM, "middle"),
        Column("in the file\nmm", 26 * _MM, "right"),
        Column("both agree", 26 * _MM, "middle", tick=True, small=True),
    ]
    return table(columns, [[words, _BLANK, _BLANK, known, ""] for words, known in taken])


def _afresh(vehicle: Sketch, width: float) -> list[Block]:
    """Distances between four witness dots and their heights, then four tapes to each place, a row each."""
    dots = _FLAT_DOTS if vehicle.plane else _DOTS
    places = [name for name, point in vehicle.points.items() if point.twin_of is None and name not in dots]
    blanks = [Column(f"to {dot}\nmm", 29 * _MM, "middle") for dot in dots]
    first = [
        Column("between the dots", width - 29 * _MM * 4, strong=True),
        *blanks[1:],
        Column("above the floor\nmm", 29 * _MM, "middle"),
    ]
    rows = [
        [dot, *(_BLANK if other > k else "" for other in range(1, len(dots))), _BLANK]
        for k, dot in enumerate(dots)
    ]
    each = [Column("four tapes to each place", width - 29 * _MM * 4, strong=True), *blanks]
    return [*table(first, rows), *table(each, [[place, *[_BLANK] * 4] for place in places])]
