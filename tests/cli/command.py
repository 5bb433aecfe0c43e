"""The command, run as a person runs it and inside this process."""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

COMMAND = (sys.executable, "-m", "leverwright")


def run_command(
    *words: str, cwd: Path, environment: Mapping[str, str] | None = None, timeout: float = 60
) -> subprocess.CompletedProcess[str]:
    """The real command in a process of its own; its output is read as UTF-8."""
    return subprocess.run(
        [*COMMAND, *words],
        cwd=cwd,
        env={**os.environ, **(environment or {})},
        capture_output=True,
        encoding="utf-8",
        timeout=timeout,
        check=False,
    )
