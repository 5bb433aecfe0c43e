"""The generated schema and types are fresh, and say what the documents hold."""

from __future__ import annotations

import json
from pathlib import Path

import jsonschema
import pytest

from leverwright.wire.answers import Answers
from leverwright.wire.check import CheckDocument
from leverwright.wire.faults import ErrorDocument, Refusal
from leverwright.wire.schema import generated, main
from leverwright.wire.strict import printed

ROOT = Path(__file__).parents[2]


@pytest.mark.parametrize("name", sorted(generated()))
def test_the_generated_file_is_fresh(name):
    written = (ROOT / name).read_text(encoding="ascii")
    assert written == generated()[name], "run: python -m leverwright.wire.schema"


def test_the_command_writes_them_all(tmp_path):
    main(tmp_path)
    assert {str(p.relative_to(tmp_path)) for p in tmp_path.rglob("*.*")} == set(generated())


@pytest.mark.parametrize("name", sorted(n for n in generated() if n.endswith(".json")))
def test_the_schema_is_a_schema(name):
    jsonschema.Draft202012Validator.check_schema(json.loads(generated()[name]))


def _check_schema() -> dict:
    return json.loads(generated()["docs/reference/schema/check.json"])


def test_a_document_satisfies_its_schema_and_a_wrong_one_does_not():
    document = json.loads(printed(CheckDocument(title="empty", answers=Answers({}, {}), findings=[])))
    assert document == {
        "leverwright": 1,
        "title": "empty",
        "answers": {"wheels": {}, "axles": {}},
        "findings": [],
    }
    jsonschema.validate(document, _check_schema())
    for wrong in ({**document, "leverwright": 2}, {**document, "more": 1}, {"title": "x"}):
        with pytest.raises(jsonschema.ValidationError):
            jsonschema.validate(wrong, _check_schema())


def test_the_error_document_has_exactly_the_six_parts_of_the_contract():
    document = json.loads(printed(ErrorDocument(error=Refusal("a.toml", None, None, "f", "a", "d"))))
    assert list(document) == ["leverwright", "error"]
    assert list(document["error"]) == ["file", "line", "key", "found", "allowed", "do"]


def test_types_name_nulls_options_and_tuples():
    types = generated()["web/src/wire.d.ts"]
    assert "readonly because?: string" in types
    assert "readonly value: number | null" in types
    assert "readonly at: readonly [number, number, number]" in types
    assert "readonly leverwright: 1" in types
