"""Whose paper is meant: by the code on a page or a sheet, the student's id, or the name; typing errors are noticed."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from problemgen.language.messages import _, ngettext
from problemgen.load.people.whose_rows import Entry
from problemgen.model.page_code import LETTERS, SLIP, PageCode, read_page_code
from problemgen.pipeline.typed_papers.book import PaperBook

__all__ = ["Found", "whose"]

_WHOLE, _SHEET = 16, 8
"""Characters of the code on a page, and of that of a sheet."""

_MOST = 12
"""Papers that are offered where several may be meant; with more, more of a name is sooner typed than a list read."""

_LONGEST_ID = 100
"""Characters in which typing errors are looked for: ids are shorter, and the cost grows with the square."""

_BEHIND = re.compile(r"(?P<who>.*\S)\s+(?P<attempt>[1-9][0-9]{0,2})")


@dataclass(frozen=True)
class Found:
    """Whose papers may be meant: one is meant where there is no `remark`, which says why it is in doubt, or nobody's.

    `session` is the sheet that a page's code tells, 0 for none.
    """

    entries: tuple[Entry, ...]
    session: int = 0
    remark: str = ""

    @property
    def entry(self) -> Entry | None:
        """The paper that is meant; None where it cannot be told."""
        return self.entries[0] if len(self.entries) == 1 and not self.remark else None


def whose(book: PaperBook, text: str) -> Found:
    """Whose paper is meant by what was typed: no text raises an error.

    In this order: an id; the sixteen characters of a page, checked; the eight of a sheet; a name, or words of it. Of
    several attempts, one is told by its number behind ("s014 2").
    """
    typed = " ".join(text.split())
    if not typed:
        return Found((), remark=_("Type a code, an id or a name."))
    plain = _plain(typed)
    sheets = {code.replace("-", ""): entry for entry, code in book.sheets.items()}
    return (
        _by_id(book, typed)
        or _by_page(book, sheets, plain)
        or _by_sheet(sheets, plain)
        or _by_name(book, typed)
        or _nobody(book, sheets, typed, plain)
    )


def _plain(text: str) -> str:
    """What was typed as codes are compared."""
    return "".join(character for character in text.upper() if character.isalnum())


def _by_id(book: PaperBook, typed: str) -> Found | None:
    known = {student.casefold(): student for student in book.people}
    student = known.get(typed.casefold())
    if student is not None:
        return _attempts(book, (student,))
    behind = _BEHIND.fullmatch(typed)
    student = known.get(behind["who"].casefold()) if behind else None
    if behind is None or student is None:
        return None
    entry = (student, int(behind["attempt"]))
    if entry in book.sheets:
        return Found((entry,))
    told = _("{student} has no attempt {attempt}.").format(student=student, attempt=behind["attempt"])
    return Found(_attempts(book, (student,)).entries, remark=told)


def _attempts(book: PaperBook, students: Sequence[str]) -> Found:
    """All attempts of students; in doubt where there are several."""
    entries = tuple(entry for entry in book.sheets if entry[0] in students)
    if len(entries) < 2:
        return Found(entries)
    several = _("Which attempt?") if len(students) == 1 else _("Whose paper?")
    return Found(entries[:_MOST], remark=several)


def _by_page(book: PaperBook, sheets: dict[str, Entry], plain: str) -> Found | None:
    """The paper of a page's code, where it is one."""
    try:
        code = read_page_code(plain)
    except ValueError:
        return None
    entry = sheets.get(_sheet_of(code))
    if entry is None:
        if code.build != book.mark:
            return Found((), remark=_("This page is of another set, or of another class."))
        told = _("This page is of no sheet that the set has now: it was drawn anew, or its student has left.")
        return Found((), remark=told)
    return Found((entry,), 0 if code.session == SLIP else code.session)


def _sheet_of(code: PageCode) -> str:
    return code.sheet.replace("-", "")


def _by_sheet(sheets: dict[str, Entry], plain: str) -> Found | None:
    entry = sheets.get(plain)
    return Found((entry,)) if entry is not None else None


def _by_name(book: PaperBook, typed: str) -> Found | None:
    """The students whose name has all words that were typed, each as the beginning of one of its own."""
    wanted = _words(typed)
    found = [student for student, (name, _section) in book.people.items() if _begins(wanted, _words(name))]
    return _attempts(book, found) if found and wanted else None


def _words(text: str) -> list[str]:
    """Words without case and accents, for somebody types what the keyboard has."""
    parted = unicodedata.normalize("NFKD", text.casefold())
    return re.findall(r"\w+", "".join(one for one in parted if not unicodedata.combining(one)))


def _begins(wanted: Sequence[str], words: Sequence[str]) -> bool:
    return all(any(word.startswith(one) for word in words) for one in wanted)


def _nobody(book: PaperBook, sheets: dict[str, Entry], typed: str, plain: str) -> Found:
    """Nobody's, and who may be meant: of a code with one typing error, or of an id that is nearly one."""
    if _WHOLE - 1 <= len(plain) <= _WHOLE + 1 and any(map(str.isdecimal, plain)):
        near = dict.fromkeys(_near_pages(book, sheets, plain))
        return Found(tuple(near)[:_MOST], remark=_code_told(plain))
    if len(plain) == _SHEET and any(map(str.isdecimal, plain)):
        near = dict.fromkeys(sheets[one] for one in _one_off(plain) if one in sheets)
        return Found(tuple(near)[:_MOST], remark=_("No sheet of this set has the code {code}.").format(code=typed))
    told = _("Nobody in this set has the code, the id or the name “{text}”.").format(text=typed[:60])
    if len(typed) > _LONGEST_ID:
        return Found((), remark=told)
    ids = {student.casefold(): student for student in book.people}
    close = [ids[one] for one in _one_off(typed.casefold(), "abcdefghijklmnopqrstuvwxyz0123456789_.-") if one in ids]
    return Found(_attempts(book, list(dict.fromkeys(close))).entries, remark=told)


def _code_told(plain: str) -> str:
    """What is wrong with a code of a page."""
    if len(plain) != _WHOLE:
        return ngettext(
            "That is {count} letter or figure; the code on a page has 16.",
            "That is {count} letters and figures; the code on a page has 16.",
            len(plain),
        ).format(count=len(plain))
    foreign = sorted(set(plain) - set(LETTERS))
    if foreign:
        told = _("No code has {characters}: what looks like it is another letter or figure.")
        return told.format(characters=", ".join(foreign))
    return _("A letter or figure of this code is mistyped, or two are exchanged.")


def _near_pages(book: PaperBook, sheets: dict[str, Entry], plain: str) -> Iterator[Entry]:
    """The papers whose page's code is one typing error away."""
    for one in _one_off(plain):
        found = _by_page(book, sheets, one) if len(one) == _WHOLE else None
        if found is not None and found.entries and one.startswith(book.mark):
            yield found.entries[0]


def _one_off(text: str, letters: str = LETTERS) -> Iterator[str]:
    """All texts that are one typing error away: a character wrong, missing, too many, or two exchanged."""
    for place in range(len(text) + 1):
        before, behind = text[:place], text[place:]
        yield from (before + letter + behind for letter in letters)
        if behind:
            yield before + behind[1:]
            yield from (before + letter + behind[1:] for letter in letters)
        if len(behind) > 1:
            yield before + behind[1] + behind[0] + behind[2:]
