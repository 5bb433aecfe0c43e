"""Runs the commands that the documentation shows, and keeps what it shows true.

A block marked `console` holds commands after `$ ` and, below each, what the terminal says; a line `...` stands for any
lines. All blocks of a page run in order in one folder that has a copy of examples/. `python docs/commands.py` writes
what was said into the pages (lines that `...` stood for stay out); tests/docs compares.
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

__all__ = ["Ran", "matches", "pages", "rewritten", "run_page"]

ROOT = Path(__file__).resolve().parents[1]
BLOCK = re.compile(r"^```console\n(.*?)^```$", re.MULTILINE | re.DOTALL)
ANY_LINES = "..."


@dataclass(frozen=True, slots=True)
class Ran:
    """One command of a page: what the page shows, and what it said now."""

    command: str
    shown: str
    said: str
    status: int


def pages() -> list[Path]:
    """Pages that show commands, the README among them."""
    found = [ROOT / "README.md", *sorted((ROOT / "docs").rglob("*.md"))]
    return [
        page
        for page in found
        if "_build" not in page.parts and BLOCK.search(page.read_text(encoding="utf-8"))
    ]


def run_page(page: Path) -> list[Ran]:
    """Every command of `page`, run in order in one fresh folder."""
    text = page.read_text(encoding="utf-8")
    with tempfile.TemporaryDirectory() as folder:
        environment = _environment(Path(folder))
        bench = Path(folder, "bench")
        bench.mkdir()
        if (ROOT / "examples").is_dir():
            shutil.copytree(ROOT / "examples", bench / "examples")
        return [
            Ran(command, shown, *_run(command, bench, environment))
            for block in BLOCK.finditer(text)
            for command, shown in _commands(block.group(1))
        ]


def matches(shown: str, said: str) -> bool:
    """Whether the page shows what was said; a line `...` of the page stands for any lines."""
    parts = [re.escape(part) for part in re.split(r"^\.\.\.\n", shown, flags=re.MULTILINE)]
    return re.fullmatch("(?:.*\n)*?".join(parts), said) is not None


def rewritten(page: Path, ran: list[Ran]) -> str:
    """The page's text with what was said in place of what it showed, where the two do not match."""
    left = iter(ran)

    def block(found: re.Match[str]) -> str:
        lines = []
        for _ in _commands(found.group(1)):
            now = next(left)
            lines.append(f"$ {now.command}\n" + (now.shown if matches(now.shown, now.said) else now.said))
        return "```console\n" + "".join(lines) + "```"

    return BLOCK.sub(block, page.read_text(encoding="utf-8"))


def _commands(block: str) -> Iterator[tuple[str, str]]:
    for piece in re.split(r"^\$ ", block, flags=re.MULTILINE)[1:]:
        command, _, shown = piece.partition("\n")
        while command.endswith("\\"):
            more, _, shown = shown.partition("\n")
            command += "\n" + more
        yield command, shown


def _environment(folder: Path) -> dict[str, str]:
    """PATH starts with `leverwright` and `python`: those of the Python that runs this."""
    tools = folder / "tools"
    tools.mkdir()
    for name, starts in (("leverwright", "-m leverwright"), ("python", "")):
        shim = tools / name
        shim.write_text(f'#!/bin/sh\nexec "{sys.executable}" {starts} "$@"\n', encoding="utf-8")
        shim.chmod(0o755)
    kept = {key: value for key, value in os.environ.items() if key not in ("COLUMNS", "FORCE_COLOR")}
    return {
        **kept,
        "PATH": f"{tools}{os.pathsep}{kept.get('PATH', os.defpath)}",
        "COLUMNS": "100",
        "LC_ALL": "C.UTF-8",
    }


def _run(command: str, folder: Path, environment: dict[str, str]) -> tuple[str, int]:
    done = subprocess.run(
        ["bash", "-c", command],
        cwd=folder,
        env=environment,
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        encoding="utf-8",
        timeout=120,
        check=False,
    )
    said = "".join(line.rstrip() + "\n" for line in done.stdout.splitlines())
    return said.replace(str(folder), "."), done.returncode


def _main() -> None:
    for page in pages():
        text = rewritten(page, run_page(page))
        if text != page.read_text(encoding="utf-8"):
            page.write_text(text, encoding="utf-8")
            print(f"written anew: {page.relative_to(ROOT)}")


if __name__ == "__main__":
    _main()
