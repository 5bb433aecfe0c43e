"""Every key of the file with its label and a line of help.

The words stand in `forms.csv`, a row a key; whether a key must be there and which names it may hold is known
where the file is read. A test compares both.
"""

from __future__ import annotations

import csv
from functools import cache
from importlib.resources import files
from typing import cast

from leverwright.project.keys import KEYS, TOP
from leverwright.quantity import SURFACE_UNIT, Kind
from leverwright.wire.fields import FieldForm, FieldList, ShownField

__all__ = ["field_list", "label_of"]

_NEEDED_TOO = ("held", "range")  # read by another key, so that `KEYS` does not have it


@cache
def field_list() -> FieldList:
    """All keys, table by table."""
    text = files("leverwright.wire").joinpath("forms.csv").read_text(encoding="utf-8")
    return FieldList(fields=[_shown(row) for row in csv.DictReader(text.splitlines())])


def label_of(table: str, key: str) -> str | None:
    """The word for a key of a table; None where it has none."""
    fields = field_list().fields
    return next((field.label for field in fields if (field.table, field.key) == (table, key)), None)


def _shown(row: dict[str, str]) -> ShownField:
    table, name = row["table"], row["key"]
    key = KEYS[table].get(name) if table else TOP[name]
    kind = cast("Kind | None", row["kind"] or None)
    return ShownField(
        table=table,
        key=name,
        form=cast("FieldForm", row["form"]),
        kind=kind,
        unit=None if kind is None else SURFACE_UNIT[kind],
        of=None if key is None else key.of,
        required=(table, name) == _NEEDED_TOO or (key is not None and key.required),
        label=row["label"],
        help=row["help"],
    )
