"""A Plan shown: board, calendar files, page, sheets and JSON. No date is computed here."""
