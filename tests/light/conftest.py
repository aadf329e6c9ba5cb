"""Programs under the light meter and pretended terminals, ended with the test that began them."""

import pytest
from light.meter import Meter
from light.pretender import Pretender


@pytest.fixture
def measured(tmp_path, monkeypatch):
    """Return a function that begins `nightmode WORDS` under a meter, in the test's folder."""
    monkeypatch.chdir(tmp_path)
    meters = []

    def begin(*words, mode="truecolor", **options):
        meters.append(Meter(words, mode, **options))
        return meters[-1]

    yield begin
    for meter in meters:
        meter.kill()


@pytest.fixture
def pretend():
    """Return a function that begins a terminal; what it answers to what is a mapping."""
    begun = []

    def begin(answers=()):
        begun.append(Pretender(answers))
        return begun[-1]

    yield begin
    for pretender in begun:
        pretender.close()
