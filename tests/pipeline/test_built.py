"""A built folder is opened: what a killed run has left is finished, and the signature is looked at."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

import pytest

from problemgen.errors import FaultsError
from problemgen.load.answers.answers import ANSWERS_FILE
from problemgen.load.sets.courses import shipped_secrets
from problemgen.make.draws import fingerprint
from problemgen.model.from_secret import fits, signature
from problemgen.pipeline.built import SECRET_FILE, open_built
from problemgen.write.files import PREFIX
from problemgen.write.switch import JOURNAL, NEW
from tests.support.small_set import SECRET, small_set, write_answers


@pytest.fixture
def built(tmp_path: Path) -> Path:
    folder = tmp_path / "built"
    folder.mkdir()
    write_answers(folder, small_set(tmp_path))
    return folder


def forged(folder: Path) -> None:
    """A window opened wide by somebody who can work out a digest, but has not the secret."""
    *lines, foot = (folder / ANSWERS_FILE).read_bytes().splitlines()
    body = b"\n".join(lines).replace(b'"low":"2.', b'"low":"1.')
    assert body != b"\n".join(lines)
    digest = hashlib.sha256(body).hexdigest()
    kept = json.loads(b'{"a":[' + foot)["signature"]
    tail = f'\n],"digest":"sha256:{digest}","signature":"{kept}"}}\n'
    (folder / ANSWERS_FILE).write_bytes(body + tail.encode())


def doubt(folder: Path) -> str:
    book = open_built(folder)
    with book:
        return book.doubt


def test_with_the_secret_it_is_known_to_be_as_it_was_built(built: Path) -> None:
    assert doubt(built) == ""


def test_a_file_that_was_changed_is_refused_with_the_secret_at_hand(built: Path) -> None:
    forged(built)
    with pytest.raises(FaultsError) as error:
        open_built(built)
    assert str(error.value) == (
        f"{built / ANSWERS_FILE}: found contents that the set's secret has not signed; expected the file as it was "
        "built. Put the file back from a copy: neither it nor a build on top of it can be trusted."
    )


def test_without_the_secret_it_is_told_that_nobody_knows(built: Path) -> None:
    (built / SECRET_FILE).unlink()
    forged(built)
    assert doubt(built) == (
        f"Not verified whether {built / ANSWERS_FILE} is as it was built: there is no {built / SECRET_FILE}."
    )


@pytest.mark.parametrize("other", [b"", b"three glass", b"x" * 64])
def test_another_secret_beside_it_is_refused(built: Path, other: bytes) -> None:
    (built / SECRET_FILE).write_bytes(other)
    with pytest.raises(FaultsError) as error:
        open_built(built)
    assert str(error.value) == (
        f"{built / SECRET_FILE}: found another secret; expected the one that these numbers were drawn from. Put it "
        "back from a copy; or move it away to mark without it: nobody knows then whether "
        f"{built / ANSWERS_FILE} is as it was built."
    )


def test_an_editor_s_line_break_is_not_of_the_secret(built: Path) -> None:
    (built / SECRET_FILE).write_bytes((built / SECRET_FILE).read_bytes() + b"\r\n")
    assert doubt(built) == ""


def test_a_secret_that_cannot_be_read_is_told(built: Path) -> None:
    (built / SECRET_FILE).unlink()
    (built / SECRET_FILE).mkdir()
    with pytest.raises(FaultsError, match="found is a directory; expected the secret of the build"):
        open_built(built)


def test_a_file_signed_with_a_published_secret_is_verified_by_nobody(built: Path) -> None:
    """Whoever has the program can sign so: the secret beside it goes before, and without it that is told."""
    (published,) = shipped_secrets()
    own, *lines, _ = (built / ANSWERS_FILE).read_bytes().splitlines()
    forged = b"\n".join([own.replace(fingerprint(SECRET).encode(), fingerprint(published).encode()), *lines])
    digest = f"sha256:{hashlib.sha256(forged).hexdigest()}"
    tail = f'\n],"digest":"{digest}","signature":"{signature(published, digest)}"}}\n'
    (built / ANSWERS_FILE).write_bytes(forged + tail.encode())
    with pytest.raises(FaultsError, match="found another secret"):
        open_built(built)
    (built / SECRET_FILE).unlink()
    assert doubt(built).endswith("its secret comes with the program, and everybody can read it.")


def test_what_a_killed_run_has_left_is_finished_before_it_is_read(built: Path) -> None:
    aside = built / PREFIX
    (aside / NEW).mkdir(parents=True)
    content = (built / ANSWERS_FILE).read_bytes()
    (built / ANSWERS_FILE).unlink()
    (aside / NEW / ANSWERS_FILE).write_bytes(content)
    (aside / JOURNAL).write_text(
        json.dumps({"write": [ANSWERS_FILE], "before": [], "remove": [], "folders": [], "goes": ["on"]}),
        encoding="utf-8",
    )
    assert doubt(built) == ""
    assert not aside.exists()


def test_a_signature_is_of_one_secret_and_one_digest() -> None:
    one = signature(b"secret", "sha256:00")
    assert fits(one, b"secret", "sha256:00")
    assert not any((fits(one, b"Secret", "sha256:00"), fits(one, b"secret", "sha256:01"), fits("", b"secret", "")))
