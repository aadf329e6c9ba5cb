"""Elements in the one-line formats of the Minor Planet Center ("Export Format for Comet Orbits" and "Export
Format for Minor-Planet Orbits", minorplanetcenter.net/iau/info); the bodies in these lines are invented."""

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rows import rows

from nightmode.catalog.elements import ElementsFile
from nightmode.errors import NightmodeError


def comet(number="    ", kind="C", designation="K27A010", name="C/2027 A1 (Invented)", magnitude=" 6.5  4.0"):
    return (
        f"{number}{kind}{designation}  2027 02 10.5000  1.100000  0.995000  200.0000  100.0000   45.0000  "
        f"20270301  {magnitude}  {name:<56} MPC 00000"
    )


def minor(name="(1) Ceres", epoch="K2711", h=" 3.34", g=" 0.15"):
    return (
        f"00001   {h} {g} {epoch}  36.00000   73.50000   80.25000   10.58000  0.0794000  0.21424000   "
        f"2.7660000  0 MPO000000  7330 125 1801-2026 0.80 M-v 30h MPC        0000 {name:>28}20261101"
    )


def test_a_comet_line_is_read_by_its_columns():
    orbit = ElementsFile("comets.txt", comet()).find("C/2027 A1")
    assert (orbit.is_comet, orbit.perihelion_au, orbit.eccentricity) == (True, 1.1, 0.995)
    assert (orbit.argument_deg, orbit.node_deg, orbit.inclination_deg) == (200.0, 100.0, 45.0)
    # Julian dates of 2027-02-10.5 and 2027-03-01.0: JD 2461406.5 is 2027-01-01.0 (USNO calendar conversion).
    assert (orbit.perihelion_jd, orbit.epoch_jd) == (2461406.5 + 40.5, 2461406.5 + 59.0)
    assert (orbit.magnitude_at_1_au, orbit.slope) == (6.5, 4.0)


def test_a_minor_planet_line_is_read_and_its_perihelion_reckoned_from_the_mean_anomaly():
    orbit = ElementsFile("minor.txt", minor()).find("ceres")
    assert (orbit.is_comet, orbit.magnitude_at_1_au, orbit.slope) == (False, 3.34, 0.15)
    assert orbit.perihelion_au == pytest.approx(2.766 * (1 - 0.0794))
    assert orbit.epoch_jd == 2461406.5
    # Mean anomaly 36 degrees at 0.21424 degrees a day: perihelion 168.0 days before the epoch.
    assert orbit.epoch_jd - orbit.perihelion_jd == pytest.approx(36 / 0.21424, abs=0.1)


@rows("name", ["C/2027 A1", "c/2027 a1 (invented)", "C/2027 A1 Invented", "Invented"])
def test_a_comet_is_found_by_any_of_its_names(name):
    assert ElementsFile("x", "a heading\n" + comet() + "\n" + minor()).find(name) is not None


@rows("name", ["12P", "12P/Invented", "Invented"])
def test_a_numbered_comet_needs_only_its_number(name):
    line = comet(number="0012", kind="P", designation="       ", name="12P/Invented")
    assert ElementsFile("x", line).find(name) is not None


@rows("name", ["Ceres", "1 Ceres", "(1) Ceres"])
def test_a_minor_planet_is_found_by_number_and_name(name):
    assert ElementsFile("x", comet() + "\n" + minor()).find(name).name == "Ceres"


def test_what_the_file_lacks_is_none_and_a_file_without_elements_is_named():
    assert ElementsFile("x", comet()).find("Vesta") is None
    with pytest.raises(NightmodeError, match=r"comets\.txt: holds no line of elements"):
        ElementsFile("comets.txt", "<html>not found</html>\n").find("Vesta")


def test_a_line_that_is_spoilt_is_named_by_its_number():
    spoilt = comet().replace("0.995000", "0.99x000")
    with pytest.raises(NightmodeError, match=r"comets\.txt, line 2: the elements cannot be read"):
        ElementsFile("comets.txt", minor() + "\n" + spoilt).find("C/2027 A1")


def test_a_comet_without_a_magnitude_has_none():
    assert ElementsFile("x", comet(magnitude="         ")).find("C/2027 A1").magnitude_at_1_au is None


def test_names_come_in_the_order_of_the_file():
    lines = [
        "heading",
        comet(),
        comet()[:40] + "x" * 9 + comet()[49:],
        minor(),
    ]  # the third has no eccentricity
    found = ElementsFile("x", "\n".join(lines)).all()
    assert [one.name for one in found] == ["C/2027 A1 (Invented)", "Ceres"]


@given(st.text(max_size=220))
def test_any_text_is_read_or_refused_in_one_sentence(text):
    for line in (text, comet()[:60] + text, minor()[:90] + text):
        with contextlib.suppress(NightmodeError):
            assert ElementsFile("x", line).find("Ceres") is None or "Ceres" in line
