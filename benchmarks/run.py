"""Prints the table of budgets: each work beside its reference, timed in this same run.

Run from the clone: `python benchmarks/run.py`. Absolute times are for a quiet machine; the ratio is what is kept.
"""

import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT), str(ROOT / "src")]

from benchmarks import linkages, page, program  # noqa: E402 - the clone comes first on the path
from benchmarks.clock import Row  # noqa: E402

__all__ = ["main"]


def rows() -> list[Row]:
    """Every row that can be timed here."""
    found = [linkages.wishbone_corner(), linkages.beam_axle(), *program.studies(), program.command_line()]
    if page.BROWSER is not None and (program.STATIC / "index.html").is_file():
        found += page.page_rows(ROOT / "examples" / "gravity-racer.toml")
    return [*found, program.templates()]


def main() -> None:
    """Print the table."""
    for row in rows():
        beside = ""
        if row.reference_took is not None and row.ratio is not None:
            beside = f"; {row.reference}: {_said(row.reference_took)}, {row.ratio:.2g} times ours"
        print(
            f"{_said(row.took):>9}  of {_said(row.budget):>8}  {row.work}{beside}  [{row.verdict}]",
            flush=True,
        )
    if (program.STATIC / "index.html").is_file():
        weight, most = program.page_weight()
        print(f"{weight / 1000:>6.0f} kB  of {most / 1000:>5.0f} kB  page: script, gzipped")
    else:
        print("   not measured: the page is not built here, so neither its weight nor a drag")
    print("   not measured: the compiled rocker-train kernel is not part of this version")


def _said(seconds: float) -> str:
    return f"{seconds:.2f} s" if seconds >= 1 else f"{seconds * 1000:.3g} ms"


if __name__ == "__main__":
    main()
