"""What is left of a photograph: its pixels, upright, and nothing else."""

import io
import subprocess
import sys

import pytest
from PIL import Image

from leverwright.server import photo_child
from leverwright.server.photo_child import NoPicture, bare_picture
from tests.server import pictures
from tests.server.pictures import SECRET, coded, drawn

RED, LIME, BLUE, YELLOW = (255, 0, 0), (0, 255, 0), (0, 0, 255), (255, 255, 0)
# Upper left, upper right, lower left, lower right of the upright picture, by the orientation that TIFF 6.0 names.
UPRIGHT = {
    1: (RED, LIME, BLUE, YELLOW),
    2: (LIME, RED, YELLOW, BLUE),
    3: (YELLOW, BLUE, LIME, RED),
    4: (BLUE, YELLOW, RED, LIME),
    5: (RED, BLUE, LIME, YELLOW),
    6: (BLUE, RED, YELLOW, LIME),
    7: (YELLOW, LIME, BLUE, RED),
    8: (LIME, YELLOW, RED, BLUE),
}


def child(data):
    done = subprocess.run(
        [sys.executable, "-P", photo_child.__file__], input=data, capture_output=True, check=False
    )
    assert done.stderr == b""
    return done.returncode, done.stdout


def anew(data):
    status, made = child(data)
    assert status == 0, made
    with Image.open(io.BytesIO(made), formats=("JPEG",)) as image:
        image.load()
        assert not set(image.info) - {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
        return image


def quarters(image):
    w, h = image.size
    places = [(w // 4, h // 4), (3 * w // 4, h // 4), (w // 4, 3 * h // 4), (3 * w // 4, 3 * h // 4)]
    return [image.convert("RGB").getpixel(place) for place in places]


def alike(ones, others, within=12):  # what a JPEG at this quality does to flat colours
    return all(
        abs(a - b) <= within
        for one, other in zip(ones, others, strict=True)
        for a, b in zip(one, other, strict=True)
    )


@pytest.mark.parametrize("turned", UPRIGHT)
@pytest.mark.parametrize("kind", ["JPEG", "PNG"])
def test_a_picture_that_lies_on_its_side_is_set_upright(turned, kind):
    image = anew(coded(drawn(), kind, exif=pictures.exif(turned)))
    assert image.size == ((640, 480) if turned < 5 else (480, 640))
    assert alike(quarters(image), UPRIGHT[turned])


@pytest.mark.parametrize("data", [pictures.telephone_jpeg(), pictures.telling_png()], ids=["jpeg", "png"])
def test_no_place_text_profile_or_second_picture_is_left(data):
    assert SECRET in data or b"zTXt" in data or b"iTXt" in data
    bare = bare_picture(data)
    _, made = child(data)
    for left in (bare.data, made):
        assert SECRET not in left
        for word in (b"Exif", b"http", b"xmp", b"ICC", b"iCCP", b"eXIf", b"Comment", b"GPS"):
            assert word not in left
        assert left.count(b"\xff\xd8\xff") <= 1


@pytest.mark.parametrize("mode", ["L", "1", "P", "RGBA", "LA", "I;16"])
def test_every_usual_kind_of_png_is_taken(mode):
    image = drawn(mode="L") if mode == "I;16" else drawn(mode=mode)
    if mode == "I;16":
        image = image.convert("I").point(lambda level: level * 257).convert("I;16")
    made = anew(coded(image, "PNG"))
    grey = [sum(each) / 3 for each in quarters(made)]
    assert max(grey) - min(grey) > 60  # it is still a picture of four fields
    assert made.size == (640, 480)


def test_what_lets_light_through_stands_on_white():
    image = Image.new("RGBA", (64, 64), (255, 0, 0, 0))
    assert alike(quarters(anew(coded(image, "PNG"))), [(255, 255, 255)] * 4)
    palette = drawn((64, 64), "P")
    assert anew(coded(palette, "PNG", transparency=0)).size == (64, 64)


def test_grey_and_progressive_jpegs_are_taken():
    assert anew(coded(drawn(mode="L"))).mode == "L"
    assert alike(quarters(anew(coded(drawn(), progressive=True))), UPRIGHT[1])


def test_a_large_picture_is_made_smaller_and_keeps_its_shape():
    image = anew(coded(drawn((6000, 3000))))
    assert image.size == (4096, 2048)
    assert alike(quarters(image), UPRIGHT[1])


def _twice_headed(data):
    head, scan = data.find(b"\xff\xc0"), data.find(b"\xff\xda")
    return data[:scan] + data[head:scan] + data[scan:]


def _one_bit_off(data):
    return data[:60] + bytes([data[60] ^ 1]) + data[61:]


REFUSED = {
    "nothing": (b"", "neither JPEG nor PNG"),
    "a page": (b"<html>", "neither JPEG nor PNG"),
    "a gif": (coded(drawn(), "GIF"), "neither JPEG nor PNG"),
    "a webp": (coded(drawn(), "WEBP"), "neither JPEG nor PNG"),
    "a tiff": (coded(drawn(), "TIFF"), "neither JPEG nor PNG"),
    "a pdf before a jpeg": (b"%PDF-1.4" + coded(drawn()), "neither JPEG nor PNG"),
    "too many pixels": (pictures.jpeg_of(6000, 4001), "more than 24 million"),
    "too many bits": (pictures.PNG + pictures.header(60_000, 60_000, 1, 0), "more than 24 million"),
    "too small": (coded(drawn((15, 40))), "too small"),
    "no height": (pictures.jpeg_of(640, 0), "too small"),
    "a moving png": (pictures.moving_png(), "moves"),
    "a cmyk jpeg": (coded(drawn(mode="CMYK")), "8 bits"),
    "a cut jpeg": (coded(drawn())[:-40], "cut off"),
    "a jpeg of its head": (coded(drawn())[:300], "cut off"),
    "a jpeg of a mark": (b"\xff\xd8\xff", "cut off"),
    "an empty jpeg": (b"\xff\xd8\xff\xd9", "cut off"),
    "a short segment": (b"\xff\xd8\xff\xe0\0\1" + b"\0" * 50, "cut off"),
    "no marker": (b"\xff\xd8\xff\xe0\0\4ab" + b"\0" * 50, "cut off"),
    "two headers": (
        _twice_headed(coded(drawn())),
        "two headers",
    ),
    "lossless jpeg": (coded(drawn()).replace(b"\xff\xc0", b"\xff\xc3", 1), "not usual"),
    "scan before header": (b"\xff\xd8\xff\xda\0\4ab\xff\xd9", "scans"),
    "a cut png": (coded(drawn(), "PNG")[:-30], "cut off"),
    "a png of its mark": (pictures.PNG, "cut off"),
    "a png with no pixels": (
        pictures.PNG + pictures.header(64, 64) + pictures.chunk(b"IEND", b""),
        "cut off",
    ),
    "a png of pixels first": (pictures.PNG + pictures.chunk(b"IDAT", b""), "where it belongs"),
    "two png headers": (pictures.with_chunks(pictures.header(64, 64)), "where it belongs"),
    "a short png header": (pictures.PNG + pictures.chunk(b"IHDR", b"\0" * 12), "damaged"),
    "a wrong sum": (_one_bit_off(coded(drawn(), "PNG")), "damaged"),
    "a name that is none": (pictures.with_chunks(pictures.chunk(b"t\0Xt", b"")), "damaged"),
    "an unknown need": (pictures.with_chunks(pictures.chunk(b"ABCD", b"")), "not usual"),
    "a flood of segments": (b"\xff\xd8" + b"\xff\xe5\0\2" * 30_000 + coded(drawn())[2:], "more pieces"),
    "a flood of chunks": (pictures.chunk_flood(30_000), "more pieces"),
    "a flood of scans": (pictures.scan_flood(), "more scans"),
}


@pytest.mark.parametrize("name", REFUSED)
def test_what_is_refused(name):
    data, word = REFUSED[name]
    with pytest.raises(NoPicture, match=word) as refused:
        bare_picture(data)
    assert refused.value.do


@pytest.mark.parametrize("name", ["a page", "a cut png", "a flood of scans"])
def test_a_refusal_is_told_in_two_lines(name):
    status, words = child(REFUSED[name][0])
    assert status == photo_child.REFUSED
    found, do = words.decode().split("\n")
    assert REFUSED[name][1] in found
    assert do


def test_pixels_that_are_none_are_refused_by_the_decoder():
    data = (
        pictures.PNG
        + pictures.header(64, 64)
        + pictures.chunk(b"IDAT", b"junk")
        + pictures.chunk(b"IEND", b"")
    )
    status, words = child(data)
    assert status == photo_child.REFUSED
    assert words.startswith(b"a picture that cannot be decoded\n")


def test_a_place_table_that_lies_is_upright():
    for tiff in (
        b"",
        b"II*\0",
        b"MM\0*" + b"\xff" * 40,
        b"II*\0\x08\0\0\0\xff\xff" + b"\x12\x01" * 9,
        b"II*\0\xff\xff\xff\xff",
    ):
        assert photo_child._orientation(tiff) == 1


LIMITED = """
import resource, runpy, sys
runpy.run_path(sys.argv[1])["_limit"]()
print([resource.getrlimit(getattr(resource, f"RLIMIT_{name}")) for name in ("AS", "CPU", "FSIZE", "CORE")])
try:
    bytearray(500_000_000)
except MemoryError:
    print("held")
"""


def test_the_child_lives_within_its_limits():
    held = subprocess.run(
        [sys.executable, "-P", "-c", LIMITED, photo_child.__file__],
        capture_output=True,
        text=True,
        check=True,
    )
    assert held.stdout.splitlines() == ["[(400000000, 400000000), (4, 4), (0, 0), (0, 0)]", "held"]


def test_what_needs_too_much_memory_is_refused_in_words(monkeypatch, capfdbinary):
    def too_much(_):
        raise MemoryError

    monkeypatch.setattr(photo_child, "_limit", lambda: None)
    monkeypatch.setattr(photo_child, "_anew", too_much)
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(coded(drawn()))))
    assert photo_child.main() == photo_child.REFUSED
    sys.stdout.flush()
    assert b"too much memory" in capfdbinary.readouterr().out


def test_bytes_are_refused_alike_in_the_parent():
    with pytest.raises(NoPicture):
        bare_picture(b"no picture")


def test_the_decoder_writes_nothing_that_it_found_beside_the_pixels():
    laden = coded(drawn(), comment=SECRET, icc_profile=SECRET, dpi=(72, 72))
    made = photo_child._anew(photo_child.Bare("JPEG", laden, 640, 480, 1))
    assert SECRET in laden
    assert SECRET not in made
