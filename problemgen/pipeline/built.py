"""A built folder, opened: what a killed run has left there is finished first, and the signature is looked at."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from problemgen.load.answers.answers import ANSWERS_FILE, Answers
from problemgen.load.fault_log import FaultLog
from problemgen.load.sets.courses import shipped_secrets
from problemgen.make.draws import fingerprint
from problemgen.write.files import settle

__all__ = ["SECRET_FILE", "Built", "open_built"]

SECRET_FILE = "secret"  # noqa: S105 - a file's name


@dataclass(frozen=True)
class Built:
    """The answers of a built folder, and the secret by which they are known to be as they were built.

    Without it, `doubt` says why that is not known.
    """

    answers: Answers
    secret: bytes | None
    doubt: str = ""

    def __enter__(self) -> Answers:
        """The answers, to be read until the context closes."""
        return self.answers

    def __exit__(self, *_: object) -> None:
        """Close the file."""
        self.answers.__exit__()


def open_built(folder: Path) -> Built:
    """Open the answers.json of a built folder.

    Raises:
        FaultsError: for a file that is missing, is not of this format, or was changed since it was built.
        OutputError: for what a killed run has begun to write there, and cannot be finished.
    """
    settle(folder)
    answers = Answers(folder / ANSWERS_FILE)
    try:
        return _verified(answers, folder / SECRET_FILE)
    except BaseException:
        answers.__exit__()
        raise


def _verified(answers: Answers, path: Path) -> Built:
    """The answers as the secret knows them. Raises FaultsError for a signature that is not this file's."""
    drawn_from = answers.head.issued.secret
    try:
        secrets = [path.read_bytes(), *shipped_secrets()]
        without = f"{path} is another secret than the one that these numbers were drawn from"
    except OSError:
        secrets, without = list(shipped_secrets()), f"there is no {path}"
    for secret in secrets:
        if fingerprint(secret) == drawn_from:
            if not answers.is_signed_with(secret):
                hint = "Put the file back from a copy, or build the set again."
                found = "contents that the set's secret has not signed"
                FaultLog(str(answers.path)).refuse("", found, "the file as it was built", hint)
            return Built(answers, secret)
    return Built(answers, None, f"Not verified whether {answers.path} is as it was built: {without}.")
