"""`python -m showprep`."""

from __future__ import annotations

from showprep.cli import main

if __name__ == "__main__":
    main()
