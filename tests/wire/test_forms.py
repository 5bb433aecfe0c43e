"""The forms of the page name every key that is read, and no other."""

from __future__ import annotations

import json
from typing import get_args

from leverwright.project.keys import INSIDE, KEYS, TOP
from leverwright.quantity import KINDS
from leverwright.wire.fields import FieldForm
from leverwright.wire.forms import field_list
from leverwright.wire.strict import compact

# Read beside the plain keys, see the note at the end of project/keys.py.
BESIDE = {*INSIDE, ("held", "range"), ("tape", "reads")}
FORMS = get_args(FieldForm)


def test_every_key_that_is_read_has_a_form_and_no_other():
    read = (
        {(table, key) for table, keys in KEYS.items() for key in keys} | {("", key) for key in TOP} | BESIDE
    )
    shown = {(field.table, field.key) for field in field_list().fields}
    assert shown == read - {("", "leverwright")}
    assert len(shown) == len(field_list().fields)


def test_a_form_asks_for_what_is_required_and_names_the_table_of_its_names():
    for field in field_list().fields:
        key = KEYS.get(field.table, TOP if not field.table else {}).get(field.key)
        if key is None:
            continue
        assert field.required == key.required, field
        assert field.of == key.of, field


def test_a_quantity_has_its_unit_and_every_form_a_label():
    for field in field_list().fields:
        assert field.label
        assert field.help.endswith(".")
        assert (field.kind is None) == (field.unit is None)
        if field.form == "quantity":
            assert field.unit or field.kind == "ratio"
        assert field.form in FORMS
        assert field.kind is None or field.kind in KINDS
        assert (field.form in ("name", "names", "pair", "map")) == (field.of is not None)
    assert json.loads(compact(field_list()))["leverwright"] == 1
