"""How large a file may be, and that the limit is where it is said to be."""

import subprocess
import sys
import time

import pytest

from leverwright.project import LIMITS, Draft, Project
from tests.project.vehicle_texts import FLAT

HEAD = "leverwright = 1\n"


def _first(text):
    faults = Draft.from_text(text, "cart.toml").faults
    return (faults[0].line, faults[0].key, faults[0].found) if faults else None


def _filled(size):
    """A whole vehicle of exactly so many bytes, in comments of permitted length."""
    filler = ("# " + "x" * 997 + "\n") * 1000
    text = FLAT + filler[: size - len(FLAT)]
    return text[:-1] + "\n"


def test_bytes():
    assert _first(_filled(LIMITS.file_bytes)) is None
    assert _first(_filled(LIMITS.file_bytes) + "\n") == (None, None, "1000001 bytes")


def test_bytes_are_counted_not_characters():
    assert _first(FLAT + "# é\n" * 250_000)[2] == f"{len(FLAT) + 5 * 250_000} bytes"


def test_lines():
    rest = LIMITS.lines - FLAT.count("\n")
    assert _first(FLAT + "\n" * rest) is None
    assert _first(FLAT + "\n" * (rest - 1) + "#") is None
    assert _first(FLAT + "\n" * (rest + 1)) == (None, None, "20001 lines")
    assert _first(FLAT + "\n" * rest + "#") == (None, None, "20001 lines")


def test_a_line():
    assert _first(FLAT + "#" * LIMITS.line_characters) is None
    line = FLAT.count("\n") + 1
    assert _first(FLAT + "#" * (LIMITS.line_characters + 1)) == (
        line,
        "wheels.rear.unsprung",
        "a line of 10001 characters",
    )


def test_levels():
    assert _first(HEAD + "x = " + "[" * 8 + "]" * 8)[1] == "x"
    assert _first(HEAD + "x = " + "[" * 9 + "]" * 9) == (None, None, "brackets nested more than 8 deep")
    assert _first(HEAD + "x = " + "{a = " * 9 + "1" + "}" * 9) == (
        None,
        None,
        "brackets nested more than 8 deep",
    )


def test_brackets_in_texts_and_comments_are_no_levels():
    assert _first(FLAT + "# " + "[" * 20) is None
    text = FLAT.replace('plane = "xz"', 'plane = "xz"\ntitle = "' + "[" * 20 + '"')
    assert _first(text) is None
    assert _first(text.replace('"' + "[" * 20 + '"', "'''" + "[\n" * 20 + "'''")) is None


def test_brackets_side_by_side_are_no_levels():
    assert _first(HEAD + "x = [" + "[]," * 100 + "]")[1] == "x"


def test_dots():
    assert _first(HEAD + "a" + ".a" * 12 + " = 1")[1] == "a"
    assert _first(HEAD + "a" + ".a" * 13 + " = 1") == (2, None, "a key of more than 12 dots")
    assert _first(HEAD + "[a" + ".'a'" * 13 + "]") == (2, None, "a key of more than 12 dots")


def test_parts_of_keys():
    key = "a" + ".a" * 11
    lines = LIMITS.key_parts // 12
    assert _first("\n".join(f"b{at}.{key[2:]} = 1" for at in range(lines)))[1] == "b0"
    found = _first("\n".join(f"b{at}.{key[2:]} = 1" for at in range(lines + 1)))
    assert found == (None, None, "more than 100000 parts of keys")


def test_pieces():
    rows = ("x = [" + "1," * 4990 + "]\n") * 31
    assert _first(rows)[2] == "more than 300000 words, numbers and marks"


def test_digits():
    assert _first(FLAT.replace("rate = 20", "rate = 20." + "0" * 37)) is None
    assert _first(FLAT.replace("rate = 20", "rate = 20." + "0" * 38)) == (
        16,
        "shocks.coil.rate",
        "a number of 41 characters",
    )
    assert _first(FLAT.replace("rate = 20", "rate = " + "9" * 5000))[1] == "shocks.coil.rate"


def test_points():
    def text(count):
        return HEAD + "[points]\n" + "".join(f"p{at} = [{at}, 0, 0]\n" for at in range(count))

    assert _first(text(2000))[1] == "bodies"
    assert _first(text(2001)) == (None, None, "2001 points")


def test_twins_count_as_points():
    def text(count):
        return (
            HEAD
            + "mirror = true\n[points]\n"
            + "".join(f"p{at}-left = [{at}, 1, 0]\n" for at in range(count))
        )

    assert _first(text(1000))[1] == "bodies"
    assert _first(text(1001)) == (None, None, "2002 points, twins counted")


def test_other_things():
    def text(count):
        return FLAT + "".join(f"[shocks.b{at}]\n" for at in range(count))

    assert _first(text(1999))[1] == "shocks.b0.length_open"
    assert _first(text(2000)) == (None, None, "2001 shocks")


BAR = '[bars.b{0}]\nends = ["h{0}", "e{0}"]\n'
SPRING = '[springs.s{0}]\nends = ["h{0}", "e{0}"]\nshock = "coil"\n'
STRAP = '[straps.s{0}]\nends = ["h{0}", "e{0}"]\nlength = 400\n'
HELD = '[held.h{0}]\npoint = "f{0}"\nalong = [1, 0]\nrange = [-1, 1]\n'


def _crowd(thing, count):
    """A vehicle with so many more of a thing, each with ends of its own."""
    points = "".join(
        f"h{at} = [300, {at}]\ne{at} = [100, {600 + at}]\nf{at} = [0, {at}]\n" for at in range(count)
    )
    arm = "".join(f', "h{at}"' for at in range(count))
    frame = "".join(f', "e{at}"' + ("" if thing is HELD else f', "f{at}"') for at in range(count))
    text = FLAT.replace("\n[bodies]", points + "\n[bodies]").replace('"hole"]', f'"hole"{arm}]')
    return text.replace('"eye"]', f'"eye"{frame}]', 1) + "".join(thing.format(at) for at in range(count))


@pytest.mark.parametrize(
    ("thing", "table", "most"),
    [(BAR, "bars", 240), (SPRING, "springs", 47), (STRAP, "straps", 48), (HELD, "held", 24)],
)
def test_crowds(thing, table, most):
    assert _first(_crowd(thing, most)) is None
    whole = getattr(LIMITS, table)
    assert _first(_crowd(thing, most + 1)) == (None, None, f"{whole + 1} {table}, twins counted")


def test_free_points_count_as_what_is_solved():
    def text(count):
        points = "".join(f"u{at} = [{at}, 0]\n" for at in range(count))
        bars = "".join(
            f'[bars.{at}-{end}]\nends = ["u{at}", "{end}"]\n'
            for at in range(count)
            for end in ("eye", "pivot")
        )
        return FLAT.replace("\n[bodies]", points + "\n[bodies]") + bars

    assert _first(text(29)) is None  # and the arm has one
    line, key, found = _first(text(30))
    assert (line, key) == (None, None)
    assert "61 freedoms" in found


def test_points_that_are_not_joined_yet_are_no_crowd():
    points = "".join(f"u{at} = [{at}, 0]\n" for at in range(200))
    assert _first(FLAT.replace("\n[bodies]", points + "\n[bodies]"))[1] == "points.u0"


def test_bodies_at_a_point():
    def text(count):
        return FLAT.replace(
            "[shocks.coil]", "".join(f'b{at} = ["pivot"]\n' for at in range(count)) + "[shocks.coil]", 1
        )

    assert _first(text(18)) is None
    assert _first(text(19)) == (6, "points.pivot", "21 bodies carry 'pivot'")


def test_points_at_one_place():
    def text(count):
        names = "".join(f"p{at} = [0, 300]\n" for at in range(count))
        listed = ", ".join(f'"p{at}"' for at in range(count))
        return FLAT.replace("\n[bodies]", f"{names}\n[bodies]\nplate = [{listed}]", 1)

    assert _first(text(19)) is None
    assert _first(text(20))[2].startswith("20 or more points lie where")


def test_text_of_a_quantity_and_a_title():
    def text(count):
        return FLAT.replace("rate = 20", 'rate = "' + "2".rjust(count - 5) + ' N/mm"')

    assert _first(text(200)) is None
    assert _first(text(201)) == (16, "shocks.coil.rate", "a text of 201 characters stands here")
    assert Project.from_text(FLAT.replace("plane", f'title = "{"x" * 200}"\nplane', 1)).title == "x" * 200
    assert _first(FLAT.replace("plane", f'title = "{"x" * 201}"\nplane', 1))[1] == "title"


def test_a_name():
    assert _first(FLAT.replace("pivot", "x" * 100)) is None
    line, key, found = _first(FLAT.replace("pivot", "x" * 101))
    assert (line, found) == (6, "a name of 101 characters")
    assert len(key) < 110


HOSTILE = {
    "brackets": "a = " + "[" * 400_000,
    "brackets beside": "a = " + "[]" * 400_000,
    "dots": "a" + ".a" * 300_000 + " = 1",
    "deep headers": "\n".join(f"[a{at}.b.c.d.e.f.g.h.i.j.k.l.m]" for at in range(19_000)),
    "deep keys": "\n".join(f"a{at}.b.c.d.e.f.g.h.i.j.k.l = 1" for at in range(19_000)),
    "one line": 'a = "' + "x" * 999_000 + '"',
    "numbers": "\n".join(f"a{at} = [" + "1," * 4900 + "1]" for at in range(98)),
    "digits": "a = " + "9" * 990_000,
    "points": HEAD + "[points]\n" + "".join(f"p{at} = [{at}, 0, {at}]\n" for at in range(19_000)),
    "points in one place": HEAD + "[points]\n" + "".join(f"p{at} = [1, 0, 1]\n" for at in range(2000)),
    "points in one plane": HEAD
    + "[points]\n"
    + "".join(f"p{at} = [{at / 0.61}, {-at / 0.53}, 1]\n" for at in range(2000)),
    "names that dangle": HEAD
    + "[points]\n"
    + "".join(f"point-number-{at} = [{at}, 0, 1]\n" for at in range(2000))
    + "[bodies]\nchassis = ["
    + ",\n".join(f'"pint-number-{at + 3000}"' for at in range(2000))
    + "]",
    "bodies": HEAD
    + "[points]\n"
    + "".join(f"p{at} = [{at}, 0, 1]\n" for at in range(100))
    + "[bodies]\n"
    + "".join(f"b{at} = [" + ",".join(f'"p{k}"' for k in range(60)) + "]\n" for at in range(1900)),
    "bars alike": HEAD
    + "[points]\na = [0, 0, 0]\nb = [1, 1, 1]\n"
    + "".join(f'[bars.b{at}]\nends = ["a", "b"]\n' for at in range(2000)),
    "unknown keys": HEAD + "".join(f"pointz{at} = 1\n" for at in range(19_000)),
    "escapes": 'a = """' + "\\n\\\n" * 9_000 + '"""',
    "escaped keys": "".join(f'"\\u0041{at}" = 1\n' for at in range(19_000)),
    "open texts": '"\n' * 19_000,
    "open long texts": ("'''" + '\\"""' * 2000 + "\n") * 100,
    "tables in lists": "[[a]]\n[a.b]\n" * 9_500,
    "inline tables": "\n".join(
        f"a{at} = {{" + ", ".join(f"b{k}=1" for k in range(300)) + "}" for at in range(200)
    ),
    "a table of rows": HEAD
    + "[shocks.a]\ntable = [\n"
    + ",\n".join(f"[{at},1,1]" for at in range(18_000))
    + "]",
}


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_hostile_text_is_refused_in_five_seconds_with_a_short_message(text):
    start = time.process_time()
    faults = Draft.from_text(text, "cart.toml").faults
    assert time.process_time() - start < 5
    assert faults
    assert sum(len(fault.sentence) for fault in faults) < 64_000


def test_hostile_texts_are_refused_in_half_a_gigabyte():
    code = (
        "import resource, sys; from leverwright.project import Draft; from tests.project.test_limits import HOSTILE\n"
        "for name in ('numbers', 'deep headers', 'inline tables', 'bodies'): Draft.from_text(HOSTILE[name])\n"
        "sys.exit(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss > 500_000)  # kB"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
