"""The invented season, made by public core calls only."""

from demo.season import SEED, build
from demo.telling import season_text

__all__ = ["SEED", "build", "season_text"]
