"""`check`: the answers and findings of a vehicle; without a file, of five numbers."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from leverwright.cli.around import FINE, STOP, Around
from leverwright.cli.options import add_file, add_json, add_units, system_of
from leverwright.cli.progress import Progress
from leverwright.cli.refusal import Refused
from leverwright.cli.terminal import shown_name

__all__ = ["arguments", "run"]

_FIVE = ("link_arm", "spring_arm", "load", "rate", "moves")
_HELP = (
    "from the rocker's pivot to the link's hole",
    "from the rocker's pivot to the spring's hole",
    "what a scale under this wheel reads",
    'of the spring, or "unknown"',
    "how far the wheel moves under that load",
)
_SHARE = "how far the link's lower end moves for 1 of the wheel, such as 0.8 (1)"
_UNKNOWN = (
    "Too stiff or too soft, and no drawing yet? Leave FILE away and give five numbers:\n"
    '  leverwright check --link-arm 45 --spring-arm 90 --load "42 kg" --rate unknown --moves "5 mm"\n'
    "The link is taken to move as far as the wheel; where it does not, add --link-moves."
)


def arguments(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:  # noqa: ARG001  # as every verb
    """A file, or the five numbers."""
    parser.description = f"{parser.description}\n\n{_UNKNOWN}"
    add_file(parser, needed=False)
    group = parser.add_argument_group("five numbers instead of a file")
    for name, text in zip(_FIVE, _HELP, strict=True):
        group.add_argument(f"--{name.replace('_', '-')}", metavar="VALUE", help=text)
    group.add_argument("--link-moves", metavar="SHARE", help=_SHARE)
    add_units(parser)
    add_json(parser)


def run(options: argparse.Namespace, around: Around) -> int:
    """Say what is so."""
    given = [name for name in (*_FIVE, "link_moves") if getattr(options, name) is not None]
    if options.file is None:
        return _five_numbers(options, around, given)
    if given:
        option = f"--{given[0].replace('_', '-')}"
        raise Refused(
            "a file was named and a number given beside it",
            "a FILE, or the five numbers",
            "leave one away",
            key=option,
        )
    return _vehicle(options, around)


def _five_numbers(options: argparse.Namespace, around: Around, given: list[str]) -> int:
    missing = [f"--{name.replace('_', '-')}" for name in _FIVE if name not in (*given, "rate", "moves")]
    if missing:
        raise Refused(
            f"{', '.join(missing)} not given" if given else "neither a file nor five numbers were given",
            "FILE, or --link-arm --spring-arm --load --rate --moves",
            "try leverwright check --help",
        )
    from leverwright.cli.five_numbers import check_five_numbers  # not needed for a file

    return check_five_numbers(options, around, _FIVE)


def _vehicle(options: argparse.Namespace, around: Around) -> int:
    from leverwright.cli.vehicle import project_of  # numpy and the engine: not for --help
    from leverwright.findings import judge, with_remedies
    from leverwright.study import Study
    from leverwright.wire.answering import said_answers
    from leverwright.wire.check import CheckDocument
    from leverwright.wire.judging import found_findings
    from leverwright.wire.load_sets import answers_under_each
    from leverwright.wire.strict import printed

    # The document is metric whatever is asked: its figures carry their units.
    study = Study(project_of(options.file), units="metric" if options.json else system_of(options))
    with Progress(around.notes, "checking"):
        found = with_remedies(study, judge(study))
        findings = found_findings(found)
        answers = answers_under_each(study)
    if options.json:
        around.out.raw(printed(CheckDocument(title=study.project.title, answers=answers, findings=findings)))
    else:
        from leverwright.cli.check_text import show_answers, show_closing, show_findings
        from leverwright.project import Draft
        from leverwright.wire.working import next_step

        around.out.line(study.project.title or shown_name(options.file), "title")
        show_answers(around.out, said_answers(study), system_of(options))
        show_findings(around.out, findings, system_of(options))
        show_closing(around.out, findings, next_step(Draft.from_text(study.project.text), found))
    return STOP if any(finding.severity == "stop" for finding in findings) else FINE
