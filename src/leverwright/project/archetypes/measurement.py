"""The handful of numbers that an archetype asks for, as typed and as read."""

from __future__ import annotations

import difflib
import json
import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace

from leverwright.project.fault import Fault, ProjectError
from leverwright.quantity import SURFACE_UNIT, Kind, QuantityError, read_quantity, say

__all__ = ["Archetype", "Measured", "Measurement", "Measurements", "near_name", "refuse"]

_PLAIN_NUMBER = re.compile(r"(0|[1-9][0-9]{0,9})(\.[0-9]{1,9})?")


@dataclass(frozen=True, slots=True)
class Measurement:
    """One question to the builder; `least` and `most` in SI."""

    key: str
    label: str
    kind: Kind
    default: str  # as the builder would type it
    help: str
    least: float
    most: float


@dataclass(frozen=True, slots=True)
class Measured:
    """The answer: its value in SI, and the text that goes into the file, the builder's own unit kept."""

    value: float
    toml: str


@dataclass(frozen=True, slots=True)
class Measurements:
    """All answers to one archetype's questions, by key."""

    archetype: str
    measured: Mapping[str, Measured]
    given: frozenset[str]  # keys that the builder typed; the others are the examples

    def __getitem__(self, key: str) -> float:
        """The value of `key` in SI."""
        return self.measured[key].value

    def toml(self, key: str) -> str:
        """The value of `key` as a TOML value."""
        return self.measured[key].toml


@dataclass(frozen=True, slots=True)
class Archetype:
    """A kind of vehicle to start from, and the function that writes its project file."""

    id: str
    title: str
    sentence: str
    measurements: tuple[Measurement, ...]
    write: Callable[[Measurements], str]

    def read(self, typed: Mapping[str, str | int | float]) -> Measurements:
        """What was typed, read and inside its bounds; what was not typed takes its default."""
        keys = tuple(measurement.key for measurement in self.measurements)
        for key in typed:
            if key not in keys:
                raise refuse(
                    self.id,
                    key,
                    f"'{key}', which is not a measurement of this kind of vehicle",
                    ", ".join(keys),
                    near_name(key, keys),
                )
        read = {m.key: _read(self.id, m, typed.get(m.key, m.default)) for m in self.measurements}
        return Measurements(self.id, read, frozenset(typed))

    def written(self, typed: Mapping[str, str | int | float]) -> str:
        """The project file; where an example does not fit what was typed, the refusal says that it is one."""
        measured = self.read(typed)
        try:
            return self.write(measured)
        except ProjectError as error:
            if error.fault.key is None or error.fault.key in measured.given:
                raise
            raise _of_example(error.fault, self.measurements) from error


def refuse(archetype: str, key: str | None, found: str, allowed: str, do: str) -> ProjectError:
    """The refusal of the measurement `key`, in the one shape that every surface shows."""
    return ProjectError(
        Fault(file=f"new {archetype}", line=None, key=key, found=found, allowed=allowed, do=do)
    )


def _of_example(fault: Fault, measurements: tuple[Measurement, ...]) -> ProjectError:
    """The refusal of a number that nobody typed."""
    label = next((asked.label for asked in measurements if asked.key == fault.key), fault.key)
    return ProjectError(
        replace(
            fault,
            found=f"not given: the example's {fault.found}",
            do=f"give your own {label}",
        )
    )


def near_name(name: str, names: tuple[str, ...]) -> str:
    """What to do about a name that is none of `names`."""
    near = difflib.get_close_matches(name, names, n=1)
    return f"did you mean '{near[0]}'?" if near else "use one of these names"


def _read(archetype: str, asked: Measurement, typed: str | float) -> Measured:
    try:
        quantity = read_quantity(typed, asked.kind)
    except QuantityError as error:
        raise refuse(archetype, asked.key, error.found, error.allowed, error.do) from error
    if not asked.least <= quantity.value <= asked.most:
        raise refuse(
            archetype,
            asked.key,
            say(quantity.value, asked.kind),
            f"{say(asked.least, asked.kind)} to {say(asked.most, asked.kind)}",
            "check the unit and the decimal point",
        )
    return Measured(quantity.value, _as_toml(typed, asked.kind))


def _as_toml(typed: str | float, kind: Kind) -> str:
    """In the file's own unit a bare number; in any other the builder's own words."""
    if not isinstance(typed, str):
        return repr(typed)
    written = typed.strip()
    bare = written.removesuffix(SURFACE_UNIT[kind]).rstrip()
    return bare if _PLAIN_NUMBER.fullmatch(bare) else json.dumps(written, ensure_ascii=False)
