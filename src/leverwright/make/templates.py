"""True-scale templates of all flat parts, as a PDF to stick on steel."""

from __future__ import annotations

from itertools import combinations
from math import dist

from leverwright.make.choices import Choices, MakeError, Paper
from leverwright.make.figure import beside, link_figure, plate_figure
from leverwright.make.flow import flow, lines
from leverwright.make.frame import Area, Head, Page, bind, drawing_area, reading_area
from leverwright.make.left_out import left_out_blocks
from leverwright.make.numbers import millimetres
from leverwright.make.outline import Spot
from leverwright.make.parts import ASSUMED_EDGE, Part
from leverwright.make.pen import PAPER_SIZES, Pen, wrapped
from leverwright.make.plates import Parts, flat_parts
from leverwright.make.reading import LEADING, TEXT, draw_lines
from leverwright.make.scale import PrintScale, print_scale
from leverwright.make.tile_page import TileContent, tile_page, tile_room
from leverwright.make.tiles import OVERLAP, Figure, Tile, off_the_joins, tile_count, tiles_of
from leverwright.project import Project

__all__ = ["chosen_scale", "outline_words", "templates_pdf"]

_MM = 1e-3
_SHEET = "Template, true scale"
_GAP = 5 * _MM
_MOST_PAGES = 60
_CHECKS = 15  # pairs of holes listed


def templates_pdf(project: Project, paper: Paper, choices: Choices) -> bytes:
    """Plates first, one to a figure; then links side by side; then what has no template and why."""
    found = flat_parts(project, choices)
    area = drawing_area(PAPER_SIZES[paper])
    pages: list[Page] = []
    for part in found.parts:
        if part.kind == "plate":
            pages += _plate_pages(project, part, area, len(pages) + 1)
            _refuse_too_many(pages)
    for group in _link_groups(found, area):
        pages += _link_pages(project, group, area, len(pages) + 1)
        _refuse_too_many(pages)
    pages += _last_pages(project, found, paper, alone=not pages)
    return bind(pages, paper, f"Templates: {project.title}", chosen_scale(choices), choices.stops)


def chosen_scale(choices: Choices) -> PrintScale | None:
    """The correction that the stated readings of the bars ask for; None when none is stated or needed."""
    if choices.measured_across is None and choices.measured_up is None:
        return None
    across = choices.measured_across if choices.measured_across is not None else choices.measured_up
    assert across is not None
    return print_scale(across, choices.measured_up)


def _refuse_too_many(pages: list[Page]) -> None:
    if len(pages) > _MOST_PAGES:
        raise MakeError(
            found=f"more than {_MOST_PAGES} pages of templates",
            allowed=f"{_MOST_PAGES}",
            do="state smaller holes, or make the sheets from a file of one corner",
        )


def _last_pages(project: Project, found: Parts, paper: Paper, *, alone: bool) -> list[Page]:
    """What has no template; and when nothing has one, that."""
    area = reading_area(PAPER_SIZES[paper])
    blocks = left_out_blocks(found.left_out, area.size[0])
    if alone:
        blocks.insert(
            0, lines(["No part of this vehicle can be cut flat: no template is printed."], area.size[0])
        )
    return flow(blocks, Head("Templates", "What has no template", project.title), area)


# --- plates -----------------------------------------------------------------------------------------------


def _plate_pages(project: Project, part: Part, area: Area, first: int) -> list[Page]:
    room = tile_room(area)

    def lying(spare: Spot) -> Figure:
        return plate_figure(part, room, spare, turned=False)

    def turned(spare: Spot) -> Figure:
        return plate_figure(part, room, spare, turned=True)

    figures = [off_the_joins(lying, room), off_the_joins(turned, room)]
    figure = min(figures, key=lambda figure: tile_count((figure.width, figure.height), room))
    head = Head(_SHEET, " + ".join(part.names), project.title)

    def below(pen: Pen, top: float) -> None:
        _draw_hole_list(pen, part, Area(area.corner, (area.size[0], top - area.corner[1])))

    return [
        tile_page(TileContent(head, _plate_words(part, tile), figure, tile, below), area, first)
        for tile in tiles_of((figure.width, figure.height), room)
    ]


def _draw_hole_list(pen: Pen, part: Part, area: Area) -> None:
    """Notes, then centre distances, as far as there is room; the drilling card has all of it."""
    y = area.top - 6 * _MM
    for line in (*part.notes, centre_words(part)):
        pieces = wrapped(line, TEXT, area.size[0])
        if y - len(pieces) * LEADING < area.corner[1]:
            return
        y = draw_lines(pen, [line], (area.corner[0], y), area.size[0])


def centre_words(part: Part) -> str:
    """Every distance between two holes, to check with a rule or a caliper."""
    pairs = [
        f"{a.number} to {b.number} {millimetres(dist(a.at, b.at))}" for a, b in combinations(part.holes, 2)
    ]
    return f"Check centre to centre, mm: {', '.join(pairs[:_CHECKS])}."


def _plate_words(part: Part, tile: Tile) -> list[str]:
    """Above the drawing: how many, from what blank, how the outline was chosen."""
    many = len(part.names)
    stack = ", stacked and drilled as one" if many > 1 else ""
    words = [
        (
            f"Cut {many}{stack}. Blank {millimetres(part.length, 0)} × {millimetres(part.height, 0)} mm, "
            f"thickness ______ mm. {part.seen.capitalize()}."
        ),
        outline_words(part),
    ]
    if tile.columns * tile.rows > 1:
        words.append(
            f"Join the tiles first (overlap {millimetres(OVERLAP, 0)} mm), "
            "then check a distance across the join."
        )
    else:
        words.append(
            "Punch the centres through the paper, pivot first. Distances to the pivot matter; edges do not."
        )
    return words


def outline_words(part: Part) -> str:
    """How far the outline stands from the holes, and why."""
    if part.assumed_edge:
        return (
            f"Dashed outline is an ASSUMPTION, {millimetres(ASSUMED_EDGE, 0)} mm from hole centres: "
            "no hole size is stated. Write it in."
        )
    edges = sorted({millimetres(hole.edge, 0) for hole in part.holes}, key=float)
    return f"Outline {' and '.join(edges)} mm from hole centres, by hole size (common practice, not a strength check)."


# --- links ------------------------------------------------------------------------------------------------


def _link_groups(found: Parts, area: Area) -> list[list[Part]]:
    """Links in file order, as many side by side as a page is wide."""
    groups: list[list[Part]] = []
    used = 0.0
    for part in (part for part in found.parts if part.kind == "link"):
        width = link_figure(part).width
        if not groups or used + _GAP + width > area.size[0]:
            groups.append([])
            used = -_GAP
        groups[-1].append(part)
        used += _GAP + width
    return groups


def _link_pages(project: Project, group: list[Part], area: Area, first: int) -> list[Page]:
    room = tile_room(area)
    figure = off_the_joins(lambda spare: beside([link_figure(part, spare[1]) for part in group], _GAP), room)
    head = Head(_SHEET, "Links: " + ", ".join(" + ".join(part.names) for part in group), project.title)
    words = [
        "Strips hole to hole; their strong sides are datum edge and datum end. Thickness ______ mm.",
        outline_words(group[0]),
    ]
    if any(part.gauge for part in group):
        words.append(
            "A setting gauge sets a link that has threads; bolted in, it is the dummy link for welding."
        )
    return [
        tile_page(TileContent(head, words, figure, tile), area, first)
        for tile in tiles_of((figure.width, figure.height), room)
    ]
