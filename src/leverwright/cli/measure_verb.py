"""`measure`: what tapes, scale and bench say, how sure it is, and what to measure next."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from leverwright.cli.around import FINE, STOP, Around
from leverwright.cli.options import add_file, add_json, add_units, system_of
from leverwright.cli.progress import Progress
from leverwright.cli.terminal import shown_name

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:  # noqa: ARG001  # as every verb
    """A file."""
    parser.description = (
        f"{parser.description}\n\nPlaces by tape and photograph, shocks squashed on a scale or known by their wire,\n"
        "the pile, wheels weighed, load sets. Each figure is said as the range in which it\n"
        "lies 19 times of 20."
    )
    add_file(parser)
    add_units(parser)
    add_json(parser)


def run(options: argparse.Namespace, around: Around) -> int:
    """Say what was measured."""
    from leverwright.cli.vehicle import project_of  # numpy and the engine: not for --help
    from leverwright.study import Study
    from leverwright.wire.measure_document import measure_document

    # The document is metric whatever is asked: its figures carry their units.
    study = Study(project_of(options.file))
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
