"""Every way that a run can end: reader gone, disk full, Ctrl-C, a fault of its own."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from leverwright.__main__ import main
from leverwright.cli.progress import Progress
from leverwright.cli.terminal import Terminal
from tests.cli.command import COMMAND, run_command


def test_the_command_prints_its_answer(tmp_path):
    ended = run_command("new", "swing-arm", "--json", cwd=tmp_path)
    assert (ended.returncode, ended.stdout, ended.stderr) == (
        0,
        '{"leverwright": 1, "file": "swing-arm.toml"}\n',
        "",
    )


def test_a_reader_that_goes_away_is_no_error(tmp_path):
    assert run_command("new", "beam-axle", cwd=tmp_path).returncode == 0
    reader, writer = os.pipe()
    os.close(reader)
    ended = subprocess.run(
        [*COMMAND, "cycle", "beam-axle.toml", "--json"],
        cwd=tmp_path,
        stdout=writer,
        stderr=subprocess.PIPE,
        check=False,
    )
    os.close(writer)
    assert (ended.returncode, ended.stderr) == (141, b"")


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="the system has no full device")
def test_an_answer_that_finds_no_room_is_status_2(tmp_path):
    with Path("/dev/full").open("wb") as full:
        ended = subprocess.run(
            [*COMMAND, "--help"], cwd=tmp_path, stdout=full, stderr=subprocess.PIPE, check=False
        )
    assert ended.returncode == 2
    assert ended.stderr.decode() == "the answer could not be written: No space left on device\n"


class Failing:
    """A stream that cannot be written to."""

    encoding = "utf-8"

    def __init__(self, error):
        self.error = error

    def isatty(self):
        return False

    def write(self, _text):
        raise self.error

    def fileno(self):
        raise ValueError("no such stream")


@pytest.mark.parametrize(
    ("error", "status", "said"),
    [
        (BrokenPipeError(), 141, ""),
        (
            OSError(28, "No space left on device"),
            2,
            "the answer could not be written: No space left on device\n",
        ),
        (OSError("gone"), 2, "the answer could not be written: gone\n"),
    ],
)
def test_an_answer_that_cannot_be_written_is_never_status_0(monkeypatch, capsys, error, status, said):
    monkeypatch.setattr(sys, "stdout", Failing(error))
    assert main(["--version"]) == status
    assert capsys.readouterr().err == said


@pytest.mark.parametrize(
    ("shell", "status", "out", "notes"),
    [
        ('"$@" >&-', 2, b"", b"the answer could not be written: no output is open\n"),
        ('"$@" nonsense 2>&-', 2, b"", b""),
        ('"$@" 2>&-', 0, b"leverwright ", b""),
    ],
)
def test_a_stream_closed_from_the_start_is_no_fault_of_the_program(tmp_path, shell, status, out, notes):
    words = ["sh", "-c", shell, "sh", *COMMAND, "--version"]
    ended = subprocess.run(words, cwd=tmp_path, capture_output=True, check=False)
    assert (ended.returncode, ended.stdout[: len(out)], ended.stderr) == (status, out or ended.stdout, notes)


def test_what_is_left_in_the_output_goes_nowhere(monkeypatch, tmp_path):
    """The stream itself is turned away, so that the interpreter's last flush finds no fault."""
    with (tmp_path / "answers").open("w", encoding="utf-8") as stream:
        monkeypatch.setattr(sys, "stdout", stream)
        monkeypatch.setattr("leverwright.cli.run._run", _gone)
        assert main(["--version"]) == 141
        stream.write("left")
    assert (tmp_path / "answers").read_text(encoding="utf-8") == ""


def _gone(*_):
    raise BrokenPipeError


def test_ctrl_c_is_one_word(leverwright, monkeypatch):
    import leverwright.cli.new_verb as new

    def interrupted(*_):
        raise KeyboardInterrupt

    monkeypatch.setattr(new, "run", interrupted)
    ended = leverwright("new", "beam-axle")
    assert (ended.status, ended.out, ended.notes) == (130, "", "stopped\n")


def test_a_fault_of_the_program_is_never_status_0_1_or_2(leverwright, monkeypatch):
    import leverwright.cli.new_verb as new

    def broken(*_):
        raise ZeroDivisionError("by hand")

    monkeypatch.setattr(new, "run", broken)
    ended = leverwright("new", "beam-axle")
    assert ended.status == 3
    assert ended.notes.startswith(
        "a fault of leverwright itself, not of your file; please report what follows\n"
    )
    assert "ZeroDivisionError: by hand" in ended.notes


def test_a_terminal_without_our_signs_is_written_to_all_the_same(tmp_path):
    ended = run_command(
        "new", "beam-axle", "--wheel-radius", "62 kg", cwd=tmp_path, environment={"PYTHONIOENCODING": "ascii"}
    )
    assert ended.returncode == 2
    assert '"312 +/- 1 mm"' in " ".join(ended.stderr.split())


def test_a_name_that_would_move_the_cursor_is_escaped(leverwright, tmp_path):
    name = "a\x1b[2Jb\N{RIGHT-TO-LEFT OVERRIDE}.toml"
    ended = leverwright("new", "beam-axle", "--out", name)
    assert ended.status == 0
    assert "\\u001b[2Jb\\u202e" in ended.out
    assert "\x1b" not in ended.out
    assert [path.name for path in tmp_path.iterdir()] == [name]


def test_a_name_of_bytes_that_are_no_text_is_said_and_written(tmp_path):
    name = b"cart\xff.toml"
    ended = subprocess.run(
        [*COMMAND, "new", "beam-axle", "--json", b"--out", name],
        cwd=tmp_path,
        capture_output=True,
        check=False,
    )
    assert ended.returncode == 0, ended.stderr
    assert ended.stdout == b'{"leverwright": 1, "file": "cart\\\\xff.toml"}\n'
    assert [os.fsencode(path.name) for path in tmp_path.iterdir()] == [name]


def test_main_takes_the_words_of_the_process(monkeypatch, capsys):
    monkeypatch.setattr(sys, "argv", ["leverwright", "--version"])
    assert main() == 0
    assert capsys.readouterr().out.startswith("leverwright ")


class Looking(Terminal):
    """A terminal somebody looks at, which remembers the signs of life."""

    def __init__(self):
        super().__init__(None)
        self.watched = True
        self.signs: list[str] = []

    def progress(self, text):
        self.signs.append(text)


def test_work_over_a_second_gives_signs_of_life(monkeypatch):
    monkeypatch.setattr("leverwright.cli.progress._PATIENCE", 0.02)
    monkeypatch.setattr("leverwright.cli.progress._BEAT", 0.01)
    terminal = Looking()
    with Progress(terminal, "cycling") as progress:
        _until(lambda: terminal.signs)
        assert terminal.signs[0] == "cycling (0 s)"
        progress.at("sheet 2 of 4", 0.5)
        _until(lambda: terminal.signs[-1].startswith("["))
        assert terminal.signs[-1] == "[############............] sheet 2 of 4 (0 s)"
    assert terminal.signs[-1] == ""


def test_quick_work_gives_none():
    terminal = Looking()
    with Progress(terminal, "cycling"):
        pass
    assert terminal.signs == []


def test_nobody_looking_is_given_none(monkeypatch):
    monkeypatch.setattr("leverwright.cli.progress._PATIENCE", 0.0)
    terminal = Looking()
    terminal.watched = False
    with Progress(terminal, "cycling"):
        time.sleep(0.02)
    assert terminal.signs == []


def _until(condition):
    for _ in range(500):
        if condition():
            return
        time.sleep(0.01)
    pytest.fail("it did not happen within five seconds")


def test_ctrl_c_ends_the_process_cleanly(tmp_path):
    """A run that waits for a pipe's writer is stopped from the keyboard."""
    program = (
        "import sys, time, leverwright.cli.new_verb as new\n"
        "from leverwright.__main__ import main\n"
        "def run(*_):\n    print('begun', flush=True)\n    time.sleep(30)\n"
        "new.run = run\n"
        "sys.exit(main(['new', 'beam-axle']))\n"
    )
    process = subprocess.Popen(
        [sys.executable, "-c", program], cwd=tmp_path, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert process.stdout.readline() == b"begun\n"
    process.send_signal(signal.SIGINT)
    _, notes = process.communicate(timeout=10)
    assert (process.returncode, notes) == (130, b"stopped\n")
