"""Can the springs' numbers be trusted: a shock fit for use, squashed far enough, bench and wire alike, sides alike?"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Final

from leverwright.assemble.spring_fit import SpringFit
from leverwright.findings.finding import COMMON_PRACTICE, Finding
from leverwright.findings.words import both, length
from leverwright.ride.pile import RATES_FIX, RATES_STOP
from leverwright.search.spring_pairs import SpringPair, spring_pairs
from leverwright.search.spring_words import CAUTION, GAS_CAUTION, slips_that_explain, unfit_words
from leverwright.study import Study

__all__ = [
    "bench_reading_odd",
    "bench_stroke_short",
    "shock_unfit",
    "springs_differ",
    "wire_and_bench_differ",
]

_NUMBERS: Final = "Can I trust my numbers?"
_STROKE = 0.025  # m of squash below which a rate is not worth much (CP)
_GOOD_STROKE = 0.040  # m that a good test squashes
_FORCES = 0.05  # share that forces of a pair may differ by at the standing length (CP)
_SIGMAS = 2.0


def shock_unfit(study: Study) -> tuple[Finding, ...]:
    """Does a shock's test show that it should not be used?"""
    found: list[Finding] = []
    for name, fit in _each(study):
        users = _users(study, name)
        for unfit in fit.unfit:
            used = f" It is in {' and '.join(users)}." if users else ""
            found.append(
                Finding(
                    "shock-unfit",
                    "stop" if unfit.reject and users else "watch",
                    _NUMBERS,
                    f"{name}: {unfit_words(unfit, study.units)}{used}",
                    "A shock that does not come back, sticks, leaks or has a damaged rod damps nothing or holds the "
                    f"wheel. Judge it upright, after five full strokes. {GAS_CAUTION}",
                    COMMON_PRACTICE,
                    None if math.isnan(unfit.number) else unfit.number,
                    _ends(study, users),
                    wheels=_wheels(study, users),
                )
            )
    return tuple(found)


def wire_and_bench_differ(study: Study) -> tuple[Finding, ...]:
    """Do the scale and the wire give two rates that cannot both be right?"""
    found: list[Finding] = []
    for name, fit in _each(study):
        routes = fit.routes
        if routes is None or routes.agree or fit.wire is None:
            continue
        share = routes.difference / routes.bench
        found.append(
            Finding(
                "wire-and-bench-differ",
                "fix",
                _NUMBERS,
                f"{name}: the scale says {both(study, routes.bench, 'stiffness')}, wire and coils "
                f"{both(study, routes.wire, 'stiffness')}, {100 * abs(share):.0f} % {'more' if share > 0 else 'less'}; "
                f"the scale alone is taken. {slips_that_explain(fit, study.units)}",
                "Rate = G d⁴ / (8 D³ n); steel's G is known to 3.5 %. The two must lie within two standard deviations "
                "of their difference.",
                "Shigley, compression springs; the limit: " + COMMON_PRACTICE,
                share,
                _ends(study, _users(study, name)),
            )
        )
    return tuple(found)


def bench_stroke_short(study: Study) -> tuple[Finding, ...]:
    """Does a rate come from so little squash that marks and scale decide it?"""
    found: list[Finding] = []
    for name, fit in _each(study):
        bench = fit.bench
        if bench is None or not bench.rate > 0.0 or bench.stroke >= _STROKE or fit.rejected:
            continue
        error = float(bench.error[0])
        known = math.isfinite(error)
        said = (
            f"it is known to ± {100 * _SIGMAS * error / bench.rate:.0f} %"
            if known
            else "how far it may be wrong cannot be told"
        )
        better = (
            f", where ± {100 * _SIGMAS * error / bench.rate * bench.stroke / _GOOD_STROKE:.0f} % would be left"
            if known
            else ""
        )
        found.append(
            Finding(
                "bench-stroke-short",
                "fix",
                _NUMBERS,
                f"{name}: its rate comes from {length(study, bench.stroke)} of squash, so {said}. Squash it "
                f"{length(study, _GOOD_STROKE)} at least{better}. {CAUTION}",
                f"The errors of two marks and two readings by the stroke between them; under "
                f"{length(study, _STROKE)} they are a large part of it. ± is 95 %.",
                COMMON_PRACTICE,
                bench.stroke,
                _ends(study, _users(study, name)),
            )
        )
    return tuple(found)


def bench_reading_odd(study: Study) -> tuple[Finding, ...]:
    """Does one reading not belong to the others?"""
    found: list[Finding] = []
    for name, fit in _each(study):
        odd = None if fit.bench is None else fit.bench.left_out
        if odd is None:
            continue
        found.append(
            Finding(
                "bench-reading-odd",
                "watch",
                _NUMBERS,
                f"{name}: going {odd.way} at mark {odd.mark + 1} the scale is said to read "
                f"{both(study, odd.read, 'force')}; the other readings foretell {both(study, odd.expected, 'force')}. "
                "It is left out: read it again, or correct the slip of the pen.",
                "Each reading is foretold from all others; one that chance would put so far off in less than one test "
                "of a hundred is left out.",
                "deleted residuals, Bonferroni",
                odd.read - odd.expected,
                _ends(study, _users(study, name)),
            )
        )
    return tuple(found)


def springs_differ(study: Study) -> tuple[Finding, ...]:
    """Do left and right have springs that differ in rate, or in force where they stand?"""
    found: list[Finding] = []
    for sides in spring_pairs(study):
        if sides.pair.rate_share > RATES_FIX:
            found.append(_rates_differ(study, sides))
        elif sides.pair.force_share > _FORCES and sides.loaded:
            found.append(_forces_differ(study, sides))
    return tuple(found)


def _rates_differ(study: Study, sides: SpringPair) -> Finding:
    pair = sides.pair
    left, right = (both(study, owned.rate, "stiffness") for owned in sides.shocks)
    sure = pair.rate_share_error is None or pair.rate_share - _SIGMAS * pair.rate_share_error > RATES_FIX
    doubt = (
        ""
        if sure
        else f" (± {100 * _SIGMAS * (pair.rate_share_error or 0.0):.0f} %: squash both again to be sure)"
    )
    return _differ(
        study,
        sides,
        f"{pair.names[0]} has {left} and {pair.names[1]} {right}, {100 * pair.rate_share:.0f} % apart{doubt}: a collar "
        "trims heights, not rates. Pair shocks within 5 %.",
        pair.rate_share,
    )


def _forces_differ(study: Study, sides: SpringPair) -> Finding:
    pair = sides.pair
    left, right = pair.names
    share = pair.force_share
    lead = f"{left} and {right} push {100 * share:.0f} % apart where they stand: one side sits high."
    trim = pair.trim
    if trim is None:
        return _differ(
            study, sides, f"{lead} No collar trims a spring that is known by its table alone.", share
        )
    by = length(study, trim.by)
    cure = f"Tighten the collar of {trim.tighten} by {by}, and see that its coil still has that much before it binds."
    if trim.loosen_most is None:
        cure += f" Do not turn back {trim.other} instead: how much of its push is gas is not known."
    elif not trim.may_loosen:
        most = length(study, trim.loosen_most)
        cure += (
            f" Do not turn back {trim.other} instead: its coil has only {most} of preload, it would go loose."
        )
    return _differ(study, sides, f"{lead} {cure}", share)


def _differ(study: Study, sides: SpringPair, sentence: str, share: float) -> Finding:
    return Finding(
        "sides-differ",
        "stop" if sides.pair.rate_share > RATES_STOP else "fix",
        _NUMBERS,
        sentence,
        "Left against right at the standing length. Allowed: 5 % for rates, 10 % at the most, and 5 % for forces, "
        "which a collar can trim.",
        COMMON_PRACTICE,
        share,
        _ends(study, list(sides.pair.names)),
        wheels=sides.wheels,
    )


def _each(study: Study) -> Iterator[tuple[str, SpringFit]]:
    """Each shock once: one of the vehicle that is from the pile is told of there."""
    shocks = study.file.shocks
    for name, fit in study.measured.springs.items():
        if name not in shocks or shocks[name].pile is None:
            yield name, fit


def _users(study: Study, name: str) -> list[str]:
    """Springs of the vehicle in which a shock, or a shock of the pile, is."""
    shocks = study.file.shocks
    return [
        spring.name
        for spring in study.file.springs.values()
        if spring.shock is not None and (spring.shock == name or shocks[spring.shock].pile == name)
    ]


def _wheels(study: Study, springs: list[str]) -> tuple[str, ...]:
    found = [
        wheel
        for sprung in study.assemblies
        if set(springs) & set(sprung.assembly.layout.line_names)
        for wheel in sprung.assembly.layout.wheel_names
    ]
    return tuple(dict.fromkeys(found))


def _ends(study: Study, springs: list[str]) -> tuple[str, ...]:
    return tuple(sorted({end for name in springs for end in study.file.springs[name].ends or ()}))
