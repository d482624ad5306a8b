"""Papers typed one at a time: how long a blank takes to be kept as it is left, and its whole paper to be judged."""

from __future__ import annotations

import tempfile
import time
from collections.abc import Iterator, Mapping
from itertools import islice
from pathlib import Path

from bench_class import WRONG, responses, write_answers, write_responses
from bench_table import note, print_table

from problemgen.load.people.responses import Responses
from problemgen.load.people.whose_rows import Entry
from problemgen.pipeline.typed_papers import PaperBook, Pile, paper

__all__ = ["typed_papers"]

STUDENTS = 200
TYPED = 12
"""Papers that are typed: three hundred blanks, while the other rows stand in the file already."""

AIM = 0.05
"""Seconds in which a paper is judged again: a verdict that comes later comes after the next blank."""


def typed_papers() -> None:
    """Print the percentiles over blanks, of a class as it comes and of one with all answers wrong."""
    rows = []
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        answers_file, responses_file = write_answers(folder, STUDENTS), folder / "responses.csv"
        write_responses(answers_file, responses_file)
        started = time.perf_counter()
        book = PaperBook(folder)
        opened = time.perf_counter() - started
        columns = book.head.response_columns
        came = {(who, at): cells for who, at, cells in Responses((responses_file,), book.sheets, columns)}
        wrong = {entry: responses(book.head, book.key(entry), WRONG) for entry in islice(book.sheets, TYPED)}
        for what, cells in (("as it comes", came), ("all wrong", wrong)):
            pile = Pile(folder / what, book)
            rest = islice(came.items(), TYPED, None)
            pile.keep(next(iter(came)), columns[0], "1", "")
            _add_rows(pile, book, rest)
            kept, judged = zip(*_typed(book, pile, dict(islice(cells.items(), TYPED))), strict=True)
            rows += [(f"{what}: kept", *_row(kept)), (f"{what}: judged", *_row(judged))]
    header = ("", "median", "95 %", "slowest", f"within {AIM * 1e3:.0f} ms")
    print_table(
        f"A blank that is left, in a class of {STUDENTS} with {len(columns)} blanks (processor time)", header, rows
    )
    note(f"answers.json is opened once, in {opened * 1e3:.0f} ms. The table is read and written whole for each blank.")


def _add_rows(pile: Pile, book: PaperBook, rest: Iterator[tuple[Entry, Mapping[str, str]]]) -> None:
    """The rows of those who are typed already."""
    path = pile.folder / "typed-papers.csv"
    lines = [",".join((who, *("7.5 g" for _ in book.head.response_columns))) for (who, _at), _cells in rest]
    head = ",".join(("id", *book.head.response_columns))
    path.write_text("\n".join((head, *lines, "")), encoding="utf-8")


def _typed(book: PaperBook, pile: Pile, cells: Mapping[Entry, Mapping[str, str]]) -> Iterator[tuple[float, float]]:
    """For each blank that is filled in, seconds until it is kept, and those of the paper judged again."""
    for entry, mine in cells.items():
        for column, cell in mine.items():
            start = time.process_time()
            pile.keep(entry, column, cell, "")
            kept = time.process_time() - start
            there = pile.cells(entry)
            start = time.process_time()
            paper(book, entry, there)
            yield kept, time.process_time() - start


def _row(seconds: tuple[float, ...]) -> tuple[str, ...]:
    ordered = sorted(seconds)
    picked = (ordered[len(ordered) // 2], ordered[int(0.95 * len(ordered))], ordered[-1])
    within = sum(one <= AIM for one in seconds) / len(seconds)
    return (*(f"{1e3 * one:.1f} ms" for one in picked), f"{100 * within:.1f} %")
