"""The reference names every key, unit, limit, verb and answer that the program has."""

import dataclasses
import re
from pathlib import Path
from typing import get_args

import msgspec
import pytest

from leverwright.cli.arguments import VERBS
from leverwright.findings.finding import rules
from leverwright.project.keys import INSIDE, KEYS, LATER_TABLES, TABLES, TOP
from leverwright.project.limits import LIMITS
from leverwright.quantity import UNITS
from leverwright.server import limits as server_limits
from leverwright.wire import measure
from leverwright.wire.answers import AnswerUnit, WheelAnswers

REFERENCE = Path(__file__).resolve().parents[2] / "docs" / "reference"


def _page(name: str) -> str:
    return (REFERENCE / f"{name}.md").read_text(encoding="utf-8")


def _section(text: str, table: str) -> str:
    heads = re.split(r"^## ", text, flags=re.MULTILINE)
    (found,) = [part for part in heads if part.startswith((f"`[{table}]`", f"`[{table}.NAME]`"))]
    return found


@pytest.mark.parametrize("key", TOP)
def test_every_key_above_the_first_table_is_explained(key: str) -> None:
    assert f"| `{key}` |" in _page("file")


@pytest.mark.parametrize(("table", "key"), [(t, k) for t in TABLES if t != "bodies" for k in KEYS[t]])
def test_every_key_of_a_table_is_explained_in_its_section(table: str, key: str) -> None:
    assert f"| `{key}` |" in _section(_page("file"), table)


@pytest.mark.parametrize(("home", "key"), [*INSIDE, ("held", "range"), ("tape", "reads")])
def test_keys_that_are_read_apart_are_explained(home: str, key: str) -> None:
    assert f"| `{key}` |" in _section(_page("file"), home)


@pytest.mark.parametrize("table", sorted({kind for _, kind in INSIDE}))
def test_every_key_of_an_inner_table_is_named(table: str) -> None:
    missing = [key for key in KEYS[table] if not re.search(rf"`{key}[`\s]|{key} =", _page("file"))]
    assert missing == []


@pytest.mark.parametrize("table", sorted(LATER_TABLES))
def test_tables_of_later_versions_are_named(table: str) -> None:
    assert f"`{table}`" in _page("file")


@pytest.mark.parametrize(
    "kind", ["length", "mass", "force", "stiffness", "angle", "speed", "pressure", "modulus", "time"]
)
def test_every_unit_is_listed(kind: str) -> None:
    (row,) = [line for line in _page("file").splitlines() if line.startswith(f"| {kind} |")]
    symbols = {unit.symbol for unit in UNITS[kind].values()}  # type: ignore[index]  # the list above is of kinds
    assert (
        sorted(symbol for symbol in symbols if not re.search(rf"(?<!\w){re.escape(symbol)}(?!\w)", row)) == []
    )


def _shown(number: int) -> str:
    return f"{number:,}".replace(",", " ")


@pytest.mark.parametrize("limit", [field.name for field in dataclasses.fields(LIMITS)])
def test_every_limit_of_a_file_is_stated(limit: str) -> None:
    assert re.search(rf"\| {_shown(getattr(LIMITS, limit))}( bytes)? \|", _page("limits")), limit


@pytest.mark.parametrize(
    "limit",
    ["HEAD_BYTES", "BODY_BYTES", "PHOTO_BYTES", "MESSAGE_BYTES", "OPS", "CONNECTIONS", "PAGES", "UNDO_STEPS"],
)
def test_every_limit_of_the_server_is_stated(limit: str) -> None:
    server = _page("limits").split("The page's server", 1)[1]
    assert re.search(rf"\| {_shown(getattr(server_limits, limit))}( bytes)? \|", server), limit


@pytest.mark.parametrize("answer", [field.name for field in msgspec.structs.fields(WheelAnswers)])
def test_every_answer_of_a_wheel_is_explained(answer: str) -> None:
    assert re.search(rf"`{answer}(\.SPRING)?`", _page("json"))


def test_every_key_of_a_measuring_document_is_explained() -> None:
    page = _page("json").split("## `leverwright measure FILE --json`", 1)[1].split("\n## ", 1)[0]
    structs = [getattr(measure, name) for name in measure.__all__ if isinstance(getattr(measure, name), type)]
    keys = {field.encode_name for struct in structs for field in msgspec.structs.fields(struct)} - {
        "leverwright"
    }
    assert len(keys) > 60
    assert sorted(key for key in keys if not re.search(rf"[`.\"]{key}[`.\"]", page)) == []


@pytest.mark.parametrize("unit", get_args(AnswerUnit))
def test_every_unit_of_an_answer_is_stated(unit: str) -> None:
    assert re.search(rf"\| (.*, )?{re.escape(unit)}(,? .*)? \|", _page("json"))


@pytest.mark.parametrize("verb", VERBS)
def test_every_verb_has_a_section(verb: str) -> None:
    assert f"\n## {verb}\n" in _page("command-line")


def test_every_finding_that_can_fire_is_listed_under_its_question() -> None:
    parts = re.split(r"^## ", _page("findings"), flags=re.MULTILINE)
    listed = {
        part.splitlines()[0]: set(re.findall(r"^\| `([a-z-]+)` \|", part, re.MULTILINE)) for part in parts[1:]
    }
    missing = [entry.id for entry in rules() if entry.id not in listed.get(entry.question, set())]
    assert missing == []


def test_no_finding_is_listed_that_cannot_fire() -> None:
    listed = re.findall(
        r"^\| `([a-z-]+)` \| .* \|$", _page("findings").split("## Can I trust", 1)[1], re.MULTILINE
    )
    entered = {entry.id for entry in rules()} | {
        "print-scaled"
    }  # judged from a reading of paper, not from a study
    assert [name for name in listed if name not in entered] == []
