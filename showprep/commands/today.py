"""`today`: what to do today and this week, and what is late."""

from __future__ import annotations

import shutil
import sys
from datetime import date
from pathlib import Path

from showprep.commands.loading import load_plan
from showprep.outputs.today import WIDTH, today_json, today_text
from showprep.outputs.words.speaker import Speaker
from showprep.planning.follow_up.agenda import agenda_of

NARROWEST = 30


def run(folder: Path, on: date, *, as_json: bool) -> None:
    """Print the day's jobs. What is late does not change the exit status."""
    plan = load_plan(folder, on, tells=True)
    agenda, speaker = agenda_of(plan), Speaker.of(plan)
    if as_json:
        sys.stdout.write(today_json(agenda, speaker))
        return
    columns = shutil.get_terminal_size((WIDTH, 24)).columns if sys.stdout.isatty() else WIDTH
    sys.stdout.write(today_text(agenda, speaker, max(NARROWEST, min(WIDTH, columns))))
