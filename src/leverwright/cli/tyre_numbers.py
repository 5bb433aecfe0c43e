"""Loads and heights and no file: a tyre's rate by scale and ruler."""

from __future__ import annotations

import argparse

from leverwright.cli.around import FINE, Around
from leverwright.cli.options import quantity_of, system_of
from leverwright.cli.refusal import Refused
from leverwright.wire.strict import printed
from leverwright.wire.tyre_numbers import tyre_document

__all__ = ["measure_tyre"]

_MOST = 100  # readings; more is no more sure


def measure_tyre(options: argparse.Namespace, around: Around) -> int:
    """Say a tyre's rate."""
    loads = [quantity_of(typed, "mass", "--tyre-loads") for typed in options.tyre_loads or ()]
    heights = [quantity_of(typed, "length", "--tyre-heights") for typed in options.tyre_heights or ()]
    if len(loads) != len(heights) or not 2 <= len(loads) <= _MOST:
        raise Refused(
            f"{len(loads)} loads and {len(heights)} heights",
            f"as many heights as loads, from 2 to {_MOST}",
            "give the height of the axle above the floor under each load",
            key="--tyre-heights",
        )
    try:
        document = tyre_document(loads, heights, system=system_of(options))
    except ValueError as error:
        raise Refused(
            "the axle stands no lower under the larger load",
            "two loads that differ, and an axle that sinks under the larger one",
            "read both again, and check which height belongs to which load",
            key="--tyre-heights",
        ) from error
    if options.json:
        around.out.raw(printed(document))
        return FINE
    first, *others = document.sentences
    around.out.line(first, "title")
    for sentence in others:
        around.out.line(sentence)
    around.out.line()
    around.out.line(f"Why: {document.why}", "faint")
    return FINE
