"""showprep: plan a koi show season backwards from the judging bench."""

__version__ = "0.1.0"
