"""Dated jobs: what must be done when, tied to the event it counts from."""
