"""`new`: a vehicle's file from a handful of measurements; an existing file is never written over."""

from __future__ import annotations

import argparse
import json
from collections.abc import Sequence

from leverwright.cli.around import FINE, Around
from leverwright.cli.files import save
from leverwright.cli.options import add_json
from leverwright.cli.refusal import Refused, refused_fault
from leverwright.cli.terminal import shown_name
from leverwright.project import ProjectError
from leverwright.project.archetypes import Archetype, archetypes, write_archetype

__all__ = ["arguments", "run"]


def arguments(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
    """The kind of vehicle, its own measurements once it has been typed, and the file."""
    kinds = {kind.id: kind for kind in archetypes()}
    rows = "\n".join(f"  {kind.id:<16}{kind.title}" for kind in kinds.values())
    parser.description = (
        f"{parser.description}\n\nkinds of vehicle:\n{rows}\n\n"
        "leverwright new KIND --help lists its measurements. What is not given takes the number shown there."
    )
    parser.add_argument("kind", metavar="KIND", choices=tuple(kinds), help="kind of vehicle, see above")
    parser.add_argument(
        "--out", metavar="FILE", help="file to write; KIND.toml when not given; never written over"
    )
    add_json(parser)
    asked = next((kinds[word] for word in words if word in kinds), None)
    if asked:
        _add_measurements(parser, asked)


def _add_measurements(parser: argparse.ArgumentParser, kind: Archetype) -> None:
    group = parser.add_argument_group(f"measurements of {kind.id}", kind.sentence)
    for measurement in kind.measurements:
        # argparse fills in % forms; a default such as "30 %" is no form.
        text = f"{measurement.label}: {measurement.help} ({measurement.default})".replace("%", "%%")
        group.add_argument(
            f"--{measurement.key}", metavar="VALUE", dest=f"measured {measurement.key}", help=text
        )


def run(options: argparse.Namespace, around: Around) -> int:
    """Write the file."""
    typed = {
        name.removeprefix("measured "): value
        for name, value in vars(options).items()
        if name.startswith("measured ") and value is not None
    }
    file = options.out or f"{options.kind}.toml"
    try:
        text = write_archetype(options.kind, typed)
    except ProjectError as error:
        raise _as_option(refused_fault(error.fault), options) from error
    save(file, text, None)
    if options.json:
        around.out.raw(json.dumps({"leverwright": 1, "file": shown_name(file)}))
        return FINE
    around.out.line(
        f"Wrote {shown_name(file)}. Its numbers are the ones you gave, and examples where you gave none."
    )
    around.out.line(
        f"Next: leverwright open {shown_name(file)} (the page), or leverwright check {shown_name(file)}",
        "faint",
    )
    return FINE


def _as_option(refused: Refused, options: argparse.Namespace) -> Refused:
    """A refusal of a measurement names the option that gives it."""
    if f"measured {refused.key}" in vars(options):
        refused.key = f"--{refused.key}"
    return refused
