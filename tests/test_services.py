"""The services that other tests lean on are real: a PostgreSQL server with durable writes, a Chromium that draws."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page
from sqlalchemy import create_engine, text


def test_postgres_is_a_server_with_durable_writes(postgres_url: str) -> None:
    engine = create_engine(postgres_url)
    with engine.connect() as connection:
        assert connection.execute(text("SHOW fsync")).scalar() == "on"
        assert connection.execute(text("SELECT count(*) FROM pg_tables WHERE schemaname = 'public'")).scalar() == 0
        assert connection.execute(text("SHOW server_encoding")).scalar() == "UTF8"
    engine.dispose()


def test_store_url_gives_both_databases(store_url: str) -> None:
    engine = create_engine(store_url)
    with engine.begin() as connection:
        connection.execute(text("CREATE TABLE t (x INTEGER)"))
        connection.execute(text("INSERT INTO t VALUES (3)"))
        assert connection.execute(text("SELECT x FROM t")).scalar() == 3
    engine.dispose()


def test_chromium_draws_a_page(page: Page) -> None:
    page.set_content("<p style='width: 120px'>first</p><script>document.body.append('second')</script>")
    assert "second" in page.inner_text("body")
    assert page.locator("p").bounding_box()["width"] == pytest.approx(120)  # type: ignore[index]
