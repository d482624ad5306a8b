"""Papers typed one at a time: whose a paper is, how each answer is marked as it is typed, and the file that keeps them.

PaperBook (book.py)   a built set, opened once for as long as nothing of it changes: keys and judging
whose (whose.py)      whose paper is meant by a code, an id or a name, typing errors noticed
paper (paper.py)      a paper with its fields, the sheet's own numbers, and what is said of each answer
Pile (pile.py)        typed-papers.csv, a table of responses like any other: read afresh, and written whole
"""

from __future__ import annotations

from problemgen.pipeline.typed_papers.book import PaperBook, PaperBooks
from problemgen.pipeline.typed_papers.paper import PaperField, PaperProblem, PaperSheet, Said, TypedPaper, paper
from problemgen.pipeline.typed_papers.pile import TYPED_FILE, ChangedMeanwhileError, PaperStanding, PaperState, Pile
from problemgen.pipeline.typed_papers.whose import Found, whose

__all__ = [
    "TYPED_FILE",
    "ChangedMeanwhileError",
    "Found",
    "PaperBook",
    "PaperBooks",
    "PaperField",
    "PaperProblem",
    "PaperSheet",
    "PaperStanding",
    "PaperState",
    "Pile",
    "Said",
    "TypedPaper",
    "paper",
    "whose",
]
