"""The invented season, made by public core calls only."""
