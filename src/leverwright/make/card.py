"""The drilling card: every hole from one datum edge and end, in order, with what repeats."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import combinations
from math import dist

from leverwright.make.cautions import CAUTIONS
from leverwright.make.choices import Choices, Paper
from leverwright.make.drills import lever_shift, nearest_inch, nearest_metric, say_shift
from leverwright.make.figure import plate_sketch
from leverwright.make.flow import Block, flow, heading, lines, points, space, table
from leverwright.make.frame import Area, Head, Page, bind, reading_area
from leverwright.make.left_out import left_out_blocks
from leverwright.make.numbers import millimetres
from leverwright.make.outline import Spot
from leverwright.make.parts import Hole, Part
from leverwright.make.pen import PAPER_SIZES, Pen
from leverwright.make.plates import Parts, flat_parts
from leverwright.make.reading import (
    LEADING,
    ROW,
    TEXT,
    Column,
    draw_heading,
    draw_lines,
    draw_list,
    draw_table,
)
from leverwright.make.settings import Setting, end_stops, fences
from leverwright.make.templates import outline_words
from leverwright.project import Project
from leverwright.quantity import fixed, say_inches

__all__ = ["card_pdf"]

_MM = 1e-3
_SHEET = "Drilling card"
_BLANK = "_______"
_SKETCH = (112 * _MM, 70 * _MM)
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
    return bind(pages, paper, f"{_SHEET}: {project.title}")


# --- plates -----------------------------------------------------------------------------------------------


def _plate_pages(project: Project, part: Part, area: Area) -> list[Page]:
    """One page, and more where the holes do not fit on it."""
    head = Head(_SHEET, " + ".join(part.names), project.title)
    first_room = int((area.size[1] - _SKETCH[1] - 118 * _MM) / ROW)
    later_room = int((area.size[1] - 20 * _MM) / ROW)
    holes = list(part.holes)
    pages = [Page(head, true_scale=False, draw=_first_page(part, area, holes[:first_room]))]
    rest = holes[first_room:]
    while rest:
        pages.append(Page(head, true_scale=False, draw=_hole_page(area, rest[:later_room])))
        rest = rest[later_room:]
    return pages


def _first_page(part: Part, area: Area, holes: list[Hole]) -> Callable[[Pen], None]:
    def draw(pen: Pen) -> None:
        left, width = area.corner[0], area.size[0]
        y = draw_lines(pen, _start_words(part), (left, area.top - 4 * _MM), width)
        sketch = plate_sketch(part, _SKETCH)
        low = y + LEADING - 3 * _MM - sketch.height
        sketch.draw(pen, (left + (_SKETCH[0] - sketch.width) / 2, low))
        side = Area((left + _SKETCH[0] + 4 * _MM, low), (width - _SKETCH[0] - 4 * _MM, sketch.height))
        _draw_side(pen, part, side)
        y = draw_table(pen, _columns(width), [_hole_row(hole) for hole in holes], (left, low - 2 * _MM))
        y = draw_lines(pen, _drill_words(part), (left, y - 6 * _MM), width)
        y = _draw_checks(pen, part, (left, y - 3 * _MM), width)
        y = draw_heading(pen, "Order of work", (left, y - 2.5 * _MM), width)
        draw_list(pen, (_stack_step(part), *_STEPS), (left, y), width, numbered=True)

    return draw


def _hole_page(area: Area, holes: list[Hole]) -> Callable[[Pen], None]:
    def draw(pen: Pen) -> None:
        draw_table(
            pen, _columns(area.size[0]), [_hole_row(hole) for hole in holes], (area.corner[0], area.top)
        )

    return draw


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
        say_inches(hole.along),
        millimetres(hole.up),
        say_inches(hole.up),
        diameter,
        "",
        "",
        "",
    ]


def _start_words(part: Part) -> list[str]:
    many = len(part.names)
    return [
        (
            f"Cut {many}. Blank {millimetres(part.length, 0)} × {millimetres(part.height, 0)} mm, thickness ______ mm, "
            f"material ____________. {part.seen.capitalize()}."
        ),
        outline_words(part) + f" Make {2 * many} where the lever has two cheeks.",
        *part.notes,
    ]


def _draw_side(pen: Pen, part: Part, area: Area) -> None:
    """Beside the sketch: settings of fence and stop."""
    left, width = area.corner[0], area.size[0]
    y = draw_heading(pen, "Fence, from datum edge", (left, area.top - 4 * _MM), width)
    y = draw_lines(pen, [_setting_words(setting) for setting in fences((part,))], (left, y), width)
    y = draw_heading(pen, "Stop, from datum end", (left, y - 2.5 * _MM), width)
    draw_lines(pen, [_setting_words(setting) for setting in end_stops((part,))], (left, y), width)


def _draw_checks(pen: Pen, part: Part, at: Spot, width: float) -> float:
    """Every centre distance with a blank for what it reads, three to a line."""
    y = draw_heading(pen, "Check centre to centre, mm", at, width)
    pairs = list(combinations(part.holes, 2))[:_CHECKS]
    for k, (a, b) in enumerate(pairs):
        x = at[0] + (k % 3) * width / 3
        pen.text((x, y), f"{a.number} to {b.number}:", TEXT)
        pen.text((x + 13 * _MM, y), millimetres(dist(a.at, b.at)), TEXT, "Bold")
        pen.text((x + 27 * _MM, y), "reads _________", TEXT)
        if k % 3 == 2 or k == len(pairs) - 1:
            y -= LEADING + 1 * _MM
    return y


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
    notes = [f"{part.names[0]}: {note}" for part in links for note in part.notes]
    return [
        *table(columns, [_link_row(part) for part in links]),
        lines([_LINK_WORDS], width),
        *(lines([note], width) for note in notes),
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
        say_inches(length),
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
    return [what, millimetres(setting.distance), say_inches(setting.distance), holes]
