"""The fixtures of these tests."""

from tests.hostile.commands import folder, run

__all__ = ["folder", "run"]
