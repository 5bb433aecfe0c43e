"""Advice on the pile: which two shocks belong together, how to trim them, which ratio each wants, what else to seek."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Final, Literal

import numpy as np

from leverwright.assemble.bench import spring_fits
from leverwright.assemble.owned import owned_in_pile
from leverwright.assemble.spring_fit import SpringFit
from leverwright.project import Sketch
from leverwright.project.measuring import PileShock
from leverwright.quantity import Kind, System, say, say_ratio
from leverwright.ride.frequency import natural_frequency
from leverwright.ride.pile import BAND, Owned, Pair, Sought, Trim, Want, pair_of, sought, want_of
from leverwright.search.spring_words import fit_words
from leverwright.study import Study

__all__ = ["PairAdvice", "PileAdvice", "Place", "ShockAdvice", "pile_alone", "pile_of"]

_RANK: Final = {"match": 0, "trim": 1, "poor": 2, "no": 3}
_FIT_RATIO = (
    0.15  # share that the vehicle's ratio may be outside what a shock wants and still be one hole away (CP)
)
_SAME_HEIGHT = 0.0003  # m that heights may change from load to load and still be told as one
_BY_GAS = 0.8  # share of a difference of start forces that gas must make to be its cause
_ALIKE = 0.02  # share within which two places of springs are one


@dataclass(frozen=True, slots=True)
class Place:
    """Where springs sit, one or its two sides.

    ratio         heave ratio where it stands
    wheel_travel  m, whole
    loads         (load set, kg sprung on one spring), the usual one first
    """

    springs: tuple[str, ...]
    wheels: tuple[str, ...]
    ratio: float
    wheel_travel: float
    loads: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class ShockAdvice:
    """One shock: "use", "look" (something to see to), "reject" or "measure"; what it wants at each place."""

    name: str
    verdict: Literal["use", "look", "reject", "measure"]
    wants: tuple[tuple[Place, Want], ...]
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PairAdvice:
    """Two shocks at a place with two sides."""

    place: Place
    pair: Pair
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PileAdvice:
    """All shocks that one owns.

    best       the pair to use, None where none is fit
    look_for   what another shock must have, where the pile has no pair or nothing that suits the lever
    sentences  the answer, first what to do
    """

    shocks: tuple[ShockAdvice, ...]
    pairs: tuple[PairAdvice, ...]
    best: PairAdvice | None
    look_for: tuple[tuple[Place, Sought], ...]
    sentences: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Known:
    """The pile of a file, whole or half made, and what is known of each shock in it."""

    units: System
    pile: Mapping[str, PileShock]
    fits: Mapping[str, SpringFit]

    def owned(self) -> dict[str, Owned]:
        """Every shock that is known well enough to be compared."""
        found = {name: owned_in_pile(pile, self.fits[name]) for name, pile in self.pile.items()}
        return {name: each for name, each in found.items() if each is not None}


# Shocks in hand and no vehicle drawn: compared by rate and start force alone.
_NOWHERE: Final = Place((), (), 1.0, math.nan, ())


def pile_of(study: Study) -> PileAdvice | None:
    """Advice on the shocks of a vehicle's pile; None where it has none."""
    if not study.file.pile:
        return None
    known = _Known(study.units, study.file.pile, study.measured.springs)
    places = _places(study)
    owned = known.owned()
    shocks, pairs = _compared(known, owned, places)
    best = _best(pairs)
    look_for = tuple(
        (place, _sought(study, place)) for place in places if best is None or not _suits(best, owned)
    )
    return PileAdvice(shocks, pairs, best, look_for, _answer(known, shocks, best, look_for))


def pile_alone(sketch: Sketch, units: System = "metric") -> PileAdvice | None:
    """The same where no vehicle is drawn yet: which two belong together by rate and start force, and their trim."""
    if not sketch.pile:
        return None
    known = _Known(units, sketch.pile, spring_fits(sketch))
    shocks, pairs = _compared(known, known.owned(), [])
    best = _best(pairs)
    return PileAdvice(shocks, pairs, best, (), _answer(known, shocks, best, ()))


def _compared(
    known: _Known, owned: dict[str, Owned], places: list[Place]
) -> tuple[tuple[ShockAdvice, ...], tuple[PairAdvice, ...]]:
    shocks = tuple(_shock(known, name, owned.get(name), places) for name in known.pile)
    usable = [owned[each.name] for each in shocks if each.verdict in ("use", "look") and each.name in owned]
    pairs = tuple(
        PairAdvice(place, pair, _pair_words(known.units, place, pair, owned))
        for place in places or [_NOWHERE]
        if place is _NOWHERE or len(place.springs) > 1
        for pair in _pairs(usable, place)
    )
    return shocks, pairs


def _best(pairs: tuple[PairAdvice, ...]) -> PairAdvice | None:
    return next((advice for advice in pairs if advice.pair.verdict in ("match", "trim")), None)


def _places(study: Study) -> list[Place]:
    """Where springs sit; left and right that carry and move alike are one place with two sides."""
    found: list[Place] = []
    for index, sprung in enumerate(study.assemblies):
        figures, travels = study.figures[index], study.travels[index]
        if travels is None or travels.range is None or not np.isfinite(sprung.sprung).all():
            continue
        travel = travels.range.bump.travel - travels.range.droop.travel
        for line, name in enumerate(sprung.assembly.layout.line_names):
            spring = study.project.springs.get(name)
            ratio = float(figures.heave[line])
            if spring is None or spring.shock is None or not ratio > 0.0:
                continue
            wheels = tuple(sprung.assembly.layout.wheel_names)
            loads = _loads(
                study, wheels, int(sum(n in study.project.springs for n in sprung.assembly.layout.line_names))
            )
            _join(found, Place((name,), wheels, ratio, travel, loads))
    return found


def _loads(study: Study, wheels: tuple[str, ...], springs: int) -> tuple[tuple[str, float], ...]:
    """Sprung mass [kg] on one spring under each load set, the usual one first."""
    names = [study.load_set, *(name for name in study.sets if name != study.load_set)]
    out: list[tuple[str, float]] = []
    for name in names:
        other = study if name is None or name == study.load_set else study.under(name)
        out += [
            (name or "usual load", float(sprung.sprung.sum()) / springs)
            for sprung in other.assemblies
            if tuple(sprung.assembly.layout.wheel_names) == wheels and np.isfinite(sprung.sprung).all()
        ]
    return tuple(out)


def _join(found: list[Place], place: Place) -> None:
    """Add a place, or the other side of one that is there."""
    for k, known in enumerate(found):
        usual = (known.loads[0][1], place.loads[0][1])
        same = (
            abs(known.ratio - place.ratio) <= _ALIKE * known.ratio
            and abs(usual[0] - usual[1]) <= 0.1 * usual[0]
        )
        if same and len(known.springs) == 1:
            found[k] = Place(
                (*known.springs, *place.springs),
                tuple(dict.fromkeys((*known.wheels, *place.wheels))),
                0.5 * (known.ratio + place.ratio),
                known.wheel_travel,
                known.loads,
            )
            return
    found.append(place)


def _shock(known: _Known, name: str, owned: Owned | None, places: list[Place]) -> ShockAdvice:
    fit, units = known.fits[name], known.units
    if fit.rejected:
        return ShockAdvice(name, "reject", (), fit_words(fit, units))
    if owned is None:
        return ShockAdvice(name, "measure", (), fit_words(fit, units))
    wants = tuple(
        (place, want) for place in places if (want := want_of(owned, place.loads[0][1])) is not None
    )
    words = [_want_words(units, place, want) for place, want in wants]
    return ShockAdvice(name, "look" if fit.unfit else "use", wants, (*fit_words(fit, units), *words))


def _said(units: System, value: float, kind: Kind) -> str:
    return say(value, kind, system=units)


def _want_words(units: System, place: Place, want: Want) -> str:
    name, load = place.loads[0]
    least, best, most = want.ratio
    return (
        f"For {_said(units, load, 'mass')} sprung ({name}) it wants a ratio of {best:.2f} ({least:.2f} to {most:.2f}): "
        f"{_said(units, want.wheel_travel, 'length')} of wheel travel, standing at {_said(units, want.sag, 'length')}, "
        f"{_said(units, want.frequency, 'frequency')}. The lever has {say_ratio(place.ratio, system=units)}."
    )


def _pairs(usable: list[Owned], place: Place) -> list[Pair]:
    """Every two, the best first: those that match or can be trimmed, then by how near their rates are."""
    loads = [load for _, load in place.loads]
    pairs = [pair_of(first, second, loads, place.ratio) for first, second in combinations(usable, 2)]
    return sorted(pairs, key=lambda pair: (max(1, _RANK[pair.verdict]), pair.rate_share))


def _pair_words(units: System, place: Place, pair: Pair, owned: dict[str, Owned]) -> tuple[str, ...]:
    first, second = pair.names
    share = f"rates {100 * pair.rate_share:.1f} % apart"
    heights = _height_words(units, place, pair)
    if pair.verdict == "no":
        never = "that for every load" if place.loads else "rates"
        return (f"{first} and {second} do not pair: {share}.{heights} No collar trims {never}.",)
    if pair.verdict == "poor":
        return (f"{first} and {second} are a poor pair: {share}, 5 % is the limit.{heights}",)
    if pair.trim is None:
        where = "where they stand" if place.loads else "fully open"
        return (f"{first} and {second} match: {share}, forces {100 * pair.force_share:.0f} % apart {where}.",)
    weak, strong = owned[pair.trim.tighten], owned[pair.trim.other]
    gas = _gas_words(units, weak, strong)
    if not place.loads:
        later = _said(units, strong.push(0.0) - weak.push(0.0), "force")
        heights = f" {strong.name} starts to move {later} later."
    trim = _trim_words(units, pair.trim)
    return (
        f"{first} and {second} pair: {share}.{heights}{gas}",
        *trim,
        *_stands_words(units, place, pair, owned),
    )


def _height_words(units: System, place: Place, pair: Pair) -> str:
    """Which of the two stands higher as they are, once for all loads where it is the same."""
    told = [
        (name, other - one)
        for (name, _), (one, other) in zip(place.loads, pair.sag, strict=True)
        if math.isfinite(one) and math.isfinite(other)
    ]
    if not told:
        return ""
    off = [apart for _, apart in told]
    if len(told) > 1 and max(off) - min(off) <= _SAME_HEIGHT:
        high = pair.names[0] if sum(off) > 0 else pair.names[1]
        return f" {high} stands {_said(units, abs(sum(off)) / len(off), 'length')} higher under every load."
    each = [
        f"{pair.names[0] if apart > 0 else pair.names[1]} stands {_said(units, abs(apart), 'length')} higher ({name})"
        for name, apart in told
    ]
    return f" {', '.join(each)}."


def _gas_words(units: System, weak: Owned, strong: Owned) -> str:
    """Whether gas is what makes the stronger one start later."""
    apart = strong.push(0.0) - weak.push(0.0)
    gas = (strong.gas or 0.0) - (weak.gas or 0.0)
    if strong.gas is None or not gas > _BY_GAS * apart > 0.0:
        return ""
    return f" That is the {_said(units, strong.gas, 'force')} of gas in {strong.name}."


def _trim_words(units: System, trim: Trim) -> tuple[str, ...]:
    by = _said(units, trim.by, "length")
    words = [f"Tighten the collar of {trim.tighten} by {by}."]
    if trim.loosen_most is None:
        words.append(f"Do not turn back {trim.other} instead: how much of its push is gas is not known.")
    elif not trim.may_loosen:
        most = _said(units, trim.loosen_most, "length")
        words.append(
            f"Do not turn back {trim.other} instead: its coil has only {most} of preload and would go loose."
        )
    if trim.has_room is None:
        words.append(
            f"Check that the coil of {trim.tighten}, squashed whole, still has {by} before its coils touch."
        )
    elif not trim.has_room:
        words.append(
            f"But the coils of {trim.tighten} would touch before it is squashed whole: limit its travel first."
        )
    return tuple(words)


def _stands_words(units: System, place: Place, pair: Pair, owned: dict[str, Owned]) -> tuple[str, ...]:
    """What both sag once trimmed, and how they bounce."""
    assert pair.trim is not None
    rate = owned[pair.trim.tighten].rate * place.ratio**2  # the other's is the same within what was measured
    said: list[str] = []
    for (name, load), (one, other) in zip(place.loads, pair.trimmed, strict=True):
        sag = 0.5 * (one + other)
        if math.isfinite(sag):
            share = _said(units, sag / place.wheel_travel, "percent")
            hertz = _said(units, natural_frequency(rate, load), "frequency")
            said.append(f"{_said(units, sag, 'length')}, {share} of the travel, at {hertz} ({name})")
    return (f"Both then sag {'; '.join(said)}.",) if said else ()


def _suits(best: PairAdvice, owned: dict[str, Owned]) -> bool:
    """Is the lever's ratio near what the pair wants under the usual load?"""
    place = best.place
    for name in best.pair.names:
        want = want_of(owned[name], place.loads[0][1])
        if want is not None and want.ratio[0] * (1 - _FIT_RATIO) <= place.ratio <= want.ratio[2] * (
            1 + _FIT_RATIO
        ):
            return True
    return False


def _sought(study: Study, place: Place) -> Sought:
    goals = study.project.goals
    wanted = (goals.travel_bump or 0.0) + (goals.travel_droop or 0.0)
    return sought(place.loads[0][1], place.ratio, wanted if wanted > 0.0 else place.wheel_travel)


def _answer(
    known: _Known,
    shocks: tuple[ShockAdvice, ...],
    best: PairAdvice | None,
    look_for: tuple[tuple[Place, Sought], ...],
) -> tuple[str, ...]:
    words: list[str] = []
    if best is not None:
        words += [f"Use {' and '.join(best.pair.names)}. {best.sentences[0]}", *best.sentences[1:]]
    elif not look_for or any(len(place.springs) > 1 for place, _ in look_for):
        words.append("No two shocks of the pile belong together.")
    words += [f"{each.name} is out: {each.sentences[0]}" for each in shocks if each.verdict == "reject"]
    to_do = [each.name for each in shocks if each.verdict == "measure"]
    if to_do:
        words.append(
            f"Not known yet: {', '.join(to_do)}. Squash each on the scale, and measure it open and closed."
        )
    return (*words, *(_seek_words(known.units, place, each) for place, each in look_for))


def _seek_words(units: System, place: Place, each: Sought) -> str:
    low, high = (_said(units, force, "force") for force in each.squash_force)
    rate = [_said(units, force / each.stroke, "stiffness") for force in each.squash_force]
    stroke = _said(units, each.stroke, "length")
    return (
        f"For this lever under {place.loads[0][0]} look for a shock with {stroke} of stroke or more that {low} to "
        f"{high} squash whole (stroke × rate): {rate[0]} to {rate[1]} at that stroke. It then stands at "
        f"{100 * BAND[0]:.0f} to {100 * BAND[1]:.0f} %."
    )
