"""JSON of the program is ASCII and strict."""

from __future__ import annotations

import json
import math
import tracemalloc

import pytest

from leverwright.wire.answers import WireAnswer
from leverwright.wire.faults import ErrorDocument, Refusal
from leverwright.wire.files import SaveRequest
from leverwright.wire.live import Ask
from leverwright.wire.strict import StrictError, compact, decode, deeper_than, number, printed

AWKWARD = 'caf\u00e9 \u2014 \U0001f6de "quoted" \\ \u202e \u0085 \ud7ff \x1b[31m \n'


def _error(found: str) -> ErrorDocument:
    return ErrorDocument(error=Refusal("cart.toml", 3, None, found, "a name", "mend it"))


@pytest.mark.parametrize("write", [lambda d: printed(d).encode(), compact], ids=["printed", "compact"])
def test_text_of_any_kind_survives_as_ascii(write):
    raw = write(_error(AWKWARD))
    assert raw.isascii()
    assert json.loads(raw)["error"]["found"] == AWKWARD


def test_both_writers_say_the_same():
    assert json.loads(compact(_error(AWKWARD))) == json.loads(printed(_error(AWKWARD)))


def test_a_figure_is_printed_unrounded():
    third = 1 / 3
    assert json.loads(printed(WireAnswer(third, "mm", third * 1e-7)))["value"] == third
    assert "0.3333333333333333" in printed(WireAnswer(third, "mm", None))


@pytest.mark.parametrize("bad", [math.nan, math.inf, -math.inf])
def test_a_figure_that_is_no_number_is_never_printed(bad):
    with pytest.raises(StrictError):
        printed(WireAnswer(bad, "mm", None))
    with pytest.raises(StrictError):
        number(bad)


def test_a_reason_is_absent_unless_given():
    assert "because" not in printed(WireAnswer(1.0, "mm", 0.1))
    assert json.loads(printed(WireAnswer(None, "mm", None, "no tyre rate")))["because"] == "no tyre rate"


@pytest.mark.parametrize(
    "raw",
    [
        b"",
        b"{",
        b"null",
        b"[]",
        b'{"text": NaN}',
        b'{"text": 1}',
        b'{"text": "a", "more": 1}',
        b'{"text": "a"} trailing',
        b'{"text": "\xff"}',
        b'{"text": "\\ud800"}',
        b"[" * 100_000,
        b'{"text":' * 100_000,
    ],
    ids=lambda raw: raw[:24].decode("latin-1"),
)
def test_what_is_not_strict_json_is_refused(raw):
    with pytest.raises(StrictError):
        decode(raw, SaveRequest)


@pytest.mark.parametrize("word", [b"NaN", b"Infinity", b"-Infinity", b"1e999"])
def test_a_value_inside_an_edit_is_a_number_or_refused(word):
    raw = b'{"id":1,"do":"try","ops":[{"op":"set","key":["error"],"value":' + word + b"}]}"
    with pytest.raises(StrictError):
        decode(raw, Ask)


def test_brackets_without_end_inside_an_edit_are_refused():
    for levels in (500, 200_000):
        nested = b"[" * levels + b"]" * levels
        raw = b'{"id":1,"do":"try","ops":[{"value":' + nested + b"}]}"
        try:
            ask = decode(raw, Ask)
        except StrictError:
            continue
        assert deeper_than(8, ask.ops)


def test_depth_is_counted_by_levels():
    assert not deeper_than(2, [[1, 2], {"a": 1}])
    assert deeper_than(1, [[1, 2]])
    assert not deeper_than(0, 3)
    assert deeper_than(0, {})  # one level of brackets, though empty


def test_escaping_a_megabyte_takes_memory_in_proportion():
    document = _error("\u00e9" * 500_000)
    tracemalloc.start()
    raw = compact(document)
    peak = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert len(raw) > 3_000_000
    assert peak < 80e6  # 6 bytes a character, and the pieces that are joined
