"""The secret that a set's numbers are drawn from: nobody without it can work out who has which."""

from __future__ import annotations

import secrets
from filecmp import cmp
from pathlib import Path

from problemgen.load.fault_log import FaultLog
from problemgen.load.people.rosters import ROSTER_FILE
from problemgen.load.resources import SET_FILE
from problemgen.load.sets.courses import Course, shipped_secrets
from problemgen.make.draws import fingerprint
from problemgen.model.problem_set import ProblemSet
from problemgen.pipeline.build_inputs import BuildRequest
from problemgen.pipeline.built import SECRET_FILE, read_secret
from problemgen.pipeline.printed import Printed

__all__ = ["secret_of"]

_SHORTEST_SECRET = 32
"""Bytes: 128 bits even where they are written as hexadecimal digits. Ours have 64."""

_RECOVER = (
    "Put the file back from a copy; or build with --new-secret: all numbers that are printed stay, and who has none "
    "yet gets some from a new secret."
)


def secret_of(request: BuildRequest, folder: Path, problem_set: ProblemSet, printed: Printed) -> tuple[bytes, bool]:
    """The set's secret, and whether it is new: published for a demonstration, kept from an earlier build, or made.

    Raises FaultsError where numbers were printed from another: new students might then get what somebody has already;
    and for one that everybody can read, where nobody has said that it is for a demonstration.
    """
    path, before = request.out / SECRET_FILE, printed.head.issued.secret if printed.head is not None else ""
    if request.new_secret and problem_set.demonstration_secret is None:
        return secrets.token_hex(32).encode(), True
    if problem_set.demonstration_secret is not None:
        secret = problem_set.demonstration_secret.encode()
        _check_for_demonstration(request, folder, secret)
        if before and fingerprint(secret) != before:
            hint = "Put the old one back, or build into another folder."
            expected = "the one that the printed numbers were drawn from"
            FaultLog(str(folder / SET_FILE)).refuse("demonstration_secret", "another secret", expected, hint)
        return secret, False
    kept = read_secret(request.out)
    if kept is not None:
        secret = kept
        if len(secret) < _SHORTEST_SECRET:
            found = f"a secret of {len(secret)} bytes"
            FaultLog(str(path)).refuse("", found, f"{_SHORTEST_SECRET} bytes or more", _RECOVER)
    elif before:
        FaultLog(str(path)).refuse("", "no secret", "the one that the printed numbers were drawn from", _RECOVER)
    else:
        return secrets.token_hex(32).encode(), True
    if before and fingerprint(secret) != before:
        FaultLog(str(path)).refuse("", "another secret", "the one that the printed numbers were drawn from", _RECOVER)
    return secret, False


def _check_for_demonstration(request: BuildRequest, folder: Path, secret: bytes) -> None:
    """Refuse a copy of one of our sets with our secret: anybody who has the program can work out its key."""
    if request.demonstration or secret not in shipped_secrets():
        return
    if any(_is_same_set(folder, one) for one in Course().sets.values()):
        return
    hint = "Take the line out, and the set gets a secret of its own; or build with --demonstration."
    found = "the secret of a set that comes with the program: everybody can work out these numbers and their key"
    FaultLog(str(folder / SET_FILE)).refuse("demonstration_secret", found, "none, or one of your own", hint)


def _is_same_set(folder: Path, ours: Path) -> bool:
    """Whether a folder is one of ours, or the same with the same invented class, as in a checkout beside a copy."""
    if folder.resolve() == ours.resolve():
        return True
    files = [(folder / name, ours / name) for name in (SET_FILE, ROSTER_FILE)]
    return all(one.is_file() and other.is_file() and cmp(one, other, shallow=False) for one, other in files)
