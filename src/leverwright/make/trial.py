"""The cardboard trial: cut the lever from card, pin it to a board, and read the string."""

from __future__ import annotations

from itertools import combinations
from math import dist

from leverwright.make.board import board_figure
from leverwright.make.choices import Choices, Paper
from leverwright.make.flow import Block, flow, heading, lines, numbered, space, table
from leverwright.make.frame import Area, Head, Page, bind, drawing_area, reading_area
from leverwright.make.numbers import in_millimetres, millimetres
from leverwright.make.pen import PAPER_SIZES
from leverwright.make.plates import flat_parts
from leverwright.make.reading import Column
from leverwright.make.templates import chosen_scale
from leverwright.make.tile_page import TileContent, tile_page, tile_room
from leverwright.make.tiles import tiles_of
from leverwright.make.trial_readings import Board, Mark, SpringTrial, Trial, trial_of
from leverwright.quantity import say_inches
from leverwright.study import Study

__all__ = ["WITHIN", "trial_pdf"]

_MM = 1e-3
_SHEET = "Cardboard trial"
# Card, pins and string are good to this; more is a hole in the wrong place (common practice).
WITHIN = 2 * _MM  # m
# A string in the lever's plane reads like the spring itself when they differ by less than a tape shows.
_SAME_READING = 0.5 * _MM

_STEPS = (
    (
        "Print the templates and these boards at 100 % and check the bars. Stick the lever's template on stiff "
        "card, cut it out, and prick every hole with a drawing pin."
    ),
    (
        "Join the sheets of the board mark on mark, lay them on plywood, and pin the lever at its PIVOT. If it "
        "lies the wrong way round, turn it over."
    ),
    "Tie a thin string to the lever's SPRING hole and lead it to the PIN of its far end.",
    (
        "Lay the lever's LINK hole on BUMP, then RIDE, then DROOP. Each time pull the string straight, mark it at "
        "the pin, measure from the spring hole, and write it down."
    ),
    (
        "All three within 2 mm: mark the steel. Else find out why first: the print scaled, a wrong hole, the lever "
        "turned over, or a figure typed wrong."
    ),
)
# Where a moving body carries the pivot or the far end of the spring.
_STEPS_OF_MOVING = (
    _STEPS[0],
    (
        "Join the sheets of the board mark on mark and lay them on plywood. What a moving body carries has three "
        "marks, BUMP, RIDE and DROOP. If the lever lies the wrong way round, turn it over."
    ),
    "Tie a thin string to the lever's SPRING hole.",
    (
        "For BUMP, then RIDE, then DROOP: pin the lever's PIVOT and its LINK hole on the marks of that name, lead the "
        "string to the string's far end, pull it straight, measure from the spring hole, and write it down."
    ),
    _STEPS[4],
)
_ON_VEHICLE = (
    "On the vehicle the same figures hold eye to eye, with the spring off and the wheel held at each height: with a "
    "flat bar or a string in the spring's place. Chock the wheels; nobody under a vehicle that only a jack holds."
)

_SIDE_WORDS = (
    "Pin the arm, the lever and the link together with drawing pins, push the wheel's centre to each mark, and read "
    "the string. Drawn as seen with + x to the right (or + y, in a drawing from the front)."
)


def trial_pdf(study: Study, paper: Paper, choices: Choices) -> bytes:
    """The card with the readings, then the boards at true scale."""
    trial = trial_of(study)
    title = study.project.title
    area = reading_area(PAPER_SIZES[paper])
    head = Head(_SHEET, "Cardboard trial before steel", title)
    pages = flow(_card_blocks(study, trial, area.size[0]), head, area)
    for one in trial.springs:
        if one.board is not None:
            pages += _board_pages(title, one, one.board, drawing_area(PAPER_SIZES[paper]), len(pages) + 1)
    return bind(pages, paper, f"{_SHEET}: {title}", chosen_scale(choices), choices.stops)


# --- the card ---------------------------------------------------------------------------------------------


def _card_blocks(study: Study, trial: Trial, width: float) -> list[Block]:
    blocks = [lines([_what_it_proves(trial)], width)] if trial.springs else []
    for one in trial.springs:
        blocks += [space(1 * _MM), *_spring_blocks(one, width)]
    if trial.missing:
        blocks += [heading("No readings", width), *(lines([sentence], width) for sentence in trial.missing)]
    if not trial.springs and not trial.missing:
        blocks.append(
            lines(["This vehicle has no spring between two points: there is no length to read."], width)
        )
    blocks += _how(trial, width)
    if trial.springs:
        blocks.append(lines([_ON_VEHICLE], width))
    if trial.side:
        blocks += [space(2 * _MM), *_side_blocks(study, trial.side, width)]
    return blocks


def _how(trial: Trial, width: float) -> list[Block]:
    """The steps on the board, for levers on the chassis and for levers that something moving carries."""
    boards = [one.board for one in trial.springs if one.board is not None]
    moving = [board for board in boards if board.pivot_moves or board.eye_moves]
    blocks = []
    if len(moving) < len(boards):
        blocks += [space(2 * _MM), heading("How", width), numbered(_STEPS, width)]
    if moving:
        names = ", ".join(board.part.names[0] for board in moving)
        blocks += [space(2 * _MM), heading(f"How, for {names}", width), numbered(_STEPS_OF_MOVING, width)]
    return blocks


def _side_blocks(study: Study, side: tuple[Mark, ...], width: float) -> list[Block]:
    """The whole linkage on one board, set out by rule: for a drawing that is flat anyway."""
    columns = [
        Column("", 24 * _MM),
        Column("where", width - 76 * _MM, strong=True),
        Column("to the right\nmm", 26 * _MM, "right", figure=True),
        Column("up\nmm", 26 * _MM, "right", figure=True),
    ]
    rows = [
        ["pin" if mark.pin else "wheel mark", mark.words, millimetres(mark.at[0]), millimetres(mark.at[1])]
        for mark in side
    ]
    return [
        heading("Or the whole side, set out on a board by rule and square", width),
        *table(columns, rows, stays=True),
        lines([f"Strips of card, hole to hole, mm: {_strips(study)}.", _SIDE_WORDS], width),
    ]


def _strips(study: Study) -> str:
    """Every moving part's hole distances in one line."""
    found = flat_parts(study.project)
    parts = []
    for part in found.parts:
        pairs = [
            f"{a.points[0]} to {b.points[0]} {millimetres(dist(a.at, b.at))}"
            for a, b in combinations(part.holes, 2)
        ]
        parts.append(f"{part.names[0]}: {', '.join(pairs)}")
    for one in found.left_out:
        pairs = [f"{span.first} to {span.last} {millimetres(span.length)}" for span in one.spans]
        parts.append(f"{one.name}: {', '.join(pairs)}")
    return "; ".join(parts)


def _what_it_proves(trial: Trial) -> str:
    ride = (
        "Ride is where it stands under the usual load."
        if trial.standing
        else "Ride is the set-up pose where no standing position is known."
    )
    within = in_millimetres(WITHIN, 0)
    return (
        f"A morning of card saves a day of steel: each spring must read three lengths within {within}. {ride}"
    )


def _spring_blocks(one: SpringTrial, width: float) -> list[Block]:
    """Heading, table of the three readings with blanks, and what differs on the board."""
    columns = [
        Column("", 22 * _MM, strong=True),
        Column("wheel at\nmm", 22 * _MM, "right", figure=True),
        Column("eye to eye\nmm", 26 * _MM, "right", figure=True),
        Column("\ninch", 42 * _MM, small=True),
        Column("string on board\nmm", 28 * _MM, "right", figure=True),
        Column("it reads\nmm", width - 158 * _MM, "right"),
        Column("within 2", 18 * _MM, "middle", tick=True, small=True),
    ]
    reads = one.board.reads if one.board else (None,) * len(one.readings)
    rows = [
        [
            reading.place,
            _signed(reading.travel),
            millimetres(reading.length),
            say_inches(reading.length),
            "on vehicle" if read is None else millimetres(read),
            "__________",
            "",
        ]
        for reading, read in zip(one.readings, reads, strict=True)
    ]
    blocks = [heading(" + ".join(one.names), width), *table(columns, rows)]
    blocks.append(lines([_where_to_read(one)], width))
    return blocks


def _where_to_read(one: SpringTrial) -> str:
    ends = f"From {one.ends[0]} to {one.ends[1]}."
    board = one.board
    if board is None:
        return f"{ends} No board: {one.no_board}. Read it on the vehicle, at the three wheel heights above."
    worst = max(abs(read - reading.length) for read, reading in zip(board.reads, one.readings, strict=True))
    if worst > _SAME_READING:
        return (
            f"{ends} The eye stands {in_millimetres(board.off_plane)} out of the lever's plane: "
            "on the flat board the string reads shorter, as printed."
        )
    return ends


def _signed(travel: float) -> str:
    words = millimetres(travel)
    return f"+{words}" if float(words) > 0 else words


# --- boards -----------------------------------------------------------------------------------------------


def _board_pages(title: str, one: SpringTrial, board: Board, area: Area, first: int) -> list[Page]:
    room = tile_room(area)
    figure = board_figure(board, room)
    words = [
        "Pin the card lever at its pivot, lay its link hole on each mark, and pull the string from its spring hole."
        if not (board.pivot_moves or board.eye_moves)
        else "At each of the three places pin the card lever at pivot and link hole, and pull the string from its "
        "spring hole.",
        "Thin lines: lever and string where it rides; grey dots: the spring hole. Each reading within 2 mm.",
    ]
    sheet = "Trial board, true scale"
    subject = f"Board: {board.part.names[0]}, {one.names[0]}"
    return [
        tile_page(TileContent(Head(sheet, subject, title), words, figure, tile), area, first)
        for tile in tiles_of((figure.width, figure.height), room)
    ]
