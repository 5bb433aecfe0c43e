"""Paper and cutting files made from a study: templates, cards to read and to fill in, DXF, SVG.

The libraries that write PDF and DXF are loaded when a sheet of theirs is made, not before.
"""

from __future__ import annotations

import os
from pathlib import Path

from leverwright.make.choices import Choices, Kind, MakeError, Paper, check_kind, check_paper
from leverwright.make.folder import write_set
from leverwright.make.parts import Hole, LeftOut, Part, Span
from leverwright.make.plain_text import file_stem
from leverwright.make.plates import Parts, flat_parts
from leverwright.make.scale import PrintScale, print_scale
from leverwright.project import Sketch
from leverwright.study import Study

__all__ = [
    "FILE_ENDS",
    "MEDIA_TYPES",
    "Choices",
    "Hole",
    "Kind",
    "LeftOut",
    "MakeError",
    "Paper",
    "Part",
    "Parts",
    "PrintScale",
    "Span",
    "flat_parts",
    "make_all",
    "measuring_cards",
    "print_scale",
    "sheet",
]

MEDIA_TYPES: dict[Kind, str] = {
    "templates": "application/pdf",
    "card": "application/pdf",
    "trial": "application/pdf",
    "setup": "application/pdf",
    "measuring": "application/pdf",
    "dxf": "image/vnd.dxf",
    "svg": "image/svg+xml",
}
FILE_ENDS: dict[Kind, str] = {
    "templates": "templates.pdf",
    "card": "drilling-card.pdf",
    "trial": "cardboard-trial.pdf",
    "setup": "set-up-card.pdf",
    "measuring": "measuring-cards.pdf",
    "dxf": "parts.dxf",
    "svg": "parts.svg",
}


def sheet(study: Study, kind: str, paper: str = "A4", choices: Choices | None = None) -> bytes:
    """One sheet as a file's bytes; the same study gives the same bytes. `paper` is of no use to DXF and SVG."""
    known, size, chosen = check_kind(kind), check_paper(paper), choices or Choices()
    project = study.project
    # Each library is loaded by the sheet that needs it: they take 0.2 to 0.4 s.
    if known == "templates":
        from leverwright.make.templates import templates_pdf

        return templates_pdf(project, size, chosen)
    if known == "card":
        from leverwright.make.card import card_pdf

        return card_pdf(project, size, chosen)
    if known == "trial":
        from leverwright.make.trial import trial_pdf

        return trial_pdf(study, size, chosen)
    if known == "setup":
        from leverwright.make.setup_card import setup_pdf

        return setup_pdf(study, size, chosen.stops)
    if known == "measuring":
        return measuring_cards(project, size)
    parts = flat_parts(project, chosen).parts
    if known == "dxf":
        from leverwright.make.dxf import parts_dxf

        return parts_dxf(parts, project.title)
    from leverwright.make.svg import parts_svg

    return parts_svg(parts, project.title)


def measuring_cards(vehicle: Sketch, paper: str = "A4") -> bytes:
    """The measuring cards of a vehicle, whole or half made: they are what makes it whole."""
    from leverwright.make.measuring_pages import measuring_pdf  # see `sheet`

    return measuring_pdf(vehicle, check_paper(paper))


def make_all(
    study: Study, folder: str | os.PathLike[str], paper: str = "A4", choices: Choices | None = None
) -> tuple[Path, ...]:
    """Every sheet, and each part as its own DXF and SVG, into a new or empty folder: all files or none."""
    chosen = choices or Choices()
    stem = file_stem(study.project.title, "vehicle")
    files = {f"{stem}-{end}": sheet(study, kind, paper, chosen) for kind, end in FILE_ENDS.items()}
    files |= _part_files(study, chosen, stem)
    return write_set(folder, files)


def _part_files(study: Study, choices: Choices, stem: str) -> dict[str, bytes]:
    """One DXF and one SVG a part: a shop that cuts wants one part in a file."""
    from leverwright.make.dxf import parts_dxf  # see `sheet`
    from leverwright.make.svg import parts_svg

    files = {}
    for number, part in enumerate(flat_parts(study.project, choices).parts, start=1):
        name = f"{stem}-part-{number:02d}-{file_stem(part.names[0], part.kind)}"
        title = f"{study.project.title}: {' + '.join(part.names)}"
        files[f"{name}.dxf"] = parts_dxf((part,), title)
        files[f"{name}.svg"] = parts_svg((part,), title)
    return files
