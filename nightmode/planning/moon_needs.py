"""For the rest of a list of features of the Moon: the nights of this lunation that show them."""

import datetime as dt
from collections.abc import Sequence

import numpy as np

from nightmode.model.target import LunarFeature, Subject
from nightmode.night.circumstances import Circumstances
from nightmode.night.features import features_tonight
from nightmode.records import Record
from nightmode.sky.kernel import Sky
from nightmode.sky.vantage import stand
from nightmode.sky.window import night_window

#: Minutes between the instants of the first night that are worked out.
_STEP_S = 600.0


class FeatureNight(Record):
    """A night of this lunation: the features with the right light, and those that only this night shows."""

    night: dt.date
    names: tuple[str, ...]
    only: tuple[str, ...]


def feature_nights(sky: Sky, circumstances: Circumstances, subjects: Sequence[Subject]) -> list[FeatureNight]:
    """Return the nights that show any of the features, from that of `circumstances` to the next new Moon."""
    features = [subject for subject in subjects if isinstance(subject, LunarFeature)]
    if not features:
        return []
    start, end = night_window(circumstances.site, circumstances.date)
    vantage = stand(sky, circumstances.site, np.arange(start, end, _STEP_S))
    told = features_tonight(sky, vantage, circumstances.site, circumstances.person, features)
    shown: dict[int, list[str]] = {}
    only: dict[int, list[str]] = {}
    for row, feature in told.items():
        for night in feature.nights:
            shown.setdefault(night, []).append(features[row].name)
        if len(feature.nights) == 1:
            only.setdefault(feature.nights[0], []).append(features[row].name)
    return [
        FeatureNight(circumstances.date + dt.timedelta(days=night), tuple(names), tuple(only.get(night, ())))
        for night, names in sorted(shown.items())
    ]
