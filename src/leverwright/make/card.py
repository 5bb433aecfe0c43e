"""The drilling card: every hole from one datum edge and end, in order, with what repeats."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from math import ceil, dist

from leverwright.make.cautions import CAUTIONS
from leverwright.make.choices import Choices, Paper
from leverwright.make.drills import lever_shift, nearest_inch, nearest_metric, say_shift
from leverwright.make.figure import plate_sketch
from leverwright.make.flow import Block, flow, heading, lines, numbered, points, space, table
from leverwright.make.frame import Area, Head, Page, bind, reading_area
from leverwright.make.left_out import left_out_blocks
from leverwright.make.numbers import millimetres
from leverwright.make.outline import Spot
from leverwright.make.parts import Hole, Part
from leverwright.make.pen import PAPER_SIZES, Pen
from leverwright.make.plates import Parts, flat_parts
from leverwright.make.reading import (
    LEADING,
    TEXT,
    Column,
    draw_heading,
    draw_lines,
)
from leverwright.make.settings import Setting, end_stops, fences
from leverwright.make.templates import outline_words
from leverwright.project import Project
from leverwright.quantity import fixed, say_mark

__all__ = ["card_pdf"]

_MM = 1e-3
_SHEET = "Drilling card"
_BLANK = "_______"
_SKETCH_SHARE = 0.3  # of the height of the page
_CHECKS = 15  # centre distances on a card

_HOLE_COLUMNS = (
    Column("No.", 8 * _MM, strong=True),
    Column("hole", 27 * _MM),
    Column("from END\nmm", 17 * _MM, "right", figure=True),
    Column("\ninch", 37 * _MM, small=True),
    Column("from EDGE\nmm", 17 * _MM, "right", figure=True),
    Column("\ninch", 37 * _MM, small=True),
    Column("drill Ø\nmm", 19 * _MM, "right", figure=True),
    Column("punch", 8 * _MM, "middle", tick=True, small=True),
    Column("pilot", 8 * _MM, "middle", tick=True, small=True),
    Column("drill", 8 * _MM, "middle", tick=True, small=True),
)
_STEPS = (
    (
        "Prick-punch every centre through the template, or mark it from the table: both distances always from the "
        "datum, never from hole to hole. Look at it, then centre-punch it."
    ),
    "Hole 1 first, the pivot: 3 mm pilot, then the final drill. Put a snug pin through it.",
    (
        "Then the others, in the order of the table: 3 mm pilot, then the final drill. Where a setting repeats, "
        "leave the fence and the end stop where they are."
    ),
    "Check centre to centre. Then saw and file to the outline, and take the burr off both faces.",
    (
        "After welding, ream the pivot: weld heat closes a sleeve. At a pivot the hole is 0.1 to 0.2 mm over the pin "
        "at most (common practice); take bushes out before heat."
    ),
)
_LINK_WORDS = (
    "Both holes of a link stand on its middle line: one fence setting. With its ends cut square and the strip turned "
    "end for end against the stop, one stop setting drills both."
)


def card_pdf(project: Project, paper: Paper, choices: Choices) -> bytes:
    """Plates first, one to a page; then links, settings that repeat, cautions, and what is left out."""
    found = flat_parts(project, choices)
    area = reading_area(PAPER_SIZES[paper])
    pages = [
        page for part in found.parts if part.kind == "plate" for page in _plate_pages(project, part, area)
    ]
    width = area.size[0]
    links = [part for part in found.parts if part.kind == "link"]
    blocks = [
        *_link_blocks(links, width),
        *_shared_blocks(found, width),
        space(3 * _MM),
        *left_out_blocks(found.left_out, width),
        space(3 * _MM),
        heading("Take care", width),
        points(CAUTIONS, width),
    ]
    subject = "Links, and settings that repeat" if links else "Settings that repeat"
    pages += flow(blocks, Head(_SHEET, subject, project.title), area)
    return bind(pages, paper, f"{_SHEET}: {project.title}", stops=choices.stops)


# --- plates -----------------------------------------------------------------------------------------------


def _plate_pages(project: Project, part: Part, area: Area) -> list[Page]:
    """What to cut, a sketch with its settings, the holes, what to check, and the order of work."""
    width = area.size[0]
    words = _drill_words(part)
    blocks = [
        lines(_start_words(part), width),
        _sketch_block(part, (width, _SKETCH_SHARE * area.size[1])),
        *table(_columns(width), [_hole_row(hole) for hole in part.holes]),
        *([lines(words, width)] if words else []),
        space(1.5 * _MM),
        heading("Check centre to centre, mm", width),
        _checks_block(part, width),
        heading("Order of work", width),
        numbered((_stack_step(part), *_STEPS), width),
    ]
    return flow(blocks, Head(_SHEET, " + ".join(part.names), project.title), area)


def _sketch_block(part: Part, size: Spot) -> Block:
    """The sketch on the left, its settings of fence and stop on the right."""
    room = (0.6 * size[0], size[1])
    sketch = plate_sketch(part, room)
    height = max(sketch.height, _side_height(part))

    def draw(pen: Pen, at: Spot) -> None:
        sketch.draw(pen, (at[0] + (room[0] - sketch.width) / 2, at[1] - sketch.height))
        left = at[0] + room[0] + 4 * _MM
        _draw_side(pen, part, (left, at[1]), at[0] + size[0] - left)

    return Block(height, draw, gap=1 * _MM)


def _columns(width: float) -> list[Column]:
    """The columns, the hole's name taking what the paper is wider."""
    spare = width - sum(column.width for column in _HOLE_COLUMNS)
    columns = list(_HOLE_COLUMNS)
    columns[1] = Column(columns[1].head, columns[1].width + spare, strong=True)
    return columns


def _hole_row(hole: Hole) -> list[str]:
    diameter = _BLANK if hole.diameter is None else millimetres(hole.diameter)
    return [
        str(hole.number),
        f"{hole.role}\n{hole.name}",
        millimetres(hole.along),
        say_mark(hole.along),
        millimetres(hole.up),
        say_mark(hole.up),
        diameter,
        "",
        "",
        "",
    ]


def _start_words(part: Part) -> list[str]:
    many = len(part.names)
    blank = f"{millimetres(part.length, 0)} × {millimetres(part.height, 0)} mm"
    return [
        (
            f"Cut {many} ({2 * many} where the lever has two cheeks) from blanks {blank}, thickness ______ mm. "
            f"{part.seen.capitalize()}."
        ),
        outline_words(part),
        *part.notes,
    ]


def _side_height(part: Part) -> float:
    return LEADING * (len(fences((part,))) + len(end_stops((part,)))) + 22 * _MM


def _draw_side(pen: Pen, part: Part, at: Spot, width: float) -> None:
    """Beside the sketch: settings of fence and stop."""
    y = draw_heading(pen, "Fence, from datum edge", (at[0], at[1] - 4 * _MM), width)
    y = draw_lines(pen, [_setting_words(setting) for setting in fences((part,))], (at[0], y), width)
    y = draw_heading(pen, "Stop, from datum end", (at[0], y - 2.5 * _MM), width)
    draw_lines(pen, [_setting_words(setting) for setting in end_stops((part,))], (at[0], y), width)


def _checks_block(part: Part, width: float) -> Block:
    """Every centre distance with a blank for what it reads, three to a line."""
    pairs = list(combinations(part.holes, 2))[:_CHECKS]
    row = LEADING + 1 * _MM

    def draw(pen: Pen, at: Spot) -> None:
        for k, (a, b) in enumerate(pairs):
            x, y = at[0] + (k % 3) * width / 3, at[1] - 3.6 * _MM - (k // 3) * row
            pen.text((x, y), f"{a.number} to {b.number}:", TEXT)
            pen.text((x + 13 * _MM, y), millimetres(dist(a.at, b.at)), TEXT, "Bold")
            pen.text((x + 27 * _MM, y), "reads _________", TEXT)

    return Block(row * ceil(len(pairs) / 3), draw, gap=2.5 * _MM)


def _setting_words(setting: Setting) -> str:
    numbers = ", ".join(str(number) for _, number in setting.holes)
    many = len(setting.holes) > 1
    return f"{millimetres(setting.distance)} mm: hole{'s' if many else ''} {numbers}{' (one setting)' if many else ''}"


def _drill_words(part: Part) -> list[str]:
    """Stock drills for each stated diameter, and what marking in inches does to the lever."""
    lines = []
    for diameter in sorted({hole.diameter for hole in part.holes if hole.diameter is not None}):
        numbers = ", ".join(str(hole.number) for hole in part.holes if hole.diameter == diameter)
        metric, inch = nearest_metric(diameter), nearest_inch(diameter)
        lines.append(
            f"Ø {millimetres(diameter, 2)} mm (hole {numbers}): stock drill {metric.name}, {say_shift(metric)}; "
            f"in inches {inch.name}, {say_shift(inch)}."
        )
    if part.assumed_edge:
        lines.append(
            "No drill is printed where no hole size is stated: fill it in from the pin or bush in your hand."
        )
    shift = lever_shift(part)
    if shift is not None:
        percent = fixed(100 * shift.change, 1)
        lines.append(
            f"Spring arm over link arm is {fixed(shift.exact, 3)}. Marked to the nearest 1/32 in it is "
            f"{fixed(shift.marked, 3)} ({percent} %)."
        )
    return lines


def _stack_step(part: Part) -> str:
    if len(part.names) > 1:
        return (
            f"Clamp the blanks for {' and '.join(part.names)} together, flush at datum edge and datum end, so that "
            "they cannot shift: they are drilled as one. Stick the template on the top one with spray glue."
        )
    return "Make the datum edge and the datum end straight and square. Stick the template on with spray glue."


# --- links ------------------------------------------------------------------------------------------------


def _link_blocks(links: list[Part], width: float) -> list[Block]:
    if not links:
        return []
    columns = [
        Column("link", width - 142 * _MM, strong=True),
        Column("cut", 9 * _MM, "right"),
        Column("hole to hole\nmm", 22 * _MM, "right", figure=True),
        Column("\ninch", 38 * _MM, small=True),
        Column("blank\nmm", 24 * _MM, "right"),
        Column("from END\nmm", 19 * _MM, "right", figure=True),
        Column("drill Ø\nmm", 30 * _MM, "right", figure=True),
    ]
    said: dict[str, list[str]] = {}
    for part in links:
        for note in part.notes:
            said.setdefault(note, []).append(part.names[0])
    return [
        *table(columns, [_link_row(part) for part in links]),
        lines([_LINK_WORDS], width),
        *(lines([f"{', '.join(names)}: {note}"], width) for note, names in said.items()),
    ]


def _link_row(part: Part) -> list[str]:
    first, last = part.holes
    length = last.along - first.along
    diameters = ["_____" if hole.diameter is None else millimetres(hole.diameter) for hole in part.holes]
    same = diameters[0] == diameters[1] and first.diameter is not None
    return [
        f"{' + '.join(part.names)}\n{'setting gauge' if part.gauge else 'flat link'}",
        str(len(part.names)),
        millimetres(length),
        say_mark(length),
        f"{millimetres(part.length, 0)} × {millimetres(part.height, 0)}",
        millimetres(first.along),
        diameters[0] if same else " / ".join(diameters),
    ]


# --- what all parts share ---------------------------------------------------------------------------------


def _shared_blocks(found: Parts, width: float) -> list[Block]:
    """Settings that repeat from hole to hole and from part to part."""
    repeated = [_shared_row("fence", setting) for setting in fences(found.parts) if len(setting.holes) > 1]
    repeated += [
        _shared_row("end stop", setting) for setting in end_stops(found.parts) if len(setting.holes) > 1
    ]
    if not repeated:
        return [lines(["No setting of fence or end stop repeats."], width)] if found.parts else []
    columns = [
        Column("set", 20 * _MM, strong=True),
        Column("mm", 19 * _MM, "right", figure=True),
        Column("inch", 38 * _MM, small=True),
        Column("drills these holes without resetting (left and right clamped together)", width - 77 * _MM),
    ]
    return [space(2 * _MM), heading("Fence and stop settings that repeat", width), *table(columns, repeated)]


def _shared_row(what: str, setting: Setting) -> Sequence[str]:
    by_part: dict[str, list[str]] = {}
    for name, number in setting.holes:
        by_part.setdefault(name, []).append(str(number))
    holes = ";  ".join(f"{name} {', '.join(numbers)}" for name, numbers in by_part.items())
    return [what, millimetres(setting.distance), say_mark(setting.distance), holes]
