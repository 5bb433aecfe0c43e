"""Laws of reading and saying, over drawn numbers and texts."""

import re
from decimal import Decimal

from hypothesis import given, settings
from hypothesis import strategies as st

from leverwright.quantity import (
    KINDS,
    SURFACE_UNIT,
    UNITS,
    QuantityError,
    fixed,
    from_surface,
    read_quantity,
    say,
    say_between,
    say_mark,
    say_ratio,
    to_surface,
)

METRES = st.floats(-50, 50, allow_nan=False)
few = settings(max_examples=100)


def outcome(text, kind):
    """What was read, or why not; anything else that is raised fails the test."""
    try:
        return read_quantity(text, kind)
    except QuantityError as error:
        return error


@few
@given(st.floats(-1e9, 1e9), st.sampled_from(KINDS))
def test_a_number_written_out_reads_back_as_itself(number, kind):
    text = f"{number!r} {SURFACE_UNIT[kind]}"
    assert read_quantity(text, kind) == read_quantity(number, kind)


@few
@given(st.floats(-1e9, 1e9), st.sampled_from(KINDS))
def test_to_the_surface_and_back_is_the_same_value(value, kind):
    back = from_surface(to_surface(value, kind), kind)
    assert (
        abs(back - value) <= abs(value) * 1e-15 + 1e-300
    )  # two roundings; denormal floats have fewer figures


@few
@given(st.integers(0, 400), st.integers(1, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_every_way_to_write_a_tape_reading_is_the_same_length(whole, top, bottom):
    top %= bottom
    expected = read_quantity(whole + top / bottom, "length").value * 25.4
    feet, inches = divmod(whole, 12)
    for text in (
        f"{whole} {top}/{bottom} in",
        f'{whole}-{top}/{bottom}"',
        f"{feet}' {inches} {top}/{bottom}\"",
        f"{feet} ft {inches}-{top}/{bottom} in",
        f"{(whole * bottom + top)}/{bottom} inches",
        f"{whole + top / bottom!r} in",
    ):
        read = read_quantity(text, "length").value
        assert abs(read - expected) <= 1e-15 * max(expected, 1)


@few
@given(st.text(max_size=210), st.sampled_from(KINDS))
def test_any_text_is_read_or_refused_in_a_sentence(text, kind):
    read = outcome(text, kind)
    if isinstance(read, QuantityError):
        assert read.found
        assert read.allowed
        assert read.do
        assert str(read).isprintable()
    else:
        assert abs(read.value) < float("inf")
        assert read.error is None or 0 <= read.error < float("inf")


TOKENS = [
    "1",
    "0",
    "12",
    "1/2",
    ".5",
    " ",
    "-",
    "/",
    "±",
    "+/-",
    "in",
    "mm",
    "'",
    '"',
    "kg",
    "%",
    "e5",
    ",",
    "N·m",
]


@few
@given(st.lists(st.sampled_from(TOKENS), max_size=8).map("".join), st.sampled_from(KINDS))
def test_any_row_of_known_words_is_read_or_refused(text, kind):
    read = outcome(text, kind)
    if isinstance(read, QuantityError):
        assert str(read).isprintable()
    else:
        assert any(character.isdecimal() for character in text)
        assert read.kind == kind


@few
@given(METRES)
def test_a_length_said_in_inches_reads_back_within_half_a_mark(metres):
    said = say(metres, "length", system="inch")
    assert abs(read_quantity(said, "length").value - metres) <= 0.000396876  # m, half of 1/32 in


@few
@given(METRES)
def test_a_length_to_be_marked_in_inches_reads_back_within_what_is_left(metres):
    said = say_mark(metres)
    mark, _, rest = said.partition(" (")
    left = float(rest.split(" ")[0]) if rest else 0.0
    outward = -1 if "under" in rest else 1
    read = abs(read_quantity(mark, "length").value) + outward * left * 1e-3
    assert abs(read - abs(metres)) <= 0.0000500001  # m: what is left is said to 0.1 mm


@few
@given(METRES)
def test_a_length_said_in_millimetres_reads_back_to_its_figures(metres):
    assert abs(read_quantity(say(metres, "length"), "length").value - metres) <= 0.00050001


@few
@given(
    st.floats(-1e3, 1e3),
    st.floats(1e-3, 1e3),
    st.sampled_from([kind for kind in KINDS if kind != "length"]),
    st.sampled_from(["metric", "inch"]),
)
def test_what_is_said_of_an_interval_holds_the_interval(middle, sigma, kind, system):
    unit = UNITS[kind][re.sub(r"between \S+ and \S+ ?", "", say_between(0, 1, kind, system=system))]
    low, high = unit.to_si(middle - 2 * sigma), unit.to_si(middle + 2 * sigma)
    first, last = re.findall(r"-?\d+(?:\.\d+)?", say_between(low, high, kind, system=system))[:2]
    step = 10.0 ** -len(first.partition(".")[2])
    slack = 1e-6 * max(1, abs(middle), sigma)
    assert float(first) <= middle - 2 * sigma + slack
    assert float(last) >= middle + 2 * sigma - slack
    # Rounded by less than one step at each end, and a step is no finer than a tenth of sigma.
    assert float(last) - float(first) <= 4 * sigma + 2 * max(step, sigma) + slack
    assert "e" not in first.lower()


@few
@given(METRES, st.floats(2e-4, 5))
def test_an_interval_in_inches_holds_the_interval(middle, sigma):
    said = say(middle, "length", system="inch", error=sigma)
    first, last = said.removeprefix("between ").removesuffix(" in").split(" and ")
    assert read_quantity(f"{first} in", "length").value <= middle - 2 * sigma + 1e-9
    assert read_quantity(f"{last} in", "length").value >= middle + 2 * sigma - 1e-9


@few
@given(st.floats(-20, 20))
def test_both_readings_of_a_ratio_are_each_other_upside_down(ratio):
    said = say_ratio(ratio)
    if abs(ratio) < 0.05 or abs(ratio) > 5:
        return
    first = float(said.split(" ")[0])
    inverse = float(said.rpartition("1 : ")[2].rstrip(")"))
    assert abs(first - ratio) <= 0.005001
    assert abs(inverse * abs(ratio) - 1) <= 0.0051 * abs(ratio) + 0.0051
    assert ("the wrong way" in said) == (ratio < 0)


@few
@given(st.floats(-1e6, 1e6), st.integers(0, 6))
def test_rounding_is_to_the_nearest(number, decimals):
    assert abs(Decimal(fixed(number, decimals)) - Decimal(number)) <= Decimal(5).scaleb(-decimals - 1)
