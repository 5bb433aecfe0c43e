"""What is wrong with a file, in one sentence that every surface shows alike."""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["ChangedOnDisk", "Fault", "ProjectError", "SaveError", "visible"]


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing found in a file: where it stands, what was found, what is allowed, what to do.

    file   name of the file as the caller gave it
    line   1-based line of the key; None when the whole file is refused
    key    dotted name, such as `bars.link-left.ends`; None when the whole file is refused
    topic  which watch a notice is, such as `shock-unused`; empty for a refusal
    """

    file: str
    line: int | None
    key: str | None
    found: str
    allowed: str
    do: str
    topic: str = ""

    @property
    def sentence(self) -> str:
        """The one text that every surface shows: one line, nothing in it hidden."""
        where = [self.file]
        if self.line is not None:
            where.append(f"line {self.line}")
        if self.key is not None:
            where.append(self.key)
        said = f"{', '.join(where)}: {self.found}; allowed: {self.allowed}; {self.do}"
        return said if said.isprintable() else "".join(map(visible, said))


def visible(character: str) -> str:
    """A character as a sentence may show it: those that hide or turn a text round are spelt out."""
    code = ord(character)
    if character.isprintable():
        return character
    return f"\\u{code:04x}" if code <= 0xFFFF else f"\\U{code:08x}"


class ProjectError(Exception):
    """A file that cannot be used as it stands; `fault` is the first of its faults."""

    def __init__(self, fault: Fault) -> None:
        super().__init__(fault.sentence)
        self.fault = fault


class SaveError(Exception):
    """The file could not be saved; the text is one sentence and the old file is still there."""


class ChangedOnDisk(SaveError):
    """Another program has changed the file since it was read; nothing was overwritten."""
