"""What the verdict on five numbers says, sentence by sentence, in either system of units."""

from __future__ import annotations

from dataclasses import dataclass

from leverwright.quantity import Kind, System, say, say_ratio, shown_unit
from leverwright.ride.quick import AIM, MOST_PRELOAD, SIGMAS, USUAL_TRAVEL, QuickChange, QuickVerdict

__all__ = ["QuickSaid", "SaidChange", "quick_said"]

# Beside every advice to squash a coil or to take it off.
_CAUTION = (
    "A loaded coil that slips can maim: it is work for a qualified person, guided and behind a guard, and "
    "local rules may ask for more."
)
# What can explain a wheel that moves further than lever and spring give; beyond both a number has slipped.
_SOFTEST_SHARE = 0.25  # of the rate as typed; a spring mistaken for another is not softer than this
_LOOSEST = 0.060  # m; a coil that hangs looser falls off its seats
# Squash of a coil by the standing load [m]: with common sag a third of the stroke, and light shocks with
# more than three times this are rare. Common practice, from memory.
_MOST_SQUASH = 0.060


@dataclass(frozen=True, slots=True)
class SaidChange:
    """One change in words: what to do, how far the wheel moves before and after."""

    do: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class QuickSaid:
    """The verdict in words."""

    verdict: str
    ratio: str
    changes: tuple[SaidChange, ...]
    unsaid: tuple[str, ...]  # what cannot be told from these numbers, and what would tell it
    why: str


def quick_said(verdict: QuickVerdict, system: System = "metric") -> QuickSaid:
    """All sentences of `verdict`; lengths and rates in the units of `system`."""
    words = _Words(verdict, system)
    return QuickSaid(
        " ".join(part for part in (words.feel(), words.fit(), words.blame()) if part),
        say_ratio(verdict.ratio, system=system, error=verdict.ratio_error),
        tuple(words.change(change) for change in verdict.changes),
        tuple(words.unsaid()),
        words.why(),
    )


@dataclass(frozen=True, slots=True)
class _Words:
    verdict: QuickVerdict
    system: System

    def say(self, value: float, kind: Kind, error: float | None = None) -> str:
        return say(value, kind, system=self.system, error=error)

    def length(self, value: float, error: float | None = None) -> str:
        return self.say(value, "length", error)

    def rounded(self, value: float) -> str:
        """A limit of common practice, in inches to the nearest eighth."""
        if self.system == "inch":
            inch = shown_unit("length", "inch")
            value = inch.to_si(round(8 * inch.from_si(value)) / 8)
        return self.length(value)

    def feel(self) -> str:
        """First sentence: how it is."""
        numbers, verdict = self.verdict.numbers, self.verdict
        load = self.say(numbers.load.value, "mass")
        if numbers.moves is not None and verdict.fit == "more" and not self._explained():
            moved = self.length(numbers.moves.value)
            return f"{moved} under {load} cannot be: check its unit and its decimal point."
        usual = f"{self.rounded(USUAL_TRAVEL[0])} to {self.rounded(USUAL_TRAVEL[1])} is usual"
        if verdict.feel == "does not move":
            return f"It does not move under {load}."
        if verdict.feel == "untold":
            return f"Whether it is stiff or soft under {load} cannot be told yet."
        if numbers.moves is None:
            far = f"would move {self.length(verdict.expected or 0.0, verdict.expected_error)}"
        else:
            far = f"moves {self.length(numbers.moves.value)}"
        if verdict.feel == "usual":
            return f"Neither stiff nor soft: the wheel {far} under {load}, and {usual}."
        return f"It is {verdict.feel}: the wheel {far} under {load}, where {usual}."

    def fit(self) -> str:
        """Second sentence: does the movement agree with the other numbers?"""
        verdict = self.verdict
        if verdict.expected is None or verdict.fit == "untold":
            return ""
        expected = self.length(verdict.expected, verdict.expected_error)
        if verdict.fit == "agrees":
            return f"{self._good_to()}ever and spring give {expected}: the numbers agree."
        if verdict.fit == "reversed":
            return f"With the arms as you gave them it would move {expected}; the other way round they fit."
        if verdict.fit == "more":
            causes = " or ".join(self._explained())
            return f"Lever and spring give only {expected}" + (
                f": {causes} would explain it." if causes else "."
            )
        return f"Lever and spring without preload give {expected}: something holds it back{self._such_as()}."

    def blame(self) -> str:
        """Third sentence: which of the three it is, with the number that it would need."""
        verdict = self.verdict
        if verdict.fit == "reversed":
            return "Look which arm carries the link: as built, the ratio is " + self._said_ratio(
                self._other()
            )
        if verdict.blame == "nothing":
            return ""
        if verdict.blame == "preload":
            return "That preload is the likeliest cause."
        name = ("But even without it the " if verdict.fit == "less" else "The ") + verdict.blame
        if verdict.blame == "ratio":
            return f"{name} is to blame: it would need {self._said_ratio(verdict.needed_ratio)}"
        if verdict.blame == "spring":
            needed = self.say(verdict.needed_rate or 0.0, "stiffness")
            return (
                f"{name} is to blame: these arms would need one of {needed}{self._rare(verdict.ratio * AIM)}."
            )
        return self._not_told()

    def change(self, change: QuickChange) -> SaidChange:
        """What to do, and the movement before and after."""
        before_error = self.verdict.expected_error if self.verdict.numbers.moves is None else None
        before = self.length(change.before, before_error)
        if change.after <= 0:
            return SaidChange(self._do(change), before, "nothing: its preload holds it")
        after = self.length(change.after, change.after_error)
        return SaidChange(self._do(change), before, f"{after}: {self._judged(change)}")

    def _judged(self, change: QuickChange) -> str:
        """The movement after a change, against the usual ones and its own error."""
        off = SIGMAS * change.after_error
        if any(abs(change.after - edge) <= off for edge in USUAL_TRAVEL):
            return "about the edge of the usual"
        still = "still " if change.feel == self.verdict.feel != "usual" else ""
        return still + change.feel

    def unsaid(self) -> list[str]:
        """What cannot be told from these numbers, each with the reading that would tell it."""
        verdict, numbers = self.verdict, self.verdict.numbers
        said = []
        if numbers.rate is None:
            said.append(
                "Without the spring's rate, a stiff spring, preload and something stuck look alike: have the "
                "spring squashed on a scale by two known amounts. " + _CAUTION
            )
            if verdict.changes:
                said.append("The movements after each change are those of a spring without preload.")
        if numbers.moves is None:
            said.append(
                "Without the movement, preload and anything that sticks stay unseen: measure how far the wheel "
                "rises from hanging free until the load is on it."
            )
        if verdict.fit == "less":
            said.append(
                "Preload, friction and a lever near dead centre look alike here: have the spring taken out "
                "and lift the wheel by hand. " + _CAUTION
            )
        if verdict.swapped_fits and verdict.fit == "less":
            said.append(
                "The arms the other way round would give the same movement: lift the wheel by "
                f"{self.length(0.02)} and read how far the spring's eyes close, which is the ratio."
            )
        if verdict.fit == "more":
            said.append(
                "A tyre or a bending link can be in the reading too: measure at the hub, from the frame, not "
                "from the floor."
            )
        said.append(
            "Whether the shock has the stroke for it cannot be told: these numbers do not hold its length."
        )
        return said

    def why(self) -> str:
        """Formula in words, and what is assumed."""
        numbers = self.verdict.numbers
        wheel = (
            "the link moves as far as the wheel"
            if abs(numbers.link_per_wheel - 1) < 1e-9
            else f"the link moves {numbers.link_per_wheel:g} of what the wheel moves"
        )
        return (
            "Ratio = spring arm / link arm, times link movement by wheel movement. Movement = load / (rate x "
            "ratio squared) - preload / ratio. Assumed: link and spring stand square to their arms, "
            f"{wheel}, the load is counted from the wheel hanging free, the tyre is not in the reading. "
            f"Usual is common practice: {self.rounded(USUAL_TRAVEL[0])} is a ride frequency of about 3.2 Hz, "
            f"{self.rounded(USUAL_TRAVEL[1])} of 1.5 Hz; new arms and springs aim at {self.rounded(AIM)}."
        )

    def _not_told(self) -> str:
        verdict = self.verdict
        if verdict.fit == "less":
            return "Look for a seized shock, a bolt too tight or a lever at dead centre."
        if verdict.fit == "more":
            return "Measure the rate and the arms again before you cut."
        if verdict.working_rate is not None:
            return (
                f"Without preload its spring would be one of {self._working_rate()}; with preload, a softer "
                "one. Which of the two it is cannot be told without the rate."
            )
        missing = "the rate or the movement" if verdict.numbers.moves is None else "the rate"
        return f"Which of ratio, spring and preload is to blame cannot be told without {missing}."

    def _such_as(self) -> str:
        """What preload would hold it back so."""
        preload = self.verdict.preload or 0.0
        more = " or more" if self.verdict.feel == "does not move" else ""
        if preload > MOST_PRELOAD:
            return f"; a preload of {self.length(preload)}{more} would, but no collar gives that"
        return f", such as a preload of {self.length(preload)}{more}"

    def _do(self, change: QuickChange) -> str:
        link, spring = self.length(change.link_arm), self.length(change.spring_arm)
        ratio = change.spring_arm / change.link_arm * self.verdict.numbers.link_per_wheel
        squash = ratio * change.after
        return {
            "swap": f"swap the arms: link on {link}, spring on {spring}",
            "equal": f"make both arms {link}",
            "arm": f"drill another hole for the spring, {spring} from the pivot",
            "spring": f"fit a spring of {self.say(change.rate or 0.0, 'stiffness')}{self._rare(squash)}",
            "preload": "back the collar off until the hanging spring is just held",
        }[change.kind]

    def _said_ratio(self, ratio: float | None) -> str:
        return say_ratio(ratio or 0.0, system=self.system) + "."

    def _working_rate(self) -> str:
        return self.say(self.verdict.working_rate or 0.0, "stiffness")

    def _other(self) -> float:
        """The ratio with the arms the other way round."""
        return self.verdict.numbers.link_per_wheel**2 / self.verdict.ratio

    def _rare(self, squash: float) -> str:
        """A warning behind a spring that the load alone squashes by `squash` [m]."""
        if squash <= _MOST_SQUASH:
            return ""
        return f" (hard to find: the load alone squashes it by {self.rounded(squash)})"

    def _good_to(self) -> str:
        """How far the movement as read can be off, up to the next word's first letter."""
        error = self.verdict.numbers.errors.get("moves", 0.0)
        return f"That reading is good to {self.length(SIGMAS * error)} either way; l" if error > 0 else "L"

    def _explained(self) -> tuple[str, ...]:
        """What could let the wheel move further than lever and spring give."""
        causes = []
        given, loose = self.verdict.numbers.rate, self._looseness()
        if given is not None and (self.verdict.working_rate or 0.0) >= _SOFTEST_SHARE * given.value:
            causes.append(f"a spring of {self._working_rate()}")
        if loose <= _LOOSEST:
            causes.append(f"a coil that hangs loose by {self.length(loose)}")
        return tuple(causes)

    def _looseness(self) -> float:
        """Gap of a loose coil [m] that would explain a movement that is more than the numbers give."""
        numbers = self.verdict.numbers
        moves = 0.0 if numbers.moves is None else numbers.moves.value
        return (moves - (self.verdict.expected or 0.0)) * self.verdict.ratio
