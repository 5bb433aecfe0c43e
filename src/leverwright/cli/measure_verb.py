"""`measure`: what tapes, scale and bench say, how sure it is, and what to measure next."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from leverwright.cli.around import FINE, STOP, Around
from leverwright.cli.options import add_file, add_json, add_units, system_of
from leverwright.cli.progress import Progress
from leverwright.cli.refusal import Refused
from leverwright.cli.terminal import shown_name

if TYPE_CHECKING:
    from leverwright.project import Sketch

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:  # noqa: ARG001  # as every verb
    """A file."""
    parser.description = (
        f"{parser.description}\n\nPlaces by tape and photograph, shocks squashed on a scale or known by their wire,\n"
        "the pile, wheels weighed, load sets. Each figure is said as the range in which it\n"
        "lies 19 times of 20.\n\n"
        "A tyre's rate? Leave FILE away, and give loads on the wheel and the height of its axle\n"
        "under each:\n"
        "  leverwright measure --tyre-loads 105 155 --tyre-heights 400 390.5"
    )
    add_file(parser, needed=False)
    group = parser.add_argument_group("a tyre by scale and ruler instead of a file")
    group.add_argument("--tyre-loads", nargs="+", metavar="LOAD", help="on the scale under the wheel (kg)")
    group.add_argument(
        "--tyre-heights",
        nargs="+",
        metavar="HEIGHT",
        help="of its axle above the floor, under each load (mm)",
    )
    add_units(parser)
    add_json(parser)


def run(options: argparse.Namespace, around: Around) -> int:
    """Say what was measured."""
    tyre = options.tyre_loads or options.tyre_heights
    if options.file is None or tyre:
        if options.file is not None or not tyre:
            raise Refused(
                "a file was named and a tyre beside it" if tyre else "neither a file nor a tyre was given",
                "a FILE, or --tyre-loads with --tyre-heights",
                "try leverwright measure --help",
            )
        from leverwright.cli.tyre_numbers import measure_tyre  # not needed for a file

        return measure_tyre(options, around)
    from leverwright.cli.vehicle import project_or_shocks  # numpy and the engine: not for --help
    from leverwright.project import Project
    from leverwright.study import Study
    from leverwright.wire.measure_document import measure_document

    project = project_or_shocks(options.file)
    if not isinstance(project, Project):
        return _shocks(options, around, project)
    # The document is metric whatever is asked: its figures carry their units.
    study = Study(project)
    with Progress(around.notes, "measuring"):
        document = measure_document(study)
    if options.json:
        from leverwright.wire.strict import printed

        around.out.raw(printed(document))
    else:
        from leverwright.cli.measure_text import show_measured

        around.out.line(document.title or shown_name(options.file), "title")
        show_measured(around.out, document, study, system_of(options))
    return STOP if any(finding.severity == "stop" for finding in document.findings) else FINE


def _shocks(options: argparse.Namespace, around: Around, sketch: Sketch) -> int:
    """Shocks in hand, and no vehicle drawn yet."""
    from leverwright.cli.measure_text import show_shocks
    from leverwright.wire.measure_document import shocks_document
    from leverwright.wire.strict import printed

    document = shocks_document(sketch)
    if options.json:
        around.out.raw(printed(document))
    else:
        around.out.line(document.title or shown_name(options.file), "title")
        show_shocks(around.out, document, system_of(options))
    return FINE
