"""DXF and SVG read back by programs of others: the shop cuts what they say."""

import io
import os
import re
import subprocess
import sys
from itertools import pairwise
from math import dist, hypot, pi
from xml.etree import ElementTree as ET

import pytest
from ezdxf import units
from ezdxf.filemanagement import read as read_drawing

from leverwright.make.choices import Choices
from leverwright.make.dxf import parts_dxf
from leverwright.make.plates import flat_parts
from leverwright.make.svg import parts_svg
from tests.make.vehicle_samples import flat, space

HOLES = {"rocker-pivot": 0.0223, "link-hole": 0.0101, "spring-hole": 0.0127, "arm-tab": 0.0113}
SVG = "{http://www.w3.org/2000/svg}"
HOSTILE = "</text><script>x</script> \"'& \r\n0\nLINE %%u ^J \\\\U+0041 \u202egnp"


def _dxf(project, choices=None, title="T"):
    return read_drawing(io.StringIO(parts_dxf(flat_parts(project, choices).parts, title).decode("cp1252")))


def _svg(project, choices=None, title="T"):
    return ET.fromstring(parts_svg(flat_parts(project, choices).parts, title))


def _group(svg, name):
    return next(one for one in svg if one.get("id") == name)


# --- DXF --------------------------------------------------------------------------------------------------


def test_dxf_holes_stand_as_on_the_vehicle_in_millimetres():
    drawing = _dxf(flat(), Choices(holes=HOLES))
    assert drawing.units == units.MM
    assert drawing.header["$MEASUREMENT"] == 1
    found = {round(2 * e.dxf.radius, 4): e.dxf.center for e in drawing.modelspace().query("CIRCLE")}
    plate = [found[22.3], found[12.7]]
    assert plate[0].distance(plate[1]) == pytest.approx(130.0, abs=1e-6)
    circles = [e for e in drawing.modelspace().query("CIRCLE") if e.dxf.radius == pytest.approx(5.05)]
    assert any(plate[0].distance(e.dxf.center) == pytest.approx(100.0, abs=1e-6) for e in circles)
    assert any(found[11.3].distance(e.dxf.center) == pytest.approx(330.0, abs=1e-6) for e in circles)


def test_dxf_layers_hold_cuts_marks_and_words_apart():
    drawing = _dxf(flat(), Choices(hole=0.01))
    kinds = {
        layer: {e.dxftype() for e in drawing.modelspace() if e.dxf.layer == layer}
        for layer in ("CUT", "MARK", "TEXT")
    }
    assert kinds == {"CUT": {"LWPOLYLINE", "CIRCLE"}, "MARK": {"LINE", "POINT"}, "TEXT": {"TEXT"}}
    assert not drawing.audit().errors


def test_dxf_outline_is_closed_and_encloses_the_rounded_triangle():
    from ezdxf import path

    outline = _dxf(flat(), Choices(hole=0.01)).modelspace().query("LWPOLYLINE")[0]
    assert outline.closed
    sides = 100 + 130 + hypot(180, 130)
    corners = list(path.make_path(outline).flattening(0.0005))
    length = sum(a.distance(b) for a, b in pairwise(corners))
    assert length == pytest.approx(sides + 2 * pi * 20, abs=0.02)  # flattened to half a micrometre


def test_dxf_marks_every_centre_where_no_size_is_stated_and_says_so():
    drawing = _dxf(flat())
    assert len(drawing.modelspace().query("POINT")) == 5
    assert not drawing.modelspace().query("CIRCLE")
    words = [e.dxf.text for e in drawing.modelspace().query("TEXT")]
    assert any("OUTLINE ASSUMED 20 mm" in line for line in words)
    assert any("NOT checked" in line for line in words)


def test_dxf_text_has_no_line_break_and_no_code_of_a_reader():
    raw = parts_dxf(flat_parts(flat()).parts, HOSTILE).decode("cp1252")
    drawing = read_drawing(io.StringIO(raw))
    words = [e.dxf.text for e in drawing.modelspace().query("TEXT")]
    title = next(line for line in words if "script" in line)
    assert not re.search(r"[\x00-\x1f\x7f]|%%|\^(?! )|\\[UM]\+|\u202e", title)
    assert (
        len(drawing.modelspace().query("LINE")) == 10
    )  # two for each of five centre marks, none from the title
    assert len(raw.splitlines()) % 2 == 0  # groups of a code and a value


def test_dxf_is_the_same_in_any_process():
    code = (
        "import sys, hashlib; from tests.make.vehicle_samples import space; "
        "from leverwright.make.dxf import parts_dxf; from leverwright.make.plates import flat_parts; "
        "sys.stdout.write(hashlib.sha256(parts_dxf(flat_parts(space()).parts, 'T')).hexdigest())"
    )
    seen = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={**os.environ, "PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(seen) == 1


# --- SVG --------------------------------------------------------------------------------------------------


def test_svg_is_real_size_one_unit_a_millimetre():
    svg = _svg(space(), Choices(hole=0.01))
    _, _, width, height = map(float, svg.get("viewBox").split())
    assert svg.get("width") == f"{width:g}mm"
    assert svg.get("height") == f"{height:g}mm"


def test_svg_holes_stand_as_on_the_vehicle():
    cut = _group(_svg(flat(), Choices(holes=HOLES)), "cut")
    found = {
        (one.get("data-hole"), float(one.get("r"))): (float(one.get("cx")), float(one.get("cy")))
        for one in cut.iter(f"{SVG}circle")
    }
    pivot, spring = found["rocker-pivot", 11.15], found["spring-hole", 6.35]
    assert dist(pivot, spring) == pytest.approx(130.0, abs=1e-5)
    links = [
        (float(one.get("cx")), float(one.get("cy")))
        for one in cut.iter(f"{SVG}circle")
        if one.get("data-hole") == "link-hole"
    ]
    assert any(dist(pivot, spot) == pytest.approx(100.0, abs=1e-5) for spot in links)
    assert any(dist(found["arm-tab", 5.65], spot) == pytest.approx(330.0, abs=1e-5) for spot in links)


def test_svg_outline_touches_a_circle_of_two_diameters_about_each_hole():
    cut = _group(_svg(flat(), Choices(hole=0.01)), "cut")
    outlines = list(cut.iter(f"{SVG}path"))
    circles = [(float(c.get("cx") or 0), float(c.get("cy") or 0)) for c in cut.iter(f"{SVG}circle")]
    for outline in outlines:
        # The place that each straight piece and each arc ends at stands last in its words.
        ends = re.findall(r"[ML] (\S+) (\S+)|A \S+ \S+ 0 0 0 (\S+) (\S+)", outline.get("d") or "")
        spots = [(float(a or c), float(b or d)) for a, b, c, d in ends]
        assert len(spots) >= 7
        for spot in spots:
            assert min(dist(spot, circle) for circle in circles) == pytest.approx(20.0, abs=1e-5)
        assert all(radius == "20" for radius in re.findall(r"A (\S+)", outline.get("d") or ""))


def test_svg_and_dxf_agree_with_each_other():
    choices = Choices(holes=HOLES)
    circles = [(float(c.get("cx")), float(c.get("cy"))) for c in _svg(flat(), choices).iter(f"{SVG}circle")]
    centres = [tuple(e.dxf.center)[:2] for e in _dxf(flat(), choices).modelspace().query("CIRCLE")]
    for (a, b), (c, d) in zip(pairwise(circles), pairwise(centres), strict=True):
        assert dist(a, b) == pytest.approx(dist(c, d), abs=1e-5)


def test_svg_names_are_text():
    project = flat(old='title = "Side of a cart (invented)"', new='title = "x"')
    text = parts_svg(flat_parts(project).parts, HOSTILE).decode("utf-8")
    svg = ET.fromstring(text)
    assert {one.tag.removeprefix(SVG) for one in svg.iter()} <= {
        "svg",
        "title",
        "desc",
        "g",
        "path",
        "circle",
        "text",
    }
    assert "<script>" in (next(svg.iter(f"{SVG}title")).text or "")  # read as text
    assert "\u202e" not in text
    assert "\r" not in text


def test_svg_says_what_is_not_checked():
    assert "NOT checked" in (_group(_svg(flat()), "text")[-1].text or "")


def test_svg_of_a_vehicle_without_flat_parts_is_still_a_drawing():
    assert ET.fromstring(parts_svg((), "x")).tag == f"{SVG}svg"
