"""One line for each problem of a night."""

from nightmode.model.problem import (
    NeverUsable,
    NoAstronomicalNight,
    NoDarkness,
    NoEyepieces,
    OldElements,
    Problem,
    SkyAssumed,
)


def problem_text(problem: Problem) -> str:
    """Return the line for a problem."""
    match problem:
        case NoDarkness(lowest):
            return f"no darkness tonight: the Sun gets no lower than {lowest:.1f}°"
        case NoAstronomicalNight(lowest):
            return (
                f"no astronomical night: the Sun gets no lower than {lowest:.1f}°; "
                "the darkest part of the night is used"
            )
        case OldElements(name, age_days):
            return f"{name}: its elements are {age_days:.0f} days away from this night; fetch newer ones"
        case NoEyepieces():
            return "no eyepieces given: nothing can be suggested to look with"
        case SkyAssumed(zenith_mag):
            return f"the site gives no sky brightness: {zenith_mag} mag/arcsec² is assumed"
        case NeverUsable(name):
            return f"{name}: never above its floor while it is dark enough"
