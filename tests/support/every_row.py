"""One test for a rule and all the rows that it holds for: it tells every row that breaks it, not the first alone.

A test a row would cost more than most rules do: each is collected in every worker, set up, sent and reported.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

import pytest

__all__ = ["for_every"]

Row = TypeVar("Row")


def for_every(rows: Iterable[Row]) -> Callable[[Callable[[Row], None]], Callable[[], None]]:
    """Make a test of one row a test of all rows; every row that breaks the rule is told, with what it broke.

    The test carries the number of its rows as `rows`, for whoever counts what is checked.

    Raises:
        ValueError: where there is no row: a rule without rows would hold whatever it says.
    """
    kept = list(rows)
    if not kept:
        raise ValueError("a rule needs rows")

    def decorate(rule: Callable[[Row], None]) -> Callable[[], None]:
        def test() -> None:
            told = [fault for row in kept for fault in _faults(rule, row)]
            assert not told, f"{len(told)} of {len(kept)} rows:\n" + "\n".join(told)

        # Names only: with `functools.wraps`, pytest would look for a fixture of the name of the rule's argument.
        test.__name__, test.__qualname__ = rule.__name__, rule.__qualname__
        test.__module__, test.__doc__ = rule.__module__, rule.__doc__
        test.rows = len(kept)  # type: ignore[attr-defined]  # an attribute of a function
        return test

    return decorate


def _faults(rule: Callable[[Row], None], row: Row) -> list[str]:
    """What a rule says of one row: nothing where it holds. A row that errs breaks it as well."""
    try:
        rule(row)
    except (AssertionError, pytest.fail.Exception) as error:
        return [f"{row}: {error}"]
    except Exception as error:  # noqa: BLE001 - told with the row, beside the faults of the others
        return [f"{row}: {type(error).__name__}: {error}"]
    return []
