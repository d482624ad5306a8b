"""What all tests share."""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, settings

collect_ignore = ["benchmarks"]

settings.register_profile("steady", deadline=None, derandomize=True, suppress_health_check=[HealthCheck.too_slow])
settings.load_profile("steady")


@pytest.hookimpl(trylast=True)
def pytest_sessionfinish(session: pytest.Session) -> None:
    """Fail a CI run that skipped a test: every test can run there."""
    reporter = session.config.pluginmanager.get_plugin("terminalreporter")
    if os.environ.get("CI") and reporter is not None and reporter.stats.get("skipped"):
        session.exitstatus = pytest.ExitCode.TESTS_FAILED
