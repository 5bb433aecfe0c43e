"""One photograph laid bare: read from the standard input, decoded, written anew to the standard output.

Run as a program of its own, with limits on memory and time, because picture decoders are where strangers'
bytes have broken programs before. Before the decoder sees anything, the file is taken apart here and only what
draws the picture is put together again: no text, place, profile, thumbnail, second picture or trailing byte
reaches the decoder, and none can reach what is stored. It needs nothing of the rest of the package, so that it
starts quickly.

Sources: ITU-T T.81 annex B (JPEG), PNG third edition 5 (chunks), TIFF 6.0 2 (orientation, tag 274), from memory.
"""

from __future__ import annotations

import re
import sys
import zlib
from dataclasses import dataclass
from io import BytesIO
from typing import TYPE_CHECKING, Literal

if TYPE_CHECKING:
    from PIL import Image

__all__ = ["ADDRESS_BYTES", "LONGEST_SIDE", "PIXELS", "REFUSED", "Bare", "NoPicture", "bare_picture", "main"]

PIXELS = 24_000_000  # of the photograph as it comes
# px. Larger ones are made smaller: what a finger picks is no finer, and telephones show no larger picture.
LONGEST_SIDE = 4096
# Address space of the child: 24 Mpx at 4 bytes three times, the libraries and the file.
ADDRESS_BYTES = 400_000_000
# s of processor time; the parent counts real time.
_CPU_SECONDS = 4
# Exit status of a photograph that is refused in words.
REFUSED = 3
_QUALITY = 90
# A camera writes some 20 pieces before its picture, a PNG one piece for each 8 kB; more is meant to hold us up.
_PIECES = 20_000
# A progressive picture has about 10 scans; each may be made to cost a whole decoding.
_SCANS = 40
_KEPT_JPEG = (0xC4, 0xDB, 0xDD)  # Huffman tables, quantisation, restarts
_FRAMES = (0xC0, 0xC1, 0xC2)  # baseline, extended, progressive; Huffman
_KEPT_PNG = (b"PLTE", b"tRNS")
# A marker inside coded data: not a stuffed zero, a restart or a fill byte.
_MARKER = re.compile(rb"\xff+[^\x00\xff\xd0-\xd7]")
_PNG = b"\x89PNG\r\n\x1a\n"
_JPEG = b"\xff\xd8\xff"


class NoPicture(Exception):
    """Bytes that are refused: what was found, and what to do."""

    def __init__(self, found: str, do: str = "take another, or save it anew as JPEG") -> None:
        super().__init__(found)
        self.found, self.do = found, do


@dataclass(frozen=True, slots=True)
class Bare:
    """A picture without anything beside it; `turned` is the orientation of TIFF, 1 to 8."""

    kind: Literal["JPEG", "PNG"]
    data: bytes
    width: int
    height: int
    turned: int


def bare_picture(data: bytes) -> Bare:
    """What draws the picture in `data`, and nothing else; NoPicture when it is none that is taken."""
    if data.startswith(_JPEG):
        return _bare_jpeg(data)
    if data.startswith(_PNG):
        return _bare_png(data)
    raise NoPicture("a file that is neither JPEG nor PNG", "save it as JPEG")


def _checked_size(width: int, height: int) -> None:
    if width * height > PIXELS:
        raise NoPicture(
            f"a picture of {width} × {height} pixels, more than 24 million",
            "make it smaller, or photograph with fewer",
        )
    if min(width, height) < 16:
        raise NoPicture(f"a picture of {width} × {height} pixels, too small to pick in")


def _cut_off() -> NoPicture:
    return NoPicture("a picture that is cut off", "copy it again")


# --- JPEG -------------------------------------------------------------------------------------------------------------


class _Jpeg:
    """The segments of one JPEG picture, up to its end."""

    def __init__(self, data: bytes) -> None:
        self.data, self.at = data, 2
        self.kept = [data[:2]]
        self.size: tuple[int, int] | None = None
        self.turned, self.scans = 1, 0

    def walk(self) -> None:
        for _ in range(_PIECES):
            marker = self._marker()
            if marker == 0xD9:
                self.kept.append(b"\xff\xd9")
                return
            self._segment(marker)
        raise NoPicture("a picture in more pieces than any camera writes")

    def _marker(self) -> int:
        found = re.compile(rb"\xff+([^\xff])").match(self.data, self.at)
        if found is None:
            raise _cut_off()
        self.at = found.end()
        return found.group(1)[0]

    def _segment(self, marker: int) -> None:
        length = int.from_bytes(self.data[self.at : self.at + 2], "big")
        body = self.data[self.at + 2 : self.at + length]
        if length < 2 or len(body) != length - 2:
            raise _cut_off()
        whole = bytes((0xFF, marker)) + self.data[self.at : self.at + length]
        self.at += length
        if marker == 0xE1 and body.startswith(b"Exif\0\0") and self.turned == 1:
            self.turned = _orientation(body[6:])
        elif marker in _FRAMES:
            self._frame(body)
            self.kept.append(whole)
        elif marker in _KEPT_JPEG or (marker == 0xEE and body.startswith(b"Adobe")):
            self.kept.append(whole)
        elif marker == 0xDA:
            self._scan(whole)
        elif not 0xE0 <= marker <= 0xEF and marker != 0xFE:
            raise NoPicture(f"a kind of JPEG that is not usual (marker {marker:02X})")

    def _frame(self, body: bytes) -> None:
        if self.size is not None:
            raise NoPicture("a picture with two headers")
        if len(body) < 6 or body[0] != 8 or body[5] not in (1, 3):
            raise NoPicture("a JPEG that is not in 8 bits of grey or colour")
        height, width = int.from_bytes(body[1:3], "big"), int.from_bytes(body[3:5], "big")
        _checked_size(width, height)
        self.size = width, height

    def _scan(self, whole: bytes) -> None:
        self.scans += 1
        if self.size is None or self.scans > _SCANS:
            raise NoPicture("a picture in more scans than any camera writes")
        end = _MARKER.search(self.data, self.at)
        if end is None:
            raise _cut_off()
        self.kept += [whole, self.data[self.at : end.start()]]
        self.at = end.start()


def _bare_jpeg(data: bytes) -> Bare:
    jpeg = _Jpeg(data)
    jpeg.walk()
    if jpeg.size is None or not jpeg.scans:
        raise _cut_off()
    return Bare("JPEG", b"".join(jpeg.kept), *jpeg.size, jpeg.turned)


def _orientation(tiff: bytes) -> int:
    """1 to 8; 1, upright, where the table cannot be read."""
    if tiff[:4] not in (b"II*\0", b"MM\0*"):
        return 1
    order: Literal["little", "big"] = "little" if tiff[:2] == b"II" else "big"
    at = int.from_bytes(tiff[4:8], order)
    count = int.from_bytes(tiff[at : at + 2], order)
    for entry in range(min(count, 200)):
        row = tiff[at + 2 + 12 * entry : at + 14 + 12 * entry]
        if len(row) == 12 and int.from_bytes(row[:2], order) == 274:
            turned = int.from_bytes(row[8:10], order)
            return turned if 1 <= turned <= 8 else 1
    return 1


# --- PNG --------------------------------------------------------------------------------------------------------------


def _bare_png(data: bytes) -> Bare:
    at, kept, size, turned = len(_PNG), [_PNG], (0, 0), 1
    pixels: list[bytes] = []
    for number in range(_PIECES):
        kind, body, whole = _chunk(data, at)
        at += len(whole)
        if (number == 0) != (kind == b"IHDR"):
            raise NoPicture("a PNG whose header is not where it belongs")
        if kind == b"IHDR":
            size = _png_size(body)
            kept.append(whole)
        elif kind == b"IDAT":
            pixels.append(body)
        elif kind == b"IEND":
            break
        elif kind in _KEPT_PNG:
            kept.append(whole)
        elif kind == b"acTL":
            raise NoPicture("a picture that moves", "save one of its pictures as JPEG")
        elif kind == b"eXIf":
            turned = _orientation(body)
        elif kind[:1].isupper():
            raise NoPicture("a PNG of a kind that is not usual")
    else:
        raise NoPicture("a picture in more pieces than any program writes")
    if not pixels:
        raise _cut_off()
    whole = b"".join((*kept, _packed(b"IDAT", b"".join(pixels)), _packed(b"IEND", b"")))
    return Bare("PNG", whole, *size, turned)


def _chunk(data: bytes, at: int) -> tuple[bytes, bytes, bytes]:
    """Name, body and all bytes of the chunk at `at`."""
    length = int.from_bytes(data[at : at + 4], "big")
    whole = data[at : at + 12 + length]
    if len(whole) != 12 + length:
        raise _cut_off()
    kind, body = whole[4:8], whole[8:-4]
    if not kind.isalpha():
        raise NoPicture("a PNG that is damaged", "copy it again")
    if kind in (b"IHDR", b"IDAT", *_KEPT_PNG) and zlib.crc32(whole[4:-4]) != int.from_bytes(
        whole[-4:], "big"
    ):
        raise NoPicture("a PNG that is damaged", "copy it again")
    return kind, body, whole


def _png_size(header: bytes) -> tuple[int, int]:
    if len(header) != 13:
        raise NoPicture("a PNG that is damaged", "copy it again")
    width, height = int.from_bytes(header[:4], "big"), int.from_bytes(header[4:8], "big")
    _checked_size(width, height)
    return width, height


def _packed(kind: bytes, body: bytes) -> bytes:
    return len(body).to_bytes(4, "big") + kind + body + zlib.crc32(kind + body).to_bytes(4, "big")


# --- decoding ---------------------------------------------------------------------------------------------------------


def _limit() -> None:
    """Memory, time and files of this process, before it looks at anything."""
    import resource

    for what, most in (
        (resource.RLIMIT_AS, ADDRESS_BYTES),
        (resource.RLIMIT_CPU, _CPU_SECONDS),
        (resource.RLIMIT_FSIZE, 0),
        (resource.RLIMIT_CORE, 0),
    ):
        hard = resource.getrlimit(what)[1]
        limit = most if hard == resource.RLIM_INFINITY else min(most, hard)
        resource.setrlimit(what, (limit, limit))


def _anew(bare: Bare) -> bytes:
    """The picture upright, at most LONGEST_SIDE, as a JPEG of its pixels alone."""
    from PIL import Image

    picture = Image.open(BytesIO(bare.data), formats=(bare.kind,))
    picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
    picture.load()
    image = _plain(picture)
    del picture  # where it was converted, the half of the memory
    share = LONGEST_SIDE / max(image.size)
    if share < 1.0:
        width, height = (max(1, round(side * share)) for side in image.size)
        image = image.resize((width, height), Image.Resampling.HAMMING)
    methods = Image.Transpose
    turns = {
        2: methods.FLIP_LEFT_RIGHT,
        3: methods.ROTATE_180,
        4: methods.FLIP_TOP_BOTTOM,
        5: methods.TRANSPOSE,
        6: methods.ROTATE_270,
        7: methods.TRANSVERSE,
        8: methods.ROTATE_90,
    }
    if bare.turned in turns:
        image = image.transpose(turns[bare.turned])
    image.info = {}  # whatever the decoder found is not to be written again
    out = BytesIO()
    image.save(out, "JPEG", quality=_QUALITY)
    return out.getvalue()


def _plain(picture: Image.Image) -> Image.Image:
    """Its pixels as colour or grey in 8 bits, on white where they let through."""
    from PIL import Image

    if picture.mode in ("RGB", "L") and "transparency" not in picture.info:
        return picture
    if picture.mode.startswith("I"):  # 16 bits of grey
        return picture.point(lambda level: level * (1 / 256)).convert("L")
    if picture.mode in ("RGBA", "LA", "PA") or "transparency" in picture.info:
        layers = picture.convert("RGBA")
        white = Image.new("RGB", picture.size, "white")
        white.paste(layers, mask=layers.getchannel("A"))
        return white
    return picture.convert("RGB")


def main() -> int:
    """The child: 0 and a JPEG, or REFUSED and two lines."""
    _limit()
    try:
        made = _anew(bare_picture(sys.stdin.buffer.read()))
    except NoPicture as refused:
        sys.stdout.buffer.write(f"{refused.found}\n{refused.do}".encode())
        return REFUSED
    except MemoryError:
        sys.stdout.buffer.write(b"a picture that takes too much memory\nmake it smaller")
        return REFUSED
    except Exception:  # noqa: BLE001  whatever a decoder raises: the bytes are at fault, and the parent says so
        sys.stdout.buffer.write(b"a picture that cannot be decoded\ncopy it again, or save it anew as JPEG")
        return REFUSED
    sys.stdout.buffer.write(made)
    return 0


if __name__ == "__main__":
    sys.exit(main())
