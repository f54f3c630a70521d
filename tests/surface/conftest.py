"""What the tests of the surface share."""

from collections.abc import Callable
from typing import Any

import pytest
from surface_tank import tank

from wholefilm.surface import Surface, read_item


@pytest.fixture(scope="session")
def body() -> Callable[..., dict[str, Any]]:
    """Maker of item bodies."""
    return tank


@pytest.fixture(scope="session")
def surface() -> Surface:
    """The tank as read."""
    return read_item(tank())
