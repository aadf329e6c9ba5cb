"""observer.toml as it is written reads back to the same observer, whatever is in it."""

import tomllib

from hypothesis import given
from hypothesis import strategies as st
from turns import costly

from nightmode.files.toml import as_model
from nightmode.model.kit import Barlow, Eyepiece, Filter, Finder, Telescope
from nightmode.model.observer import Observer, Person
from nightmode.model.site import Site
from nightmode.setup.changes import changed_text
from nightmode.setup.observer_file import observer_text

NAMES = (
    st.text(
        st.characters(exclude_categories=["Cc", "Cf", "Cs", "Zl", "Zp", "Co", "Cn"]), min_size=1, max_size=30
    )
    .filter(str.strip)
    .map(str.strip)
)


def figures(low, high):
    return st.floats(low, high, allow_nan=False, allow_infinity=False)


def rows(model, **fields):
    made = st.builds(model, name=NAMES, **fields)
    return st.lists(made, max_size=3, unique_by=lambda row: " ".join(row.name.casefold().split())).map(tuple)


SITES = rows(
    Site,
    latitude_deg=figures(-90, 90),
    longitude_deg=figures(-180, 360),
    elevation_m=figures(-450, 6000),
    timezone=st.sampled_from(["UTC", "Europe/Vienna", "Pacific/Auckland"]),
    bortle=st.none() | st.integers(1, 9),
    horizon=st.lists(st.tuples(figures(0, 360), figures(-5, 89)), max_size=14).map(tuple),
)
TELESCOPES = rows(Telescope, aperture_mm=figures(20, 2000), focal_length_mm=figures(50, 20000))
EYEPIECES = rows(
    Eyepiece,
    focal_length_mm=figures(1, 120),
    field_stop_mm=st.none() | figures(0.1, 60),
    barrel_in=st.sampled_from([0.965, 1.25, 2]),
)
FINDERS = rows(
    Finder,
    kind=st.sampled_from(["optical", "bullseye"]),
    rings_deg=st.lists(figures(0.1, 20), max_size=8).map(tuple),
)
PEOPLE = st.builds(
    Person,
    pupil_mm=figures(2, 9),
    red=st.booleans(),
    phrases=st.lists(NAMES, max_size=9).map(tuple),
    before_dark=st.lists(NAMES, max_size=4).map(tuple),
)
OBSERVERS = st.builds(
    Observer,
    observer=PEOPLE,
    site=SITES,
    telescope=TELESCOPES,
    eyepiece=EYEPIECES,
    barlow=rows(Barlow, factor=figures(0.3, 6)),
    filter=rows(Filter, passband=st.sampled_from(["oiii", "colour"])),
    finder=FINDERS,
)


@costly(2)
@given(OBSERVERS)
def test_what_is_written_reads_back_the_same(observer):
    assert as_model("written", tomllib.loads(observer_text(observer)), Observer) == observer


@costly(2)
@given(OBSERVERS, PEOPLE)
def test_a_change_of_the_person_leaves_everything_else_byte_for_byte(observer, person):
    after = observer.model_copy(update={"observer": person})
    text = observer_text(observer)
    changed = changed_text(text, observer, after)
    rest = text[text.index("\n[[") :] if "\n[[" in text else ""
    assert changed.endswith(rest)
    assert as_model("changed", tomllib.loads(changed), Observer) == after


@costly(2)
@given(OBSERVERS, OBSERVERS)
def test_what_is_changed_reads_back_as_it_should_or_is_not_changed(before, after):
    text = observer_text(before).replace("# ", "# (my remark) ")
    changed = changed_text(text, before, after)
    assert changed is None or as_model("changed", tomllib.loads(changed), Observer) == after


def test_a_site_without_a_horizon_shows_how_to_write_one():
    site = Site(name="Garden", latitude_deg=48.2, longitude_deg=16.4)
    assert "# horizon = [[0, 12]" in observer_text(Observer(site=(site,)))
