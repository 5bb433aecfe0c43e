"""Five numbers and no drawing: too stiff or too soft, and why."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from leverwright.cli.around import FINE, Around
from leverwright.cli.options import quantity_of, system_of
from leverwright.cli.refusal import Refused
from leverwright.cli.terminal import Terminal
from leverwright.ride.quick import QuickError
from leverwright.wire.five_numbers import quick_document
from leverwright.wire.quick import QuickDocument
from leverwright.wire.strict import printed

__all__ = ["check_five_numbers"]


def check_five_numbers(options: argparse.Namespace, around: Around, names: Sequence[str]) -> int:
    """Say which of ratio, spring and preload is to blame, and what each change would do."""
    typed: dict[str, str | None] = {name: getattr(options, name) for name in names}
    share = (
        1.0 if options.link_moves is None else quantity_of(options.link_moves, "ratio", "--link-moves").value
    )
    try:
        document = quick_document(typed, system=system_of(options), link_per_wheel=share)
    except QuickError as error:
        option = "--link-moves" if error.key == "link_per_wheel" else f"--{error.key.replace('_', '-')}"
        raise Refused(error.found, error.allowed, error.do, key=option) from error
    if options.json:
        around.out.raw(printed(document))
    else:
        _show(around.out, document)
    return FINE


def _show(out: Terminal, document: QuickDocument) -> None:
    out.line(document.verdict, "title")
    out.line(f"Motion ratio: {document.ratio_said}")
    if document.changes:
        out.line()
        out.line("What a change would do", "title")
    for change in document.changes:
        out.line(f"- {change.do}: {change.before} -> {change.after}", indent=2)
    for sentence in document.unsaid:
        out.line()
        out.line(sentence, "watch")
    out.line()
    out.line(f"Why: {document.why}", "faint")
