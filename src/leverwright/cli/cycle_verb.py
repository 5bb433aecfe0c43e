"""`cycle`: every assembly moved through its travel, pose by pose."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from leverwright.cli.around import FINE, STOP, Around
from leverwright.cli.options import add_file, add_json, add_units, quantity_of, system_of
from leverwright.cli.progress import Progress
from leverwright.cli.refusal import Refused
from leverwright.quantity import quoted

__all__ = ["arguments", "run"]

# Poses. Two are the ends; with more than these the document passes 100 MB and a minute.
_FEWEST, _MOST = 2, 2001
_USUAL = "41"


def arguments(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:  # noqa: ARG001  # as every verb
    """File, motion, range."""
    parser.description = (
        f"{parser.description}\n\nTravel is that of the wheel centre; up is positive; 0 is the pose in which the\n"
        "points were measured. In roll the left wheel has the travel shown, the right one its negative."
    )
    add_file(parser)
    parser.add_argument(
        "--mode",
        metavar="MODE",
        default="heave",
        help="heave (all wheels alike), roll, or the name of one wheel (heave)",
    )
    parser.add_argument(
        "--from", metavar="LENGTH", dest="lowest", help="travel to begin at, such as -30 (shock open)"
    )
    parser.add_argument("--to", metavar="LENGTH", dest="highest", help="travel to end at (shock closed)")
    parser.add_argument("--poses", metavar="N", default=_USUAL, help=f"poses, both ends included ({_USUAL})")
    parser.add_argument(
        "--hold",
        metavar="NAME=VALUE",
        action="append",
        default=[],
        help="where a [held] thing is held, mm or deg; may be given again (0)",
    )
    add_units(parser)
    add_json(parser)


def run(options: argparse.Namespace, around: Around) -> int:
    """Cycle, and show it."""
    poses = _poses(options.poses)
    low, high = _asked(options.lowest, "--from"), _asked(options.highest, "--to")
    if low is not None and high is not None and low >= high:
        raise Refused("--from is not below --to", "a range that rises", "exchange the two", key="--from")
    from leverwright.cli.cycle_text import is_asked, show_cycle
    from leverwright.cli.motion import Motion, cycle_of  # numpy and the engine: not for --help

    with Progress(around.notes, "cycling"):
        document = cycle_of(options.file, Motion(options.mode, (low, high), poses), options.hold)
    if options.json:
        from leverwright.wire.strict import printed

        around.out.raw(printed(document))
    else:
        show_cycle(around.out, document, system_of(options), options.mode)
    stuck = [each for each in document.assemblies if not each.poses and is_asked(each, options.mode)]
    return STOP if stuck else FINE


def _poses(typed: str) -> int:
    if typed.isascii() and typed.isdecimal() and len(typed) < 6 and _FEWEST <= int(typed) <= _MOST:
        return int(typed)
    raise Refused(
        f"{quoted(typed)} poses",
        f"a whole number from {_FEWEST} to {_MOST}",
        "leave --poses away for 41",
        key="--poses",
    )


def _asked(typed: str | None, option: str) -> float | None:
    return None if typed is None else quantity_of(typed, "length", option).value
