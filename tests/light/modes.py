"""Which tests run in which kind of terminal: a few every day, all of them when asked for with -m long."""

import pytest
from light.meter import MODES

#: Three depths of colour that share no code on their way out; the others are further names for them.
DAILY = ("truecolor", "16", "linux")
MOST_MODES = [mode if mode in DAILY else pytest.param(mode, marks=pytest.mark.long) for mode in MODES]
