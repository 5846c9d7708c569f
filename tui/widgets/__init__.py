"""The widgets that screens are put together from."""
