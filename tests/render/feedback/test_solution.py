"""The worked solution of a feedback page: the student's numbers, and a flag on the step that went wrong."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.load.answers.answers import Answers
from problemgen.load.resources import layouts
from problemgen.model.answers import KeyHead, ProblemKey, StudentKey, TemplateKey
from problemgen.model.blocks import Block, Document, Flagged, Heading, Judged, Paragraph, Scheme, Strong
from problemgen.model.template import label_of
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.render.feedback.feedback import feedback_document
from problemgen.render.feedback.solution import SolvedProblem, solved_problem
from problemgen.render.key.variant_key import numbers_of, variant_solution
from problemgen.render.printers.html import page
from problemgen.render.printers.terminal import text_lines
from problemgen.render.worked.solution import SolvedPart, worked_solution
from tests.support.shipped import NAMES, set_of, shipped, variant_of
from tests.support.small_set import HEAD, STUDENTS, small_set, write_answers

EXTENT = "extent()"
OF_NITRATE = "extent(silver-nitrate)"
OF_CHROMATE = "extent(potassium-chromate)"
FROM_NITRATE = "amount(silver-chromate,from:silver-nitrate)"
AMOUNT = "amount(silver-chromate,theoretical)"
MASS = "mass(silver-chromate,theoretical)"


@contextmanager
def opened(folder: Path, more: str = "") -> Iterator[tuple[KeyHead, StudentKey]]:
    with Answers(write_answers(folder, small_set(folder, more))) as answers:
        yield answers.head, answers.student("s1")


@pytest.fixture(scope="module")
def chromate(tmp_path_factory: pytest.TempPathFactory) -> tuple[TemplateKey, ProblemKey]:
    with opened(tmp_path_factory.mktemp("set")) as (head, key):
        return head.templates["chromate"], key.problems[0]


@pytest.fixture(scope="module")
def solved(chromate: tuple[TemplateKey, ProblemKey]) -> SolvedProblem:
    problem = solved_problem(*chromate, "product")
    assert problem is not None
    return problem


def result(
    label: str, verdict: str, at: Sequence[str] = (), mistakes: Sequence[str] = (), titles: Sequence[str] = ()
) -> PartResult:
    part = f"{'abcdefg'.index(label[1]) + 1:02}"
    one = PartResult("p1", part, label, verdict, "r", "s", (), Fraction(0), Fraction(1), "1", "1")
    return replace(one, mistakes=tuple(mistakes), titles=tuple(titles), at=tuple(at))


def blocks_of(solved: SolvedProblem, *results: PartResult) -> list[Block]:
    return [*solved.opening, *(block for blocks in solved.working(results).values() for block in blocks)]


def flags(solved: SolvedProblem, *results: PartResult) -> dict[str, list[str]]:
    """By the label of the part under which a flag stands: what it says."""
    found: dict[str, list[str]] = {}
    for part, blocks in solved.working(results).items():
        for block in blocks:
            if isinstance(block, Flagged):
                told = text_lines([Paragraph(line) for line in block.lines])
                found.setdefault(f"1{label_of(int(part) - 1)}", []).extend(told)
    return found


def html_of(blocks: Sequence[Block]) -> str:
    return page(Document("t", "c", "s", "d", "a4", "en", tuple(blocks)), layouts())


@pytest.mark.parametrize("name", NAMES)
def test_the_solution_needs_answers_json_alone(name: str, tmp_path: Path) -> None:
    """From the template and from the file: the same page, byte for byte."""
    template, variant = shipped(name), variant_of(name)
    with Answers(write_answers(tmp_path, set_of(name), STUDENTS[:1])) as answers:
        found = solved_problem(answers.head.templates[name], answers.student("s1").problems[0], "product")
    assert found is not None
    parts = [SolvedPart(part.id, f"1{label_of(i)}", part.asked) for i, part in enumerate(template.parts)]
    worked = worked_solution(template.scene, template.plan, parts, numbers_of(variant))
    assert found.worked == worked
    assert html_of([b for part in found.worked for b in part.blocks]) == html_of([b for p in worked for b in p.blocks])
    told = [block for part in worked for block in part.blocks]
    keyed = [block for block in variant_solution(variant) if not isinstance(block, Heading)]
    assert len(told) == len(keyed)


def test_each_part_has_its_own_working(solved: SolvedProblem) -> None:
    working = solved.working([])
    assert list(working) == [f"0{number}" for number in range(1, 8)]
    assert "As found in (1a), n(AgNO₃) = 2.5000 mmol." in list(text_lines(working["03"]))
    assert flags(solved) == {}


def test_the_equation_stands_above_the_solution(solved: SolvedProblem, tmp_path: Path) -> None:
    (scheme,) = (block for block in solved.opening if isinstance(block, Scheme))
    assert list(text_lines([scheme])) == ["2 AgNO₃ + K₂CrO₄ → Ag₂CrO₄ + 2 KNO₃"]
    name = "equations/propane-burns"
    with Answers(write_answers(tmp_path, set_of(name), STUDENTS[:1])) as answers:
        asked = solved_problem(answers.head.templates[name], answers.student("s1").problems[0], "product")
    assert asked is not None
    blocks = blocks_of(asked)
    assert not any(isinstance(block, Scheme) for block in blocks)
    assert any(line.startswith("Balanced: ") for line in text_lines(blocks))


@pytest.mark.parametrize(
    ("one", "expected"),
    [
        (result("1a", "right"), {}),
        (result("1a", "blank"), {}),
        (result("1a", "unread"), {}),
        (result("1a", "unit"), {}),
        (result("1f", "follows", ["mass(silver-chromate,theoretical)"]), {}),
        (
            result("1a", "wrong", ["amount(silver-nitrate)"]),
            {"1a": ["Here 1a went wrong: compare this step with yours."]},
        ),
        (
            result("1f", "wrong", [EXTENT, "amount(silver-chromate,theoretical)"]),
            {"1f": ["Here 1f went wrong: compare this step, and those that lead to it, line by line with yours."]},
        ),
        (
            result("1a", "slip"),
            {
                "1a": [
                    (
                        "Here 1a slipped: the digits are right, the power of ten or the sign is not. "
                        "Look at the units in this step."
                    )
                ]
            },
        ),
        (
            result("1a", "rounded", ["amount(silver-nitrate)"]),
            {"1a": ["Here 1a was rounded too much: the way is right. Keep more figures until the end."]},
        ),
        (
            result("1c", "mistake", [OF_NITRATE], ["ratio-left-out"]),
            {"1c": ["Here 1c went wrong: it looks like coefficients left out."]},
        ),
        (
            result("1e", "mistake", [EXTENT], ["excess-taken:extent()"]),
            {"1e": ["Here 1e went wrong: it looks like the reagent in excess taken as limiting."]},
        ),
        (
            result("1f", "mistake", [EXTENT], ["excess-taken:extent()"]),
            {"1e": ["Here 1f went wrong: it looks like the reagent in excess taken as limiting."]},
        ),
        (
            result("1a", "mistake", ["amount(silver-nitrate)"], ["upside-down:…"], ["the quotient upside down"]),
            {"1a": ["Here 1a went wrong: it looks like the quotient upside down."]},
        ),
    ],
)
def test_the_step_that_went_wrong_is_flagged(
    solved: SolvedProblem, one: PartResult, expected: dict[str, list[str]]
) -> None:
    assert flags(solved, one) == expected


def right(*labels: str) -> list[PartResult]:
    return [result(label, "right") for label in labels]


@pytest.mark.parametrize(
    ("label", "at", "known", "told"),
    [
        ("1c", [OF_NITRATE, FROM_NITRATE], ["1a"], (
            "the amount of silver nitrate is right, the amount of silver chromate from silver nitrate is not: "
            "compare this step with yours."
        )),
        ("1f", [MASS], ["1a", "1b"], "compare this step with yours."),
        ("1f", [OF_NITRATE, OF_CHROMATE, EXTENT, AMOUNT, MASS], ["1a", "1b"], (
            "the amount of silver nitrate and the amount of potassium chromate are right, the theoretical mass of "
            "silver chromate is not: compare this step, and those that lead to it, line by line with yours."
        )),
        ("1f", [AMOUNT, MASS], ["1a", "1e"], (
            "1e is right, the theoretical mass of silver chromate is not: compare this step, and those that lead to "
            "it, line by line with yours."
        )),
    ],
)  # fmt: skip
def test_a_wrong_step_is_told_with_what_was_right_before_it(
    solved: SolvedProblem, label: str, at: Sequence[str], known: Sequence[str], told: str
) -> None:
    (said,) = flags(solved, *right(*known), result(label, "wrong", at))[label]
    assert said == f"Here {label} went wrong: {told}"


def test_parts_with_the_same_trouble_share_a_flag(solved: SolvedProblem) -> None:
    results = [result(label, "mistake", [EXTENT], ["excess-taken:extent()"]) for label in ("1e", "1f", "1g")]
    (flag,) = (block for block in blocks_of(solved, *results) if isinstance(block, Flagged))
    assert [piece.text for line in flag.lines for piece in line if isinstance(piece, Strong)] == [
        "Here 1e, 1f and 1g went wrong: "
    ]


def test_a_step_that_is_passed_over_is_flagged_where_it_is_told(solved: SolvedProblem) -> None:
    assert solved.place(FROM_NITRATE) == FROM_NITRATE
    assert solved.place(OF_NITRATE) == FROM_NITRATE
    assert solved.place(EXTENT) == EXTENT
    assert solved.place("mass(nobody)") == ""


def test_a_step_that_a_part_does_not_need_is_not_its_trouble(solved: SolvedProblem) -> None:
    assert solved.places(result("1a", "mistake", ["amount(potassium-chromate)"])) == ("amount(silver-nitrate)",)


@pytest.mark.parametrize("name", NAMES)
def test_every_mistake_has_a_place_in_the_solution(name: str, tmp_path: Path) -> None:
    with Answers(write_answers(tmp_path, set_of(name), STUDENTS[:1])) as answers:
        template = answers.head.templates[name]
        found = solved_problem(template, answers.student("s1").problems[0], "product")
    assert found is not None
    for part in template.parts:
        leading = {step.quantity.id for step in template.plan.steps_to(part.asked.quantity.id)}
        for mistake in template.plan.mistakes:
            at = tuple(name for name, _ in mistake.rewrites if name in leading)
            if at:
                one = replace(result("1a", "mistake", at, [mistake.id]), part=part.id)
                flagged = [block for block in blocks_of(found, one) if isinstance(block, Flagged)]
                assert flagged, (part.id, mistake.id)
                assert mistake.title in "".join(text_lines(flagged))


@pytest.mark.parametrize(("method", "told"), [("product", False), ("extent", True), ("ratios", False)])
def test_the_way_that_the_class_is_taught_is_told(tmp_path: Path, method: str, *, told: bool) -> None:
    problem_set = small_set(tmp_path, head=f'method = "{method}"\n{HEAD}')
    with Answers(write_answers(tmp_path, problem_set)) as answers:
        head, key = answers.head, answers.student("s1")
    assert head.method == method
    student = StudentResult(
        key.student, key.name, key.section, key.code, (result("1c", "right"), result("1e", "wrong"))
    )
    assert ("ξ(AgNO₃)" in "".join(text_lines(feedback_document(head, key, student).blocks))) is told


def test_a_problem_whose_numbers_are_not_known_has_no_solution(chromate: tuple[TemplateKey, ProblemKey]) -> None:
    template, problem = chromate
    assert solved_problem(template, replace(problem, given={}), "product") is None


def test_the_solution_can_be_left_out(tmp_path: Path) -> None:
    with opened(tmp_path) as (head, key):
        results = (result("1c", "mistake", [OF_NITRATE], ["ratio-left-out"]),)
        student = StudentResult(key.student, key.name, key.section, key.code, results)
        with_it = feedback_document(head, key, student)
        without = feedback_document(head, key, student, solutions=False)
    (told,) = (block for block in with_it.blocks if isinstance(block, Judged))
    assert any(isinstance(block, Flagged) for block in told.working)
    (bare,) = (block for block in without.blocks if isinstance(block, Judged))
    assert bare.working == ()
    assert "<h4>Worked solution of 1c</h4>" in page(with_it, layouts())
    assert "Worked solution" not in page(without, layouts())
