"""One load set, as lines of a terminal."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from leverwright.cli.terminal import Terminal
from leverwright.quantity import fixed, from_surface, say
from leverwright.wire.measure import BalancePoint, Chassis, Closure, CouplingSaid, LoadSetSaid, TippingSaid

__all__ = ["show_load_set"]

_BY = {
    "stated": "as stated",
    "weighed": "weighed",
    "scale": "on the scale",
    "masses": "from the masses by balance",
}
_KIND = {"known": "A known mass", "total": "The whole vehicle"}


def show_load_set(out: Terminal, name: str, one: LoadSetSaid, said: Callable[[str], str]) -> None:
    """What each wheel carries, whether the scale closes, how it stands, where it tips, what a coupling carries."""
    out.line()
    carried = f": {', '.join(one.carries)}" if one.carries else ""
    out.line(f"Load set {name}{', the usual one' if one.usual else ''}{carried}", "title")
    width = max(map(len, one.wheels), default=0)
    for wheel, load in one.wheels.items():
        beside = "" if load.weighed is None else f"; the weighing, {load.weighed.said}, does not count"
        out.item(f"  {wheel:<{width}}  ", said(f"{load.load.said}, {_BY[load.by]}{beside}"))
    for sentence in _sentences(one):
        out.line(said(sentence), indent=2)


def _sentences(one: LoadSetSaid) -> Iterator[str]:
    if one.total is not None:
        cross = "" if one.cross is None else f"; left front and right rear carry {one.cross.said} of it"
        yield f"All wheels together: {one.total.said}{cross}."
    yield from (_closure(each) for each in one.closures)
    for raised in one.raised:
        shift = "nothing tells how much" if raised.shift_kg is None else _kilograms(raised.shift_kg)
        yield (
            f"{raised.wheel} stood {_length(raised.height_mm)} higher than the others while it was weighed: "
            f"{shift} came on it by that."
        )
    if one.balance is not None:
        yield _balance(one.balance)
    if one.chassis is not None:
        yield _stands(one.chassis)
    yield _tips(one.tipping)
    if one.coupling is not None:
        yield _couples(one.coupling)


def _length(length_mm: float) -> str:
    return say(from_surface(length_mm, "length"), "length")


def _kilograms(mass_kg: float) -> str:
    return say(abs(mass_kg), "mass")


def _degrees(angle_deg: float) -> str:
    return say(from_surface(abs(angle_deg), "angle"), "angle")


def _closure(one: Closure) -> str:
    off = f"{_kilograms(one.off_kg)} of {_kilograms(one.of_kg)}"
    within = (
        "which is near enough" if one.closes else f"over the {_kilograms(one.allowed_kg)} that is near enough"
    )
    if one.kind == "repeats":
        return f"Repeats under {one.wheel} differ by {off}, {within}."
    return f"{_KIND[one.kind]} is read {off} {'too much' if one.off_kg > 0 else 'too little'}, {within}."


def _balance(one: BalancePoint) -> str:
    side = "" if one.left is None else f", {one.left.said} to the left of the middle"
    by = {"tilt": "by lifting an end", "masses": "by its masses"}.get(one.height_by or "", "")
    height = "" if one.height is None else f"; {one.height.said} above the ground, {by}"
    return f"Centre of gravity: x {one.ahead.said}{side}{height}."


def _stands(one: Chassis) -> str:
    if one.because is not None or one.heave_mm is None:
        return f"How the chassis stands cannot be told: {one.because}."
    way = "higher" if one.heave_mm >= 0 else "lower"
    pitch, roll = one.pitch_deg or 0.0, one.roll_deg or 0.0
    turned = [
        f"{what} {_degrees(angle)} {up if angle >= 0 else down}"
        for what, angle, up, down in (("nose", pitch, "down", "up"), ("left side", roll, "up", "down"))
        if not _degrees(angle).startswith("0 ")
    ]
    lifted = f"; off the ground: {', '.join(one.lifted)}" if one.lifted else ""
    far = _length(abs(one.heave_mm))
    return f"The chassis stands {far} {way} than measured, {', '.join(turned) or 'level'}{lifted}."


def _tips(one: TippingSaid) -> str:
    if one.sideways is None:
        return f"Where it tips over cannot be told: {one.because}."
    lean = f", {one.leaning.said} with its lean" if one.leaning is not None else ""
    slope = "" if one.slope is None else f"; standing still on a side slope of {one.slope.said}"
    return (
        f"It tips sideways at {one.sideways.said} of gravity as a rigid whole{lean}{slope}. Tyres, bumps and a load "
        "that shifts make it less."
    )


def _couples(one: CouplingSaid) -> str:
    if one.level_kg is None or one.level_percent is None:
        return f"What the coupling carries cannot be told: {one.because}."
    level = f"{_kilograms(one.level_kg)}, {fixed(one.level_percent, 1)} % of the whole, level"
    if one.pitched_kg is None or one.pitched_percent is None:
        return f"The coupling carries {level}."
    stands = f"{_kilograms(one.pitched_kg)}, {fixed(one.pitched_percent, 1)} %, as it stands"
    return f"The coupling carries {level}; {stands}."
