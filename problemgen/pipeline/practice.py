"""One practice page: templates in, a file for the browser out."""

from __future__ import annotations

import gc
import secrets
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from problemgen.errors import Fault, FaultsError, OutputError
from problemgen.language.messages import _, speaking
from problemgen.load.fault_log import nearest
from problemgen.load.resources import layouts
from problemgen.load.sets.courses import Course, course_of
from problemgen.load.templates.template import load_template
from problemgen.load.templates.translated import translated
from problemgen.make.candidates import Stream
from problemgen.make.variants import Maker
from problemgen.model.banks import Banks
from problemgen.model.template import Template
from problemgen.pipeline.progress import Progress
from problemgen.pipeline.single_file import check_single_file
from problemgen.practice.content import Contents, Entry, entry_of, page_data
from problemgen.practice.page import page_words, practice_page
from problemgen.write.files import Staging
from problemgen.write.processes import Helpers, helpers, packed_once, processors, rarely_collecting, unpacked

__all__ = ["PURPOSE", "PracticeReport", "PracticeRequest", "practice"]

PURPOSE = "practice"
_STREAM = "practice"
_POOL_FROM = 24  # fewer templates are done sooner than other processes have started


@dataclass(frozen=True)
class PracticeRequest:
    """Templates or topics by name (none: all), the file, how many variants of each, language, the secret's words.

    A page without a title is called "Stoichiometry" in its language. `workers` processes make it, one a processor where
    it is None; how many makes no difference.
    """

    names: tuple[str, ...]
    out: Path
    variants: int
    title: str
    language: str
    seed_words: str | None = None
    replace: bool = False
    workers: int | None = None


@dataclass(frozen=True)
class PracticeReport:
    """How many templates and problems the page holds, and its size in bytes."""

    templates: int
    problems: int
    size: int


def practice(request: PracticeRequest, progress: Progress) -> PracticeReport:
    """Make a practice page.

    Its numbers are never those of a graded variant: they are drawn for another purpose, from combinations that graded
    draws leave out.

    Raises:
        LookupError: for a language without a catalogue.
        FaultsError: for names that are neither a template nor a topic, and for faults of banks and templates.
        NoRoomError: for a template that leaves too few admissible variants.
        OutputError: for a file that cannot be written, or is there already.
    """
    if request.out.is_dir():
        raise OutputError(f"{request.out} is a folder; a file is needed, such as practice.html")
    course, workers = course_of(Path()), request.workers or processors()
    secret = (request.seed_words or secrets.token_hex(32)).encode()
    contents, job = Contents(layouts()), _Job(request, secret)
    with helpers(workers, _ready) as pool:
        if not request.names and workers > 1:
            for _worker in range(workers):
                pool.submit(_begun)  # they load the program while this process reads the files
        banks = course.banks()
        chosen = _chosen(request.names, course, banks)
        alone = workers < 2 or len(chosen) < _POOL_FROM
        entries = _entries(chosen, job, banks) if alone else _entries_there(pool, chosen, job, banks)
        for done, entry in enumerate(entries, start=1):
            contents.take(entry)
            progress("making", done, len(chosen))
    with speaking(request.language):
        title = request.title or _("Stoichiometry")
        page = practice_page(page_data(title, page_words(), banks, contents)).encode()
    check_single_file(request.out)
    with Staging(request.out.resolve().parent, only=request.out.name, replace=request.replace) as staging:
        staging.write(request.out.name, page)
    return PracticeReport(len(chosen), contents.problems, len(page))


@dataclass(frozen=True)
class _Job:
    """What is wanted of each template."""

    request: PracticeRequest
    secret: bytes

    def entry(self, name: str, path: Path, banks: Banks) -> Entry:
        """A template with its problems: one where nothing is drawn.

        Raises FaultsError for faults of its file, NoRoomError where it leaves too few admissible variants.
        """
        template = load_template(path, name, banks)
        maker = Maker(template, Stream(self.secret, _STREAM, template.id, PURPOSE))
        count = self.request.variants if template.is_drawn else 1
        variants = maker.variants([str(number) for number in range(1, count + 1)])
        told = translated(template, self.request.language, banks)
        with speaking(self.request.language):
            return entry_of(told, (replace(variant, template=told) for variant in variants), layouts())


def _entries(chosen: Mapping[str, Path], job: _Job, banks: Banks) -> Iterator[Entry]:
    """The templates with their problems, in their order."""
    return (job.entry(name, path, banks) for name, path in chosen.items())


def _entries_there(pool: Helpers, chosen: Mapping[str, Path], job: _Job, banks: Banks) -> Iterator[Entry]:
    """The same, made by other processes: each reads its templates itself."""
    packed = packed_once(banks)
    waiting = [pool.submit(_entry_there, packed, job, name, path) for name, path in chosen.items()]
    return (one.result() for one in waiting)


def _ready() -> None:
    """Have a process look rarely for garbage, and never at what it has loaded."""
    gc.freeze()
    rarely_collecting()


def _begun() -> None:
    """Nothing is needed of a process but that it is there, and has loaded this module with all that it works with."""


def _entry_there(packed: bytes, job: _Job, name: str, path: Path) -> Entry:
    """A template with its problems, made in another process."""
    return job.entry(name, path, unpacked(packed))


def _chosen(names: Sequence[str], course: Course, banks: Banks) -> Mapping[str, Path]:
    """The templates' files by their names: those of some names, each once; all for none. A file is named by its path.

    Topics stand in the files: where they may be meant, all are read.
    """
    if not names:
        return course.templates
    paths = {**course.templates, **dict(course.template_file(name) for name in names if Path(name).is_file())}
    files = {name: course.template_file(name)[0] for name in names if Path(name).is_file()}
    loaded = {name: load_template(path, name, banks) for name, path in paths.items()}
    topics = sorted({template.topic for template in loaded.values()})
    faults, chosen = [], []
    for name in names:
        found = [files[name]] if name in files else list(_found(name, loaded.values()))
        chosen += found
        if not found:
            hint = nearest(name, [*loaded, *topics])
            expected = "a file, or a template or topic of `list`"
            faults.append(Fault("practice", name, "no such template or topic", expected, hint))
    if faults:
        raise FaultsError(faults)
    return {name: paths[name] for name in dict.fromkeys(chosen)}


def _found(name: str, templates: Iterable[Template]) -> Iterator[str]:
    """The templates of a name: a template's own, its folder's, or its topic's."""
    wanted = name.strip().rstrip("/").removesuffix(".toml").removeprefix("templates/").casefold()
    for template in templates:
        if wanted in (template.id, template.id.split("/")[0], template.topic.casefold()):
            yield template.id
