"""What reaches a terminal: escaped, coloured only where somebody looks, in the characters that it has."""

import io

import pytest

from leverwright.cli.terminal import Terminal, escaped


class Screen(io.TextIOWrapper):
    """A stream that says it is a terminal."""

    def isatty(self):
        return True


def written(stream):
    stream.flush()
    return stream.buffer.getvalue().decode(stream.encoding)


def paper(encoding="utf-8"):
    return io.TextIOWrapper(io.BytesIO(), encoding=encoding)


def screen(encoding="utf-8"):
    return Screen(io.BytesIO(), encoding=encoding)


@pytest.fixture(autouse=True)
def plain_environment(monkeypatch):
    monkeypatch.delenv("NO_COLOR", raising=False)
    monkeypatch.setenv("TERM", "xterm")
    monkeypatch.setenv("COLUMNS", "60")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("plain 12 mm", "plain 12 mm"),
        ("\x1b[31mred\x07", "\\u001b[31mred\\u0007"),
        ("a\nb\tc", "a\\u000ab\\u0009c"),
        ("\N{RIGHT-TO-LEFT OVERRIDE}abc", "\\u202eabc"),
        ("zero\N{ZERO WIDTH SPACE}width", "zero\\u200bwidth"),
        ("\N{LINE SEPARATOR}", "\\u2028"),
        ("\x7f\x9b", "\\u007f\\u009b"),
        ("\udcff", "\\udcff"),
        ("\N{LANGUAGE TAG}", "\\U000e0001"),
        ("N·m ± 1 °, čep, 杠杆", "N·m ± 1 °, čep, 杠杆"),
    ],
)
def test_what_moves_a_cursor_or_hides_is_escaped(text, shown):
    assert escaped(text) == shown
    stream = paper()
    Terminal(stream).row(text)
    assert written(stream) == shown + "\n"


def test_colours_only_where_somebody_looks():
    for stream, coloured in ((paper(), False), (screen(), True)):
        Terminal(stream).line("it locks", "stop")
        assert ("\x1b[1;31m" in written(stream)) == coloured
        assert "it locks" in written(stream)


@pytest.mark.parametrize(("name", "value"), [("NO_COLOR", "1"), ("TERM", "dumb")])
def test_colours_are_left_away_on_request(monkeypatch, name, value):
    monkeypatch.setenv(name, value)
    stream = screen()
    Terminal(stream).line("it locks", "stop")
    assert written(stream) == "it locks\n"


def test_an_empty_no_color_is_no_request(monkeypatch):
    monkeypatch.setenv("NO_COLOR", "")
    stream = screen()
    Terminal(stream).line("it locks", "stop")
    assert written(stream) == "\x1b[1;31mit locks\x1b[0m\n"


def test_plain_words_carry_no_colour():
    stream = screen()
    Terminal(stream).line("it moves")
    assert written(stream) == "it moves\n"


def test_lines_are_wrapped_to_the_width_with_their_margin():
    stream = screen()
    Terminal(stream).line("word " * 30, indent=4)
    rows = written(stream).splitlines()
    assert len(rows) == 3
    assert all(row.startswith("    word") and len(row) <= 60 for row in rows)


def test_what_belongs_to_a_label_is_wrapped_beside_it():
    stream = screen()
    Terminal(stream).item("  ratio\t  ", "word " * 14)
    rows = written(stream).splitlines()
    assert rows[0].startswith("  ratio\\u0009  word word")
    assert rows[1].startswith("          word")
    assert all(len(row) <= 60 for row in rows)


def test_an_empty_line_is_a_line():
    stream = paper()
    Terminal(stream).line()
    assert written(stream) == "\n"


def test_a_row_of_a_table_keeps_its_spaces():
    stream = paper()
    Terminal(stream).row("  sag      27 mm")
    assert written(stream) == "  sag      27 mm\n"


@pytest.mark.parametrize(
    ("encoding", "shown"),
    [
        ("ascii", "12 N*m/deg +/- 1  deg, \\u010dep\n"),
        (
            "latin-1",
            "12 N·m/deg ± 1 °, čep\n".replace("·", "*")
            .replace("±", "+/-")
            .replace("°", " deg")
            .replace("č", "\\u010d"),
        ),
        ("utf-8", "12 N·m/deg ± 1 °, čep\n"),
    ],
)
def test_signs_that_a_terminal_lacks_are_written_otherwise(encoding, shown):
    stream = paper(encoding)
    Terminal(stream).row("12 N·m/deg ± 1 °, čep")
    assert written(stream) == shown


def test_a_stream_that_is_none_is_no_screen():
    closed = io.StringIO()
    closed.close()
    assert not Terminal(closed).watched
    assert not Terminal(None).watched


def test_a_sign_of_life_is_written_over_and_cut_to_the_width():
    stream = screen()
    terminal = Terminal(stream)
    terminal.progress("a" * 80)
    assert written(stream) == "\r\x1b[K" + "a" * 59
    stream = paper()
    Terminal(stream).progress("nobody looks")
    assert written(stream) == ""


def test_one_line_is_announced_unbroken_and_at_once():
    stream = screen()
    Terminal(stream).announce("http://127.0.0.1:8000/?token=" + "x" * 60)
    assert stream.buffer.getvalue().decode() == "http://127.0.0.1:8000/?token=" + "x" * 60 + "\n"


@pytest.mark.parametrize(
    "text", ["12 1/2 in", "0.64 : 1", "1 : 1.56", "43 mm", "95 lbf/in", "12 N·m/deg", "30 %", "2 Hz", "5 deg"]
)
def test_a_number_keeps_its_unit_at_the_end_of_a_line(text):
    for before in range(45, 62):
        stream = screen()
        Terminal(stream).line("x" * before + " " + text + " more words here")
        assert text in written(stream)
