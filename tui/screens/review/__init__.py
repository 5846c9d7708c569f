"""One session read months later: everything on one page, its parts by key."""

from tui.screens.review.screen import ReviewScreen

__all__ = ["ReviewScreen"]
