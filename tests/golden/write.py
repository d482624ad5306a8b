"""What students of some sets see and get, as readable files: a change of the program shows itself in their difference.

python tests/golden/write.py           writes all files anew, from the program as it is (about half a minute)
python tests/golden/write.py first-week        only one set's, or `practice`

Drawn values, answers, windows, mistakes' values, verdicts, one sheet and its key, one feedback, the class report, ten
problems of the practice page. The responses (`responses.csv`) were made once, and are read as they stand: delete the
file of a set to have new ones made.
"""

from __future__ import annotations

import contextlib
import csv
import html
import io
import json
import random
import re
import sys
import tempfile
from collections.abc import Callable, Iterator, Mapping
from fractions import Fraction
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]
sys.path.insert(0, str(ROOT))

from pypdf import PdfReader  # noqa: E402 - the checkout's own packages come first

from problemgen.cli import main as problemgen  # noqa: E402
from problemgen.exact.rounding import figures_text  # noqa: E402
from problemgen.load.answers.answers import Answers  # noqa: E402
from problemgen.model.answers import KeyHead, PartKey, ProblemKey, StudentKey, TemplateKey  # noqa: E402
from problemgen.model.truths import NumberTruth  # noqa: E402
from problemgen.plan.answering import datum_windows  # noqa: E402
from problemgen.plan.arithmetic import Exact, Window  # noqa: E402
from problemgen.plan.evaluate import data_figures, mistaken_windows, window_values  # noqa: E402
from problemgen.plan.forms import form_of  # noqa: E402
from problemgen.plan.windows import answer_window  # noqa: E402
from problemgen.practice.packing import grown, unpacked  # noqa: E402
from tests.support.answered_at_random import answered_at_random  # noqa: E402

FOLDER = Path(__file__).parent
SETS = ("first-week", "general-3-formulas", "general-6-solutions", "organic-8-working-up", "organic-post-session")
STUDENTS = 8
PRACTICE = (
    *("equations/propane-burns", "formulas/percent", "limiting-reagent/silver-chromate", "preparations/aspirin"),
    *("titrations/borax", "dilutions/permanganate-series", "gases/weighing-a-gas", "isomers/methylcyclohexenes"),
    *("yield/cyclohexene", "separation/one-portion-or-three"),
)
_FIGURES = 8  # of the bounds of windows: a change that a student could meet shows itself long before
_EXACT = Exact()
_TAG, _DROPPED = re.compile(r"<[^>]+>"), re.compile(r"<(style|script|svg|title)\b.*?</\1>", re.DOTALL)
_BLOCK_END = re.compile(r"</(?:p|h\d|li|tr|div|section|td|th|caption|summary|dd|dt)>|<br ?/?>")


def main(names: list[str]) -> None:
    """Write the files of some sets; of all where none is named."""
    for name in SETS:
        if not names or name in names:
            _write_set(name)
    if not names or "practice" in names:
        (FOLDER / "practice.txt").write_text("".join(_practice()), encoding="utf-8")


def _run(*arguments: str) -> str:
    """Run a command, and give what it says and its exit code."""
    said, told = io.StringIO(), io.StringIO()
    with contextlib.redirect_stderr(said), contextlib.redirect_stdout(told):
        code = problemgen(list(arguments))
    return f"{told.getvalue()}{said.getvalue()}exit code {code}\n"


def _write_set(name: str) -> None:
    folder, source = FOLDER / name, ROOT / "templates" / "sets" / name
    folder.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as place:
        out, roster = Path(place) / "built", Path(place) / "roster.csv"
        with (source / "roster.csv").open(encoding="utf-8-sig", newline="") as file:
            rows = list(csv.reader(file))[: STUDENTS + 1]
        with roster.open("w", encoding="utf-8", newline="") as file:
            csv.writer(file).writerows(rows)
        out.mkdir()
        if "demonstration_secret" not in (source / "set.toml").read_text(encoding="utf-8"):
            (out / "secret").write_text("a secret for the golden files of these tests")
        said = _run("build", str(source), "--roster", str(roster), "--out", str(out), "--replace")
        write = _writer(folder, place)
        with Answers(out / "answers.json") as answers:
            head, keys = answers.head, list(answers)
            write("values.txt", "".join(_values(head, keys)))
            if not (folder / "responses.csv").is_file():
                _write_responses(folder / "responses.csv", head, keys, source)
        student = keys[0].student
        write("build.txt", said)
        write("sheet.txt", _pdf_text(out / "sheets" / f"{student}.pdf"))
        write("key.txt", _pdf_text(out / "key.pdf", 4))
        write("summary.txt", _pdf_text(out / "summary.pdf"))
        write("table.txt", (out / "responses.csv").read_text(encoding="utf-8-sig"))
        responses = str(folder / "responses.csv")
        write("grade.txt", _run("grade", str(out), responses, "--replace"))
        write("verdicts.txt", _table_text(out / "grades" / "grades.csv"))
        write("gradebook.txt", _table_text(out / "grades" / "gradebook.csv"))
        write("feedback.txt", _page_text(out / "grades" / "feedback" / f"{student}.html"))
        write("feedback-pdf.txt", _pdf_text(out / "grades" / "feedback" / f"{student}.pdf"))
        write("class-report.txt", _page_text(out / "grades" / "class-report.html"))
        write("explain.txt", _run("explain", str(out), keys[1].student, "--responses", responses))


def _writer(folder: Path, place: str) -> Callable[[str, str], None]:
    """Writes a text into a folder, without what differs from run to run."""

    def write(name: str, text: str) -> None:
        stable = text.replace(place, "PLACE").replace(str(ROOT), "ROOT")
        (folder / name).write_text(stable.replace("\r\n", "\n"), encoding="utf-8")

    return write


def _values(head: KeyHead, keys: list[StudentKey]) -> Iterator[str]:
    for key in keys:
        yield f"\n{key.student}, sheet {key.code}, attempt {key.attempt}\n"
        for problem in key.problems:
            yield f"  {problem.problem} {problem.template}\n"
            for name, datum in sorted(problem.given.items()):
                yield f"    given {name} = {datum.written.text} {datum.unit}\n"
            yield from _answers(head, problem)
            yield from _mistakes(head, problem)


def _answers(head: KeyHead, problem: ProblemKey) -> Iterator[str]:
    for part in head.templates[problem.template].parts:
        truth = problem.truths.get(part.id)
        if truth is None:
            yield f"    {part.label} waits for the student's own data\n"
        elif not isinstance(truth, NumberTruth):
            yield f"    {part.label} {form_of(part.asked).kind(truth)}\n"
        else:
            bounds = (figures_text(one, _FIGURES) for one in (truth.value, truth.low, truth.high))
            told = " ".join(bounds)
            yield f"    {part.label} {truth.printed} {part.asked.unit} | {told} | {truth.figures} figures\n"


def _mistakes(head: KeyHead, problem: ProblemKey) -> Iterator[str]:
    """What each usual mistake answers in the parts that it changes."""
    template = head.templates[problem.template]
    given = datum_windows(problem.given)
    if any(quantity.id not in given for quantity in template.plan.given):
        return
    least = int(data_figures(given.values(), _EXACT))
    right = window_values(template.plan, given, _EXACT)
    asked = [part for part in template.parts if part.id in problem.truths and part.asked.quantity.id in right]
    for mistake in template.plan.mistakes:
        try:
            wrong = mistaken_windows(template.plan, [mistake], right, least, _EXACT)
        except ZeroDivisionError:
            yield f"    mistake {mistake.id}: cannot be worked\n"
            continue
        told = []
        for part in asked:
            other, same = (_window(template, part, one) for one in (wrong, right))
            if other.value != same.value:
                told.append(f"{part.label} {_short(other.low)}..{_short(other.high)}")
        yield f"    mistake {mistake.id}: {', '.join(told)}\n"


def _window(template: TemplateKey, part: PartKey, values: Mapping[str, Window]) -> Window:
    """The window of a part's answer; of a choice, that of the quantity behind it."""
    window = form_of(part.asked).window(template.plan, part.asked, values, _EXACT)
    return window or answer_window(template.plan, part.asked, values, _EXACT)


def _short(value: Fraction) -> str:
    return figures_text(value, _FIGURES)


def _write_responses(path: Path, head: KeyHead, keys: list[StudentKey], source: Path) -> None:
    """Responses of all sorts; where students bring their own data, the shipped ones."""
    if head.own:
        path.write_bytes((source / "responses.csv").read_bytes())
        return
    draw = random.Random(f"golden {path.parent.name}")  # noqa: S311 - these answers keep no secret
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file)
        table.writerow(["id", *head.columns, "Remarks"])
        for key in keys[:-1]:
            cells = answered_at_random(head, key, draw)
            table.writerow([key.student, *(cells.get(column, "") for column in head.columns), "late"])
        table.writerow(["nobody", *("1" for _ in head.columns)])
        table.writerow([keys[0].student, *("2.00" for _ in head.columns[:3])])


def _pdf_text(path: Path, pages: int | None = None) -> str:
    return "".join(f"--- page\n{page.extract_text()}\n" for page in PdfReader(path).pages[:pages])


def _table_text(path: Path) -> str:
    """A table, a line a cell that holds something."""
    with path.open(encoding="utf-8-sig", newline="") as file:
        rows = csv.DictReader(file)
        return "".join(" | ".join(f"{name}: {cell}" for name, cell in row.items() if cell) + "\n" for row in rows)


def _page_text(path: Path) -> str:
    return _markup_text(path.read_text(encoding="utf-8"))


def _markup_text(markup: str) -> str:
    """The words of a page, a block a line."""
    text = _TAG.sub("", _BLOCK_END.sub("\n", _DROPPED.sub("", re.sub(r"\s+", " ", markup))))
    lines = (" ".join(html.unescape(line).split()) for line in text.split("\n"))
    return "".join(f"{line}\n" for line in lines if line)


def _practice() -> Iterator[str]:
    with tempfile.TemporaryDirectory() as place:
        path = Path(place) / "practice.html"
        yield _run("practice", *PRACTICE, "--variants", "1", "--seed-words", "golden", "--out", str(path)).replace(
            place, "PLACE"
        )
        data = _data_of(path.read_text(encoding="utf-8"))
    templates = [{**head, **grown(head["body"])} for head in data["templates"]]
    for template, problem in ((one, problem) for one in templates for problem in one["problems"]):
        skeletons = template["skeletons"]
        yield f"\n{template['id']}: {template['title']} ({template['topic']}, level {template['level']})\n"
        yield from (_markup_text(unpacked(skeletons, problem[what])) for what in ("story", "numbers"))
        for part, texts in zip(template["parts"], problem["help"], strict=True):
            chosen = " / ".join(_markup_text(one["html"]).strip() for one in part["choices"])
            yield f"({part['label']}) {_markup_text(part['prompt']).strip()} [{part['unit']}] {chosen}\n"
            for text in texts:
                yield from (f"    {line}\n" for line in _markup_text(unpacked(skeletons, text)).splitlines())
        for part, answer in problem["answers"].items():
            yield f"answer {part}: {json.dumps(answer, ensure_ascii=False)}\n"


def _data_of(page: str) -> Any:
    found = re.search(r'<script[^>]*type="application/json"[^>]*>(.*?)</script>', page, re.DOTALL)
    assert found is not None
    return json.loads(found[1])


if __name__ == "__main__":
    main(sys.argv[1:])
