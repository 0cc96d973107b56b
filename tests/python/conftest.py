"""What the Python tests share."""

import os
import pathlib

import pytest


@pytest.fixture(scope="session")
def project() -> pathlib.Path:
    """The top folder of the project."""
    return pathlib.Path(__file__).resolve().parents[2]


@pytest.fixture(scope="session")
def oracle_cases() -> int:
    """How many random cases a test marked `oracle` makes: few in the ordinary run, many under `cargo xtask oracle`."""
    return int(os.environ.get("TENSIDE_ORACLE_CASES", "500"))
