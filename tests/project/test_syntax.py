"""A text that is no TOML: line and key of the place, and a hint that fits."""

import pytest

from leverwright.project import Draft, Project
from leverwright.project.outline import outline_of
from tests.project.vehicle_texts import FLAT

CASES = {
    "decimal comma": (
        "[points]\nb = [0, 0]\n[shocks.s]\nrate = 17,5\n",
        4,
        "shocks.s.rate",
        "decimals with a point",
    ),
    "text without quotes": ("title = cart\n", 1, "title", "put text in quotes"),
    "unit without quotes": ("[wheels.w]\nradius = 8 in\n", 2, "wheels.w.radius", "put text in quotes"),
    "no value": ("title =\nmirror = true\n", 1, "title", "compare"),
    "no equals": ("mirror true\n", 1, None, "compare"),
    "open header": ("\n\n[points\n", 3, "points", "compare"),
    "open quotes": ('title = "cart\n', 1, "title", "compare"),
    "open long quotes": ('title = """cart\n\n', 2, "title", "close the bracket or the quotes"),
    "open list": ("[points]\na = [1, 2\n", 2, "points.a", "close the bracket"),
    "open braces": ("[points]\na = { at = [1, 2] \n", 2, "points.a.at", "close the bracket"),
    "two keys in a line": ("mirror = true title = 'x'\n", 1, "mirror", "put text in quotes"),
    "a strange escape": ('title = "a\\qb"\n', 1, "title", "compare"),
    "a line end of an old system": ("mirror = true\rtitle = 'x'", 1, "mirror", "put text in quotes"),
    "a zero character": ("title = 'a\0b'\n", 1, "title", "compare"),
    "nothing but a bracket": ("]", 1, None, "compare"),
    "empty header": ("[]\n", 1, None, "compare"),
    "empty key": ("= 1\n", 1, None, "put text in quotes"),
    "a key twice": ("mirror = true\n\nmirror = true\n", 3, "mirror", "take one of them out"),
    "a table twice": ("[bars.a]\n[bars.b]\n[bars.a]\n", 3, "bars.a", "take one of them out"),
    "a key twice in braces": (
        "[points]\na = { at = [1], at = [2] }\n",
        2,
        "points.a.at",
        "take one of them out",
    ),
    "a table over dotted keys": ("goals.sag = [1, 2]\n[goals]\n", 2, "goals", "compare"),
    "an impossible date": ("title = 2026-13-45\n", 1, "title", "put text in quotes"),
}


@pytest.mark.parametrize(("text", "line", "key", "hint"), CASES.values(), ids=CASES.keys())
def test_a_text_that_is_no_toml_is_refused_at_its_place(text, line, key, hint):
    faults = Draft.from_text(text, "cart.toml").faults
    assert len(faults) == 1
    assert (faults[0].line, faults[0].key) == (line, key)
    assert hint in faults[0].do
    assert faults[0].sentence.isprintable()


def test_the_line_itself_is_shown_short_and_visible():
    found = Draft.from_text("title = \u202e" + "x" * 100).faults[0].found
    assert found.startswith("'title = \\u202e" + "x" * 10)
    assert len(found) < 120


def test_a_sentence_is_one_line_in_which_nothing_hides():
    names = (
        FLAT.replace("hub", "h\\nb\\u202e")
        .replace("h\\nb\\u202e = ", '"h\\nb\\u202e" = ')
        .replace('"hole"]', '"hole", "x"]')
    )
    fault = Draft.from_text(names, "a\nb\u202e.toml").faults[0]
    assert fault.file == "a\nb\u202e.toml"
    assert fault.sentence.startswith("a\\u000ab\\u202e.toml, line 13, bodies.arm: 'x' is not in [points]")
    off = names.replace('["pivot", "h\\nb\\u202e", "hole", "x"]', '["pivot", "hole"]')
    off = off.replace('"eye"]', '"eye", "h\\nb\\u202e"]', 1)
    fault = Draft.from_text(off, "cart.toml").faults[0]
    assert fault.key == "wheels.rear.centre"
    assert fault.sentence.isprintable()
    assert "'h\\u000ab\\u202e'" in fault.sentence


def test_half_of_a_character_pair_is_refused_as_a_whole():
    fault = Draft.from_text(FLAT + "# \ud800").faults[0]
    assert (fault.line, fault.key, fault.found) == (None, None, "half of a character pair stands in the text")


def test_pieces_that_are_no_marks_count_too():
    text = ("a " * 4999 + "\n") * 61
    assert Draft.from_text(text).faults[0].found == "more than 300000 words, numbers and marks"


@pytest.mark.parametrize(
    ("written", "key"),
    [
        ("a.b", "points.a.b"),
        ("'a b'", 'points."a b"'),
        ('"a\\"b"', 'points."a\\"b"'),
        ('"a\\nb"', 'points."a\\u000ab"'),
        ('"\\U0001F600 \\u202e"', 'points."\U0001f600 \\u202e"'),
        ('"\\U000E0001"', 'points."\\U000e0001"'),
        ("'a\\b'", 'points."a\\\\b"'),
        ("1", "points.1"),
        ("'" + "x" * 90 + "'", 'points."' + "x" * 80 + '..."'),
    ],
)
def test_a_key_is_named_as_toml_would_write_it(written, key):
    faults = Draft.from_text(f"leverwright = 1\n[points]\n{written} = 1\n").faults
    fault = faults[0]
    assert (fault.key, fault.line) == (key, 3)


OUTLINES = {
    "plain": ("a = 1\nb = 2\n", {("a",): 1, ("b",): 2}),
    "header": ("\n[a.b]\nc = 1\n", {("a",): 2, ("a", "b"): 2, ("a", "b", "c"): 3}),
    "header after its part": ("[a.b]\n\n[a]\nc = 1\n", {("a",): 3, ("a", "b"): 1, ("a", "c"): 4}),
    "dots with blanks": ("a . 'b' = 1\n", {("a",): 1, ("a", "b"): 1}),
    "texts over lines": ('a = """\nb = 1\n"""\nc = 1\n', {("a",): 1, ("c",): 4}),
    "quotes before closing ones": ('a = """x""""\nb = """y"""""\nc = 1\n', {("a",): 1, ("b",): 2, ("c",): 3}),
    "plain texts over lines": ("a = '''\n''b = 1\n''''\nc = 1\n", {("a",): 1, ("c",): 4}),
    "an escaped quote": ('a = "\\""\nb = "\\\\"\nc = 1', {("a",): 1, ("b",): 2, ("c",): 3}),
    "a remark with quotes": ("a = 1 # ' \" [\nb = 2", {("a",): 1, ("b",): 2}),
    "lists over lines": ("a = [ # b = 1\n  [1,\n 2], 'x = 1',\n]\nb = 2\n", {("a",): 1, ("b",): 5}),
    "braces in a list": ("a = [\n{ b = 1 },\n]\nc = 1", {("a",): 1, ("a", "b"): 2, ("c",): 4}),
    "a list in braces": (
        "a = { b = [\n1,\n], c = 1 }\nd = 1",
        {("a",): 1, ("a", "b"): 1, ("a", "c"): 3, ("d",): 4},
    ),
    "tables in a list": ("[[a]]\nb = 1\n[[a]]\nb = 2\n", {("a",): 3, ("a", "b"): 2}),
    "line ends of another system": ("a = 1\r\n[b]\r\nc = 1\r\n", {("a",): 1, ("b",): 2, ("b", "c"): 3}),
    "a date with a blank": ("a = 1979-05-27 07:32:00\nb = 1", {("a",): 1, ("b",): 2}),
}


@pytest.mark.parametrize(("text", "lines"), OUTLINES.values(), ids=OUTLINES.keys())
def test_where_each_key_stands(text, lines):
    assert outline_of(text).lines == lines


def test_places_of_keys_and_values_are_those_of_the_text():
    text = "[a]\n'b c' . d = [1, 'x']  # y\ne = { f = 1.5, g = 1979-05-27 07:32:00 }\n"
    outline = outline_of(text)
    said = {path: text[slice(*item.value)] for path, item in outline.items.items()}
    assert said == {
        ("a",): "[a]",
        ("a", "b c", "d"): "[1, 'x']",
        ("a", "e"): "{ f = 1.5, g = 1979-05-27 07:32:00 }",
        ("a", "e", "f"): "1.5",
        ("a", "e", "g"): "1979-05-27 07:32:00",
    }
    assert [text[slice(*part)] for part in outline.items["a", "b c", "d"].parts] == ["'b c'", "d"]
    assert [text[slice(*place)] for place in outline.arrays["a", "b c", "d"]] == ["1", "'x'"]
    assert [(path, text[start:end]) for path, start, end in outline.strings] == [(("a", "b c", "d"), "'x'")]
    assert outline.line(("a", "b c", "nothing")) == 2
    assert outline.line(("nothing",)) == 1


def test_a_quoted_key_is_the_key():
    assert Project.from_text(FLAT.replace("hub =", '"h\\u0075b" =')).points["hub"].line == 7


def test_a_bare_number_with_a_comma_gets_the_sentence_of_one_in_quotes():
    fault = Draft.from_text("[shocks.s]\nlength_open = 270,0  # mm\n").faults[0]
    assert fault.found == "'270,0' has a comma"
    assert fault.do == "write the decimals with a point: 270.0"
    assert fault.line == 2


def test_the_parsers_own_words_stay_out_of_a_fault():
    sentence = Draft.from_text("mirror = true title = 'x'\n").faults[0].sentence
    assert "Expected" not in sentence
    assert "(" not in sentence
