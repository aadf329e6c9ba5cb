"""A variable star on the walk: what is told of it, and an eclipse that brings it to the front."""

import datetime as dt

import pytest

PLAN = """\
night = 2026-12-05
site = { name = "Here", latitude_deg = 48.0, longitude_deg = 11.0, sky_brightness = 20.5, timezone = "UTC" }
telescope = { name = "100 mm", aperture_mm = 100, focal_length_mm = 600 }
eyepiece = [{ name = "25 mm", focal_length_mm = 25 }]
"""
#: Mid-eclipse: see tests/night/test_variables.py.
ALGOL_S = dt.datetime(2026, 12, 5, 19, 51, tzinfo=dt.UTC).timestamp()


@pytest.fixture
def opened(loaded_from):
    def load(*names):
        return loaded_from(PLAN + "".join(f'[[target]]\nname = "{name}"\n' for name in names)).night

    return load


def told(app):
    lines = (text for row in app.screen.page.lines for text, _ in row)
    return " ".join(" ".join(lines).split())


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_the_star_in_eclipse_comes_by_itself_and_tells_its_times(walking, opened, clock, size):
    clock.set_s = ALGOL_S - 300
    async with walking(size=size, night=opened("M 15", "Algol", "Mira")) as (app, _):
        text = told(app)
        assert "variable star in Per" in text
        assert "eclipsing, EA/SD, 2.1 to 3.4; about 3.4" in text
        assert "faintest 19:51 ± 40 min; eclipse 15:02-00:40" in text


async def test_a_star_ticked_before_its_eclipse_is_named_when_that_comes(walking, opened, clock):
    clock.set_s = ALGOL_S - 3000
    async with walking(night=opened("Algol", "M 31")) as (app, pilot):
        await pilot.press("space", "space")
        clock.set_s = ALGOL_S - 300
        await pilot.press("j")
        assert "19:51 Algol at its faintest" in told(app)


@pytest.mark.parametrize(
    ("name", "texts"),
    [
        ("Mira", ["Mira star, M, 2.0 to 10.1; about 7.", "maximum 26 Feb ± 3 weeks"]),
        ("Delta Cep", ["+ 6.1, 40.7″ at 191° (2016)", "Cepheid, DCEP, 3.5 to 4.4"]),
        ("R And", ["Mira star, M, 5.8 to 15.2"]),
        ("Betelgeuse", ["change ups and downs cannot be foreseen"]),
    ],
)
async def test_a_star_that_varies_tells_what_to_expect_and_how_sure_that_is(
    walking, opened, clock, name, texts
):
    clock.set_s = ALGOL_S
    async with walking(night=opened(name)) as (app, _):
        assert [text for text in texts if text not in told(app)] == []
