"""A Season worked out into a Plan: windows, verdicts, choice and dated jobs."""
