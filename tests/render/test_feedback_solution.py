"""The worked solution of a feedback page: the student's numbers, and a flag on the step that went wrong."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from problemgen.load.answers import Answers
from problemgen.load.resources import layouts
from problemgen.model.answers import KeyHead, ProblemKey, StudentKey, TemplateKey
from problemgen.model.blocks import Block, Document, Flagged, Heading, Paragraph, Scheme, Strong
from problemgen.model.template import label_of
from problemgen.model.verdict import PartResult, StudentResult
from problemgen.render.feedback import feedback_document
from problemgen.render.feedback_solution import SolvedProblem, solved_problem
from problemgen.render.html import page
from problemgen.render.key import numbers_of, variant_solution
from problemgen.render.solution import SolvedPart, worked_solution
from problemgen.render.terminal import text_lines
from tests.support.shipped import NAMES, set_of, shipped, variant_of
from tests.support.small_set import HEAD, STUDENTS, small_set, write_answers

EXTENT = "extent()"
OF_NITRATE = "extent(silver-nitrate)"
FROM_NITRATE = "amount(silver-chromate,from:silver-nitrate)"


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


def flags(blocks: Sequence[Block]) -> dict[str, list[str]]:
    """By the heading under which a flag stands: what it says."""
    found: dict[str, list[str]] = {}
    heading = ""
    for block in blocks:
        heading = block.text if isinstance(block, Heading) else heading
        if isinstance(block, Flagged):
            found.setdefault(heading, []).extend(text_lines([Paragraph(line) for line in block.lines]))
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


def test_parts_carry_the_labels_of_the_sheets(solved: SolvedProblem) -> None:
    blocks = list(solved.blocks([]))
    headings = [(block.level, block.text) for block in blocks if isinstance(block, Heading)]
    parts = [(4, f"1{letter}") for letter in "abcdefg"]
    assert headings == [(3, "Worked solution with your numbers"), *parts]
    assert "As found in (1a), n(AgNO₃) = 2.5000 mmol." in list(text_lines(blocks))
    assert flags(blocks) == {}


def test_the_equation_stands_above_the_solution(solved: SolvedProblem, tmp_path: Path) -> None:
    (scheme,) = (block for block in solved.blocks([]) if isinstance(block, Scheme))
    assert list(text_lines([scheme])) == ["2 AgNO₃ + K₂CrO₄ → Ag₂CrO₄ + 2 KNO₃"]
    name = "equations/propane-burns"
    with Answers(write_answers(tmp_path, set_of(name), STUDENTS[:1])) as answers:
        asked = solved_problem(answers.head.templates[name], answers.student("s1").problems[0], "product")
    assert asked is not None
    blocks = list(asked.blocks([]))
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
    assert flags(list(solved.blocks([one]))) == expected


def test_parts_with_the_same_trouble_share_a_flag(solved: SolvedProblem) -> None:
    results = [result(label, "mistake", [EXTENT], ["excess-taken:extent()"]) for label in ("1e", "1f", "1g")]
    (flag,) = (block for block in solved.blocks(results) if isinstance(block, Flagged))
    assert [piece.text for line in flag.lines for piece in line if isinstance(piece, Strong)] == [
        "Here 1e and 1f and 1g went wrong: "
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
                flagged = [block for block in found.blocks([one]) if isinstance(block, Flagged)]
                assert flagged, (part.id, mistake.id)
                assert mistake.title in "".join(text_lines(flagged))


@pytest.mark.parametrize(("method", "told"), [("product", False), ("extent", True), ("ratios", False)])
def test_the_way_that_the_class_is_taught_is_told(tmp_path: Path, method: str, *, told: bool) -> None:
    problem_set = small_set(tmp_path, head=f'method = "{method}"\n{HEAD}')
    with Answers(write_answers(tmp_path, problem_set)) as answers:
        head, key = answers.head, answers.student("s1")
    assert head.method == method
    nothing = StudentResult(key.student, key.name, key.section, key.code, ())
    assert ("ξ(AgNO₃)" in "".join(text_lines(feedback_document(head, key, nothing).blocks))) is told


def test_a_problem_whose_numbers_are_not_known_has_no_solution(chromate: tuple[TemplateKey, ProblemKey]) -> None:
    template, problem = chromate
    assert solved_problem(template, replace(problem, given={}), "product") is None


def test_the_solution_can_be_left_out(tmp_path: Path) -> None:
    with opened(tmp_path) as (head, key):
        results = (result("1c", "mistake", [OF_NITRATE], ["ratio-left-out"]),)
        student = StudentResult(key.student, key.name, key.section, key.code, results)
        with_it = feedback_document(head, key, student)
        without = feedback_document(head, key, student, solutions=False)
    assert any(isinstance(block, Flagged) for block in with_it.blocks)
    assert not any(isinstance(block, Flagged) for block in without.blocks)
    assert "Worked solution" not in "".join(text_lines(without.blocks))
