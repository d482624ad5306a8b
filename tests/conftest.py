"""What all tests share."""

from __future__ import annotations

import gc
import hashlib
import logging
import os
from collections.abc import Iterator

import pytest
from hypothesis import HealthCheck, settings

collect_ignore = ["benchmarks"]

settings.register_profile("steady", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Options of a quick run: see tests/templates/conftest.py."""
    parser.addoption("--few-templates", action="store_true", help="eight templates through the contract, not all")
    parser.addoption("--template", action="append", default=[], metavar="NAME", help="and this one as well")


class _Refused(logging.Handler):
    def emit(self, record: logging.LogRecord) -> None:
        raise AssertionError(record.getMessage())


@pytest.fixture(autouse=True, scope="session")
def no_failure_is_passed_over() -> Iterator[logging.Handler]:
    """Where judging fails a part is left unjudged: in tests it raises, unless they take this handler away."""
    log, handler = logging.getLogger("problemgen"), _Refused()
    log.setLevel(logging.DEBUG)
    log.addHandler(handler)
    yield handler
    log.removeHandler(handler)


@pytest.fixture(autouse=True)
def nothing_is_remembered(
    monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory, request: pytest.FixtureRequest
) -> None:
    """Each test has a cache folder of its own, which is not there yet: none sees what another has left."""
    name = hashlib.sha256(request.node.nodeid.encode()).hexdigest()[:16]
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.getbasetemp() / f"cache-{name}"))


@pytest.fixture
def failures_stand(
    no_failure_is_passed_over: logging.Handler, monkeypatch: pytest.MonkeyPatch
) -> Iterator[pytest.MonkeyPatch]:
    """Judging may fail in this test, and is made to."""
    log = logging.getLogger("problemgen")
    log.removeHandler(no_failure_is_passed_over)
    log.setLevel(logging.NOTSET)
    yield monkeypatch
    log.setLevel(logging.DEBUG)
    log.addHandler(no_failure_is_passed_over)


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session) -> None:
    """Fail a CI run that skipped a test: every test can run there."""
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    if os.environ.get("CI") and reporter is not None and reporter.stats.get("skipped"):
        session.exitstatus = pytest.ExitCode.TESTS_FAILED


def pytest_collection_finish() -> None:
    """Leave what is there after collection out of every later search for garbage: it lives to the end.

    Searches are made seldom besides: exact numbers by the million form no circles. Together they took an eighth of
    the time.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000)
