"""showprep: plan a koi show season backwards from the judging bench."""
