"""Files written by the command line, each failure one sentence."""

from __future__ import annotations

from leverwright.cli.refusal import Refused
from leverwright.project import ChangedOnDisk, SaveError
from leverwright.project.saving import save_text

__all__ = ["save"]


def save(file: str, text: str, revision: str | None) -> None:
    """`text` on the disk in place of `revision` (None: a new file); Refused when it is not."""
    try:
        save_text(file, text, revision)
    except ChangedOnDisk as error:
        new = revision is None
        allowed = "a name that is free" if new else "a file as it was when it was read"
        do = "give another name with --out" if new else "do it again, so that the file is read anew"
        raise _not_saved(error, file, allowed, do) from error
    except SaveError as error:
        raise _not_saved(error, file, "a file that can be written", "mend that, then do it again") from error


def _not_saved(error: SaveError, file: str, allowed: str, do: str) -> Refused:
    refused = Refused(str(error).removeprefix(f"{file} "), allowed, do)
    refused.file = file
    return refused
