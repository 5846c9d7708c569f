"""The judgement, arithmetic and records of Back to Back, free of any user interface."""
