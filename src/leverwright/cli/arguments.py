"""How the command line is read: verbs, options, and one sentence for what cannot be read."""

from __future__ import annotations

import argparse
import difflib
import re
import sys
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass
from importlib import import_module
from typing import NoReturn, Protocol, cast

from leverwright.cli.around import Around
from leverwright.cli.refusal import Refused
from leverwright.cli.terminal import Terminal
from leverwright.quantity import quoted

__all__ = ["VERBS", "Verb", "VerbModule", "parse", "verb_module", "version"]


class VerbModule(Protocol):
    """What the module of a verb holds."""

    def arguments(self, parser: argparse.ArgumentParser, words: Sequence[str]) -> None:
        """Declare what the verb takes; `words` are those that were typed."""

    def run(self, options: argparse.Namespace, around: Around) -> int:
        """Do it; the exit status."""


@dataclass(frozen=True, slots=True)
class Verb:
    """A verb: what it does in one line, and one use of it."""

    summary: str
    example: str


VERBS: dict[str, Verb] = {
    "new": Verb(
        "start a vehicle from a handful of measurements",
        'leverwright new beam-axle --track "36 in" --out cart.toml',
    ),
    "open": Verb("open a vehicle on the page, in the browser", "leverwright open cart.toml"),
    "set": Verb(
        "change one value of a file, its comments kept",
        'leverwright set cart.toml wheels.front-left.radius "8 in"',
    ),
    "check": Verb(
        "say whether it moves, sits and locks, with numbers",
        "leverwright check cart.toml --units inch",
    ),
    "measure": Verb(
        "say what tapes, scale and bench come to, and what is next",
        "leverwright measure cart.toml",
    ),
    "cycle": Verb(
        "move it through its travel, pose by pose",
        "leverwright cycle cart.toml --mode roll --poses 11",
    ),
    "make": Verb(
        "write templates at true size, drilling card and cutting files",
        "leverwright make cart.toml --out sheets --paper Letter",
    ),
}

_TITLE = (
    "Get a suspension lever (rocker, bellcrank) right before steel is cut. "
    'Numbers are mm, kg, N, N/mm and deg; any of them may carry its own unit: "12 1/2 in".'
)
_CLOSING = (
    "leverwright VERB --help says more of each verb. Exit status: 0 fine, 1 a finding says stop, 2 something "
    "could not be read or written. A computed margin is never permission to ride: strength and welds are not "
    "checked by this version."
)


_WIDTH = 88


class _Parser(argparse.ArgumentParser):
    """argparse, with errors raised as refusals and negative lengths such as -1/2in read as values."""

    def __init__(self, **settings: object) -> None:
        super().__init__(
            allow_abbrev=False,
            formatter_class=argparse.RawDescriptionHelpFormatter,
            **settings,  # type: ignore[arg-type]  # argparse's own many keywords, passed through
        )
        self.color = False  # newer argparse would put colours into the help, which goes through Terminal
        # argparse would take "-12mm" for an option; what begins with a digit is a value here.
        self._negative_number_matcher = re.compile(r"-[.0-9]")

    def print_help(self, file: object = None) -> None:  # noqa: ARG002  # argparse's own signature
        """Help as all other output: argparse itself would pass over a full disk and missing signs."""
        out = Terminal(sys.stdout)
        for row in self.format_help().splitlines():
            out.row(row)

    def error(self, message: str) -> NoReturn:
        """Every complaint of argparse as one sentence."""
        raise _complaint(message, self)


def parse(words: Sequence[str]) -> argparse.Namespace:
    """What was typed, read; Refused where it cannot be. Only the verb that was typed is loaded."""
    parser = _Parser(prog="leverwright", description=textwrap.fill(_TITLE, _WIDTH), epilog=_closing())
    parser.add_argument("--version", action="store_true", help="show the version of this program and exit")
    verbs = parser.add_subparsers(dest="verb", metavar="VERB", title="verbs", parser_class=_Parser)
    typed = next((word for word in words if not word.startswith("-")), None)
    for name, verb in VERBS.items():
        own = verbs.add_parser(
            name,
            help=verb.summary,
            description=f"{verb.summary[0].upper()}{verb.summary[1:]}.",
            epilog=f"example:\n  {verb.example}",
        )
        if name == typed:
            verb_module(name).arguments(own, words)
    options, unknown = parser.parse_known_args(words)
    if unknown:
        raise _unknown(unknown, verbs.choices[options.verb] if options.verb else parser)
    if options.verb is None and not options.version:
        raise Refused("no verb was given", ", ".join(VERBS), "try leverwright --help")
    return options


def verb_module(name: str) -> VerbModule:
    """The module of a verb, loaded now."""
    return cast("VerbModule", import_module(f"leverwright.cli.{name}_verb"))


def version() -> str:
    """The version of this program."""
    from importlib import metadata  # it loads a mail library: not for every run

    try:
        return metadata.version("leverwright")
    except metadata.PackageNotFoundError:  # run from a folder of sources
        return "(not installed)"


def _closing() -> str:
    examples = "\n".join(f"  {verb.example}" for verb in VERBS.values())
    return f"examples:\n{examples}\n\n{textwrap.fill(_CLOSING, _WIDTH)}"


def _complaint(message: str, parser: argparse.ArgumentParser) -> Refused:
    """What argparse complains of, in the three parts of a refusal."""
    do = f"try {parser.prog} --help"
    choice = re.match(r"argument (\S+): invalid choice: '(.*)' \(choose from (.*)\)", message, re.DOTALL)
    if choice:
        allowed = [word.strip("' ") for word in choice[3].split(",")]
        name = "the verb" if choice[1] == "VERB" else choice[1]
        found = f"{quoted(choice[2])} is no choice for {name}"
        return Refused(found, ", ".join(allowed), _near(choice[2], allowed, do))
    missing = re.match(r"the following arguments are required: (.*)", message)
    if missing:
        return Refused(f"{missing[1]} is missing", _written(missing[1].split(", "), parser), do)
    option = re.match(r"argument (\S+): (.*)", message, re.DOTALL)
    key, found = (option[1], quoted(option[2])[1:-1]) if option else (None, quoted(message)[1:-1])
    return Refused(found, _written([key] if key else [], parser), do, key=key)


def _written(names: Sequence[str], parser: argparse.ArgumentParser) -> str:
    """What may be written for the option or place of that name, else how the whole verb is written."""
    # argparse lists what it takes nowhere else.
    actions = parser._actions  # noqa: SLF001
    for action in actions:
        if action.metavar in names or set(action.option_strings).intersection(names):
            if action.choices:
                return ", ".join(map(str, action.choices))
            if action.option_strings:
                return f"{action.option_strings[0]} {action.metavar}"
    forms = [" ".join([*each.option_strings[:1], str(each.metavar)]) for each in actions if each.required]
    return " ".join([parser.prog, *forms])


def _unknown(words: list[str], parser: argparse.ArgumentParser) -> Refused:
    """Words that no option and no place takes."""
    # argparse lists its options nowhere else.
    known = [word for action in parser._actions for word in action.option_strings]  # noqa: SLF001
    do = _near(words[0], known, f"try {parser.prog} --help")
    return Refused(f"{quoted(' '.join(words))} is not known here", ", ".join(known), do)


def _near(word: str, known: list[str], otherwise: str) -> str:
    near = difflib.get_close_matches(word, known, 1)
    return f"did you mean {near[0]}?" if near else otherwise
