"""A text changed by operations: only the piece that is meant changes, and the rest stays byte for byte."""

import difflib
import random
import tomllib

import pytest

from leverwright.project import Project, ProjectError, edit
from tests.project.vehicle_texts import FLAT, WHOLE


def _set(*key, value):
    return [{"op": "set", "key": list(key), "value": value}]


def _add(*key, value):
    return [{"op": "add", "key": list(key), "value": value}]


def _delete(*key):
    return [{"op": "delete", "key": list(key)}]


def _changed(text, ops):
    """Lines taken out and put in."""
    after = edit.apply(text, ops)
    lines = difflib.unified_diff(text.split("\n"), after.split("\n"), n=0, lineterm="")
    return [line for line in lines if line[:3] not in ("---", "+++", "@@ ")]


CHANGES = {
    "a number": (
        _set("wheels", "front-left", "tyre", value=85),
        ["-tyre = 90", "+tyre = 85"],
    ),
    "a number with a remark behind it": (
        _set("bars", "link-left", "length", value="220 ± 1 mm"),
        [
            "-length = 219                         # a little longer than drawn",
            '+length = "220 ± 1 mm"                         # a little longer than drawn',
        ],
    ),
    "a point": (
        _set("points", "tab-left", value=[401.5, 214, 100]),
        ["-tab-left         = [400, 214, 100]", "+tab-left         = [401.5, 214, 100]"],
    ),
    "a point that has more to say": (
        _set("points", "link-hole-left", value=[398, 215, 318]),
        [
            "-link-hole-left   = { at = [398, 214, 318], error = 0.5 }",
            "+link-hole-left   = { at = [398, 215, 318], error = 0.5 }",
        ],
    ),
    "the place of a point that is a list": (
        _set("points", "tab-left", "at", value=[1, 2, 3]),
        ["-tab-left         = [400, 214, 100]", "+tab-left         = [1, 2, 3]"],
    ),
    "the error of a point that is a list": (
        _set("points", "tab-left", "error", value=2.5),
        ["-tab-left         = [400, 214, 100]", "+tab-left         = { at = [400, 214, 100], error = 2.5 }"],
    ),
    "one more word about a point": (
        _set("points", "panhard-frame", "error", value=2),
        [
            "-panhard-frame    = { at = [200, 300, 150], alone = true }",
            "+panhard-frame    = { at = [200, 300, 150], alone = true, error = 2 }",
        ],
    ),
    "a key that was not there": (
        _set("wheels", "front-right", "tyre", value=80),
        ["+tyre = 80"],
    ),
    "a key of the whole file that was not there": (
        _set("plane", value="xz"),
        ['+plane = "xz"'],
    ),
    "a table that was not there": (
        _set("bars", "tie-right", "length", value=360),
        ["+", "+[bars.tie-right]", "+length = 360"],
    ),
    "a goal within a goal": (
        _set("goals", "travel", "droop", value=25),
        ["-travel = { bump = 60, droop = 30 }", "+travel = { bump = 60, droop = 25 }"],
    ),
    "a new point": (
        _add("points", "new", value={"at": [1, 0, 3], "alone": True}),
        ["+new = { at = [1, 0, 3], alone = true }"],
    ),
    "a new body": (
        _add("bodies", "plate", value=["head-top"]),
        ['+plate = ["head-top"]'],
    ),
    "a new bar": (
        _add("bars", "stay", value={"ends": ["head-top", "panhard-arm"], "adjust": [-5, 5]}),
        ["+", "+[bars.stay]", '+ends = ["head-top", "panhard-arm"]', "+adjust = [-5, 5]"],
    ),
    "a name that needs quotes": (
        _add("points", 'a "new" one', value=[1, 0, 3]),
        ['+"a \\"new\\" one" = [1, 0, 3]'],
    ),
    "a point of a body over several lines": (
        _set(
            "bodies",
            "chassis",
            value=[
                "pivot-front-left",
                "pivot-rear-left",
                "spring-eye-left",
                "gas-eye-left",
                "arm-front-left",
                "arm-rear-left",
                "strap-top-left",
                "head-top",
                "head-low",
                "panhard-frame",
                "extra",
            ],
        ),
        [
            '-              "head-top", "head-low", "panhard-frame"]',
            '+              "head-top", "head-low", "panhard-frame", "extra"]',
        ],
    ),
    "a point off a body over several lines": (
        _set(
            "bodies",
            "chassis",
            value=[
                "pivot-front-left",
                "pivot-rear-left",
                "spring-eye-left",
                "gas-eye-left",
                "arm-front-left",
                "arm-rear-left",
                "head-top",
                "head-low",
                "panhard-frame",
            ],
        ),
        [
            '-              "arm-front-left", "arm-rear-left", "strap-top-left",   # the frame',
            '+              "arm-front-left", "arm-rear-left", # the frame',
        ],
    ),
    "one of several lines": (
        _set(
            "bodies",
            "chassis",
            value=[
                "pivot-front-left",
                "pivot-rear-left",
                "spring-eye-left",
                "gas-eye-left",
                "arm-front-left",
                "arm-rear-left",
                "strap-new-left",
                "head-top",
                "head-low",
                "panhard-frame",
            ],
        ),
        [
            '-              "arm-front-left", "arm-rear-left", "strap-top-left",   # the frame',
            '+              "arm-front-left", "arm-rear-left", "strap-new-left",   # the frame',
        ],
    ),
    "a key": (_delete("shocks", "salvaged", "gas"), ["-gas = 60"]),
    "a key between braces, the last": (
        _delete("goals", "travel", "droop"),
        ["-travel = { bump = 60, droop = 30 }", "+travel = { bump = 60 }"],
    ),
    "a key between braces, the first": (
        _delete("goals", "travel", "bump"),
        ["-travel = { bump = 60, droop = 30 }", "+travel = { droop = 30 }"],
    ),
    "a table with its header": (
        _delete("bars", "tie-left"),
        ["-", "-[bars.tie-left]", '-ends = ["tie-left", "rack-left"]'],
    ),
    "a table set as a whole, key by key": (
        _set(
            "shocks", "salvaged", value={"rate": 20, "length_open": 318, "length_closed": 246, "preload": 4}
        ),
        [
            '-rate = "17.5 N/mm ± 5 %"',
            "+rate = 20",
            "-gas = 60",
            "-friction = 25",
            "-stop = { touches = 20, rate = 120 }",
        ],
    ),
}


@pytest.mark.parametrize(("ops", "expected"), CHANGES.values(), ids=CHANGES.keys())
def test_a_change_touches_only_its_lines(ops, expected):
    assert _changed(WHOLE, ops) == expected


@pytest.mark.parametrize(("ops", "expected"), CHANGES.values(), ids=CHANGES.keys())
def test_line_ends_of_another_system_stay(ops, expected):
    text = WHOLE.replace("\n", "\r\n")
    after = edit.apply(text, ops)
    assert after == edit.apply(WHOLE, ops).replace("\n", "\r\n")


def test_one_changed_value_changes_at_most_two_lines():
    for path, value in _leaves(tomllib.loads(WHOLE)):
        changed = _changed(WHOLE, _set(*path, value=_other(value)))
        assert 2 <= len(changed) <= (4 if path == ("bodies", "chassis") else 2), path


def _leaves(values, path=()):
    for key, value in values.items():
        if isinstance(value, dict):
            yield from _leaves(value, (*path, key))
        else:
            yield (*path, key), value


def _other(value):
    if isinstance(value, bool):
        return not value
    if isinstance(value, str):
        return value + "x"
    if isinstance(value, list):
        return [*value[:-1], _other(value[-1])]
    return value + 1


def test_every_value_can_be_deleted_and_set_again():
    for path, value in _leaves(tomllib.loads(WHOLE)):
        less = edit.apply(WHOLE, _delete(*path))
        assert path not in dict(_leaves(tomllib.loads(less)))
        assert tomllib.loads(edit.apply(less, _set(*path, value=value))) == tomllib.loads(WHOLE)


def test_operations_are_carried_out_in_order():
    ops = [
        *_add("points", "new", value=[1, 0, 3]),
        *_set("points", "new", value=[4, 0, 6]),
        *_delete("points", "new"),
    ]
    assert edit.apply(WHOLE, ops[:2]).count("new = [4, 0, 6]") == 1
    assert edit.apply(WHOLE, ops) == WHOLE


def test_no_operation_changes_nothing():
    assert edit.apply(WHOLE, []) == WHOLE


def test_a_byte_order_mark_stays():
    assert edit.apply("\ufeff" + WHOLE, _set("title", value="x")).startswith("\ufeffleverwright = 1")


def test_a_file_may_begin_from_nothing():
    text = edit.apply("", _set("leverwright", value=1))
    text = edit.apply(text, _add("points", "a", value=[0, 0, 0]))
    text = edit.apply(text, _add("bodies", "chassis", value=["a"]))
    text = edit.apply(text, _add("goals", "travel", "bump", value=60))
    assert text == (
        'leverwright = 1\n\n[points]\na = [0, 0, 0]\n\n[bodies]\nchassis = ["a"]\n\n[goals]\ntravel = { bump = 60 }\n'
    )
    assert Project.from_text(text).goals.travel_bump == 0.06


def test_a_key_of_the_file_goes_above_the_first_table():
    assert (
        edit.apply("[points]\na = [0, 0, 0]\n", _set("leverwright", value=1))
        == "leverwright = 1\n[points]\na = [0, 0, 0]\n"
    )


def test_a_text_without_a_last_line_end_gains_one():
    assert edit.apply("leverwright = 1", _set("title", value="x")) == 'leverwright = 1\ntitle = "x"\n'
    assert edit.apply("a = 1\n[b]", _add("b", "c", value=1)) == "a = 1\n[b]\nc = 1\n"
    assert (
        edit.apply("a = 1\n[bars.b]", _add("bars", "c", value={"x": 1}))
        == "a = 1\n[bars.b]\n\n[bars.c]\nx = 1\n"
    )
    assert edit.apply("a = 1", _add("bars", "c", value={"x": 1})) == "a = 1\n\n[bars.c]\nx = 1\n"


DOTTED = """\
leverwright = 1
goals.travel.bump = 60
points.a = [0, 0, 0]
points.b.at = [1, 0, 0]
wheels = { w = { load = 5 } }
shocks.s.stop.touches = 5  # keep
"""


@pytest.mark.parametrize(
    ("ops", "expected"),
    [
        (_set("goals", "travel", "droop", value=3), ["+goals.travel.droop = 3"]),
        (_add("points", "c", value=[2, 0, 0]), ["+points.c = [2, 0, 0]"]),
        (_set("points", "b", value=[5, 0, 0]), ["-points.b.at = [1, 0, 0]", "+points.b.at = [5, 0, 0]"]),
        (_set("points", "b", "error", value=1), ["+points.b.error = 1"]),
        (_add("shocks", "t", value={"rate": 1}), ["+shocks.t = { rate = 1 }"]),
        (_set("shocks", "s", "rate", value=1), ["+shocks.s.rate = 1"]),
        (_delete("points", "b"), ["-points.b.at = [1, 0, 0]"]),
        (_delete("goals"), ["-goals.travel.bump = 60"]),
        (_delete("goals", "travel", "bump"), ["-goals.travel.bump = 60"]),
        (
            _add("wheels", "v", value={"load": 6}),
            ["-wheels = { w = { load = 5 } }", "+wheels = { w = { load = 5 }, v = { load = 6 } }"],
        ),
        (
            _set("wheels", "w", "tyre", value=6),
            ["-wheels = { w = { load = 5 } }", "+wheels = { w = { load = 5, tyre = 6 } }"],
        ),
        (_delete("wheels", "w"), ["-wheels = { w = { load = 5 } }", "+wheels = {}"]),
        (_delete("wheels", "w", "load"), ["-wheels = { w = { load = 5 } }", "+wheels = { w = {} }"]),
    ],
)
def test_a_file_in_dotted_keys_and_braces_stays_in_them(ops, expected):
    assert _changed(DOTTED, ops) == expected


def test_a_table_that_is_not_there_joins_the_form_that_is():
    assert "wheels = { w = { load = 5 }, n = { tyre = 1 } }" in edit.apply(
        DOTTED, _set("wheels", "n", "tyre", value=1)
    )
    assert "\nshocks.n.rate = 1\n" in edit.apply(DOTTED, _set("shocks", "n", "rate", value=1))
    assert edit.apply("[held]\nr.range = [1, 2]\n", _set("held", "r", "point", value="x")) == (
        '[held]\nr.range = [1, 2]\nr.point = "x"\n'
    )


def test_an_empty_pair_of_braces_is_filled():
    text = edit.apply(DOTTED, _delete("wheels", "w"))
    assert "wheels = { v = { load = 6 } }" in edit.apply(text, _add("wheels", "v", value={"load": 6}))


LINES = """\
[bodies]
a = [
  "one",    # first
  "two",    # second
  "three"   # third
]
b = ["x",
]
"""


@pytest.mark.parametrize(
    ("names", "expected"),
    [
        (["one", "three"], ['-  "two",    # second', "+  # second"]),
        (["two", "three"], ['-  "one",    # first', "+  # first"]),
        (["one", "two"], ['-  "three"   # third', "+  # third"]),
        (["one", "two", "three", "four"], ['-  "three"   # third', '+  "three", "four"   # third']),
        (["one", "2", "three"], ['-  "two",    # second', '+  "2",    # second']),
    ],
)
def test_remarks_in_a_list_over_several_lines_stay(names, expected):
    assert _changed(LINES, _set("bodies", "a", value=names)) == expected


def test_a_line_that_held_only_what_is_taken_out_goes_too():
    text = '[bodies]\na = [\n  "one",\n  "two",\n  "three",\n]\n'
    assert (
        edit.apply(text, _set("bodies", "a", value=["one", "three"]))
        == '[bodies]\na = [\n  "one",\n  "three",\n]\n'
    )


def test_a_list_on_one_line_stays_on_it():
    assert 'arm = ["pivot", "hub"]\n' in edit.apply(FLAT, _set("bodies", "arm", value=["pivot", "hub"]))
    longer = edit.apply(FLAT, _set("bodies", "arm", value=["pivot", "hub", "hole", "eye"]))
    assert 'arm = ["pivot", "hub", "hole", "eye"]\n' in longer


def test_a_result_that_says_something_else_is_refused(monkeypatch):
    monkeypatch.setattr(edit, "spliced", lambda text, _: text + "\n[goals.travel]\n")
    with pytest.raises(ProjectError, match="alter something else"):
        edit.apply(FLAT, _set("title", value="x"))


def test_a_list_that_is_turned_round_is_written_anew():
    assert 'a = ["three", "one"]' in edit.apply(LINES, _set("bodies", "a", value=["three", "one"]))


@pytest.mark.parametrize(
    "value",
    [
        1,
        -5,
        0.1,
        1e-9,
        1e300,
        -0.0,
        1e16,
        True,
        False,
        "",
        'a"b\\c\nd\te\x00\x7f',
        "½ ± 🛠",
        "\r\n",
        [],
        [[1, 2], [3, 4]],
        {},
        {"a b": [1]},
    ],
)
def test_what_is_written_is_read_back(value):
    read = tomllib.loads(edit.apply(FLAT, _set("title", value=value)))["title"]
    assert read == value
    assert type(read) is type(value)


REFUSED = {
    "an unknown operation": ([{"op": "move", "key": ["title"]}], "operation"),
    "no operation": ([{}], "operation"),
    "no key": ([{"op": "set", "value": 1}], "without its key"),
    "an empty key": ([{"op": "set", "key": [], "value": 1}], "without its key"),
    "a key of numbers": ([{"op": "set", "key": ["points", 1], "value": 1}], "without its key"),
    "a key of very many parts": ([{"op": "set", "key": ["a"] * 9, "value": 1}], "without its key"),
    "no value": ([{"op": "set", "key": ["title"]}], "without a value"),
    "a value that no file can hold": (_set("title", value=None), "stands in the value"),
    "nan": (_set("title", value=float("nan")), "not finite"),
    "a huge whole number": (_set("title", value=2**60), "too large"),
    "half a character": (_set("title", value="\ud800"), "half of a character pair"),
    "a table with a key of a number": (_set("title", value={1: 2}), "a key that is no text"),
    "lists without end": (_set("title", value=[[[[[[[[[[1]]]]]]]]]]), "too deep"),
    "a table for a number": (_set("wheels", "front-left", value=3), "a table stands here"),
    "a key of a number": (
        _set("wheels", "front-left", "load", "x", value=3),
        "a value stands where a table is needed",
    ),
    "added though there": (_add("title", value="x"), "there already"),
    "the place of a point added though there": (
        _add("points", "tab-left", "at", value=[1, 2, 3]),
        "there already",
    ),
    "deleted though not there": (_delete("bars", "link-right"), "not in the file"),
    "very many": (_set("title", value="x") * 501, "501 operations"),
    "rename without to": ([{"op": "rename", "table": "points", "from": "head-top"}], "without its key"),
}


@pytest.mark.parametrize(("ops", "words"), REFUSED.values(), ids=REFUSED.keys())
def test_what_cannot_be_carried_out_is_refused_in_a_sentence(ops, words):
    with pytest.raises(ProjectError) as refused:
        edit.apply(WHOLE, ops, name="cart.toml")
    assert words in refused.value.fault.found
    assert refused.value.fault.file == "cart.toml"
    assert refused.value.fault.line is None


FORMS = [WHOLE, FLAT, DOTTED, LINES, WHOLE.replace("\n", "\r\n"), DOTTED.replace("\n", "\r\n")]
TABLES = ("points", "bodies", "bars", "shocks", "springs", "straps", "held", "wheels", "goals")
KEYS = ("ends", "at", "points", "rate", "stop", "travel", "a b", "")
VALUES = (
    1,
    2.5,
    'a "b"',
    [1, 2, 3],
    ["a"],
    {"a": 1},
    {"at": [1], "alone": True},
    True,
    [],
    {},
    [[1, 2], [3, 4]],
)


def _paths(values, path=()):
    for key, value in values.items():
        yield (*path, key)
        if isinstance(value, dict):
            yield from _paths(value, (*path, key))


def _drawn_operation(drawn, text):
    paths = list(_paths(tomllib.loads(text))) or [("leverwright",)]
    path = drawn.choice(paths)
    kind = drawn.choice(("set", "add", "delete", "rename"))
    if kind == "rename":
        table, name = drawn.choice([one for one in paths if len(one) == 2] or [("points", "a")])
        return {"op": kind, "table": table, "from": name, "to": drawn.choice(("z", "z-left", "a b", name))}
    if kind == "delete":
        return {"op": kind, "key": list(path)}
    new = drawn.choice(
        [path, (*path, drawn.choice(KEYS)), (drawn.choice(TABLES), "n"), (drawn.choice(TABLES), "m", "rate")]
    )
    return {"op": kind, "key": list(new), "value": drawn.choice(VALUES)}


@pytest.mark.parametrize("seed", range(30))
def test_any_operation_is_carried_out_exactly_or_refused_for_what_is_asked(seed):
    drawn = random.Random(seed)
    for _ in range(8):
        text = drawn.choice(FORMS)
        for _ in range(3):
            operation = _drawn_operation(drawn, text)
            after, fault = _tried(text, operation)
            # A refusal is for what was asked, never for a text that came out wrong or does not parse.
            assert fault is None or (fault.line is None and "alter something else" not in fault.found), (
                operation
            )
            assert ("\r\n" in text) == ("\r\n" in after)
            assert "\n" not in after.replace("\r\n", "") or "\r\n" not in text
            text = after


def _tried(text, operation):
    try:
        return edit.apply(text, [operation]), None
    except ProjectError as refused:
        return text, refused.fault


def test_a_text_that_does_not_parse_is_not_changed():
    with pytest.raises(ProjectError, match="cannot be read"):
        edit.apply("[points", _set("title", value="x"))


def test_a_result_that_passes_a_limit_is_refused():
    with pytest.raises(ProjectError, match="characters"):
        edit.apply(WHOLE, _set("title", value="x" * 20_000))


def test_a_project_with_one_value_changed():
    cart = Project.from_text(WHOLE, "cart.toml")
    other = cart.with_value(["wheels", "front-left", "load"], "140 lb")
    assert other.wheels["front-left"].load.value == pytest.approx(63.5029, abs=1e-4)
    assert other.name == "cart.toml"
    assert cart.wheels["front-left"].load.value == 62
    with pytest.raises(ProjectError, match="not greater than 0"):
        cart.with_value(["wheels", "front-left", "load"], -1)
