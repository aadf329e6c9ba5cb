"""The tests' own tables: no row is passed over, and each that fails is told."""

import inspect

import pytest
from rows import rows


def test_all_rows_are_tried_and_every_one_that_fails_is_told():
    tried = []

    @rows("number, square", [(2, 4), (3, 8), (4, 16), (5, 5)])
    def squares(number, folder, square):
        tried.append((number, folder))
        if number == 5:
            with pytest.raises(ValueError):
                int("5")
        assert number * number == square

    assert list(inspect.signature(squares).parameters) == ["folder"]
    with pytest.raises(BaseExceptionGroup, match="2 of 4 rows fail") as caught:
        squares(folder="here")
    assert tried == [(number, "here") for number in (2, 3, 4, 5)]
    told = [error.__notes__ for error in caught.value.exceptions]
    assert told == [["in the row {'number': 3, 'square': 8}"], ["in the row {'number': 5, 'square': 5}"]]


@rows("letter", "abc")
def test_a_table_of_single_values_needs_no_tuples(tmp_path, letter):
    assert letter in "abc"
    assert tmp_path.is_dir()
