"""Is the pressure written down at which the tyres were loaded and their rate taken?"""

from __future__ import annotations

from typing import Final

from leverwright.findings.finding import COMMON_PRACTICE, Finding, finding
from leverwright.findings.words import in_words, the_wheels
from leverwright.study import Study

__all__ = ["pressure_unrecorded"]

_NUMBERS: Final = "Can I trust my numbers?"


@finding("pressure-unrecorded", question=_NUMBERS)
def pressure_unrecorded(study: Study) -> Finding | None:
    """Has a wheel a tyre rate or weighed loads, and no pressure?"""
    file = study.file
    weighed = {one.wheel for one in file.weighed.values()}
    weighed |= {wheel for loads in file.loads.values() for wheel in loads.scale}
    bare = [
        wheel
        for wheel in file.wheels.values()
        if wheel.pressure is None and (wheel.tyre is not None or wheel.name in weighed)
    ]
    if not bare:
        return None
    names = tuple(wheel.name for wheel in bare)
    what = in_words(
        [
            *(["a tyre rate"] if any(wheel.tyre is not None for wheel in bare) else []),
            *(["a weighed load"] if weighed & set(names) else []),
        ]
    )
    return Finding(
        "pressure-unrecorded",
        "watch",
        _NUMBERS,
        f"The tyre pressure of {the_wheels(names)} is not written down beside {what}: at another pressure the tyre has "
        "another rate and the wheel another height. Read the gauge, cold, in the state that you measured, and add "
        'pressure = "1.8 bar" or what it reads to each wheel.',
        "A tyre's rate goes nearly with its pressure, so a figure without it cannot be found again.",
        COMMON_PRACTICE,
        float(len(names)),
        tuple(sorted(wheel.centre for wheel in bare)),
        wheels=names,
    )
