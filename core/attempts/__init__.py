"""Tests, typed entry, directions, pairs, strikes and tags."""
