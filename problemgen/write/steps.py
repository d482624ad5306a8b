"""Changes of a few files that can be taken back, one after the other, the last first: the journal lies beside them.

    STEPS/000007/step.json      what was done, when, to which files, and the digests of these before and behind it
    STEPS/000007/before-0       what a file held before it, where it was there
    STEPS/000007/undone.json    it was taken back; with it behind-0, what the file held then
    STEPS/000007/at-work        its files are being changed: it was ended in the middle, where nobody is at work

The journal of a step is written before its files. Of one that was ended between the two nobody was told that it is
done: whoever comes next has its files as they were before it, all of them.
A step is taken back only while its files are as it has left them: what somebody has changed since is never lost.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import islice
from pathlib import Path
from typing import Any

from filelock import FileLock

from problemgen.errors import Fault, FaultsError, OutputError, ProblemgenError
from problemgen.language.messages import _
from problemgen.write.files import PREFIX, Staging, settle
from problemgen.write.switch import check_inside

__all__ = ["Step", "Steps"]

_STEP, _UNDONE, _AT_WORK = "step.json", "undone.json", "at-work"


@dataclass(frozen=True)
class Changed:
    """One file of a step, by its name below the root, with its digest before and behind; "" where it was not there."""

    name: str
    before: str
    behind: str


@dataclass(frozen=True)
class Step:
    """A change: its number, from 1; what `kind` it is, with the words that tell `about` it; when; and its files."""

    number: int
    kind: str
    about: Mapping[str, str]
    at: datetime
    files: tuple[Changed, ...]


class Steps:
    """The journal in a folder, of files below a root."""

    def __init__(self, folder: Path, root: Path) -> None:
        """Take both; the folder is made by the first step."""
        self._folder, self._root = folder, root

    def settle(self) -> None:
        """Finish what a process has begun that was ended. Whoever shows files of steps does this first.

        Raises OutputError for what cannot be finished.
        """
        if any(self._folder.glob(f"*/{_AT_WORK}")) or any(self._folder.rglob(f"{PREFIX}*")):
            with self._alone():
                pass

    def last(self, most: int) -> tuple[Step, ...]:
        """Of the steps that can be taken back so many, the last first. What is damaged is left out."""
        return tuple(islice(self._open(), most))

    def take(self, kind: str, about: Mapping[str, str], files: Callable[[], Mapping[str, bytes | None]]) -> Step:
        """Change files, by their names below the root: each gets a content, or is removed with None.

        `files` is asked while nobody else takes a step, so that what it makes of a file loses nobody's change.

        Raises OutputError for a file that cannot be written, and for a name that leaves the root; what `files` does.
        """
        with self._alone():
            number = max(self._numbers(), default=0) + 1
            wanted = files()
            kept = {name: self._content(name) for name in wanted}
            changed = tuple(Changed(name, _digest(kept[name]), _digest(wanted[name])) for name in wanted)
            step = Step(number, kind, dict(about), datetime.now(UTC), changed)
            self._write(number, {_STEP: _told(step), **_numbered("before", kept)})
            self._put(number, wanted)
            return step

    def undo(self, number: int) -> Step:
        """Take the last step back.

        Raises:
            FaultsError: where it is no longer the last one, or a file was changed since; nothing has changed then.
            OutputError: for a file that cannot be written.
        """
        with self._alone():
            last = next(self._open(), None)
            if last is None or last.number != number:
                expected = _("the last step")
                hint = _("Something was done meanwhile, perhaps in another tab: look at the page again.")
                raise FaultsError([Fault("", "", _("another step than the last one"), expected, hint)])
            now = {one.name: self._content(one.name) for one in last.files}
            self._check(last, now)
            before = {one.name: self._before(last, place) for place, one in enumerate(last.files)}
            self._write(number, {_UNDONE: b"{}", **_numbered("behind", now)})
            self._put(number, before)
            return last

    def _check(self, step: Step, now: Mapping[str, bytes | None]) -> None:
        faults = [
            Fault(
                one.name,
                "",
                _("a file that was changed since"),
                _("the file as this step has left it"),
                _("Nothing was undone, so that the later change is not lost. Change the file itself."),
            )
            for one in step.files
            if _digest(now[one.name]) not in (one.behind, one.before)
        ]
        if faults:
            raise FaultsError(faults)

    def _before(self, step: Step, place: int) -> bytes | None:
        """What a file held before a step. Raises FaultsError where the journal has not kept just that."""
        path, wanted = self._place(step.number) / f"before-{place}", step.files[place].before
        content = path.read_bytes() if wanted and path.is_file() else None
        if _digest(content) != wanted:
            hint = _("Nothing was undone. Change the file itself.")
            raise FaultsError([Fault(str(path), "", _("a damaged journal"), _("what the file held before"), hint)])
        return content

    @contextmanager
    def _alone(self) -> Iterator[None]:
        """Two tabs, or two desks, do one thing after the other, and finish first what was ended in the middle."""
        self._folder.mkdir(parents=True, exist_ok=True)
        with FileLock(self._folder / ".lock"):
            settle(self._folder)
            for number in tuple(self._numbers()):
                settle(self._place(number))
                if (self._place(number) / _AT_WORK).exists():
                    self._take_back(number)
            yield

    def _take_back(self, number: int) -> None:
        """Have the files of a step that was ended in the middle as they were before it."""
        step = _read(self._place(number) / _STEP, number)
        files = self._ended(step) if step is not None else {}
        if files and not (self._place(number) / _UNDONE).exists():
            behind = {name: self._content(name) for name in files}
            self._write(number, {_UNDONE: b"{}", **_numbered("behind", behind)})
        self._put(number, files)

    def _ended(self, step: Step) -> Mapping[str, bytes | None]:
        """What the files held before a step that was ended in the middle; none for one that was at its end, and where
        one of the files was changed since, or the journal has not kept that."""
        try:
            for one in step.files:
                settle(self._path(one.name).parent)
            now = {one.name: self._content(one.name) for one in step.files}
            self._check(step, now)
            before = {one.name: self._before(step, place) for place, one in enumerate(step.files)}
        except ProblemgenError:
            return {}
        is_undone = (self._place(step.number) / _UNDONE).exists()
        return before if is_undone or any(_digest(now[one.name]) != one.behind for one in step.files) else {}

    def _open(self) -> Iterator[Step]:
        for number in sorted(self._numbers(), reverse=True):
            if not (self._place(number) / _UNDONE).exists():
                step = _read(self._place(number) / _STEP, number)
                if step is not None:
                    yield step

    def _numbers(self) -> Iterator[int]:
        for path in self._folder.glob("[0-9]*"):
            if path.name.isascii() and path.name.isdecimal():
                yield int(path.name)

    def _place(self, number: int) -> Path:
        return self._folder / f"{number:06}"

    def _content(self, name: str) -> bytes | None:
        path = self._path(name)
        return path.read_bytes() if path.is_file() else None

    def _path(self, name: str) -> Path:
        check_inside(name)
        path = self._root / name
        if not path.resolve().is_relative_to(self._root.resolve()):
            raise OutputError(f"{name!r} leads out of the folder by a link; a step changes files inside of it only")
        return path

    def _write(self, number: int, contents: Mapping[str, bytes | None]) -> None:
        place = self._place(number)
        with Staging(place, replace=True) as staging:
            for name, content in {**contents, _AT_WORK: b""}.items():
                if content is not None:
                    staging.write(name, content, private=True)

    def _put(self, number: int, files: Mapping[str, bytes | None]) -> None:
        for name, content in files.items():
            path = self._root / name
            if content is None and not path.exists():
                continue
            with Staging(path.parent, only=path.name, replace=True) as staging:
                if content is None:
                    staging.supersede([path.name])
                else:
                    staging.write(path.name, content, private=True)
        (self._place(number) / _AT_WORK).unlink(missing_ok=True)


def _numbered(word: str, contents: Mapping[str, bytes | None]) -> dict[str, bytes | None]:
    return {f"{word}-{place}": content for place, content in enumerate(contents.values())}


def _digest(content: bytes | None) -> str:
    return "" if content is None else f"sha256:{hashlib.sha256(content).hexdigest()}"


def _told(step: Step) -> bytes:
    data = {
        "kind": step.kind,
        "about": step.about,
        "at": step.at.isoformat(),
        "files": [[one.name, one.before, one.behind] for one in step.files],
    }
    return json.dumps(data, ensure_ascii=False, indent=1).encode()


def _read(path: Path, number: int) -> Step | None:
    """A step of the journal; None for what is none."""
    try:
        data: dict[str, Any] = json.loads(path.read_text(encoding="utf-8"))
        json.dumps(data, ensure_ascii=False).encode()  # halves of characters cannot be shown
        files = tuple(Changed(str(name), str(before), str(behind)) for name, before, behind in data["files"])
        about = {str(word): str(text) for word, text in data["about"].items()}
        return Step(number, str(data["kind"]), about, datetime.fromisoformat(data["at"]).astimezone(UTC), files)
    except (OSError, ValueError, KeyError, TypeError, AttributeError, OverflowError, RecursionError):
        return None
