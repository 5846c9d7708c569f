"""Slots, readings, parts, sheets and the list of what differs between two sheets."""
