"""Templates measured back from the PDF: the steel is cut to what comes out of the printer."""

import os
import shutil
import subprocess
import sys
import time
from itertools import combinations, pairwise
from math import dist, hypot

import numpy as np
import pytest

from leverwright.make import Choices, MakeError
from leverwright.make.cautions import NOT_CHECKED
from leverwright.make.plates import flat_parts
from leverwright.make.templates import templates_pdf
from leverwright.make.tiles import OVERLAP
from tests.make.print_reader import read_print, viewer_preferences
from tests.make.vehicle_samples import flat, read, space

EXACT = 0.01  # mm; ten times finer than a scriber's line
# Unlike diameters, so that each circle on the paper is known by its size.
HOLES = {"rocker-pivot": 0.0223, "link-hole": 0.0101, "spring-hole": 0.0127, "arm-tab": 0.0113}
PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}  # ISO 216; 8.5 x 11 in


def _small():
    """A lever that fits one page."""
    return flat(
        old="spring-hole = [-120, 350]", new="spring-hole = [-60, 375]", also="[60, 480]", too="[30, 440]"
    )


def _middle(page, diameter):
    found = [middle for middle, radius in page.circles if abs(2 * radius - diameter) < 0.005]
    assert len(found) == 1, f"{len(found)} circles of {diameter} mm"
    return found[0]


def _bars(page, across):
    """Lengths of straight strokes near 200 mm along one axis."""
    k = 0 if across else 1
    return [
        abs(end[k] - start[k])
        for start, end in page.lines
        if abs(end[1 - k] - start[1 - k]) < 1e-6 and abs(abs(end[k] - start[k]) - 200) < 25
    ]


@pytest.mark.parametrize("paper", PAPERS)
def test_hole_distances_on_the_paper_are_those_of_the_vehicle(paper):
    page = read_print(templates_pdf(flat(), paper, Choices(holes=HOLES)))[0]
    pivot, link, spring = _middle(page, 22.3), _middle(page, 10.1), _middle(page, 12.7)
    assert dist(pivot, link) == pytest.approx(100.0, abs=EXACT)
    assert dist(pivot, spring) == pytest.approx(130.0, abs=EXACT)
    assert dist(link, spring) == pytest.approx(hypot(180, 130), abs=EXACT)


def test_a_plate_in_space_is_true_on_the_paper():
    sizes = {"pivot-front-left": 0.0223, "link-hole-left": 0.0101, "spring-hole-left": 0.0127}
    page = read_print(templates_pdf(space(), "A4", Choices(holes=sizes)))[0]
    pivot, link, spring = _middle(page, 22.3), _middle(page, 10.1), _middle(page, 12.7)
    assert dist(pivot, link) == pytest.approx(100.0, abs=EXACT)
    assert dist(pivot, spring) == pytest.approx(130.0, abs=EXACT)
    assert dist(link, spring) == pytest.approx(hypot(180, 30), abs=EXACT)


@pytest.mark.parametrize("paper", PAPERS)
def test_both_bars_of_every_true_scale_page_are_200_mm(paper):
    pages = read_print(templates_pdf(space(), paper, Choices()))
    true_scale = [page for page in pages if "PRINT AT 100 %" in page.text]
    assert len(true_scale) >= 3
    for page in true_scale:
        for across in (True, False):
            assert any(length == pytest.approx(200.0, abs=1e-4) for length in _bars(page, across))


def test_the_inch_side_has_its_sixth_mark_at_152_4_mm():
    page = read_print(templates_pdf(flat(), "A4", Choices()))[0]
    bar = next(
        (start, end) for start, end in page.lines if start[1] == end[1] and abs(dist(start, end) - 200) < 1e-3
    )
    zero = min(bar[0][0], bar[1][0])
    marks = [
        start[0] - zero
        for start, end in page.lines
        if start[0] == end[0]
        and min(start[1], end[1]) < bar[0][1] - 1
        and abs(max(start[1], end[1]) - bar[0][1]) < 1e-6
    ]
    assert max(marks) == pytest.approx(152.4, abs=1e-4)
    assert sorted(marks)[2] == pytest.approx(25.4, abs=1e-4)


@pytest.mark.parametrize(("paper", "size"), PAPERS.items())
def test_the_paper_has_its_standard_size(paper, size):
    for page in read_print(templates_pdf(space(), paper, Choices())):
        assert page.size == pytest.approx(size, abs=1e-3)


def test_all_but_the_ruler_across_stays_12_mm_from_the_edge_of_the_paper():
    pages = read_print(templates_pdf(space(), "A4", Choices()))
    whole = [
        page for page in pages if "tile" not in page.text
    ]  # a tile is cut off at its window, unseen here
    assert whole
    for page in whole:
        for spot in (spot for line in page.lines for spot in line):
            if not 25 < spot[1] < 37:  # the ruler across
                assert 12 - 1e-6 <= spot[0] <= 198 + 1e-6
                assert 12 - 1e-6 <= spot[1] <= 285 + 1e-6


def test_the_reader_is_told_not_to_scale():
    raw = templates_pdf(flat(), "A4", Choices())
    assert viewer_preferences(raw)["/PrintScaling"] == "/None"


def test_every_page_has_its_number_and_says_what_is_not_checked():
    pages = read_print(templates_pdf(space(), "A4", Choices()))
    for number, page in enumerate(pages, start=1):
        assert f"page {number} of {len(pages)}" in page.text
        assert NOT_CHECKED in page.text
        assert "Never cut, heat, weld or open a gas shock" in page.text.replace("\n", " ")
        assert "poisonous" in page.text


# --- tiles ------------------------------------------------------------------------------------------------


def _in_window(page):
    """Circles whose middle lies in the page's window on the drawing: the rest is cut off on the paper."""
    top = page.size[1] - 12 - 23 - 2 - 14.5
    return [(m, r) for m, r in page.circles if 39.5 <= m[1] <= top]


def _joined(pages):
    """Circles of all tiles in the first one's place, joined by their marks, and how far marks misfit."""
    circles, shift, misfit = _in_window(pages[0]), (0.0, 0.0), []
    for before, after in pairwise(pages):
        # The marks of a join: circles of 2.4 mm radius, two on each page, on one line.
        upper = sorted(m for m, r in before.circles if abs(r - 2.4) < 1e-6 and m[1] < 60)
        lower = sorted(m for m, r in after.circles if abs(r - 2.4) < 1e-6 and m[1] > 180)
        assert len(upper) == len(lower) == 2
        step = (upper[0][0] - lower[0][0], upper[0][1] - lower[0][1])
        misfit.append(dist(upper[1], (lower[1][0] + step[0], lower[1][1] + step[1])))
        shift = (shift[0] + step[0], shift[1] + step[1])
        circles += [((x + shift[0], y + shift[1]), r) for (x, y), r in _in_window(after)]
    return circles, misfit


@pytest.mark.parametrize(("paper", "count"), [("A4", 2), ("Letter", 3)])
def test_a_link_over_several_tiles_is_true_when_joined_mark_on_mark(paper, count):
    pages = read_print(templates_pdf(flat(), paper, Choices(holes=HOLES)))
    tiles = [page for page in pages if "Links: link" in page.text]
    assert len(tiles) == count
    assert f"tile 1 of {count}" in tiles[0].text
    circles, misfit = _joined(tiles)
    first = next(m for m, r in circles if abs(2 * r - 11.3) < 0.005)
    last = next(m for m, r in circles if abs(2 * r - 10.1) < 0.005)
    assert first[1] - last[1] > 200  # on two sheets
    assert dist(first, last) == pytest.approx(330.0, abs=EXACT)
    assert max(misfit) < 1e-4
    assert f"joins page {pages.index(tiles[1]) + 1}" in tiles[0].text


def test_tiles_overlap_by_what_is_stated():
    pages = read_print(templates_pdf(flat(), "A4", Choices(holes=HOLES)))
    tiles = [page for page in pages if "Links: link" in page.text]
    low = min(m[1] for m, r in tiles[0].circles if abs(r - 2.4) < 1e-6)
    high = max(m[1] for m, r in tiles[1].circles if abs(r - 2.4) < 1e-6)
    bottom, top = 39.5, 297 - 12 - 23 - 2 - 14.5  # of the drawing on A4, mm
    assert (low - bottom) + (top - high) == pytest.approx(OVERLAP * 1000, abs=1e-3)


# --- hole sizes -------------------------------------------------------------------------------------------


def test_a_size_that_nobody_stated_is_a_blank_and_no_circle():
    page = read_print(templates_pdf(flat(), "A4", Choices()))[0]
    assert "Ø ____" in page.text
    assert "ASSUMPTION" in page.text
    assert not [r for _, r in page.circles if 2.75 < r < 60]  # balloons are 2.7 mm


def test_the_outline_keeps_the_stated_distance():
    page = read_print(templates_pdf(flat(), "A4", Choices(hole=0.012)))[0]
    assert "Outline 24 mm from hole centres" in page.text
    assert "common practice, not a strength check" in page.text


# --- a printer that scales ----------------------------------------------------------------------------------


def test_a_reprint_with_the_typed_reading_is_true_on_that_printer():
    pdf = templates_pdf(flat(), "A4", Choices(holes=HOLES, measured_across=0.194, measured_up=0.197))
    page = read_print(pdf)[0]
    shrunk = {d: _middle_scaled(page, d, 0.194 / 0.2, 0.197 / 0.2) for d in (22.3, 10.1, 12.7)}
    for (a, b), length in zip(combinations(shrunk.values(), 2), (100.0, 130.0, hypot(180, 130)), strict=True):
        assert dist(a, b) == pytest.approx(length, abs=EXACT)
    assert any(length * 0.97 == pytest.approx(200.0, abs=1e-3) for length in _bars(page, across=True))
    assert any(length * 0.985 == pytest.approx(200.0, abs=1e-3) for length in _bars(page, across=False))
    assert "× 1.0309 across" in page.text


def _middle_scaled(page, diameter, across, up):
    """Where that printer puts the circle: it shrinks the page by these factors."""
    found = [m for m, r in page.circles if abs(2 * r * across - diameter) < 0.005]
    assert len(found) == 1
    return found[0][0] * across, found[0][1] * up


def test_a_corrected_page_stays_on_the_paper():
    page = read_print(templates_pdf(_small(), "A4", Choices(measured_across=0.181)))[0]
    middle = (297 / 2 - 31.5) * 200 / 181  # the ruler across lies so far below the middle of the page
    for x, y in (spot for line in page.lines for spot in line):
        if abs(297 / 2 - middle - y) > 8:
            assert 0 <= x <= 210
            assert 0 <= y <= 297


# --- names, bytes, time -----------------------------------------------------------------------------------

HOSTILE = "<b>&amp;<para>{% 7*7 %}</b> (un)\\\\closed колесо 中 \u202egnp"


def test_a_name_is_text_and_nothing_else():
    project = flat(old='title = "Side of a cart (invented)"', new=f'title = "{HOSTILE}"')
    text = read_print(templates_pdf(project, "A4", Choices()))[0].text
    assert "<b>&amp;<para>{% 7*7 %}</b> (un)\\closed колесо" in text
    assert "\\u4e2d \\u202egnp" in text  # no glyph, no ink: its code


def test_a_name_of_a_hundred_letters_stays_on_the_paper():
    long = "x" * 89
    text = flat().text.replace("spring-hole", f"spring-{long}-end")
    pages = read_print(templates_pdf(read(text), "A4", Choices()))
    assert "…" in pages[0].text
    assert "-end" in pages[0].text


def test_the_same_vehicle_gives_the_same_bytes_in_any_process():
    code = (
        "import sys, hashlib; from tests.make.vehicle_samples import space; "
        "from leverwright.make.templates import templates_pdf; from leverwright.make import Choices; "
        "sys.stdout.write(hashlib.sha256(templates_pdf(space(), 'A4', Choices())).hexdigest())"
    )
    seen = set()
    for seed in ("1", "2"):
        done = subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        )
        seen.add(done.stdout)
    assert len(seen) == 1


def test_a_set_of_templates_takes_under_a_second():
    templates_pdf(flat(), "A4", Choices())  # the library and the font are loaded
    begin = time.process_time()  # the processor's: other programs do not count
    templates_pdf(space(), "A4", Choices())
    assert time.process_time() - begin < 1.0


def test_more_pages_than_anybody_joins_are_refused():
    names = [f"p{k}" for k in range(20)]
    text = (
        flat()
        .text.replace(
            "[bodies]\n", "".join(f"{name} = [{k}, 640]\n" for k, name in enumerate(names)) + "[bodies]\n"
        )
        .replace(
            "[bars.link]",
            'many = ["spring-hole", ' + ", ".join(f'"{name}"' for name in names) + "]\n\n[bars.link]",
        )
    )
    text += "".join(f'[bars.b-{name}]\nends = ["arm-pivot", "{name}"]\n' for name in names)
    project = read(text)
    with pytest.raises(MakeError, match="more than 60 pages"):
        templates_pdf(project, "A4", Choices(hole=0.1, edge_in_holes=5))


def test_a_vehicle_with_nothing_flat_says_so():
    text = flat().text
    project = read(
        text.replace('rocker = ["rocker-pivot", "link-hole", "spring-hole"]\n', "")
        .replace('[bars.link]\nends = ["arm-tab", "link-hole"]\n', "")
        .replace('["spring-hole", "spring-eye"]', '["arm-tab", "spring-eye"]')
        .replace("link-hole = [60, 480]\n", "")
        .replace("spring-hole = [-120, 350]\n", "")
        .replace("rocker-pivot = [0, 400]\n", "")
        .replace('"arm-pivot", "rocker-pivot", "spring-eye"', '"arm-pivot", "spring-eye"')
    )
    assert flat_parts(project).parts == ()
    pages = read_print(templates_pdf(project, "A4", Choices()))
    assert "no template is printed" in pages[0].text
    assert "arm carries the wheel" in pages[0].text


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="needs poppler-utils")
def test_the_bar_is_200_mm_in_a_picture_of_the_page(tmp_path):
    from PIL import Image

    (tmp_path / "t.pdf").write_bytes(templates_pdf(flat(), "A4", Choices()))
    subprocess.run(
        [
            "pdftoppm",
            "-r",
            "300",
            "-gray",
            "-png",
            "-f",
            "1",
            "-l",
            "1",
            str(tmp_path / "t.pdf"),
            str(tmp_path / "t"),
        ],
        check=True,
    )
    with Image.open(next(tmp_path.glob("t*.png"))) as opened:
        picture = opened.convert("L")
    row = round((297 - 31.5) / 25.4 * 300)  # the ruler across
    strip = np.asarray(picture)[row - 1 : row + 2]
    dark = np.flatnonzero(strip.min(axis=0) < 128)
    assert (dark[-1] - dark[0]) / 300 * 25.4 == pytest.approx(200.0, abs=0.17)  # two pixels


@pytest.mark.parametrize("length", [150, 158, 166, 174, 182, 190, 335, 345, 355, 365])
def test_no_join_runs_through_a_hole(length):
    shift = length - 330  # the link's tab is moved down by what it is longer
    project = flat(old="arm-tab = [60, 150]", new=f"arm-tab = [60, {150 - shift}]")
    pages = read_print(templates_pdf(project, "A4", Choices(holes=HOLES)))
    tiles = [page for page in pages if "Links: link" in page.text and "tile" in page.text]
    for page in tiles:
        joins = [m[1] for m, r in page.circles if abs(r - 2.4) < 1e-6]
        for middle, radius in page.circles:
            if 5 < radius < 6 and 39.5 < middle[1] < 245.5:  # a hole of the link, seen in this tile
                assert all(abs(middle[1] - join) > 6 for join in joins)


def test_the_largest_set_that_is_accepted_takes_under_five_seconds():
    """Thirty-eight plates of sixteen holes each, beside the sample's two parts: forty."""
    points, bodies, pivots = "", "", ""
    for b in range(38):
        names = [f"q{b}"] + [f"q{b}-{k}" for k in range(15)]
        points += f"q{b} = [{300 * b}, 900]\n"
        points += "".join(
            f"{n} = [{300 * b + 53 * k % 89 - 44}, {860 + 37 * k % 79}]\n" for k, n in enumerate(names[1:])
        )
        bodies += f"b{b} = [" + ", ".join(f'"{name}"' for name in names) + "]\n"
        pivots += f', "q{b}"'
    text = flat().text.replace("[bodies]\n", points + "[bodies]\n" + bodies)
    project = read(text.replace('"rocker-pivot", "spring-eye"]', f'"rocker-pivot", "spring-eye"{pivots}]'))
    assert len(flat_parts(project).parts) == 40
    templates_pdf(flat(), "A4", Choices())  # the library and the font are loaded
    begin = time.process_time()
    templates_pdf(project, "A4", Choices(hole=0.008))
    assert time.process_time() - begin < 5.0
