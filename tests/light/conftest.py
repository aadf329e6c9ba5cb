"""Programs under the light meter, ended with the test that began them."""

import pytest
from light.meter import Meter


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
