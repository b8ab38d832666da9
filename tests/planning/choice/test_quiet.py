"""The solver's banner is kept from standard output, and nothing else is."""

import subprocess
import sys

MADE_ABREAST = """
import sys
from threading import Thread
from showprep.planning.choice.highs import solver

sys.setswitchinterval(1e-6)
for _ in range(20):
    makers = [Thread(target=lambda: [solver() for _ in range(5)]) for _ in range(4)]
    for maker in makers:
        maker.start()
    for maker in makers:
        maker.join()
print("the board")
"""


def test_what_is_printed_after_solvers_made_side_by_side_is_seen():
    said = subprocess.run(
        [sys.executable, "-c", MADE_ABREAST],
        capture_output=True,
        text=True,
        check=True,
        timeout=120,
    )
    assert said.stdout == "the board\n"
