"""A built folder, opened: what a killed run has left there is finished first, and the signature is looked at."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.fault_log import FaultLog
from problemgen.load.sets.courses import shipped_secrets
from problemgen.make.draws import fingerprint
from problemgen.write.files import settle

__all__ = ["SECRET_FILE", "Built", "open_built", "read_secret", "sealing_secret"]

SECRET_FILE = "secret"  # noqa: S105 - a file's name


@dataclass(frozen=True)
class Built:
    """The answers of a built folder, and the secret by which they are known to be as they were built.

    Without it, `doubt` says why that is not known; `is_public` is a set of ours, whose secret everybody can read.
    """

    answers: Answers
    secret: bytes | None = None
    doubt: str = ""
    is_public: bool = False

    def __enter__(self) -> Answers:
        """The answers, to be read until the context closes."""
        return self.answers

    def __exit__(self, *_: object) -> None:
        """Close the file."""
        self.answers.__exit__()


def open_built(folder: Path, *, for_build: bool = False) -> Built:
    """Open the answers.json of a built folder.

    A build decides itself what becomes of another secret than that of the last build.

    Raises:
        FaultsError: for a file that is missing, is not of this format, or was changed since it was built; for a secret
            beside it that cannot be read, or is another one.
        OutputError: for what a killed run has begun to write there, and cannot be finished.
    """
    settle(folder)
    for place in sorted(folder.glob("*/")):  # grades, feedback
        settle(place)
    answers = Answers(folder / ANSWERS_FILE)
    try:
        return _verified(answers, read_secret(folder), folder / SECRET_FILE, for_build=for_build)
    except BaseException:
        answers.__exit__()
        raise


def sealing_secret(built: Built) -> bytes | None:
    """The secret that has sealed what was handed out, one that everybody can read too; None where it is not at hand."""
    drawn_from = built.answers.head.issued.secret
    return built.secret or next((one for one in shipped_secrets() if fingerprint(one) == drawn_from), None)


def read_secret(folder: Path) -> bytes | None:
    """The secret in a built folder, without the line break of an editor; None where there is none.

    Raises FaultsError for one that cannot be read.
    """
    path = folder / SECRET_FILE
    try:
        return path.read_bytes().rstrip(b"\r\n")
    except (FileNotFoundError, NotADirectoryError):
        return None
    except OSError as error:
        found = (error.strerror or "unreadable").lower()
        FaultLog(str(path)).refuse("", found, "the secret of the build", "Put it back from a copy, readable for you.")


def _verified(answers: Answers, secret: bytes | None, path: Path, *, for_build: bool) -> Built:
    """The answers as the secret knows them. Raises FaultsError for a signature that is not this file's."""
    drawn_from = answers.head.issued.secret
    if secret is not None and fingerprint(secret) == drawn_from:
        if answers.is_signed_with(secret):
            return Built(answers, secret)
        hint = "Put the file back from a copy: neither it nor a build on top of it can be trusted."
        found = "contents that the set's secret has not signed"
        FaultLog(str(answers.path)).refuse("", found, "the file as it was built", hint)
    if secret is not None and not for_build:
        hint = (
            f"Put it back from a copy; or move it away to mark without it: nobody knows then whether {answers.path} is "
            "as it was built."
        )
        FaultLog(str(path)).refuse("", "another secret", "the one that these numbers were drawn from", hint)
    if any(fingerprint(one) == drawn_from for one in shipped_secrets()):
        why = "its secret comes with the program, and everybody can read it"
        return Built(answers, doubt=_doubt(answers, why), is_public=True)
    return Built(answers, doubt=_doubt(answers, f"there is no {path}"))


def _doubt(answers: Answers, why: str) -> str:
    return f"Not verified whether {answers.path} is as it was built: {why}."
