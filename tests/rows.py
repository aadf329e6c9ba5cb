"""Tables of plain data: one test for all rows, which tells every row that fails."""

import functools
import inspect

import pytest


def rows(names, table):
    """Try a test on each row of a table; what the fixtures give, the rows share.

    A test for each row costs more than most rows do: hundreds of them cost seconds to collect and to report.
    names: of the parameters that a row fills, with commas between; table: a tuple for each row, or with one
    name the value itself. Raises a group of what went wrong, with the row beside each.
    """
    filled = [name.strip() for name in names.split(",")]
    cases = [dict(zip(filled, row if len(filled) > 1 else (row,), strict=True)) for row in table]
    assert cases, "a table without rows"

    def over(test):
        @functools.wraps(test)
        def tried(**fixtures):
            wrong = [error for case in cases if (error := _failure(test, case, fixtures)) is not None]
            if wrong:
                raise BaseExceptionGroup(f"{len(wrong)} of {len(cases)} rows fail", wrong)

        kept = [item for item in inspect.signature(test).parameters.values() if item.name not in filled]
        vars(tried)["__signature__"] = inspect.Signature(kept)
        return tried

    return over


def _failure(test, case, fixtures):
    try:
        test(**case, **fixtures)
    except (Exception, pytest.fail.Exception) as error:  # noqa: BLE001 - it is told
        error.add_note(f"in the row {case}")
        return error
    return None
