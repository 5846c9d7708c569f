"""The questions that fall due because of a change, or every time."""
