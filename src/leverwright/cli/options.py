"""Options that several verbs take, and quantities typed as options."""

from __future__ import annotations

import argparse

from leverwright.cli.refusal import Refused
from leverwright.quantity import Kind, Quantity, QuantityError, System, read_quantity

__all__ = ["add_file", "add_json", "add_units", "quantity_of", "system_of"]


def add_file(parser: argparse.ArgumentParser, *, needed: bool = True) -> None:
    """The project file."""
    parser.add_argument(
        "file", metavar="FILE", nargs=None if needed else "?", help="the vehicle's file (TOML)"
    )


def add_json(parser: argparse.ArgumentParser) -> None:
    """--json."""
    parser.add_argument("--json", action="store_true", help="print one JSON document instead of sentences")


def add_units(parser: argparse.ArgumentParser) -> None:
    """--units."""
    parser.add_argument(
        "--units", choices=("mm", "inch"), type=_units_meant, default="mm", help="units of the sentences (mm)"
    )


def _units_meant(typed: str) -> str:
    """The choice that other words for it mean."""
    return {"inches": "inch", "in": "inch", "imperial": "inch", "metric": "mm"}.get(typed, typed)


def system_of(options: argparse.Namespace) -> System:
    """The system of units that was asked for."""
    return "inch" if options.units == "inch" else "metric"


def quantity_of(typed: str, kind: Kind, option: str) -> Quantity:
    """A quantity typed as an option; Refused, naming the option, where it is none."""
    try:
        return read_quantity(typed, kind)
    except QuantityError as error:
        raise Refused(error.found, error.allowed, error.do, key=option) from error
