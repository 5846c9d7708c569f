"""The rows of the formula register, one module per trade, gathered in `core.reckon.register`."""
