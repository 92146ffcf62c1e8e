"""How a box is made from an old freezer: the steps as data."""

import tomllib
from functools import lru_cache
from pathlib import Path


@lru_cache(maxsize=1)
def load_first_box() -> tuple[str, ...]:
    """Return the steps in their order; common practice, no source."""
    text = (Path(__file__).parent / "first_box.toml").read_text(encoding="utf-8")
    return tuple(str(step["do"]) for step in tomllib.loads(text)["step"])
