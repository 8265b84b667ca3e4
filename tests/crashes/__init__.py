"""What is killed, filled up and torn apart, and whether anything that was acknowledged is lost."""

from pathlib import Path

import pytest

# a failure says what was found, also outside of test files
pytest.register_assert_rewrite(*(f"{__name__}.{file.stem}" for file in Path(__file__).parent.glob("*_*.py")))
