"""What cannot be read on the command line is one sentence, status 2, and with --json a document."""

import pytest

from leverwright.cli.arguments import VERBS


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (
            (),
            "command line: no verb was given; allowed: new, open, set, check, measure, cycle, make; try leverwright",
        ),
        (
            ("chek",),
            "command line: 'chek' is no choice for the verb; allowed: new, open, set, check, measure, cycle, make;",
        ),
        (
            ("prove",),
            "command line: 'prove' is no choice for the verb; allowed: new, open, set, check, measure, cycle, make;",
        ),
        (
            ("check", "a.toml", "--unts", "inch"),
            "command line: '--unts inch' is not known here; allowed: -h, --help, --link-arm, --spring-arm, --load,",
        ),
        (
            ("check", "a.toml", "--units", "furlong"),
            "command line: 'furlong' is no choice for --units; allowed: mm, inch; try leverwright check --help",
        ),
        (
            ("check", "a.toml", "--units"),
            "command line, --units: expected one argument; allowed: mm, inch; try leverwright check",
        ),
        (("cycle",), "command line: FILE is missing; allowed: leverwright cycle FILE; try"),
        (
            ("set", "a.toml", "title"),
            "command line: VALUE is missing; allowed: leverwright set FILE KEY VALUE; try",
        ),
        (
            ("new",),
            "command line: KIND is missing; allowed: trailing-arm, wishbone, beam-axle, swing-arm; try",
        ),
        (
            ("new", "beam"),
            "command line: 'beam' is no choice for KIND; allowed: trailing-arm, wishbone, beam-axle, swing-arm",
        ),
        (
            ("--bogus",),
            "command line: '--bogus' is not known here; allowed: -h, --help, --version; try leverwright --help",
        ),
    ],
)
def test_words_that_cannot_be_read(leverwright, words, said):
    ended = leverwright(*words)
    assert ended.status == 2
    assert ended.out == ""
    assert ended.said.startswith(said)


@pytest.mark.parametrize("word", ["inch", "inches", "in", "imperial"])
def test_other_words_for_inches_are_understood(leverwright, word):
    ended = leverwright("check", "--link-arm", "45", "--spring-arm", "90", "--load", "42", "--units", word)
    assert ended.status == 0
    assert " for 1 in of wheel" in " ".join(ended.out.split())


def test_an_option_without_its_value_shows_its_form(leverwright):
    said = leverwright("cycle", "a.toml", "--from").said
    assert said.startswith("command line, --from: expected one argument; allowed: --from LENGTH; try")


def test_a_slip_in_an_option_gets_the_right_word(leverwright):
    assert leverwright("check", "a.toml", "--unts", "inch").said.endswith("did you mean --units?")
    assert leverwright("chek").said.endswith("did you mean check?")


def test_with_json_the_refusal_is_a_document(leverwright):
    ended = leverwright("cycle", "--json")
    assert ended.status == 2
    assert ended.notes == ""
    assert ended.document["leverwright"] == 1
    assert ended.document["error"].keys() == {"file", "line", "key", "found", "allowed", "do"}
    assert ended.document["error"]["file"] == "command line"
    assert ended.document["error"]["found"] == "FILE is missing"


def test_help_shows_every_verb_with_an_example_and_no_other(leverwright):
    ended = leverwright("--help")
    assert ended.status == 0
    assert list(VERBS) == ["new", "open", "set", "check", "measure", "cycle", "make"]
    for verb in VERBS.values():
        assert verb.summary in ended.out
        assert f"  {verb.example}\n" in ended.out
    for later in ("load", "layout", "prove", "compare"):
        assert f"  {later} " not in ended.out
    assert all(len(row) <= 90 for row in ended.out.splitlines())


@pytest.mark.parametrize("verb", VERBS)
def test_each_verb_has_help_with_its_example(leverwright, verb):
    ended = leverwright(verb, "--help")
    assert ended.status == 0
    assert f"usage: leverwright {verb}" in ended.out
    assert f"example:\n  {VERBS[verb].example}\n" in ended.out
    assert all(len(row) <= 130 for row in ended.out.splitlines())


def test_the_version_is_told(leverwright):
    ended = leverwright("--version")
    assert ended.status == 0
    assert ended.out.startswith("leverwright ")


def test_an_option_is_never_guessed_from_its_beginning(leverwright):
    ended = leverwright("cycle", "a.toml", "--pos", "5")
    assert ended.status == 2
    assert "did you mean --poses?" in ended.said


@pytest.mark.parametrize(
    "words",
    [
        ("x" * 100_000,),
        ("check", "a.toml", "--" + "x" * 100_000),
        ("check", "a.toml", "--units", "x" * 100_000),
        ("new", "x" * 100_000),
        ("new", "beam-axle", "--track", "9" * 100_000),
        ("open", "a.toml", "--port", "9" * 100_000),
        ("set", "a.toml", "x" * 100_000, "5"),
    ],
)
def test_a_long_word_makes_no_long_sentence(leverwright, words):
    for more in ((), ("--json",)):
        ended = leverwright(*words, *more)
        assert ended.status == 2
        assert len(ended.out + ended.notes) < 1000


def test_bytes_that_are_no_text_are_escaped_in_the_document(leverwright):
    ended = leverwright("check", "cart\udcff.toml", "--json")
    assert ended.status == 2
    assert ended.document["error"]["file"] == "cart\\udcff.toml"
