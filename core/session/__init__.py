"""One visit: binds sheets, checks, air, attempts, notes and close-out."""
