"""Which of several combinations: with or without a Barlow, wide enough, near a power."""

from collections.abc import Sequence

from nightmode.eyepiece import Combination

#: A Barlow is taken for detail where no plain eyepiece gives this share of the power wanted, and where it
#: gives so many times the power of the highest plain one (our own).
NEARLY_POWER, BARLOW_GAIN = 0.6, 1.25


def without_barlow(choices: Sequence[Combination], *, or_reducer: bool = False) -> list[Combination]:
    """Return the combinations without a Barlow, and without a reducer unless or_reducer; if none, all."""
    return [choice for choice in choices if choice.barlow is None or (or_reducer and choice.widens)] or list(
        choices
    )


def wide_enough(choices: Sequence[Combination], wanted_deg: float) -> list[Combination]:
    """Return the combinations without a Barlow; if none has that field, those with a reducer too."""
    plain = without_barlow(choices)
    if max((combination.true_field_deg for combination in plain), default=0.0) >= wanted_deg:
        return plain
    return [combination for combination in choices if combination.widens or combination in plain]


def widest(choices: Sequence[Combination], room_deg: float) -> Combination:
    """Return the highest power whose field has room_deg; if there is none, the widest field."""
    roomy = [choice for choice in choices if choice.true_field_deg >= room_deg]
    if roomy:
        return max(roomy, key=lambda choice: choice.power)
    return max(choices, key=lambda choice: (choice.true_field_deg, choice.power))


def nearest_power(choices: Sequence[Combination], wanted: float) -> Combination | None:
    """Return the combination nearest in power; without Barlow if that gives nearly the power wanted."""
    if not choices:
        return None
    simple = [combination for combination in choices if combination.barlow is None]
    near = [combination for combination in simple if combination.power >= NEARLY_POWER * wanted]
    best = min(near or choices, key=lambda choice: max(choice.power / wanted, wanted / choice.power))
    highest = max(simple, key=lambda choice: choice.power, default=best)
    return highest if best.power < BARLOW_GAIN * highest.power and best.barlow is not None else best
