"""What tests share: a PostgreSQL database and a Chromium. `make test` starts both; without them the tests that need them fail."""

from __future__ import annotations

import os
import sys
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from playwright.sync_api import Browser, Page


# Tests mirror the tree, so file names repeat and are imported by path; what the tests of a folder share is imported by its name.
HERE = Path(__file__).resolve().parent
sys.path[:0] = [str(folder) for folder in sorted({path.parent for path in HERE.rglob("*.py")} - {HERE})]


def needed(name: str) -> str:
    """Value of an environment variable that `make test` sets; the test fails where it is missing."""
    value = os.environ.get(name)
    if not value:
        pytest.fail(f"{name} is not set. Run `make test`; it starts what the tests need", pytrace=False)
    return value


@pytest.fixture
def postgres_url() -> Iterator[str]:
    """URL of an empty PostgreSQL database of this test's own, removed afterwards."""
    from sqlalchemy import create_engine, make_url, text

    server = make_url(needed("WHOLEFILM_TEST_POSTGRES"))
    name = "t_" + uuid.uuid4().hex
    engine = create_engine(server, isolation_level="AUTOCOMMIT")
    try:
        with engine.connect() as connection:
            connection.execute(text(f"CREATE DATABASE {name} TEMPLATE template0"))
        yield server.set(database=name).render_as_string(hide_password=False)
        with engine.connect() as connection:
            connection.execute(text(f"DROP DATABASE {name} WITH (FORCE)"))
    finally:
        engine.dispose()


@pytest.fixture(params=["sqlite", "postgresql"])
def store_url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """URL of an empty database, once SQLite and once PostgreSQL: one contract over both."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'book.db'}"
    url: str = request.getfixturevalue("postgres_url")
    return url


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for the tests of this process."""
    from playwright.sync_api import sync_playwright

    path = needed("WHOLEFILM_TEST_CHROMIUM")
    # Chromium refuses its sandbox to root, as in a container.
    words = ["--no-sandbox"] if os.geteuid() == 0 else []
    with sync_playwright() as driver:
        chromium = driver.chromium.launch(executable_path=path, args=words)
        yield chromium
        chromium.close()


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    """A page with nothing stored in it."""
    context = browser.new_context()
    yield context.new_page()
    context.close()
