"""Names are text everywhere, and never a path."""

import pytest

from leverwright.make.plain_text import dxf_text, file_stem, shortened, shown


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("rocker-left", "rocker-left"),
        ("Hänger ½", "Hänger ½"),
        ("a\x00b\x1b[31m\x7f", "a\\u0000b\\u001b[31m\\u007f"),
        ("\u202egnp\u200b", "\\u202egnp\\u200b"),
        ("line\u2028end\r\n", "line\\u2028end\\u000d\\u000a"),
        ("\ud800", "\\ud800"),
        ("\U000f0000", "\\U000f0000"),
    ],
)
def test_what_has_no_ink_is_shown_as_its_code(text, said):
    assert shown(text) == said


def test_what_the_font_lacks_is_shown_as_its_code():
    assert shown("a中😀", frozenset({ord("a")})) == "a\\u4e2d\\U0001f600"


@pytest.mark.parametrize(
    ("title", "stem"),
    [
        ("Garden cart (invented)", "garden-cart-invented"),
        ("../../etc/passwd", "etc-passwd"),
        ("C:\\Windows\\x", "c-windows-x"),
        ("Hängér", "hanger"),
        ("колесо", "vehicle"),
        ("", "vehicle"),
        ("...", "vehicle"),
        ("CON", "vehicle-con"),
        ("lpt1", "vehicle-lpt1"),
        ("x" * 300, "x" * 60),
        (
            "Gravity racer (invented), front corner, arms of 45 and of 90 mm, all of steel",
            "gravity-racer-invented-front-corner-arms-of-45-and-of-90-mm",
        ),
        ("a\x00b\nc", "a-b-c"),
    ],
)
def test_a_file_name_is_letters_digits_and_hyphens(title, stem):
    assert file_stem(title, "vehicle") == stem


def test_shortening_keeps_both_ends():
    assert shortened("rocker-front-left", 9) == "rock…left"
    assert shortened("short", 9) == "short"


@pytest.mark.parametrize("text", ["%%d", "%%%d", "%%%%c", "^J", "^^", "\\U+0041", "\\M+1B1B1", "a\rb"])
def test_no_code_of_a_dxf_reader_survives(text):
    safe = dxf_text(text)
    assert "%%" not in safe
    assert "\\U+" not in safe
    assert "\\M+" not in safe
    assert "\r" not in safe
    assert all(after == " " for before, after in zip(safe, safe[1:] + "x", strict=True) if before == "^")
