"""What could be read in two ways, or in none, is refused with a sentence that says what to write."""

import json
import time

import pytest

from leverwright.quantity import KINDS, LONGEST_TEXT, UNITS, QuantityError, quoted, read_quantity


def refusal(raw, kind="length"):
    with pytest.raises(QuantityError) as caught:
        read_quantity(raw, kind)
    return caught.value


@pytest.mark.parametrize(
    ("raw", "kind", "found", "do"),
    [
        ("62 kg", "length", "'62 kg' is a mass, not a length", "write a length in mm, cm, m, in or ft"),
        ("12 in", "mass", "'12 in' is a length, not a mass", "write a mass in kg, g, lb or oz"),
        ("25 lb", "force", "'25 lb' is a mass, not a force", "write the unit lbf if that is meant"),
        ("25 lbs", "force", "'25 lbs' is a mass, not a force", "write the unit lbf if that is meant"),
        ("25 kg", "force", "'25 kg' is a mass, not a force", "write the unit kgf if that is meant"),
        ("137 lbf", "mass", "'137 lbf' is a force, not a mass", "write the unit lb if that is meant"),
        (
            "3 Nm",
            "torsion",
            "'3 Nm' is a moment, not a torsion stiffness",
            "write the unit N·m/deg if that is meant",
        ),
        (
            "95 lb",
            "stiffness",
            "'95 lb' is a mass, not a stiffness",
            "write the unit lbf/in if that is meant",
        ),
        ("17 N", "stiffness", "'17 N' is a force, not a stiffness", "write the unit N/mm if that is meant"),
        ("30 %", "angle", "'30 %' is a percentage, not an angle", "write an angle in deg or rad"),
        ("1 mm", "frequency", "'1 mm' is a length, not a frequency", "write Hz"),
        ("0.6 in", "ratio", "'0.6 in' is a length, not a ratio", "write the number alone"),
        ("62 kg ± 1 mm", "mass", "'62 kg ± 1 mm' is a length, not a mass", "write a mass in kg, g, lb or oz"),
        ("5 MM", "length", "'5 MM' has the unit 'MM'", "write it mm"),
        ("5 n", "force", "'5 n' has the unit 'n'", "write it N"),
        (
            "5 furlong",
            "length",
            "'5 furlong' has 'furlong' where its unit belongs",
            "write a length in mm, cm, m, in or ft",
        ),
        (
            "5 m·m",
            "length",
            "'5 m·m' has 'm·m' where its unit belongs",
            "write a length in mm, cm, m, in or ft",
        ),
        ("12,5 mm", "length", "'12,5 mm' has a comma", "write the decimals with a point: '12.5 mm'"),
        ("12,50", "length", "'12,50' has a comma", "write the decimals with a point: '12.50'"),
        ("0,6251", "length", "'0,6251' has a comma", "write the decimals with a point: '0.6251'"),
        ("62,5", "mass", "'62,5' has a comma", "write the decimals with a point: '62.5'"),
        *(
            (
                text,
                "length",
                f"'{text}' has a comma",
                "write a thousand as 1000, without a mark, and decimals with a point, as 12.5",
            )
            for text in ("1,000", "1,000 mm", "1,000,000", "1.000,5", "1,5,2")
        ),
        ("1_000", "length", "'1_000' has the mark '_'", "write the digits without it"),
        (
            "1 000 mm",
            "length",
            "'1 000 mm' holds two numbers with a space between them",
            "write 1000 if one number is meant",
        ),
        (
            "1'000",
            "length",
            "'1'000' has '000' where inches from 0 to 11 belong",
            "write the length in inches alone or in mm",
        ),
        (
            "1' 12\"",
            "length",
            "'1' 12\"' has '12' where inches from 0 to 11 belong",
            "write the length in inches alone or in mm",
        ),
        (
            "1' 001",
            "length",
            "'1' 001' has '001' where inches from 0 to 11 belong",
            "write the length in inches alone or in mm",
        ),
        (
            "1' 6 mm",
            "length",
            "'1' 6 mm' goes on after the feet with something else than inches",
            "write one unit only",
        ),
        (
            "1.5' 6\"",
            "length",
            "'1.5' 6\"' has '1.5' where a whole number belongs",
            "write a fraction of whole numbers, such as 12 1/2, or one decimal number",
        ),
        (
            "12.5 1/2 in",
            "length",
            "'12.5 1/2 in' has '12.5' where a whole number belongs",
            "write a fraction of whole numbers, such as 12 1/2, or one decimal number",
        ),
        (
            "1/2.5 in",
            "length",
            "'1/2.5 in' has '2.5' where a whole number belongs",
            "write a fraction of whole numbers, such as 12 1/2, or one decimal number",
        ),
        (
            "1e1/2 in",
            "length",
            "'1e1/2 in' has '1e1' where a whole number belongs",
            "write a fraction of whole numbers, such as 12 1/2, or one decimal number",
        ),
        (
            "12 3/2 in",
            "length",
            "'12 3/2 in' has a fraction of one or more beside a whole number",
            "write the fraction with its top smaller than its bottom",
        ),
        (
            "12 2/2 in",
            "length",
            "'12 2/2 in' has a fraction of one or more beside a whole number",
            "write the fraction with its top smaller than its bottom",
        ),
        ("1/0 in", "length", "'1/0 in' divides by zero", "write a fraction with a bottom of 1 or more"),
        (
            "12 - 1/2 in",
            "length",
            "'12 - 1/2 in' holds several numbers that do not make one",
            "write one number and one unit",
        ),
        (
            "12 +1/2 in",
            "length",
            "'12 +1/2 in' holds several numbers that do not make one",
            "write one number and one unit",
        ),
        (
            "2 m 30 cm",
            "length",
            "'2 m 30 cm' holds several numbers that do not make one",
            "write one number and one unit",
        ),
        (
            "1/2/3 in",
            "length",
            "'1/2/3 in' holds several numbers that do not make one",
            "write one number and one unit",
        ),
        (
            "1 2 3 in",
            "length",
            "'1 2 3 in' holds several numbers that do not make one",
            "write one number and one unit",
        ),
        (
            "1 2 3 4 in",
            "length",
            "'1 2 3 4 in' holds several numbers that do not make one",
            "write one number and one unit",
        ),
        (
            "5 +- 1 mm",
            "length",
            "'5 +- 1 mm' holds several numbers that do not make one",
            "write one number and one unit",
        ),
        (
            "2**3",
            "length",
            "'2**3' holds several numbers that do not make one",
            "write one number and one unit",
        ),
        (
            "0x10",
            "length",
            "'0x10' holds several numbers that do not make one",
            "write one number and one unit",
        ),
        (
            "12 1/2",
            "length",
            "'12 1/2' is a fraction without a unit",
            "write '12 1/2 in' if inches are meant",
        ),
        (
            "312 ± 1/16",
            "length",
            "'312 ± 1/16' is a fraction without a unit",
            "write '312 ± 1/16 in' if inches are meant",
        ),
        (
            "1.2.3",
            "length",
            "'1.2.3' has '1.2.3', which is not a number",
            "write the number with one decimal point, such as 12.5",
        ),
        (
            "1..5",
            "length",
            "'1..5' has '1..5', which is not a number",
            "write the number with one decimal point, such as 12.5",
        ),
        ("mm", "length", "'mm' does not begin with a number", "write a number first, such as 12.5 mm"),
        (
            ". mm",
            "length",
            "'. mm' has '.', which is not a number",
            "write the number with one decimal point, such as 12.5",
        ),
        ("--5", "length", "'--5' does not begin with a number", "write a number first, such as 12.5 mm"),
        ("+", "length", "'+' does not begin with a number", "write a number first, such as 12.5 mm"),
        ("e5", "length", "'e5' does not begin with a number", "write a number first, such as 12.5 mm"),
        ("__import__('os')", "length", "'__import__('os')' has the mark '_'", "write the digits without it"),
        ("nan", "length", "'nan' does not begin with a number", "write a number first, such as 12.5 mm"),
        (
            "-infinity mm",
            "length",
            "'-infinity mm' does not begin with a number",
            "write a number first, such as 12.5 mm",
        ),
        (
            "1e400",
            "length",
            "'1e400' is outside the numbers that can be kept",
            "check the exponent after the e",
        ),
        (
            "1e-400 mm",
            "length",
            "'1e-400 mm' is outside the numbers that can be kept",
            "check the exponent after the e",
        ),
        ("5e", "length", "'5e' has 'e' where its unit belongs", "write a length in mm, cm, m, in or ft"),
        (
            "5e+ mm",
            "length",
            "'5e+ mm' has 'e+mm' where its unit belongs",
            "write a length in mm, cm, m, in or ft",
        ),
        (
            "2e12 mm",
            "length",
            "'2e12 mm' is larger than anything that can be meant",
            "check the digits and the unit",
        ),
        (
            "-2e12",
            "length",
            "'-2e12' is larger than anything that can be meant",
            "check the digits and the unit",
        ),
        (
            "5 ± 2e12",
            "length",
            "'5 ± 2e12' is larger than anything that can be meant",
            "check the digits and the unit",
        ),
        (
            2 * 10**12,
            "length",
            "the number is larger than anything that can be meant",
            "check the digits and the unit",
        ),
        ("1 ± 2 ± 3", "length", "'1 ± 2 ± 3' has ± more than once", "write ± once"),
        ("1 ± -2", "length", "'1 ± -2' has a negative ±", "write ± with a positive number"),
        ("± 1", "length", "'± 1' lacks a number", "write a length"),
        ("5 ±", "angle", "'5 ±' lacks a number", "write an angle"),
        ("", "percent", "an empty text stands here", "write a percentage"),
        ("  \t", "torsion", "an empty text stands here", "write a torsion stiffness"),
        ("0 ± 5 %", "length", "'0 ± 5 %' has ± in per cent of zero", "write ± in mm"),
        ("0 ± 5 %", "ratio", "'0 ± 5 %' has ± in per cent of zero", "write ± as a number"),
        (
            "1 : 1.56",
            "ratio",
            "'1 : 1.56' can be read both ways round",
            "write how far the spring moves for 1 of the wheel, such as 0.64",
        ),
        (
            "1 : 2",
            "length",
            "'1 : 2' holds several numbers that do not make one",
            "write one number and one unit",
        ),
        (True, "length", "true or false stands here", "write a length"),
        (False, "angle", "true or false stands here", "write an angle"),
        ([1], "mass", "a list stands here", "write a mass"),
        ((1,), "mass", "a list stands here", "write a mass"),
        ({"a": 1}, "mass", "a table stands here", "write a mass"),
        (None, "mass", "something that is no number and no text stands here", "write a mass"),
        (b"5", "mass", "something that is no number and no text stands here", "write a mass"),
        (
            float("nan"),
            "mass",
            "a number that is not finite or far too large stands here",
            "write its true value",
        ),
        (
            float("-inf"),
            "mass",
            "a number that is not finite or far too large stands here",
            "write its true value",
        ),
        pytest.param(
            10**5000,
            "mass",
            "a number that is not finite or far too large stands here",
            "write its true value",
            id="5001 digits",
        ),
        ("9" * 201, "mass", "a text of 201 characters stands here", "write it in 200 characters or fewer"),
        ("9" * 5000, "mass", "a text of 5000 characters stands here", "write it in 200 characters or fewer"),
    ],
)
def test_refused_with_what_was_found_and_what_to_write(raw, kind, found, do):
    error = refusal(raw, kind)
    assert error.found == found
    assert error.do == do


@pytest.mark.parametrize(
    "figure",
    [
        "٣",
        "\N{FULLWIDTH DIGIT THREE}",
        "½",
        "²",
        "\N{BENGALI DIGIT FOUR}",
        "Ⅻ",
        "三",
        "\N{MATHEMATICAL BOLD DIGIT THREE}",
    ],
)
@pytest.mark.parametrize("form", ["{} mm", "12{} mm", "12 {} in", "3 ± {} mm", "1e{}"])
def test_only_the_ten_ascii_digits_are_digits(figure, form):
    error = refusal(form.format(figure))
    assert error.found == f"'{form.format(figure)}' has the figure '{figure}'"
    assert error.do == "write it with the digits 0 to 9, and a fraction as 1/2"


def test_a_text_is_not_looked_at_beyond_its_limit():
    assert LONGEST_TEXT == 200
    assert refusal("1," * 101).found == "a text of 202 characters stands here"
    assert refusal("1," * 100).found.endswith("has a comma")


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_allowed_shows_examples_that_are_read(kind):
    allowed = refusal("?", kind)
    assert allowed.do == "write a number first, such as 12.5 mm"
    allowed = refusal(True, kind).allowed
    texts = allowed.split('"')[1::2]
    assert texts
    for text in texts:
        read_quantity(text, kind)
    first = allowed.split(" such as ")[1].replace(" or ", ", ").split(",")[0].split(" (")[0]
    read_quantity(json.loads(first), kind)


@pytest.mark.parametrize(
    ("text", "allowed"),
    [
        ("mm", "digits with a decimal point, or a fraction such as 12 1/2, then a unit"),
        ("2 m 30 cm", "digits with a decimal point, or a fraction such as 12 1/2, then one unit"),
        ("12.5 1/2 in", "digits with a decimal point, or a fraction such as 12 1/2"),
        ("1/0 in", "digits with a decimal point, or a fraction such as 12 1/2"),
        ("12 3/2 in", "digits with a decimal point, or a fraction such as 12 1/2"),
        ("1 000 mm", "one number, without a mark or a space between thousands"),
        ("1' 6 mm", "feet and inches, such as 1' 0 1/2\""),
        ("1'000", "feet and inches, such as 1' 0 1/2\", and no thousands mark"),
        ("1.2.3", "digits with one decimal point, and no thousands mark"),
        ("1e400", "a number of ordinary size"),
    ],
)
def test_what_is_allowed_belongs_to_what_was_found(text, allowed):
    assert refusal(text).allowed == allowed


def test_a_letter_is_no_digit():
    assert refusal("5X").found == "'5X' has 'X' where its unit belongs"


def test_what_is_allowed_names_the_unit_of_a_bare_number():
    assert refusal(True, "mass").allowed == 'a mass such as 62, "137 lb" or "62 ± 1 kg" (a bare number is kg)'
    assert refusal(True, "ratio").allowed == 'a ratio such as 0.64 or "0.64 ± 0.02"'


def test_the_error_is_one_sentence_of_three_parts():
    error = refusal("62 kg")
    assert str(error) == f"{error.found}; allowed: {error.allowed}; {error.do}"


def test_a_repeated_text_is_short_and_its_control_characters_are_escaped():
    assert quoted("a\x1b[31m\N{RIGHT-TO-LEFT OVERRIDE}b\n\ud800") == "'a\\u001b[31m\\u202eb\\u000a\\ud800'"
    assert quoted("x" * 40) == f"'{'x' * 40}'"
    assert quoted("x" * 41) == f"'{'x' * 40}...'"
    assert "\x1b" not in str(refusal("5 \x1b[31m"))


@pytest.mark.parametrize(
    "text",
    [
        "1 " * 100,
        "1/" * 100,
        "-" * 200,
        "1' " * 66,
        "." * 200,
        "1e" * 100,
        "±" * 200,
        "+/-" * 66,
        "1." * 100,
        "9" * 200,
    ],
)
def test_a_hostile_text_is_refused_at_once(text):
    start = time.perf_counter()
    for _ in range(20):
        refusal(text)
    assert (time.perf_counter() - start) / 20 < 0.02  # a linear scan takes well under 1 ms


@pytest.mark.parametrize("kind", KINDS)
def test_a_unit_of_every_other_kind_is_refused(kind):
    for other in KINDS:
        for spelling in UNITS[other]:
            if spelling and spelling not in UNITS[kind]:
                with pytest.raises(QuantityError, match="not a"):
                    read_quantity(f"3 {spelling}", kind)
