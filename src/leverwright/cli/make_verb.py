"""`make`: every sheet of a vehicle into a new or an empty folder."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence

from leverwright.cli.around import FINE, STOP, Around
from leverwright.cli.options import add_file, add_json, quantity_of
from leverwright.cli.progress import Progress
from leverwright.cli.refusal import Refused
from leverwright.cli.terminal import shown_name

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:  # noqa: ARG001  # as every verb
    """File, folder, paper, holes."""
    parser.description = (
        f"{parser.description}\n\nTemplates, drilling card and cardboard trial as PDF; parts as DXF and SVG.\n"
        "Print at 100 %; measure the bars on the sheet before you cut. What is not drawn is said on the last page.\n"
        "Strength, clearance and welds are not checked by this version. Drilling and grinding: eyes, clamps, no\n"
        "gloves at the drill; a spring under load is let down before anything is undone."
    )
    add_file(parser)
    parser.add_argument("--out", metavar="FOLDER", required=True, help="a new folder, or an empty one")
    parser.add_argument("--paper", choices=("A4", "Letter"), default="A4", help="paper of the PDFs (A4)")
    parser.add_argument(
        "--hole",
        metavar="[POINT=]DIAMETER",
        action="append",
        default=[],
        help='diameter of all holes, or of one: "10", "spring-hole-left=3/8 in"; may be given again',
    )
    parser.add_argument(
        "--measured",
        metavar="LENGTH",
        help="what the 200 mm bar of the last print reads, when it is not 200: the new one is corrected",
    )
    add_json(parser)


def run(options: argparse.Namespace, around: Around) -> int:
    """Make the sheets."""
    from leverwright.cli.vehicle import project_of  # the engine: not for --help
    from leverwright.findings import judge
    from leverwright.make import Choices, MakeError, make_all
    from leverwright.study import Study

    project = project_of(options.file)
    every, each = _holes(options.hole, tuple(project.points))
    measured = (
        None if options.measured is None else quantity_of(options.measured, "length", "--measured").value
    )
    try:
        with Progress(around.notes, "drawing the sheets"):
            study = Study(project)
            found = judge(study)
            stops = [finding.sentence for finding in found if finding.severity == "stop"]
            choices = Choices(hole=every, holes=each, measured_across=measured, stops=tuple(stops))
            files = make_all(study, options.out, options.paper, choices)
    except MakeError as error:
        raise Refused(error.found, error.allowed, error.do) from error
    status = STOP if stops else FINE
    if options.json:
        names = [shown_name(file) for file in files]
        around.out.raw(json.dumps({"leverwright": 1, "files": names, "stops": stops}))
        return status
    around.out.line(f"{len(files)} files in {shown_name(options.out)}:")
    for file in files:
        around.out.row(f"  {shown_name(file.name)}")
    for finding in found:
        if finding.severity in ("stop", "fix"):
            around.out.line(f"{finding.severity.upper()}: {finding.sentence}", finding.severity)
    if stops:
        around.out.line("Do not cut by these sheets: leverwright check says what stops it.", "stop")
    around.out.line(
        "Print at 100 %, then measure the bars: 200 mm and 6 in on both axes. "
        "Not checked: strength, clearance, welds."
    )
    return status


def _holes(typed: Sequence[str], points: tuple[str, ...]) -> tuple[float | None, dict[str, float]]:
    """Diameter of every hole, and those of single points, m."""
    every: float | None = None
    each: dict[str, float] = {}
    for words in typed:
        name, sign, amount = words.rpartition("=")
        diameter = quantity_of(amount, "length", "--hole").value
        if not sign:
            every = diameter
        elif name not in points:
            raise Refused.no_name(name, points, "--hole")
        else:
            each[name] = diameter
    return every, each
