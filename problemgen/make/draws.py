"""Named draws: the random numbers of a student's problem are the bytes of SHAKE-256 over their names.

Adding a draw leaves the others as they were; any machine can make any student; nobody without the secret can
compute a key. Source: FIPS 202 (2015), SHA-3 extendable-output functions.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterable

import numpy as np
import numpy.typing as npt

from problemgen.model.page_code import LETTERS

__all__ = [
    "class_numbers",
    "draw_numbers",
    "drawn_for",
    "fingerprint",
    "indices",
    "kept_for_practice",
    "shares",
    "sheet_code",
    "within",
]

Numbers = npt.NDArray[np.uint64]

_WORD = 8  # bytes of a draw: 64 bits, more than a float's 53 and than any count of values
_PRACTICE_SHARE = 64  # of 256: a quarter is plenty for practice, and leaves graded sets three quarters of their room


def _digest(secret: bytes, names: Iterable[str], length: int) -> bytes:
    """SHAKE-256 over the secret and the names, each with its length before it, so that no two lists collide."""
    return hashlib.shake_256(_field(secret) + _fields(names)).digest(length)


def _fields(names: Iterable[str]) -> bytes:
    return b"".join(_field(name.encode()) for name in names)


def _field(told: bytes) -> bytes:
    return len(told).to_bytes(8, "big") + told


def draw_numbers(secret: bytes, names: Iterable[str], size: int) -> Numbers:
    """So many 64-bit numbers of a named draw; a longer draw begins with the shorter one."""
    return np.frombuffer(_digest(secret, names, _WORD * size), dtype="<u8").astype(np.uint64)


def class_numbers(
    secret: bytes, before: Iterable[str], students: Iterable[str], behind: Iterable[str], size: int
) -> Numbers:
    """The numbers of one draw of many students, a row each: as `draw_numbers` gives them.

    The names of the draw are those before the student, the student, and those behind.
    """
    start, end = _field(secret) + _fields(before), _fields(behind)
    tolds = (start + _field(student.encode()) + end for student in students)
    drawn = b"".join(hashlib.shake_256(told).digest(_WORD * size) for told in tolds)
    return np.frombuffer(drawn, dtype="<u8").astype(np.uint64).reshape(-1, size)


def indices(numbers: Numbers, count: int) -> npt.NDArray[np.int64]:
    """Evenly spread indices 0 … count − 1, for a count of at most a million (uneven by less than 1 in 4,000)."""
    return (((numbers >> np.uint64(32)) * np.uint64(count)) >> np.uint64(32)).astype(np.int64)


def shares(numbers: Numbers) -> npt.NDArray[np.float64]:
    """Evenly spread fractions from 0 to below 1, exact multiples of 2⁻⁵³."""
    return (numbers >> np.uint64(11)).astype(np.float64) * 2.0**-53


def drawn_for(student: str, attempt: int) -> str:
    """Under which name a student's numbers of an attempt are drawn; no id has a blank, so it is nobody else's."""
    return student if attempt == 1 else f"{student} attempt {attempt}"


def fingerprint(secret: bytes) -> str:
    """What tells whether a secret is the same without telling it: 64 bits of a digest."""
    return _digest(secret, ("fingerprint",), 8).hex()


def within(term: str, *names: str) -> tuple[str, ...]:
    """The names of a draw in a term: another term has other numbers; "" where no term is told."""
    return (term, *names) if term else names


def kept_for_practice(values: bytes) -> bool:
    """Whether a combination of drawn values may stand in practice problems: one in four, and then no graded one.

    It hangs on the values alone: whatever the secret, the set or the student, practice and graded never share one.
    """
    return hashlib.blake2b(values, digest_size=1).digest()[0] < _PRACTICE_SHARE


def sheet_code(secret: bytes, term: str, set_id: str, student: str) -> str:
    """A sheet's code: eight letters and digits that tell the sheets of a set apart without telling the student."""
    numbers = draw_numbers(secret, within(term, "sheet code", set_id, student), 8)
    letters = "".join(LETTERS[int(index)] for index in indices(numbers, len(LETTERS)))
    return f"{letters[:4]}-{letters[4:]}"
