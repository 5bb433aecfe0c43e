"""What may be typed where: the forms of the page are built from it."""

from __future__ import annotations

from typing import Literal

from leverwright.wire.strict import Document, Wire

__all__ = ["FieldForm", "FieldList", "ShownField"]

FieldForm = Literal[
    "quantity",
    "name",
    "names",
    "pair",
    "range",
    "text",
    "flag",
    "table",
    "direction",
    "place",
    "choice",
    "list",  # quantities of one kind, one or more
    "map",  # names of `of`, a value each
    "number",
    "pixels",
]


class ShownField(Wire, frozen=True):
    """One key of the file. `kind`, `unit`: of a quantity. `of`: the table whose names are allowed."""

    table: str
    key: str
    form: FieldForm
    kind: str | None
    unit: str | None
    of: str | None
    required: bool
    label: str
    help: str


class FieldList(Document, frozen=True, kw_only=True):
    """All keys, table by table in the order to show them."""

    fields: list[ShownField]
