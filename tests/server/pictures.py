"""Pictures of our own drawing, and what people and their enemies put into them."""

import io
import struct
import zlib

from PIL import Image, ImageDraw, PngImagePlugin

SECRET = b"48.8584 N 2.2945 E"


def drawn(size=(640, 480), mode="RGB"):
    """A picture whose four quarters have four colours: how it is turned can be seen."""
    image = Image.new("RGB", size, "white")
    pen, (w, h) = ImageDraw.Draw(image), size
    for corner, colour in zip(
        [(0, 0), (w // 2, 0), (0, h // 2), (w // 2, h // 2)], ["red", "lime", "blue", "yellow"], strict=True
    ):
        pen.rectangle((*corner, corner[0] + w // 2 - 1, corner[1] + h // 2 - 1), fill=colour)
    return image.convert(mode)


def coded(image, kind="JPEG", **more):
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def exif(orientation=1):
    table = Image.Exif()
    table[0x0112] = orientation
    table[0x010E] = SECRET.decode()
    table.get_ifd(0x8825)[1] = "N"
    table.get_ifd(0x8825)[2] = (48.0, 51.0, 30.2)
    return table.tobytes()


def telephone_jpeg(orientation=6):
    """As a telephone writes it: place, description, profile, comment, and another picture behind the first."""
    data = coded(drawn(), exif=exif(orientation), icc_profile=b"p" * 3000 + SECRET, comment=SECRET)
    xmp = b"http://ns.adobe.com/xap/1.0/\0<x>" + SECRET + b"</x>"
    mark = b"\xff\xe1" + struct.pack(">H", len(xmp) + 2) + xmp
    return data[:2] + mark + data[2:] + coded(drawn((64, 64))) + SECRET


def chunk(kind, body):
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def header(width, height, depth=8, colour=2):
    return chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, depth, colour, 0, 0, 0))


PNG = b"\x89PNG\r\n\x1a\n"


def telling_png():
    texts = PngImagePlugin.PngInfo()
    texts.add_text("Comment", SECRET.decode())
    texts.add_itxt("XML:com.adobe.xmp", SECRET.decode(), zip=True)
    return coded(drawn(), "PNG", pnginfo=texts, exif=exif(3), icc_profile=SECRET * 10, dpi=(72, 72))


def with_chunks(*more):
    """A good PNG with these chunks behind its header."""
    good = coded(drawn(), "PNG")
    return good[:33] + b"".join(more) + good[33:]


def bits_60000():
    """60 000 × 60 000 bits, all zero: 450 MB of rows in 2 MB."""
    packer = zlib.compressobj(1)
    row = b"\0" * 7501
    packed = b"".join(packer.compress(row * 100) for _ in range(600)) + packer.flush()
    return PNG + header(60_000, 60_000, 1, 0) + chunk(b"IDAT", packed) + chunk(b"IEND", b"")


def inflates_far():
    """A small picture whose coded data go on for 200 MB behind it."""
    packer = zlib.compressobj(9)
    packed = packer.compress(b"\0" * (64 * 193)) + b"".join(
        packer.compress(b"\0" * 1_000_000) for _ in range(200)
    )
    return PNG + header(64, 64) + chunk(b"IDAT", packed + packer.flush()) + chunk(b"IEND", b"")


def text_bomb(kind=b"zTXt"):
    """A text of 100 MB packed into 100 kB."""
    packer = zlib.compressobj(9)
    packed = b"".join(packer.compress(b"a" * 1_000_000) for _ in range(100)) + packer.flush()
    head = b"Comment\0\0" if kind == b"zTXt" else b"Comment\0\1\0\0\0"
    return with_chunks(chunk(kind, head + packed))


def chunk_flood(count=300_000):
    return with_chunks(*[chunk(b"tEXt", b"a\0b")] * count)


def moving_png():
    frames = [drawn(), drawn().rotate(90)]
    out = io.BytesIO()
    frames[0].save(out, "PNG", save_all=True, append_images=frames[1:])
    return out.getvalue()


def scan_flood():
    """A progressive picture that says its last scan again and again."""
    good = coded(drawn((4000, 3000)), progressive=True)
    last = good.rfind(b"\xff\xda")
    return good[:last] + good[last:-2] * 3000 + b"\xff\xd9"


def jpeg_of(width, height):
    """A small JPEG that says to be as large as this."""
    good = bytearray(coded(drawn()))
    at = good.find(b"\xff\xc0")
    good[at + 5 : at + 9] = struct.pack(">HH", height, width)
    return bytes(good)
