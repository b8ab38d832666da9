"""Which entries, which touch-up days: plain numbers in, a proven answer out; no fish care here."""
