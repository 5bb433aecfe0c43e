"""Good files spoilt by the hundred: each is refused at the line that was spoilt, with a way out.

Most go through the library in one process; a few through the program, which must end with status 2.
"""

import json
import random
import re
import subprocess
import sys
from pathlib import Path

import pytest

from leverwright.project import Draft, Project, ProjectError
from leverwright.project.keys import INSIDE, KEYS, TABLES, TOP
from tests.project.measured_texts import MEASURED, MEASURED_FLAT
from tests.project.vehicle_texts import FLAT, WHOLE

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))[
    ::6
]  # some: all would take minutes
GOOD = {
    "whole": WHOLE,
    "flat": FLAT,
    "measured": MEASURED,
    "measured-flat": MEASURED_FLAT,
    **{path.stem: path.read_text(encoding="utf-8") for path in EXAMPLES},
}
NUMBER = re.compile(r"(?<![\w.\"-])-?\d+(?:\.\d+)?(?![\w.\"])")
KEY = re.compile(r"(?<![\w-])([a-z_]+)(?= *=)")
NAME = re.compile(r'"([a-z][a-z0-9-]*)"')
KNOWN_KEYS = {key for keys in (TOP, *KEYS.values()) for key in keys} | {
    *(key for _, key in INSIDE),
    "range",
    "reads",
    "standing",
}
# Tables whose texts in quotes are names, and those whose keys may all be misspelt.
NAMING = ("bodies", "bars", "springs", "straps", "held", "wheels", "tape", "loads", "weighed", "travels")
KEYED = ("", *(table for table in TABLES if table not in ("points", "bodies")))


def _places(text, pattern, *, tables=None):
    """(line, start, end) of every match outside remarks, in some tables only."""
    table = ""
    at = 0
    for number, line in enumerate(text.split("\n"), 1):
        header = re.match(r"\[([a-z]+)", line)
        table = header[1] if header else table
        if not header and not line.startswith("title") and (tables is None or table in tables):
            body = re.split(r"#", line)[0]
            for match in pattern.finditer(body):
                yield number, at + match.start(), at + match.end()
        at += len(line) + 1


def _refusal(text):
    with pytest.raises(ProjectError) as refused:
        Project.from_text(text, "cart.toml")
    return refused.value.fault


@pytest.mark.parametrize("good", GOOD.values(), ids=GOOD.keys())
def test_the_files_are_good_to_begin_with(good):
    assert Draft.from_text(good).faults == ()


@pytest.mark.parametrize(
    "bad", ["nan", "-inf", "1e400", "1e9", "'twelve'", "true", "1979-05-27", "{}", "''", "'3 furlongs'"]
)
@pytest.mark.parametrize("good", GOOD.values(), ids=GOOD.keys())
def test_each_number_spoilt_is_refused_in_its_line(good, bad):
    places = list(_places(good, NUMBER))
    assert places
    for line, start, end in places:
        fault = _refusal(good[:start] + bad + good[end:])
        written = good.split("\n")[line - 1]
        assert fault.line == line, written
        # Of a table in place of a number the first key that is missing is told, one step further in.
        assert any(step.strip('"') in written for step in fault.key.split(".")[-2:]), fault.sentence


@pytest.mark.parametrize("good", GOOD.values(), ids=GOOD.keys())
def test_each_number_with_a_decimal_comma_is_refused_in_its_line(good):
    for line, _, end in _places(good, NUMBER):
        fault = _refusal(good[:end] + ",5" + good[end:])
        # Of two lists that belong together the second is told that it is too short.
        paired = good.split("\n")[line - 1].startswith(("marks", "lengths", "wheel_moved"))
        assert fault.line in ((line, line + 1) if paired else (line,)), fault.sentence
        assert fault.do


@pytest.mark.parametrize("good", GOOD.values(), ids=GOOD.keys())
def test_each_key_misspelt_is_refused_with_the_right_word(good):
    spoilt = 0
    for line, start, end in _places(good, KEY, tables=KEYED):
        key = good[start:end]
        if good.split("\n")[line - 1].startswith(("picks", "scale =")) and key not in ("picks", "scale"):
            continue  # a name
        assert key in KNOWN_KEYS
        wrong = key[:-1] + key[-1] * 2
        fault = _refusal(good[:start] + wrong + good[end:])
        assert fault.line == line
        assert fault.key.endswith(wrong)
        assert fault.do == f"did you mean '{key}'?"
        spoilt += 1
    assert spoilt > 8


@pytest.mark.parametrize("good", GOOD.values(), ids=GOOD.keys())
def test_each_name_misspelt_is_refused_with_the_right_word(good):
    names = {name for table in TABLES for name in _written_names(good, table)}
    spoilt = 0
    for line, start, end in _places(good, NAME, tables=NAMING):
        name = good[start + 1 : end - 1]
        if good.split("\n")[line - 1].startswith("is ="):
            continue  # one of a few words
        wrong = name + name[-1]
        fault = _refusal(good[:start] + f'"{wrong}"' + good[end:])
        assert abs(fault.line - line) <= 3  # a list over several lines stands at its key
        assert f"'{wrong}'" in fault.found
        suggested = re.fullmatch(r"did you mean '(.+)'\?", fault.do)
        assert suggested, fault.do
        assert suggested[1] in names or suggested[1].endswith("-right")
        spoilt += 1
    assert spoilt > 5


def _written_names(text, table):
    found = re.findall(rf"^\[{table}\.([^\]]+)\]", text, re.MULTILINE)
    inside = re.search(rf"^\[{table}\]\n((?:(?!\[[a-z]).*\n)*)", text, re.MULTILINE)
    return found + (re.findall(r'^"?([\w-]+)"? *=', inside[1], re.MULTILINE) if inside else [])


@pytest.mark.parametrize("good", GOOD.values(), ids=GOOD.keys())
def test_each_line_taken_out_is_a_vehicle_or_a_refusal(good):
    lines = good.split("\n")
    refused = 0
    for at in range(len(lines)):
        refused += _whole_or_refused("\n".join(lines[:at] + lines[at + 1 :]))
    assert refused > 10


@pytest.mark.parametrize("good", GOOD.values(), ids=GOOD.keys())
def test_each_key_written_twice_is_refused_where_it_is_written_again(good):
    lines = good.split("\n")
    for at, line in enumerate(lines):
        if re.match(r"\S+ *=|\[", line) and line.count("[") == line.count("]"):
            fault = _refusal("\n".join([*lines[: at + 1], line, *lines[at + 1 :]]))
            assert fault.line == at + 2
            assert f"first in line {at + 1}" in fault.found


@pytest.mark.parametrize("good", GOOD.values(), ids=GOOD.keys())
def test_a_file_cut_off_anywhere_is_a_vehicle_or_a_refusal(good):
    for end in range(0, len(good), 7):
        _whole_or_refused(good[:end])


PIECES = [
    *"[]{}=,.\"'#\n\r\\\t\0\x7f",
    *(
        '"""',
        "'''",
        "\\u0041",
        "nan",
        "-",
        "1_0",
        "0x1F",
        "[[",
        "a.b=1",
        "{a={b={c=1}}}",
        "1979-05-27T07:32:00Z",
    ),
    *(
        "\u202e",
        "\ufeff",
        "\ud800",
        "\u0663",
        "\uff11\uff12",
        "½",
        "±",
        "1/0",
        "9" * 50,
        "x" * 300,
        "-left",
        "chassis",
    ),
]


@pytest.mark.parametrize("seed", range(40))
def test_a_file_with_pieces_put_in_taken_out_and_exchanged_is_a_vehicle_or_a_refusal(seed):
    drawn = random.Random(seed)
    texts = list(GOOD.values())
    for _ in range(10):
        text = drawn.choice(texts)
        for _ in range(drawn.choice([1, 1, 2, 5])):
            start = drawn.randrange(len(text))
            end = min(len(text), start + drawn.choice([0, 0, 1, 3, 30]))
            text = text[:start] + drawn.choice([*PIECES, "", chr(drawn.randrange(0x110000))]) + text[end:]
        _whole_or_refused(text)


def _whole_or_refused(text):
    """Is the text refused? Then with sound faults; else it is a whole vehicle."""
    draft = Draft.from_text(text, "cart.toml")
    last = text.count("\n") + 1
    for fault in draft.faults + draft.notices:
        assert fault.line is None or 1 <= fault.line <= last
        assert fault.line is not None or fault.key is None
        assert fault.found
        assert fault.allowed
        assert fault.do
        assert fault.sentence.isprintable()
        assert len(fault.sentence) < 2000
    assert (draft.project is None) == bool(draft.faults)
    return bool(draft.faults)


SAMPLE = {
    "a key misspelt": (WHOLE.replace("radius", "radus"), 102, "wheels.front-left.radus"),
    "a name misspelt": (
        WHOLE.replace('shock = "salvaged"', 'shock = "salvagd"'),
        67,
        "springs.spring-left.shock",
    ),
    "a decimal comma": (FLAT.replace("rate = 20", "rate = 20,5"), 16, "shocks.coil.rate"),
    "a bar of no length": (WHOLE.replace("[380, 560, 205]", "[380, 200, 205]"), 44, "bars.tie-left.ends"),
    "a tape to nowhere": (
        MEASURED_FLAT.replace('between = ["hub", "hole"]', 'between = ["hub", "hle"]'),
        36,
        "tape.second.between",
    ),
    "a picture elsewhere": (MEASURED_FLAT.replace("a.jpg", "../a.jpg"), 52, "photos.side.picture"),
    "deep brackets": ("a = " + "[" * 1000, None, None),
    "another encoding": (FLAT.encode("utf-16"), None, None),
}


@pytest.mark.parametrize(("text", "line", "key"), SAMPLE.values(), ids=SAMPLE.keys())
def test_the_program_ends_with_status_2_and_says_where(tmp_path, text, line, key):
    path = tmp_path / "cart.toml"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    run = [sys.executable, "-m", "leverwright", "check", str(path), "--json"]
    done = subprocess.run(run, capture_output=True, text=True, check=False)
    assert done.returncode == 2, done.stderr
    said = json.loads(done.stdout)
    assert said["leverwright"] == 1
    assert set(said["error"]) == {"file", "line", "key", "found", "allowed", "do"}
    assert (said["error"]["line"], said["error"]["key"]) == (line, key)
    assert "Traceback" not in done.stderr


def test_a_file_with_a_byte_order_mark_is_answered_like_one_without(tmp_path):
    said = []
    for mark in ("", "\ufeff"):
        path = tmp_path / "cart.toml"
        path.write_text(mark + FLAT, encoding="utf-8")
        run = [sys.executable, "-m", "leverwright", "check", str(path), "--json"]
        said.append(subprocess.run(run, capture_output=True, text=True, check=False))
    assert said[0].returncode == said[1].returncode < 2, said[1].stderr
    assert said[0].stdout == said[1].stdout
