"""`set`: one value of a file changed, everything else left as it is written."""

from __future__ import annotations

import argparse
import difflib
import json
import tomllib
from collections.abc import Sequence
from typing import TYPE_CHECKING

from leverwright.cli.around import FINE, Around
from leverwright.cli.files import save
from leverwright.cli.options import add_file, add_json
from leverwright.cli.refusal import Refused, listed, refused_fault
from leverwright.cli.terminal import shown_name
from leverwright.quantity import quoted

if TYPE_CHECKING:
    from leverwright.project import Fault

__all__ = ["arguments", "path_of", "run", "value_of"]

# Characters. A key is a few names; a value is a number, a text of 200 or a short list.
_LONGEST_KEY = 500
_LONGEST_VALUE = 10_000
_DEEPEST_VALUE = 8  # brackets, as in a file
_MOST_DOTS = 12  # as in a file
# Tables that are one thing, and those named for a wheel or a shock: reading refuses a slip in such a name.
_BEGUN = ("goals", "coupling", "scale", "tilt", "weighed", "bench")
_KEY_FORM = "names with a dot between them, such as wheels.front-left.radius"


def arguments(parser: argparse.ArgumentParser, words: Sequence[str]) -> None:  # noqa: ARG001  # as every verb
    """File, key, value."""
    parser.description = (
        f'{parser.description}\n\nKEY is dotted as in TOML: wheels.front-left.radius, points."old hub".\n'
        "VALUE is a number (mm, kg, N, N/mm, deg), true or false, a list [1, 2, 3],\n"
        "a table { loads = [105, 155], heights = [400, 390.5] }, or text such as 8 in.\n"
        "What would make the file unreadable is not saved. Status 0: saved, whatever check will find."
    )
    add_file(parser)
    parser.add_argument("key", metavar="KEY", help=_KEY_FORM)
    parser.add_argument("value", metavar="VALUE", help='the new value, such as 203 or "8 in" or "[-10, 15]"')
    add_json(parser)


def run(options: argparse.Namespace, around: Around) -> int:
    """Change, look at the result, save."""
    path = path_of(options.key)
    value = value_of(options.value)
    left = _change(options.file, path, value)
    if options.json:
        document = {"leverwright": 1, "file": shown_name(options.file), "key": options.key, "value": value}
        around.out.raw(json.dumps(document, allow_nan=False))
        return FINE
    around.out.line(f"Saved {shown_name(options.file)}: {options.key} = {options.value}")
    for fault in left:
        around.notes.line(f"still to mend: {fault.sentence}", "fix")
    return FINE


def path_of(key: str) -> tuple[str, ...]:
    """The names of a dotted key, quoted as TOML quotes; Refused where it is none."""
    wrong = Refused(
        f"{quoted(key)} is not a key", _KEY_FORM, 'put a name with other signs in quotes: points."old hub"'
    )
    if len(key) > _LONGEST_KEY or key.count(".") > _MOST_DOTS or "\n" in key or "\r" in key:
        raise wrong
    try:
        found: object = tomllib.loads(f"{key} = {{}}")
    except ValueError as error:
        raise wrong from error
    path: list[str] = []
    while isinstance(found, dict) and found:
        name, found = next(iter(found.items()))
        path.append(name)
    if found != {}:
        raise wrong
    return tuple(path)


def value_of(typed: str) -> object:
    """What was typed as a TOML number, truth, list or table where it reads as one, else as the text it is."""
    if len(typed) > _LONGEST_VALUE:
        raise Refused(f"a value of {len(typed)} characters", f"at most {_LONGEST_VALUE}", "write it shorter")
    if _depth(typed) > _DEEPEST_VALUE:
        return typed
    try:
        read = tomllib.loads(f"value = {typed}")
    except ValueError:
        return typed
    value = read["value"]
    alone = len(read) == 1 and value != {} and isinstance(value, (bool, int, float, list, dict))
    return value if alone else typed


def _depth(text: str) -> int:
    """How deep brackets stand in one another, those in quotes counted too."""
    deepest = level = 0
    for character in text:
        level += (character in "[{") - (character in "]}")
        deepest = max(deepest, level)
    return deepest


def _change(file: str, path: tuple[str, ...], value: object) -> tuple[Fault, ...]:
    """Save the changed file; the faults that it had before and still has."""
    from leverwright.project import Draft, ProjectError
    from leverwright.project.edit import apply
    from leverwright.project.files import read_with_revision

    try:
        text, revision = read_with_revision(file)
        before = Draft.from_text(text, file)
        changed = apply(text, [{"op": "set", "key": path, "value": value}], name=file)
        after = Draft.from_text(changed, file)
    except ProjectError as error:
        raise refused_fault(error.fault) from error
    _check_place(path, tomllib.loads(text.removeprefix("\ufeff")), file)
    known = {(fault.key, fault.found) for fault in before.faults}
    for fault in after.faults:
        if (fault.key, fault.found) not in known:
            raise refused_fault(fault)
    save(file, changed, revision)
    return after.faults


def _check_place(path: tuple[str, ...], written: dict[str, object], file: str) -> None:
    """Refuses a key of a thing that is not there: a slip in its name would begin a new thing.

    A `-right` name is there when its `-left` is: it may be written to differ from its twin.
    """
    if len(path) < 2 or path[0] in _BEGUN:
        return
    things = written.get(path[0])
    if not isinstance(things, dict):
        raise _no_such(path[:1], written, file)
    twin = f"{path[1].removesuffix('-right')}-left"
    if len(path) > 2 and path[1] not in things and twin not in things:
        raise _no_such(path[:2], things, file)


def _no_such(path: tuple[str, ...], names: dict[str, object], file: str) -> Refused:
    near = difflib.get_close_matches(path[-1], names, 1)
    do = f"did you mean {near[0]}?" if near else "use one of these, or add it on the page or in a text editor"
    refused = Refused(f"there is no {quoted(path[-1])}", listed(names), do, key=".".join(path))
    refused.file = file
    return refused
