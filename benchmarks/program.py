"""The whole program: a study, the command line from cold, the paper, the page's weight."""

import gzip
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from benchmarks.clock import Row, median_of, side_by_side
from leverwright import Project, Study
from leverwright.findings import judge, with_remedies
from leverwright.make import sheet

__all__ = ["command_line", "examples", "page_weight", "studies", "templates"]

ROOT = Path(__file__).resolve().parents[1]
STATIC = ROOT / "src" / "leverwright" / "server" / "static"


def examples() -> list[Path]:
    """Every example vehicle."""
    return sorted((ROOT / "examples").glob("*.toml"))


def studies() -> Iterator[Row]:
    """Each example judged from its Project on, without and with remedies; the slowest of each is shown."""
    for remedies, budget in ((False, 0.040), (True, 0.400)):
        slowest, name = max((_judged(file, remedies=remedies), file.stem) for file in examples())
        kind = "with" if remedies else "without"
        yield Row(f"full Study with all findings, {kind} remedies (slowest example: {name})", slowest, budget)


def _judged(file: Path, *, remedies: bool) -> float:
    project = Project.read(file)

    def work() -> object:
        study = Study(project)
        found = judge(study)
        return with_remedies(study, found) if remedies else found

    return median_of(work, 3)


def command_line() -> Row:
    """`check` on an example in a new process, beside a process that only imports NumPy."""
    # Where this is set, each start compiles its sources anew; what is timed then is the compiler.
    environment = {key: value for key, value in os.environ.items() if key != "PYTHONDONTWRITEBYTECODE"}

    def start(*words: str) -> None:
        done = subprocess.run(
            [sys.executable, *words], env=environment, capture_output=True, cwd=ROOT, check=False
        )
        if done.returncode not in (0, 1):
            raise RuntimeError(done.stderr.decode())

    file = str(examples()[0])
    took, reference = side_by_side(
        lambda: start("-m", "leverwright", "check", file), lambda: start("-c", "import numpy"), rounds=7
    )
    if not list((ROOT / "src" / "leverwright").glob("__pycache__/*.pyc")):
        import leverwright

        home = Path(leverwright.__file__).parent
        if not list(home.glob("__pycache__/*.pyc")):
            raise RuntimeError(
                "no compiled sources were kept: the start would be timed with the compiler in it"
            )
    return Row(
        "command line: check on an example, from cold",
        took,
        2.5 * reference,
        "import numpy",
        reference,
        most_ratio=2.5,
    )


def page_weight() -> tuple[int, int]:
    """Bytes of the page's scripts, gzipped, and what they may be."""
    scripts = STATIC.rglob("*.js")
    return sum(len(gzip.compress(script.read_bytes())) for script in scripts), 150_000


def templates() -> Row:
    """The true-scale template set of an example as PDF."""
    study = Study(Project.read(examples()[0]))
    return Row("1:1 template set of a vehicle", median_of(lambda: sheet(study, "templates", "A4"), 3), 1.0)
