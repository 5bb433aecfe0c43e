"""Measures a PDF back, as a ruler on the paper would: strokes and circles in millimetres of the page."""

from __future__ import annotations

import io
from dataclasses import dataclass, field
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ContentStream

POINT = 25.4 / 72  # mm


@dataclass
class PrintedPage:
    """Size of the paper, straight strokes (start, end), circles (middle, radius), text; all in mm."""

    size: tuple[float, float]
    lines: list[tuple[tuple[float, float], tuple[float, float]]] = field(default_factory=list)
    circles: list[tuple[tuple[float, float], float]] = field(default_factory=list)
    text: str = ""


def read_print(pdf: bytes) -> list[PrintedPage]:
    """Every page, its drawing operators followed through all transformations."""
    return [_read_page(page) for page in PdfReader(io.BytesIO(pdf)).pages]


def viewer_preferences(pdf: bytes) -> dict[str, object]:
    """What the file asks of the program that shows and prints it."""
    root: Any = PdfReader(io.BytesIO(pdf)).trailer["/Root"]
    return dict(root["/ViewerPreferences"])


def _times(a, b):
    """Matrix product: first `a`, then `b`."""
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )


def _read_page(page) -> PrintedPage:
    box = page.mediabox
    printed = PrintedPage((float(box.width) * POINT, float(box.height) * POINT), text=page.extract_text())
    matrix, kept = (1.0, 0.0, 0.0, 1.0, 0.0, 0.0), []
    path: list[tuple[str, list[tuple[float, float]]]] = []
    for operands, operator in ContentStream(page.get_contents(), page.pdf).operations:
        numbers = [float(one) for one in operands if hasattr(one, "as_numeric")]
        if operator == b"q":
            kept.append(matrix)
        elif operator == b"Q":
            matrix = kept.pop()
        elif operator == b"cm":
            matrix = _times(numbers, matrix)
        elif operator in {b"m", b"l", b"c"}:
            spots = [
                (
                    (matrix[0] * x + matrix[2] * y + matrix[4]) * POINT,
                    (matrix[1] * x + matrix[3] * y + matrix[5]) * POINT,
                )
                for x, y in zip(numbers[::2], numbers[1::2], strict=True)
            ]
            path.append((operator.decode(), spots))
        elif operator in {b"S", b"s", b"B", b"b", b"f", b"f*", b"n", b"B*"}:
            _keep(printed, path)
            path = []
    return printed


def _keep(printed: PrintedPage, path) -> None:
    kinds = "".join(kind for kind, _ in path)
    if kinds == "ml":
        printed.lines.append((path[0][1][0], path[1][1][0]))
    elif kinds == "mcccc":
        ends = [path[0][1][0]] + [spots[-1] for _, spots in path[1:]]
        xs, ys = [x for x, _ in ends], [y for _, y in ends]
        middle = ((min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2)
        printed.circles.append((middle, (max(xs) - min(xs)) / 2))
