"""The virtual garage: how often the truth lies inside what the program states, and how often a blunder is caught.

Run from the clone: `python benchmarks/garage.py --vehicles 200 --seed 1`. Each vehicle is drawn, its truth is found
without the product's solver (`garage_truth`), a builder measures it (`garage_builder`) and the program answers from
his file alone. One vehicle depends on the seed and its own number only, so any of them can be looked at again:
`--only 17` prints the file and both sets of answers.
"""

from __future__ import annotations

import argparse
import math
import os
import sys
from collections.abc import Callable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

ROOT = Path(__file__).resolve().parents[1]
sys.path[:0] = [str(ROOT), str(ROOT / "src")]

import numpy as np  # noqa: E402 - the clone comes first on the path

from benchmarks.garage_builder import Builder, lay_tape, measured_file, set_to_work  # noqa: E402
from benchmarks.garage_truth import NobodyWouldBuildError, Truth, truth_of  # noqa: E402
from benchmarks.garage_vehicles import KINDS, TrueVehicle, draw_vehicle  # noqa: E402
from leverwright import Project, Study  # noqa: E402
from leverwright.project import ProjectError  # noqa: E402
from leverwright.ride.next_measurement import NextReading  # noqa: E402

__all__ = ["ANSWERS", "Visit", "binomial", "main", "visit"]

ANSWERS = ("ratio", "sag", "frequency", "dead centre")
INSIDE = 1.96  # standard deviations either way: 95 % of a normal spread
BIG = 5.0  # standard deviations: a blunder that must be caught
_MOST_TAPES_MORE = 8
_MOST_ASKED = 6


@dataclass(frozen=True, slots=True)
class Answered:
    """One answer: true and said, SI, with its standard deviation; how many of them it is off."""

    name: str
    true: float
    said: float
    error: float

    @property
    def off(self) -> float:
        """Said less true, in standard deviations."""
        return (self.said - self.true) / self.error


@dataclass(frozen=True, slots=True)
class Visit:
    """One vehicle of the garage, measured and answered.

    blunders  of more than BIG: tapes more until caught, None where it never was
    accused   tapes named that were no blunders
    left_in   blunders of any size that the answers were made with
    refused   the program's own words where it gave no answer at all
    """

    number: int
    kind: str
    tapes: int
    answers: tuple[Answered, ...] = ()
    silent: tuple[str, ...] = ()
    blunders: tuple[int | None, ...] = ()
    accused: int = 0
    left_in: int = 0
    refused: str = ""


def visit(seed: int, number: int) -> Visit:
    """Draw, measure and answer vehicle `number`."""
    vehicle, truth, rng = _vehicle(seed, number)
    builder = set_to_work(vehicle, rng)
    try:
        study = _placed(builder)
        answers, silent = _answers(study, vehicle, truth)
    except ProjectError as error:
        return Visit(number, vehicle.kind, len(builder.tapes), refused=str(error))
    named = _named(study)
    count = len(builder.tapes)
    accused = sum(builder.tapes[k].blunder == 0.0 for k in named)
    big = [k for k, tape in enumerate(builder.tapes) if abs(tape.blunder) >= BIG * builder.stated]
    left_in = sum(tape.blunder != 0.0 and k not in named for k, tape in enumerate(builder.tapes))
    more = _until_caught(builder, big, study)
    return Visit(number, vehicle.kind, count, answers, silent, more, accused, left_in)


def _study(builder: Builder) -> Study:
    return Study(Project.from_text(measured_file(builder), "garage.toml"))


def _placed(builder: Builder) -> Study:
    """The study of his file, once he has taken what the program asks for where nothing holds a place."""
    study = _study(builder)
    for _ in range(_MOST_ASKED):
        asked = [reading for reading in study.next_measurement if reading.opens]
        if not asked:
            break
        _take(builder, study, asked[0])
        study = _study(builder)
    return study


def _take(builder: Builder, study: Study, reading: NextReading) -> None:
    tapes = study.measured.tapes
    if tapes is not None:
        lay_tape(builder, reading.kind, [tapes.network.network.names[p] for p in reading.points])


def _vehicle(seed: int, number: int) -> tuple[TrueVehicle, Truth, np.random.Generator]:
    """The vehicle with that number: kinds in turn, drawn anew until it is one that somebody would build."""
    rng = np.random.default_rng([seed, number])
    while True:
        vehicle = draw_vehicle(KINDS[number % len(KINDS)], rng)
        try:
            return vehicle, truth_of(vehicle), rng
        except (NobodyWouldBuildError, ArithmeticError):
            continue


def _answers(
    study: Study, vehicle: TrueVehicle, truth: Truth
) -> tuple[tuple[Answered, ...], tuple[str, ...]]:
    """What is said of the four, and the names of those that are true and not said."""
    of = study.answers[vehicle.wheel]
    spring = next(iter(vehicle.assembly.springs))
    pairs = [
        ("ratio", truth.ratio, of.heave_ratio[spring]),
        ("sag", truth.sag, of.of["sag"]),
        ("frequency", truth.frequency, of.of["ride_frequency_without_tyre"]),
    ]
    both = (truth.dead_centre_bump, truth.dead_centre_droop)
    if any(z is not None for z in both):
        # The nearer one: it is the margin that a builder lives with.
        way = "bump" if (both[0] or math.inf) <= (both[1] or math.inf) else "droop"
        true = truth.dead_centre_bump if way == "bump" else truth.dead_centre_droop
        assert true is not None
        pairs.append(("dead centre", true, of.of[f"dead_centre_{way}"]))
    said = [(name, true, a.value, a.error) for name, true, a in pairs]
    return (
        tuple(Answered(n, t, v, e) for n, t, v, e in said if v is not None and e is not None and e > 0.0),
        tuple(n for n, _, v, e in said if v is None or e is None),
    )


def _named(study: Study) -> set[int]:
    """Numbers of the tapes that the program says disagree with the others."""
    tapes = study.measured.tapes
    if tapes is None:
        return set()
    seen = tapes.network.observed
    names = {seen[k].row.name for suspect in tapes.network.suspects for k in suspect.observed}
    return {int(name[1:]) for name in names if name[1:].isdecimal()}


def _until_caught(builder: Builder, big: Sequence[int], study: Study) -> tuple[int | None, ...]:
    """For each blunder the tapes more that it took to be named, each the one that the program then asks for first."""
    named = _named(study)
    found: dict[int, int | None] = {k: 0 if k in named else None for k in big}
    for more in range(1, _MOST_TAPES_MORE + 1):
        if None not in found.values() or not study.next_measurement:
            break
        _take(builder, study, study.next_measurement[0])
        study = _study(builder)
        named = _named(study)
        found |= {k: more for k, when in found.items() if when is None and k in named}
    return tuple(found.values())


# --- the table ---------------------------------------------------------------------------------------------


def binomial(hits: int, of: int) -> tuple[float, float]:
    """Share and its standard deviation: root of p (1 - p) / n, p taken half a count inside 0 and 1."""
    if of == 0:
        return math.nan, math.nan
    share = hits / of
    inner = min(max(share, 0.5 / of), 1 - 0.5 / of)
    return share, math.sqrt(inner * (1 - inner) / of)


def _said_share(hits: int, of: int) -> str:
    share, spread = binomial(hits, of)
    return "      none" if of == 0 else f"{100 * share:5.1f} ± {100 * spread:.1f} %"


def _print_table(visits: Sequence[Visit], say: Callable[[str], None]) -> None:
    done = [v for v in visits if not v.refused]
    say(f"{len(done)} of {len(visits)} vehicles answered; {sum(v.tapes for v in done)} tapes")
    say("")
    say("truth inside the stated 95 % (goal 93 to 97 %)")
    groups: list[tuple[str, list[Visit]]] = [
        ("all", done),
        ("no blunder in", [v for v in done if not v.left_in]),
    ]
    groups += [(kind, [v for v in done if v.kind == kind]) for kind in KINDS]
    say(f"{'':12}" + "".join(f"{name:>16}" for name, _ in groups) + f"{'rms':>7}{'median ±':>11}")
    for name in ANSWERS:
        cells = "".join(f"{_inside(visits, name):>16}" for _, visits in groups)
        row = [a for v in done for a in v.answers if a.name == name]
        rms = math.sqrt(sum(a.off**2 for a in row) / max(len(row), 1))
        wide = sorted(2 * a.error / abs(a.true) for a in row)
        say(f"{name:12}{cells}{rms:7.2f}{100 * wide[len(wide) // 2] if wide else math.nan:9.1f} %")
    _print_blunders(done, say)
    for v in visits:
        if v.refused:
            say(f"vehicle {v.number} ({v.kind}) was refused: {v.refused}")
    silent = [f"{v.number} {'/'.join(v.silent)}" for v in done if v.silent]
    if silent:
        say(f"true and not said: {', '.join(silent)}")


def _inside(visits: Sequence[Visit], name: str) -> str:
    row = [a for v in visits for a in v.answers if a.name == name]
    return _said_share(sum(abs(a.off) <= INSIDE for a in row), len(row))


def _print_blunders(done: Sequence[Visit], say: Callable[[str], None]) -> None:
    when = [more for v in done for more in v.blunders]
    say("")
    say(f"blunders over {BIG:g} standard deviations: {len(when)}; caught (goal 95 %)")
    for most in (0, 1, 2, 4, _MOST_TAPES_MORE):
        caught = sum(more is not None and more <= most for more in when)
        label = "with the tapes as taken" if most == 0 else f"with up to {most} tapes more"
        say(f"  {label:26}{_said_share(caught, len(when))}")
    say(f"good tapes accused: {sum(v.accused for v in done)} of {sum(v.tapes for v in done)}")


def _far_off(visits: Sequence[Visit], say: Callable[[str], None]) -> None:
    off = [(abs(a.off), v, a) for v in visits for a in v.answers if abs(a.off) > 3]
    for size, v, a in sorted(off, key=lambda each: -each[0]):
        told = f"true {a.true:.5g}, said {a.said:.5g} ± {a.error:.3g}"
        say(f"  {size:5.1f} σ: vehicle {v.number} ({v.kind}) {a.name}: {told}")


def main() -> None:
    """Print the table."""
    asked = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    asked.add_argument("--vehicles", type=int, default=200, metavar="N")
    asked.add_argument("--seed", type=int, default=1)
    asked.add_argument("--processes", type=int, default=os.cpu_count() or 1)
    asked.add_argument(
        "--only", type=int, metavar="NUMBER", help="show one vehicle: its file and its answers"
    )
    given = asked.parse_args()
    if given.only is not None:
        _show(given.seed, given.only)
        return
    begin = perf_counter()
    with ProcessPoolExecutor(given.processes) as pool:
        numbers = range(given.vehicles)
        visits = list(pool.map(visit, [given.seed] * len(numbers), numbers, chunksize=2))
    _print_table(visits, print)
    print("\nfurther off than 3 standard deviations:")
    _far_off(visits, print)
    print(f"\nseed {given.seed}; {perf_counter() - begin:.0f} s on {given.processes} processes")


def _show(seed: int, number: int) -> None:
    vehicle, _, rng = _vehicle(seed, number)
    builder = set_to_work(vehicle, rng)
    print(measured_file(builder))
    shown = visit(seed, number)
    for answer in shown.answers:
        print(
            f"# {answer.name}: true {answer.true:.6g}, said {answer.said:.6g} ± {answer.error:.3g}, {answer.off:+.2f} σ"
        )
    for k, tape in enumerate(builder.tapes):
        if tape.blunder:
            print(f"# blunder: t{k}, {tape.blunder:+.1f} mm")
    print(f"# {shown}")


if __name__ == "__main__":
    main()
