"""A whole project: a vehicle, the text that it was read from, and what reading noticed."""

from __future__ import annotations

import os
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass, fields

from leverwright.project.fault import Fault, ProjectError
from leverwright.project.files import read_file, revision_of, shown_name
from leverwright.project.model import Sketch
from leverwright.project.reading import Reading, read_text

__all__ = ["Draft", "Project"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Project(Sketch):
    """One vehicle as its file describes it, in SI units: a sketch of which every name leads somewhere.

    name     of the file, for messages
    text     TOML source
    notices  what reading itself wants looked at; never a refusal
    """

    name: str
    text: str
    notices: tuple[Fault, ...]

    @classmethod
    def read(cls, path: str | os.PathLike[str]) -> Project:
        """The project of a file; ProjectError when it cannot be used as it stands."""
        return cls.from_text(read_file(path), name=shown_name(path))

    @classmethod
    def from_text(cls, text: str, name: str = "project.toml") -> Project:
        """The project of a text; ProjectError, the first fault, when it has any."""
        reading = read_text(text, name)
        if reading.faults:
            raise ProjectError(reading.faults[0])
        return _project(text, name, reading)

    def with_value(self, path: Sequence[str], value: object) -> Project:
        """The project with one value of its file changed, comments kept."""
        from leverwright.project import edit

        text = edit.apply(self.text, [{"op": "set", "key": list(path), "value": value}], name=self.name)
        return Project.from_text(text, self.name)

    @property
    def written(self) -> dict[str, object]:
        """The tables of the file itself, without twins and in its own units, as a parser gives them."""
        return tomllib.loads(self.text.removeprefix("\ufeff"))

    @property
    def revision(self) -> str:
        """SHA-256 of the text's bytes: what `save` compares with the file on disk."""
        return revision_of(self.text.encode())

    def save(self, path: str | os.PathLike[str], expected_revision: str | None) -> str:
        """Saves the text over the revision that was read; the new revision.

        With None the file must not exist yet. SaveError, or ChangedOnDisk, when the file stays as it is.
        """
        from leverwright.project.saving import save_text

        return save_text(path, self.text, expected_revision)


@dataclass(frozen=True, slots=True)
class Draft:
    """A text whole or half made: all its faults in order, and what could be read of it.

    project  None as long as there are faults
    sketch   what could be read; its names may lead nowhere yet
    """

    name: str
    text: str
    faults: tuple[Fault, ...]
    notices: tuple[Fault, ...]
    sketch: Sketch
    project: Project | None

    @classmethod
    def from_text(cls, text: str, name: str = "project.toml") -> Draft:
        """The draft of any text; never raises for what stands in it."""
        reading = read_text(text, name)
        project = None if reading.faults else _project(text, name, reading)
        return cls(name, text, reading.faults, reading.notices, reading.sketch, project)


def _project(text: str, name: str, reading: Reading) -> Project:
    parts = {field.name: getattr(reading.sketch, field.name) for field in fields(Sketch)}
    return Project(name=name, text=text, notices=reading.notices, **parts)
