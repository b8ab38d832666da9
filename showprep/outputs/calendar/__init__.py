"""The plan's jobs as calendar files, on a calendar server, or handed to a phone nearby."""
