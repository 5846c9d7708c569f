"""What two sessions say about each other, in numbers and in one sentence."""
