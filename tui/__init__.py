"""What a person sees: the terminal app and the command line."""
